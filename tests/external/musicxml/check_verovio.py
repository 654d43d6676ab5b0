"""What an independent reader (npm package verovio) makes of the sheets.

For each sheet of a covering set: it loads without a word of warning; the MEI that it makes has the same measures, notes
and chord symbols at the same beats; repeats and endings are unfolded alike; no two chord symbols overlap in its picture;
a tune of 32 bars is one page, and nothing runs over the lower margin of a page in staves of 7 mm; a transposed sheet sounds like the concert one, and slashes are silent.
usage: check_verovio.py SHEET_WRITER
"""

import base64
import concurrent.futures
import json
import os
import pathlib
import re
import struct
import subprocess
import sys
import xml.etree.ElementTree as ElementTree
from fractions import Fraction

import sheets
import musicxml_validator as validator

MEI = "{http://www.music-encoding.org/ns/mei}"
SVG = "{http://www.w3.org/2000/svg}"
XML_ID = "{http://www.w3.org/XML/1998/namespace}id"
ALTERATIONS = {"s": 1, "f": -1, "n": 0, "ss": 2, "x": 2, "ff": -2, None: 0}
# Known gaps of Verovio, seen in 6.3.0: it prints the root of N.C., and degrees with print-object="no".


def run(path):
    stem = path.with_suffix("")
    command = ["node", "read_with_verovio.mjs", str(path), str(stem)]
    result = subprocess.run(command, cwd=sheets.HERE, capture_output=True, text=True, timeout=300)
    return path, stem, result


def expected_of(path):
    text = path.read_text(encoding="utf-8")
    _, parts = validator.validate(text)
    return ElementTree.fromstring(text.encode()), parts[0]


def symbol_text(harmony):
    """Root, kind text and bass as Verovio letters them, without the degrees in between."""
    def name(element, prefix):
        alter = int(element.findtext(f"{prefix}-alter") or 0)
        return element.findtext(f"{prefix}-step") + {0: "", 1: "\u266f", -1: "\u266d"}.get(alter, "?")
    kind = harmony.find("kind")
    if kind.text == "none":
        return "C", ""
    bass = harmony.find("bass")
    return name(harmony.find("root"), "root") + kind.get("text"), "" if bass is None else "/" + name(bass, "bass")


def mei_notes(measure):
    found = []
    for note in measure.iter(MEI + "note"):
        if note.get("pname") is None:
            continue
        child = note.find(MEI + "accid")
        sign = note.get("accid") or note.get("accid.ges")
        if child is not None:
            sign = child.get("accid") or child.get("accid.ges")
        found.append((note.get("pname").upper(), ALTERATIONS[sign], int(note.get("oct"))))
    return found


def compare_measure(name, ours, theirs, problems):
    notes = sorted(p for p in (validator.pitch_of(n) for n in [n for _, _, n in ours["notes"]] + ours["graces"]) if p)
    if notes != sorted(mei_notes(theirs)):
        problems.append(f"{name} measure {ours['number']}: notes {notes} read as {mei_notes(theirs)}")
    unit = ours["unit"]
    expected = sorted((1 + at / unit, *symbol_text(h)) for at, h in ours["harmonies"])
    read = sorted((Fraction(h.get("tstamp")).limit_denominator(1000), "".join(h.itertext())) for h in theirs.iter(MEI + "harm"))
    if len(expected) != len(read):
        problems.append(f"{name} measure {ours['number']}: {len(expected)} chord symbols read as {len(read)}")
        return
    if any(h.get("staff", "1") != "1" for h in theirs.iter(MEI + "harm")):
        problems.append(f"{name} measure {ours['number']}: chord symbols on the lower staff")
    for (beat, start, end), (tstamp, text) in zip(expected, read):
        if abs(beat - tstamp) > Fraction(1, 500) or not text.startswith(start) or not text.endswith(end):
            problems.append(f"{name} measure {ours['number']}: {start}{end} on {beat} read as {text} on {tstamp}")


