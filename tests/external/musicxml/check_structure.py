"""Sheets beyond the schema: lengths, ties, accidentals, chord symbols, form (tests/support/musicxml_validator.py).

Also: every instrument's sheet sounds like the concert sheet, its notes lie in the instrument's range and its chord
symbols follow the same interval; .mxl files are packed as the standard asks; a second run gives the same bytes.
usage: check_structure.py SHEET_WRITER
"""

import os
import pathlib
import re
import struct
import sys
import zipfile

import sheets
import musicxml_validator as validator


def sounding_interval(root):
    """Semitones from written to sounding."""
    transpose = root.find(".//transpose")
    if transpose is None:
        return 0
    return int(transpose.findtext("chromatic")) + 12 * int(transpose.findtext("octave-change") or 0)


def root_class(harmony):
    root = harmony.find("root")
    return (validator.STEPS[root.findtext("root-step")] + int(root.findtext("root-alter") or 0)) % 12


def melody(part):
    """(measure, time, sounding number) of every note that is not a slash."""
    found = []
    for place, measure in enumerate(part):
        for at, _, note in measure["notes"]:
            pitch = validator.pitch_of(note)
            if pitch is not None and note.findtext("notehead") is None:
                found.append((place, at, validator.midi(pitch)))
    return found


def symbols(part):
    found = []
    for place, measure in enumerate(part):
        for at, harmony in sorted(measure["harmonies"], key=lambda h: h[0]):
            kind = harmony.findtext("kind")
            found.append((place, at, kind, None if kind == "none" else root_class(harmony)))
    return found


def compare(name, concert, other, interval):
    """The sheet of a transposing instrument against the concert sheet of the same tune."""
    problems = []
    ours, theirs = melody(concert), melody(other)
    if [n[:2] for n in ours] != [n[:2] for n in theirs]:
        return [f"{name}: notes stand at other times than in the concert sheet"]
    shifts = {b[2] + interval - a[2] for a, b in zip(ours, theirs)}
    if len(shifts) > 1 or any(shift % 12 for shift in shifts):
        problems.append(f"{name}: sounds {sorted(shifts)} semitones from the concert sheet")
    expected = [(p, at, kind, None if root is None else (root - interval) % 12) for p, at, kind, root in symbols(concert)]
    if expected != symbols(other):
        problems.append(f"{name}: chord symbols do not follow the interval of the part")
    return problems


def midi_name(text):
    letter, accidental, octave = re.fullmatch(r"([A-G])([b#]*)(-?\d)", text).groups()
    return 12 * (int(octave) + 1) + validator.STEPS[letter] + accidental.count("#") - accidental.count("b")


def ranges():
    """Written ranges of grammar/instruments.txt: the columns low and high."""
    table, columns = {}, []
    for line in (sheets.ROOT / "grammar" / "instruments.txt").read_text(encoding="utf-8").splitlines():
        if line.startswith("@column"):
            columns.append(line.split()[1])
        elif "|" in line:
            cells = [cell.strip() for cell in line.split("|")]
            row = dict(zip(columns, cells))
            if re.fullmatch(r"[A-G][b#]*-?\d", row.get("low", "")):
                table[row["id"]] = (midi_name(row["low"]), midi_name(row["high"]))
    if len(table) < 8:
        sheets.fail(["the instrument table could not be read"])
    return table


def check_range(name, part, low, high):
    """A melody that fits the instrument in some octave lies there; one that is too wide can not."""
    notes = [n for _, _, n in melody(part)]
    if not notes or low <= min(notes) and max(notes) <= high:
        return []
    fits = [k for k in range(-5, 6) if low <= min(notes) + 12 * k and max(notes) + 12 * k <= high]
    return [f"{name}: lies outside the range, {fits} octaves away it would not"] if fits else []


