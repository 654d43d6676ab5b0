"""Lead sheets of all sample tunes, written once for each of the checks in this folder."""

import pathlib
import subprocess
import sys
import tempfile
import xml.etree.ElementTree as ElementTree

HERE = pathlib.Path(__file__).resolve().parent
ROOT = HERE.parents[2]
SVG = "{http://www.w3.org/2000/svg}"
sys.path.insert(0, str(ROOT / "tests" / "support"))

# Options of the sheet writer that change what is on the page; every tune is written in each way.
WAYS = {"plain": [], "slashes": ["--slashes"], "jumps": ["--jumps"], "compact": ["--compact"],
        "changed": ["--changed"], "guides-small": ["--guide-tones", "small", "--changed"],
        "guides-staves": ["--guide-tones", "staves"]}


# The guide-tone line is the same on all sheets but for clef and octave: these cover both.
GUIDE_READERS = "concert,alto-sax,tenor-sax,trombone,trumpet,bass"


def tunes():
    found = sorted((ROOT / "samples" / "tunes").glob("*.tune"))
    found += sorted((HERE / "tunes").glob("*.tune"))
    if len(found) < 12:
        fail(["fewer than twelve tunes"])
    return found


def write(writer, folder, instruments="all", ways=tuple(WAYS)):
    """Paths of the written .musicxml files; each way has a folder of its own."""
    files = []
    for way in ways:
        out = pathlib.Path(folder) / way
        readers = GUIDE_READERS if way.startswith("guides") and instruments == "all" else instruments
        command = [writer, str(out), "--for", readers, *WAYS[way], *map(str, tunes())]
        subprocess.run(command, check=True)
        files += sorted(out.glob("*.musicxml"))
    return files


def temporary_folder():
    return tempfile.TemporaryDirectory(prefix="relead-sheets-")


def skip(reason):
    print(f"skipped: {reason}")
    sys.exit(77)


def fail(problems):
    for problem in problems[:60]:
        print(problem)
    print(f"{len(problems)} problems")
    sys.exit(1)


def npm_package(name):
    folder = HERE.parent / "node_modules" / name
    if not folder.is_dir():
        skip(f"npm package {name} is not installed (npm ci in tests/external)")
    return folder


def overrun(name, stem, pages):
    """Pages of Verovio's pictures whose lowest ink lies below the lower margin of 10 mm, the rights line apart."""
    found = []
    for page in range(1, pages + 1):
        svg = ElementTree.parse(f"{stem}-{page}.svg").getroot()
        inner = svg.find(f"{SVG}svg")
        height, margin = float(inner.get("viewBox").split()[3]), 1000
        for footer in list(svg.iter(f"{SVG}g")):
            for child in [c for c in footer if "pgFoot" in (c.get("class") or "")]:
                footer.remove(child)
        # Boxes count from the upper margin, in hundredths of a millimetre.
        ends = [float(r.get("y")) + float(r.get("height")) for r in svg.iter(f"{SVG}rect")]
        if not ends:
            found.append(f"{name}: nothing stands on page {page}")
        elif max(ends) + margin > height - margin:
            found.append(f"{name}: page {page} runs over by {(max(ends) + 2 * margin - height) / 100:.1f} mm")
    return found


def finish(problems, count, what):
    if count == 0:
        fail(["nothing was checked"])
    if problems:
        fail(problems)
    print(f"{count} {what}")
