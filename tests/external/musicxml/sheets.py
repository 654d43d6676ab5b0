"""Lead sheets of all sample tunes, written once for each of the checks in this folder."""

import pathlib
import subprocess
import sys
import tempfile

HERE = pathlib.Path(__file__).resolve().parent
ROOT = HERE.parents[2]
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


def finish(problems, count, what):
    if count == 0:
        fail(["nothing was checked"])
    if problems:
        fail(problems)
    print(f"{count} {what}")