def check_guide_register(name, part):
    """The guide-tone line sounds in the register of grammar/registers.txt, whatever the key."""
    table = (sheets.ROOT / "grammar" / "registers.txt").read_text(encoding="utf-8")
    low, high = re.search(r"^guide-tones *\| *(\S+) *\| *(\S+) *\|", table, re.MULTILINE).groups()
    outside = [n for _, _, n in melody(part) if not midi_name(low) <= n <= midi_name(high)]
    return [f"{name}: {len(outside)} notes lie outside {low} to {high}"] if outside or not melody(part) else []


def check_packed(path):
    """The container as MusicXML 4.0 describes it: mimetype first, stored, without extra field."""
    data = path.read_bytes()
    signature, _, _, method, _, _, _, size, _, name_length, extra = struct.unpack("<4sHHHHHIIIHH", data[:30])
    media = b"application/vnd.recordare.musicxml"
    problems = []
    if signature != b"PK\x03\x04" or method != 0 or extra != 0 or data[30:30 + name_length] != b"mimetype":
        problems.append("mimetype is not the first, stored entry without extra field")
    if data[38:38 + len(media)] != media or size != len(media):
        problems.append("mimetype does not hold the media type alone")
    with zipfile.ZipFile(path) as packed:
        names = packed.namelist()
        if names[:2] != ["mimetype", "META-INF/container.xml"] or len(names) != 3:
            problems.append(f"entries {names}")
        elif packed.read(names[2]) != path.with_suffix(".musicxml").read_bytes():
            problems.append("the packed score differs from the loose one")
        elif f'full-path="{names[2]}"'.encode() not in packed.read(names[1]):
            problems.append("the container does not name the score")
    return [f"{path.name}: {problem}" for problem in problems]


def same_bytes(first, second):
    problems = []
    for path in sorted(first.glob("*.*")):
        if path.read_bytes() != (second / path.name).read_bytes():
            problems.append(f"{path.name}: a second run gives other bytes")
    return problems


def main():
    schema = os.environ.get("RELEAD_MUSICXML_XSD")
    list_of_sounds = pathlib.Path(schema).with_name("sounds.xml") if schema else None
    sounds = validator.sound_ids(list_of_sounds) if list_of_sounds and list_of_sounds.is_file() else set()
    problems, table = [], ranges()
    with sheets.temporary_folder() as folder, sheets.temporary_folder() as again:
        files = sheets.write(sys.argv[1], folder, "all", ["plain"])
        files += sheets.write(sys.argv[1], folder, "concert,alto-sax,trombone", ["slashes", "jumps", "compact", "changed", "guides-staves"])
        files += sheets.write(sys.argv[1], folder, "concert,alto-sax,trombone", ["guides-small"])
        read = {}
        for path in files:
            text = path.read_text(encoding="utf-8")
            found, parts = validator.validate(text, sounds)
            problems += [f"{path.parent.name}/{path.name}: {problem}" for problem in found]
            read[path] = (parts[0], validator.ElementTree.fromstring(text.encode()))
        for path, (part, root) in read.items():
            tune, instrument, _ = path.name.rsplit(".", 2)
            name = f"{path.parent.name}/{path.name}"
            # On a lead sheet with guide tones the two staves may each lie in an octave of their own.
            if instrument != "concert" and path.parent.name != "guides-small":
                concert = read[path.with_name(f"{tune}.concert.musicxml")][0]
                problems += compare(name, concert, part, sounding_interval(root))
            if path.parent.name == "guides-staves" and instrument == "concert":
                problems += check_guide_register(name, part)
            elif instrument in table and path.parent.name != "guides-small":
                problems += check_range(name, part, *table[instrument])
        for packed in pathlib.Path(folder, "plain").glob("*.mxl"):
            problems += check_packed(packed)
        sheets.write(sys.argv[1], again, "concert,alto-sax", ["plain"])
        first = pathlib.Path(again, "plain")
        problems += same_bytes(first, pathlib.Path(folder, "plain"))
        sheets.finish(problems, len(files), "sheets are sound")


main()
