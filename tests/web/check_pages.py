"""The listening pages of sample tunes in a real browser: one page in every respect, others in what differs from tune
to tune (that they open, fit and print). One tune has a title made to break out of a page.

    python3 check_pages.py          with RELEAD_BINARY; pictures go to RELEAD_WEB_PICTURES when it is set

Skips itself (exit code 77) without node, its packages or Chromium.
"""
import json
import os
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile

HERE = pathlib.Path(__file__).resolve().parent
ROOT = HERE.parents[1]
TUNES = ROOT / "samples" / "tunes"
HOSTILE = """</title><script>alert(1)</script><img src=x onerror=alert(2)> & "Ö" 'Ω'"""
EVERYTHING = None
LOOKS = "opens from|stays below|fits a|screen reader|prints on"
# A form of more than 32 bars may take more bytes and another page of paper.
LONG_LOOKS = "opens from|fits a|screen reader"
PAGES = [
    ("ferry-at-first-light", HOSTILE, EVERYTHING),
    ("low-water-standing", None, LOOKS),
    ("five-bells", None, LOOKS),
    ("the-long-causeway", None, LONG_LOOKS),
]

# Seconds worked out by hand from tempo and feel; at 120 the off-beat eighth of a swing falls on 2/3 of its quarter.
# Three eighths before the first bar, and a triplet.
PICKUP = """tune "Three Eighths In"
key F major
meter 4/4
tempo 120 swing
form A

section A
changes | Fmaj7 | D7 | Gm7 | C7 |
melody e C4 D4 E4 | e F4 A4 q C5 [3:2 e D5 C5 A4] q F4 | h F#4 q r q A4 | q Bb4 q D5 h r | w E4 |
"""
PICKUP_SECONDS = {"onsets": [0, 0.167, 0.5, 0.667, 1, 1.167, 1.667, 1.833, 2, 2.167]}

# Section B is slower and even: its bars last 8/3 seconds, those of A 2 seconds.
TWO_TEMPI = """tune "Two Tides"
key F major
meter 4/4
tempo 120 swing
form A B

section A
changes | Fmaj7 | C7 |
melody | e A4 C5 q A4 h F4 | q E4 e G4 Bb4 h G4 |

section B
tempo 90 even
changes | Gm7 | C7 |
melody | e D5 C5 q Bb4 h G4 | q r e G4 Bb4 h E4 |
"""
TWO_TEMPI_SECONDS = {
    "onsets": [0, 0.333, 0.5, 1, 2, 2.5, 2.833, 3, 4, 4.333, 4.667, 5.333, 7.333, 7.667, 8],
    # With the swing of A at 3/4 of the quarter B stays even.
    "wide": [0, 0.375, 0.5, 1, 2, 2.5, 2.875, 3, 4, 4.333, 4.667, 5.333, 7.333, 7.667, 8],
    "loops": {"A": 4, "B": 5.333},
    "places": ["A:1", "A:2", "B:1 \u00b7 90 even", "B:2"],
}

# Three tunes of one form. At 120 the off-beat eighth falls on 2/3 of its quarter, at 200 on 633/1000
# (grammar/swing-ratios.txt).
THREE_FEELS = [f"""tune "Feel {number}"
key F major
meter 4/4
tempo {tempo}
form A

section A
changes | Fmaj7 | C7 |
melody | e A4 C5 q A4 h F4 | q E4 e G4 Bb4 h G4 |
""" for number, tempo in enumerate(["120 swing", "200 swing", "120 even"])]
# What the slider shows on each row and where the off-beat eighth falls there, in hundredths of a quarter: first as
# the tunes are marked; then with the slider moved to 75 on the first row, to 60 on the even one, to 50 on the second.
THREE_FEELS_SWINGS = {"swings": [
    {"shown": [67, 63, 50]},
    {"row": 0, "to": 75, "shown": [75, 70, 50]},
    {"row": 2, "to": 60, "shown": [75, 70, 60]},
    {"row": 1, "to": 50, "shown": [50, 50, 60]},
]}


def skip(reason):
    print(f"skipped: {reason}")
    sys.exit(77)


def needs():
    if not shutil.which("node"):
        skip("node is missing")
    if not (HERE.parent / "external" / "node_modules" / "playwright-core").is_dir():
        skip("tests/external/node_modules is missing")
    if not (os.environ.get("CHROMIUM") or shutil.which("chromium")):
        skip("chromium is missing")


def page_of(folder, name, title):
    """The page that `relead compare` writes for a sample, with another title if asked."""
    text = (TUNES / f"{name}.tune").read_text(encoding="utf-8")
    if title:
        quoted = title.replace("\\", "\\\\").replace('"', '\\"')
        text, found = re.subn(r'(?m)^(tune\s+)".*"', lambda match: f'{match[1]}"{quoted}"', text, count=1)
        assert found == 1, name
    return compared(folder, name, text)


def compared(folder, name, text, others=()):
    """With three versions, or with other tunes instead."""
    tune = folder / f"{name}.tune"
    tune.write_text(text, encoding="utf-8")
    beside = [] if others else ["--versions", "3"]
    for number, other in enumerate(others):
        path = folder / f"{name}-{number}.tune"
        path.write_text(other, encoding="utf-8")
        beside += ["--with", path]
    done = subprocess.run([os.environ["RELEAD_BINARY"], "compare", tune, *beside, "-o", folder],
                          capture_output=True, text=True)
    if done.returncode != 0:
        print(done.stdout, done.stderr)
        sys.exit(f"relead compare failed for {name}: {done.returncode}")
    return folder / f"{name}.compare.html"


def try_page(page, name, title, only, seconds=None):
    command = ["node", "--test"] if only is None else ["node", "--test", f"--test-name-pattern={only}"]
    # Node hands words after the file to it only when it is run without --test; its own runner starts anyway.
    command = ["node"] + command[2:] + [HERE / "listening_page.mjs", page]
    pictures = os.environ.get("RELEAD_WEB_PICTURES")
    if pictures:
        command.append(pathlib.Path(pictures) / name)
    if title:
        command += ["--title", title]
    if seconds:
        command += ["--seconds", json.dumps(seconds)]
    done = subprocess.run(command, capture_output=True, text=True)
    passed = len(re.findall(r"^ok (?!.*# SKIP)", done.stdout, re.M))
    print(f"{name}: {passed} checks passed, exit code {done.returncode}")
    if done.returncode != 0 or passed == 0:
        print(done.stdout[-6000:], done.stderr[-3000:])
        return False
    return True


def main():
    needs()
    with tempfile.TemporaryDirectory() as temporary:
        results = [try_page(page_of(pathlib.Path(temporary), name, title), name, title, only)
                   for name, title, only in PAGES]
        for name, text, seconds in [("three-eighths-in", PICKUP, PICKUP_SECONDS),
                                    ("two-tides", TWO_TEMPI, TWO_TEMPI_SECONDS)]:
            page = compared(pathlib.Path(temporary), name, text)
            results.append(try_page(page, name, None, "opens from|in its own time", seconds))
        page = compared(pathlib.Path(temporary), "three-feels", THREE_FEELS[0], THREE_FEELS[1:])
        results.append(try_page(page, "three-feels", None, "opens from|one proportion", THREE_FEELS_SWINGS))
    sys.exit(0 if all(results) else 1)


main()