def add_units(root, part):
    """The meter's unit in quarters, which Verovio counts beats by."""
    unit = Fraction(1)
    for measure, ours in zip(root.find("part").findall("measure"), part):
        beat_type = measure.findtext("attributes/time/beat-type")
        if beat_type:
            unit = Fraction(4, int(beat_type))
        ours["unit"] = unit


def compare_order(name, mei, path, problems):
    """Verovio's expansion list against the order in which we say that the sheet is played."""
    order = path.with_suffix(".order").read_text(encoding="utf-8").split()
    text = path.read_text(encoding="utf-8")
    if "dalsegno" in text or "dacapo" in text or "tocoda" in text:
        return  # Verovio does not follow jumps
    expansion = mei.find(f".//{MEI}expansion")
    measures = [m.get("n") for m in mei.iter(MEI + "measure")]
    if expansion is not None:
        by_id = {e.get(XML_ID): e for e in mei.iter()}
        parts = [by_id[i.lstrip("#")] for i in expansion.get("plist").split()]
        measures = [m.get("n") for part in parts for m in part.iter(MEI + "measure")]
    # It plays a repeat twice whatever its `times`; sheets with more are left to our own tests.
    if 'times="' in text:
        return
    if measures != order:
        problems.append(f"{name}: unfolded as {' '.join(measures)}; we say {' '.join(order)}")


def boxes(svg):
    """(id, left, top, right, bottom) of every chord symbol."""
    found = []
    for group in svg.iter(SVG + "g"):
        if group.get("class") != "harm":
            continue
        rects = [r for g in group.iter(SVG + "g") if "bounding-box" in (g.get("class") or "") for r in g.iter(SVG + "rect")]
        if not rects:
            continue
        lefts = [float(r.get("x")) for r in rects]
        tops = [float(r.get("y")) for r in rects]
        rights = [float(r.get("x")) + float(r.get("width")) for r in rects]
        bottoms = [float(r.get("y")) + float(r.get("height")) for r in rects]
        found.append((group.get("id"), min(lefts), min(tops), max(rights), max(bottoms)))
    return found


def check_overlaps(name, svg_path, problems):
    found = boxes(ElementTree.parse(svg_path).getroot())
    for i, a in enumerate(found):
        for b in found[i + 1:]:
            if a[1] < b[3] and b[1] < a[3] and a[2] < b[4] and b[2] < a[4]:
                problems.append(f"{name}: chord symbols {a[0]} and {b[0]} overlap")
    return len(found)


def midi_notes(stem):
    """Keys of the sounding notes of a Standard MIDI File 1.0 in their order."""
    data = base64.b64decode(stem.with_name(stem.name + ".mid.b64").read_text())
    notes, at = [], 14
    while at < len(data):
        _, size = struct.unpack(">4sI", data[at:at + 8])
        notes += track_notes(data[at + 8:at + 8 + size])
        at += 8 + size
    return [key for _, key in sorted(notes)]


def track_notes(track):
    notes, at, now, status = [], 0, 0, 0

    def number():
        nonlocal at
        value = 0
        while True:
            byte = track[at]
            at += 1
            value = value << 7 | byte & 0x7F
            if byte < 0x80:
                return value
    while at < len(track):
        now += number()
        if track[at] >= 0x80:
            status = track[at]
            at += 1
        if status == 0xFF:
            at += 1
            length = number()
            at += length
        elif status >= 0xF0:
            length = number()
            at += length
        else:
            if status >> 4 == 9 and track[at + 1] > 0:
                notes.append((now, track[at]))
            at += 1 if status >> 4 in (0xC, 0xD) else 2
    return notes


