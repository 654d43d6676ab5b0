#!/usr/bin/env python3
"""The MIDI files of all sample tunes, read again by python3-mido (an independent reader of Standard MIDI Files) and
held against the tune's text, which plain_tune.py reads without the compiler: format, tracks, tempo, meters,
markers, count-in, length in seconds, melody note by note, hits, pushes. smf_rules.py holds the bytes against the specification.
"""

import os
import pathlib
import re
import subprocess
import sys
import tempfile
from fractions import Fraction

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parent))
import plain_tune  # noqa: E402
import smf_rules  # noqa: E402

try:
    import mido
except ImportError:  # the interpreter that was found first may not be the system's
    if sys.executable != "/usr/bin/python3" and os.path.exists("/usr/bin/python3"):
        os.execv("/usr/bin/python3", ["/usr/bin/python3", *sys.argv])
    print("skipped: python3-mido is not installed")
    sys.exit(77)

ROOT = pathlib.Path(__file__).resolve().parents[3]
RELEAD = os.environ["RELEAD_BINARY"]
TICKS = 960  # a quarter


def table(name):
    """The rows of a table in grammar/."""
    lines = (ROOT / "grammar" / name).read_text(encoding="utf-8").splitlines()
    return [[cell.strip() for cell in line.split("|")] for line in lines if line.strip() and line[0] not in "-@"]


FEELS = {row[0]: int(row[1]) / 100 for row in table("feels.txt")}
RATIOS = [(int(row[0]), int(row[1]) / 1000) for row in table("swing-ratios.txt")]


def quarters(bar):
    return bar.tempo[0] * plain_tune.beat_of(bar.meter) * 4


def swing_of(bar):
    beats, unit = bar.meter
    if unit > 4:
        return 0.5
    speed = float(quarters(bar))
    full = RATIOS[0][1] if speed <= RATIOS[0][0] else RATIOS[-1][1]
    for (slow, high), (fast, low) in zip(RATIOS, RATIOS[1:]):
        if slow < speed <= fast:
            full = high + (low - high) * (speed - slow) / (fast - slow)
    return 0.5 + (full - 0.5) * FEELS.get(bar.tempo[1], 0.0)


def tick(at, bar):
    """Where a moment of that bar sounds; triplets are not swung."""
    whole, part = divmod(at * 4, 1)
    if part.denominator & (part.denominator - 1):
        return round(at * 4 * TICKS)
    swing, part = swing_of(bar), float(part)
    moved = part * 2 * swing if part <= 0.5 else swing + (part - 0.5) * 2 * (1 - swing)
    return round((int(whole) + moved) * TICKS)


