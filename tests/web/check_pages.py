"""The listening pages of sample tunes in a real browser: one page in every respect, others in what differs from tune
to tune (that they open, fit and print). One tune has a title made to break out of a page.

    python3 check_pages.py          with RELEAD_BINARY; pictures go to RELEAD_WEB_PICTURES when it is set

Skips itself (exit code 77) without node, its packages or Chromium.
"""
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

# Three eighths before the first bar, and a triplet: at this tempo the off-beat eighth falls on 2/3 of its quarter.
PICKUP = """tune "Three Eighths In"
key F major
meter 4/4
tempo 120 swing
form A

section A
changes | Fmaj7 | D7 | Gm7 | C7 |
melody e C4 D4 E4 | e F4 A4 q C5 [3:2 e D5 C5 A4] q F4 | h F#4 q r q A4 | q Bb4 q D5 h r | w E4 |
"""
PICKUP_ONSETS = "0 0.333 1 1.333 2 2.333 3.333 3.667 4 4.333"


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


def compared(folder, name, text):
    tune = folder / f"{name}.tune"
    tune.write_text(text, encoding="utf-8")
    done = subprocess.run([os.environ["RELEAD_BINARY"], "compare", tune, "--versions", "3", "-o", folder],
                          capture_output=True, text=True)
    if done.returncode != 0:
        print(done.stdout, done.stderr)
        sys.exit(f"relead compare failed for {name}: {done.returncode}")
    return folder / f"{name}.compare.html"


def try_page(page, name, title, only, onsets=None):
    command = ["node", "--test"] if only is None else ["node", "--test", f"--test-name-pattern={only}"]
    # Node hands words after the file to it only when it is run without --test; its own runner starts anyway.
    command = ["node"] + command[2:] + [HERE / "listening_page.mjs", page]
    pictures = os.environ.get("RELEAD_WEB_PICTURES")
    if pictures:
        command.append(pathlib.Path(pictures) / name)
    if title:
        command += ["--title", title]
    if onsets:
        command += ["--onsets", onsets]
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
        results.append(try_page(compared(pathlib.Path(temporary), "three-eighths-in", PICKUP), "three-eighths-in", None,
                                "opens from|swings from", PICKUP_ONSETS))
    sys.exit(0 if all(results) else 1)


main()
