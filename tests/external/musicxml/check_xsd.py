"""Every sheet is valid by the W3C schema of MusicXML 4.0, and every .mxl by the schema of its container.

usage: check_xsd.py SHEET_WRITER. The schema's place is RELEAD_MUSICXML_XSD; it is not part of this project.
"""

import os
import pathlib
import shutil
import subprocess
import sys
import zipfile

import sheets


def xmllint(schema, files):
    """Complaints of the validator; files in blocks, since a command line has an end."""
    problems = []
    for start in range(0, len(files), 200):
        block = [str(f) for f in files[start:start + 200]]
        run = subprocess.run(["xmllint", "--noout", "--nonet", "--schema", str(schema), *block], capture_output=True, text=True)
        lines = [line for line in run.stderr.splitlines() if not line.endswith(" validates")]
        if run.returncode and not lines:
            lines = [f"xmllint ended with {run.returncode}"]
        problems += lines
        if run.stderr.count(" validates") + len({line.split(":")[0] for line in lines}) < len(block):
            problems.append("xmllint did not look at every file")
    return problems


def main():
    schema = os.environ.get("RELEAD_MUSICXML_XSD", "")
    if not schema:
        sheets.skip("RELEAD_MUSICXML_XSD does not name the schema musicxml.xsd of W3C MusicXML 4.0")
    if not shutil.which("xmllint"):
        sheets.skip("xmllint is not installed")
    with sheets.temporary_folder() as folder:
        files = sheets.write(sys.argv[1], folder)
        problems = xmllint(schema, files)
        container = pathlib.Path(schema).with_name("container.xsd")
        if container.is_file():
            containers = []
            for packed in pathlib.Path(folder, "plain").glob("*.mxl"):
                target = packed.with_suffix(".container.xml")
                target.write_bytes(zipfile.ZipFile(packed).read("META-INF/container.xml"))
                containers.append(target)
            problems += xmllint(container, containers)
        sheets.finish(problems, len(files), "sheets are valid MusicXML 4.0")


main()