class Expected:
    """What the file of a tune must hold."""

    def __init__(self, tune):
        self.bars = []  # (at, chorus number, item, section, bar)
        self.performance = plain_tune.Player(tune).performance()
        first = self.performance[0][1][0][1]
        beats = Fraction(*first.meter) / plain_tune.beat_of(first.meter)
        count_in = 2 if beats * 60 / first.tempo[0] < 2 else 1
        self.count_in = Fraction(*first.meter) * count_in
        at = self.count_in
        for number, (item, played) in enumerate(self.performance):
            for section, bar in played:
                self.bars.append((at, number, item, section, bar))
                at += bar.length
        self.length = at
        self.first = first
        # A pickup sounds at the end of the count-in and takes no time of its own.
        section = self.performance[0][1][0][0]
        if section in tune.pickups:
            pickup = tune.pickups[section]
            self.pickup = (self.count_in - pickup.length, 0, self.performance[0][0], section, pickup)
        else:
            self.pickup = None

    def pace(self):
        """(from, quarters a minute) wherever the tempo changes: ritards to 3/4, fermatas half."""
        yield Fraction(0), float(quarters(self.first))
        slow_until = -1
        for index, (at, number, item, _, bar) in enumerate(self.bars):
            full = float(quarters(bar))
            back = self.tempo_returns(index)
            honoured = number == len(self.performance) - 1 or not item.solo and back < len(self.bars)
            slowed = index < slow_until
            factor = 0.75 if slowed else 1.0
            yield at, full * factor
            fermata = self.fermata(bar) if honoured and "fermata" in bar.marks else None
            if honoured and "ritard" in bar.marks and not slowed:
                slow_until = back
                beats = [plain_tune.beat_of(bar.meter) * i
                         for i in range(int(bar.length / plain_tune.beat_of(bar.meter)))]
                for i, beat in enumerate(beats):
                    if fermata is None or beat < fermata:
                        factor = 1 - 0.25 * (i + 1) / len(beats)
                        yield at + beat, full * factor
            if fermata is not None:
                yield at + fermata, full * factor / 2

    @staticmethod
    def fermata(bar):
        return bar.notes[-1][0] if bar.notes else bar.last_chord

    def tempo_returns(self, index):
        for later in range(index + 1, len(self.bars)):
            if self.bars[later][1] != self.bars[index][1]:
                break
            if "a tempo" in self.bars[later][4].marks or self.bars[later][4].tempo != self.bars[index][4].tempo:
                return later
        return len(self.bars)

    def seconds(self):
        marks = list(self.pace())
        ends = [at for at, _ in marks[1:]] + [self.length]
        return sum(float(end - at) * 4 * 60 / speed for (at, speed), end in zip(marks, ends))

    def meters(self):
        found = []
        for at, *_, bar in [(Fraction(0), self.first), *((one[0], one[4]) for one in self.bars)]:
            if not found or found[-1][1] != bar.meter:
                found.append((round(at * 4 * TICKS), bar.meter))
        return found

    def markers(self, tune):
        """The chorus' name where there is a running order, then each section as it begins."""
        found, before = [], None
        for index, (at, number, item, section, bar) in enumerate(self.bars):
            begins_chorus = index == 0 or self.bars[index - 1][1] != number
            if begins_chorus and tune.running:
                found.append((round(at * 4 * TICKS), item.name))
            if begins_chorus or section != before or bar.number == 1:
                found.append((round(at * 4 * TICKS), section))
            before = section
        return found

    def hits(self):
        """(begin, end, ticks struck) of each bar of a head with written hits; one that is tied into the bar begins
        in the bar before."""
        found, tied = [], False
        for at, _, item, _, bar in self.bars:
            if item.solo or not bar.hits:
                tied = False
                continue
            held, (struck, tied) = tied, plain_tune.read_hits(bar.hits)
            found.append((tick(at, bar), tick(at + bar.length, bar),
                          [tick(at + one, bar) for one in struck if not (held and one == 0)]))
        return found

    def pushes(self):
        """(tick struck, tick written) of each chord that comes early or late in a bar without hits."""
        for index, (at, _, item, _, bar) in enumerate(self.bars):
            before = self.bars[index - 1] if index else None
            around = [bar, before[4]] if before else [bar]
            if any(one.hits or re.search("break|fermata", one.marks) for one in around):
                continue
            for written, shift in bar.pushes:
                if before or written + shift >= 0:
                    yield tick(at + written + shift, bar), tick(at + written, bar)

    def melody(self):
        """(tick, key) of every note, ties joined; and the number of grace notes."""
        notes, graces, tied = [], 0, None
        for at, _, item, _, bar in [self.pickup, *self.bars] if self.pickup else self.bars:
            if item.solo:
                tied = None
                continue
            for offset, length, key, ties, grace in bar.notes:
                if tied != (at + offset, key):
                    graces += len(grace)
                    notes.append((tick(at + offset, bar), key))
                tied = (at + offset + length, key) if ties else None
        return notes, graces


def starts(track):
    now = 0
    for message in track:
        now += message.time
        if message.type == "note_on" and message.velocity > 0:
            yield now, message.note


def metas(track, kind):
    now = 0
    for message in track:
        now += message.time
        if message.type == kind:
            yield now, message


def check(name, said, wanted):
    if said != wanted:
        pairs = list(zip(said, wanted)) if isinstance(said, list) else []
        where = next((i for i, (one, other) in enumerate(pairs) if one != other), min(len(pairs), 10 ** 9))
        detail = f"{said[where:where + 3]} for {wanted[where:where + 3]} at {where} of {len(said)} and {len(wanted)}" \
            if isinstance(said, list) else f"{said} for {wanted}"
        yield f"{name}: {detail}"


def bars_without(track, expected):
    """Bars during which none of the track's notes sounds."""
    sounding, held, now = [], {}, 0
    for message in track:
        now += message.time
        if message.type == "note_on":
            held[message.note] = now
        elif message.type == "note_off":
            sounding.append((held.pop(message.note), now))
    empty = 0
    for at, *_, bar in expected.bars:
        begin, end = at * 4 * TICKS, (at + bar.length) * 4 * TICKS
        empty += not any(on < end and off > begin for on, off in sounding)
    return empty


def stroke_faults(tracks, expected, as_written):
    """Hits are struck by hands and drums, and by the hands alone where they are written; pushes in their place."""
    hands = {at for at, _ in starts(tracks["Piano"])}
    drums = {at for at, _ in starts(tracks["Drums"])}
    for begin, end, struck in expected.hits():
        for at in struck:
            if at not in hands or at not in drums:
                yield f"no hit at {at}"
        # A chord of the next bar may come early.
        more = sorted(at for at in hands if begin <= at < end - TICKS and at not in struck)
        if more:
            yield f"the hands strike at {more[0]}, where no hit is written"
    if not as_written:
        return  # a version may have another chord there
    for sounds, written in expected.pushes():
        if sounds not in hands:
            yield f"no chord at {sounds}, which is written at {written}"
        if written in hands:
            yield f"the chord at {written} comes where it is written, not at {sounds}"