def check_sheet(path, stem, result, problems):
    name = f"{path.parent.name}/{path.name}"
    said = [line for line in result.stderr.splitlines() if line.strip()]
    try:
        report = json.loads(result.stdout.strip().splitlines()[-1])
    except (ValueError, IndexError):
        problems.append(f"{name}: the reader ended with {result.returncode} {said[-1:]}")
        return 0
    said += [line for line in result.stdout.splitlines()[:-1] if line.strip()]
    if not report["loaded"] or said or report["log"].strip():
        problems.append(f"{name}: {said or report['log'] or 'not loaded'}")
        return 0
    root, part = expected_of(path)
    add_units(root, part)
    mei = ElementTree.parse(f"{stem}.mei").getroot()
    measures = list(mei.iter(MEI + "measure"))
    if [m.get("n") for m in measures] != [m["number"] for m in part]:
        problems.append(f"{name}: other measures than written")
        return 0
    for ours, theirs in zip(part, measures):
        compare_measure(name, ours, theirs, problems)
    compare_order(name, mei, path, problems)
    breaks = sum(1 for p in root.iter("print") if p.get("new-page") == "yes")
    if report["pages"] != breaks + 1:
        problems.append(f"{name}: {report['pages']} pages, the sheet has {breaks + 1}")
    if len(part) <= 34 and report["pages"] != 1 and not name.startswith("guides"):
        problems.append(f"{name}: {len(part)} bars on {report['pages']} pages")
    problems += sheets.overrun(name, stem, report["pages"])
    count = 0
    for page in range(1, report["pages"] + 1):
        count += check_overlaps(name, f"{stem}-{page}.svg", problems)
    if count != sum(len(m["harmonies"]) for m in part):
        problems.append(f"{name}: {count} chord symbols drawn")
    return count


def check_sound(stems, problems):
    """Transposed sheets against concert sheets, and sheets of slashes."""
    for path, stem in stems.items():
        notes = midi_notes(stem)
        if path.parent.name == "slashes" and notes:
            problems.append(f"{path.name}: slashes sound")
        concert = path.with_name(re.sub(r"\.[^.]+\.musicxml$", ".concert.musicxml", path.name))
        if concert == path or concert not in stems:
            continue
        steps = {a - b for a, b in zip(midi_notes(stems[concert]), notes)}
        if len(notes) != len(midi_notes(stems[concert])) or len(steps) > 1 or any(s % 12 for s in steps):
            problems.append(f"{path.name}: sounds {sorted(steps)} semitones from the concert sheet")


def covering_set(folder):
    """Concert and one instrument of each tune in turn, and each other way in turn: some sixty sheets."""
    plain = sheets.write(sys.argv[1], folder, "all", ["plain"])
    ids = sorted({p.name.split(".")[1] for p in plain} - {"concert"})
    chosen = []
    for place, tune in enumerate(sheets.tunes()):
        for instrument in ("concert", ids[place % len(ids)]):
            chosen.append(pathlib.Path(folder, "plain", f"{tune.stem}.{instrument}.musicxml"))
    other = sheets.write(sys.argv[1], folder, "concert", ["slashes", "jumps", "compact", "changed"])
    chosen += [p for i, p in enumerate(other) if i % 4 == 0]
    for way in ("guides-small", "guides-staves"):
        written = sheets.write(sys.argv[1], folder, "concert,alto-sax,trombone", [way])
        # Pushed chords stand inside held notes.
        pushed = f"contraband-at-quay-four.{'concert' if way == 'guides-small' else 'alto-sax'}.musicxml"
        chosen += [p for i, p in enumerate(written) if i % 5 == 0 or p.name == pushed]
    return chosen


def main():
    sheets.npm_package("verovio")
    problems, stems, symbols = [], {}, 0
    with sheets.temporary_folder() as folder:
        chosen = covering_set(folder)
        with concurrent.futures.ThreadPoolExecutor(os.cpu_count()) as pool:
            for path, stem, result in pool.map(run, chosen):
                symbols += check_sheet(path, stem, result, problems)
                if pathlib.Path(f"{stem}.mid.b64").is_file():
                    stems[path] = stem
        check_sound(stems, problems)
        sheets.finish(problems, len(stems), f"sheets with {symbols} chord symbols are read as written")


main()