def faults_of(path, tune, silent):
    data = path.read_bytes()
    yield from smf_rules.faults(data)
    expected = Expected(tune)
    file = mido.MidiFile(path, charset="utf-8")
    yield from check("format", file.type, 1)
    yield from check("ticks", file.ticks_per_beat, TICKS)
    names = [track.name for track in file.tracks]
    notes, graces = expected.melody()
    voices = (["Melody"] if notes else []) + ["Piano", "Bass", "Drums"]
    yield from check("tracks", names, [tune.title, *voices])
    first = file.tracks[0]
    yield from check("meters", [(at, (m.numerator, m.denominator)) for at, m in metas(first, "time_signature")], expected.meters())
    yield from check("markers", [(at, m.text) for at, m in metas(first, "marker")], expected.markers(tune))
    yield from check("first tempo", round(next(metas(first, "set_tempo"))[1].tempo), round(60e6 / float(quarters(expected.first))))
    if abs(file.length - expected.seconds()) > 0.02:
        yield f"lasts {file.length:.3f} s for {expected.seconds():.3f} s"
    # Which version it is: "mild 2" in tune.mild-2.mid.
    said = [re.sub(r"\W", "", m.text) for _, m in metas(first, "text")]
    yield from check("version", said, [re.sub(r"\W", "", word) for word in path.stem.split(".")[1:] or ["written"]])
    tracks = dict(zip(names, file.tracks))
    if notes:
        played = list(starts(tracks["Melody"]))
        yield from check("notes of the melody", len(played), len(notes) + graces)
        if not graces:
            yield from check("melody", played, notes)
        elif missing := [note for note in notes if note not in played]:
            yield f"melody lacks {missing[:3]}"
    yield from stroke_faults(tracks, expected, path.stem.count(".") == 0)
    for voice in ("Piano", "Bass", "Drums"):
        empty = bars_without(tracks[voice], expected)
        if empty > silent:
            yield f"{voice} is silent in {empty} bars"
    channels = {m.channel for m in tracks["Drums"] if not m.is_meta}
    yield from check("channel of the drums", channels, {9})
    clicks = [at for at, _ in starts(tracks["Drums"]) if at < expected.count_in * 4 * TICKS]
    if len(clicks) < 3 or clicks[0] != 0:
        yield f"count-in of {len(clicks)} clicks"


def silent_bars(tune, text):
    """How many bars of a performance may be without a voice: with a break, N.C. or hits that rest throughout, each
    played four times at most."""
    resting = sum(bool(bar.hits) and "x" not in bar.hits.lower() for bars in tune.sections.values() for bar in bars)
    return 4 * (len(re.findall(r"\bbreak\b|N\.C\.", text)) + resting)


def self_test(path):
    """Every rule must be seen to fail."""
    for what, damaged in smf_rules.damages(path.read_bytes()):
        if not smf_rules.faults(damaged):
            yield f"{what}: not noticed"


def compared(path, folder):
    """`compare -o` writes the same files."""
    listening = pathlib.Path(folder) / "compared"
    subprocess.run([RELEAD, "compare", str(path), "-o", str(listening)], check=True, capture_output=True, timeout=120)
    files = sorted(listening.glob(f"{path.stem}*.mid"))
    if len(files) < 2:
        yield f"compare writes {len(files)} MIDI files"
    for file in files:
        twin = pathlib.Path(folder) / file.name.replace(".written.", ".")
        if file.read_bytes() != twin.read_bytes():
            yield f"{file.name} is another one when compare writes it"


def main():
    faults, count, hits, pushes = 0, 0, 0, 0
    with tempfile.TemporaryDirectory() as folder:
        for path in sorted((ROOT / "samples/tunes").glob("*.tune")):
            text = path.read_text(encoding="utf-8")
            tune = plain_tune.Reader(text)
            expected = Expected(tune)
            hits += sum(len(struck) for *_, struck in expected.hits())
            pushes += len(list(expected.pushes()))
            subprocess.run([RELEAD, "reharm", str(path), "--midi", "-o", folder], check=True, capture_output=True, timeout=120)
            for file in sorted(pathlib.Path(folder).glob(f"{path.stem}*.mid")):
                count += 1
                for fault in faults_of(file, tune, silent_bars(tune, text)):
                    faults += 1
                    print(f"{file.name}: {fault}")
        ferry = ROOT / "samples/tunes/ferry-at-first-light.tune"
        for fault in compared(ferry, folder):
            faults += 1
            print(fault)
        # Enough of what only some tunes have.
        if hits < 50 or pushes < 20:
            faults += 1
            print(f"only {hits} hits and {pushes} pushes were looked at")
        for fault in self_test(pathlib.Path(folder) / "ferry-at-first-light.mid"):
            faults += 1
            print(fault)
    print(f"{count} files, {faults} faults")
    return 1 if faults or count < 40 else 0


if __name__ == "__main__":
    sys.exit(main())
