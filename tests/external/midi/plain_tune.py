"""Reads a tune's text a second time, without the compiler, as far as its sound goes: bars with their meter, tempo,
melody and marks, and the order in which they are played. Knows what the sample tunes use and no more.

What the sheets of the trade say is taken from the tune language: repeats, endings by the playing of the section,
`last` endings in the last chorus, D.S. al coda without repeats, tags after their bars, a vamp before the chorus.
"""

import dataclasses
import re
from fractions import Fraction

LETTERS = {"w": 1, "h": 2, "q": 4, "e": 8, "s": 16, "t": 32}
STEPS = {"C": 0, "D": 2, "E": 4, "F": 5, "G": 7, "A": 9, "B": 11}


@dataclasses.dataclass
class Bar:
    number: int
    meter: tuple  # beats, unit
    tempo: tuple  # beats a minute, feel
    length: Fraction = Fraction(0)
    melody: str = ""
    hits: str = ""
    marks: str = ""
    last_chord: Fraction = Fraction(0)
    pushes: list = dataclasses.field(default_factory=list)  # (written at, moved by)
    repeat_begins: bool = False
    repeat_ends: int = 0
    ending: tuple = ()
    ending_ends: bool = False
    notes: list = dataclasses.field(default_factory=list)  # (at, length, key, tied, graces)


@dataclasses.dataclass
class Item:
    name: str
    times: int = 1
    last: bool = False
    solo: bool = False
    vamp: str = ""
    tag: tuple = ()


def beat_of(meter):
    beats, unit = meter
    return Fraction(3, 8) if unit == 8 and beats % 3 == 0 and beats > 3 else Fraction(1, unit)


def key_of(word):
    found = re.fullmatch(r"([A-G])([b#]*)(-?\d)", word)
    letter, accidentals, octave = found.groups()
    return 12 * (int(octave) + 1) + STEPS[letter] + accidentals.count("#") - accidentals.count("b")


def read_melody(cell, running):
    """The notes of a cell; the duration that goes on after it; its length."""
    at, factor, tied = Fraction(0), Fraction(1), False
    notes, graces = [], []
    for word in re.findall(r"\{[^}]*\}|\[\d+:\d+|\]|[^\s\[\]{}]+", cell):
        word = word.strip("()")
        if word.startswith("{"):
            graces = [key_of(one) for one in word[1:-1].split()]
        elif word.startswith("["):
            actual, normal = word[1:].split(":")
            factor = Fraction(int(normal), int(actual))
        elif word == "]":
            factor = Fraction(1)
        elif re.fullmatch(r"[whqest]\.{0,2}", word):
            plain = Fraction(1, LETTERS[word[0]])
            running = plain * (2 - Fraction(1, 2 ** word.count(".")))
        elif word:
            if word[0] in "ABCDEFG":
                notes.append((at, running * factor, key_of(word.rstrip("~()")), "~" in word, graces))
            graces = []
            at += running * factor
    return notes, running, at


def split_row(text):
    """Cells of a row of notes or marks; the first one stands before the first bar line."""
    return [cell.strip() for cell in text.split("|")]


def chord_onsets(words, meter):
    """(where it is written, word) of each chord of a cell."""
    length = Fraction(*meter)
    at, found = Fraction(0), []
    starred = any("*" in word for word in words)
    slashed = "/" in words
    for word in words:
        if word != "/":
            found.append((at, word))
        if starred:
            at += (Fraction(word.split("*")[1].rstrip("!")) if "*" in word else Fraction(1)) * beat_of(meter)
        else:
            at += beat_of(meter) if slashed else length / len(words)
    return found


def pushes_of(onsets):
    """(where it is written, how far it moves) of each pushed or late chord."""
    shifts = {"<<": Fraction(-1, 4), "<": Fraction(-1, 8), ">": Fraction(1, 8)}
    signs = ((at, re.match(r"<<|<|>|", word).group()) for at, word in onsets)
    return [(at, shifts[sign]) for at, sign in signs if sign]


def read_hits(cell):
    """Where each hit of a bar is struck; whether the last one is held into the next bar."""
    at, running, struck, tied = Fraction(0), Fraction(1, 4), [], False
    for word in cell.split():
        if re.fullmatch(r"[whqest]\.{0,2}", word):
            running = Fraction(1, LETTERS[word[0]]) * (2 - Fraction(1, 2 ** word.count(".")))
            continue
        if word != "r" and not tied:
            struck.append(at)
        tied = word.endswith("~")
        at += running
    return struck, tied


class Reader:
    def __init__(self, text):
        self.sections, self.form, self.running = {}, [], []
        self.meter, self.tempo = (4, 4), (120, "")
        self.title, self.pickups = "", {}
        self.section, self.now = None, None
        self.group = []
        for line in text.splitlines():
            self.line(re.sub(r"(^|\s)--(\s.*)?$", "", line))

    def line(self, line):
        words = line.split(None, 1)
        if not words:
            return
        word, rest = words[0], words[1] if len(words) > 1 else ""
        if word == "plan":
            self.section = "plan"
        if self.section == "plan":
            return
        if word == "section":
            self.section = rest.split()[0]
            self.now = {"meter": self.meter, "tempo": self.tempo, "running": Fraction(1, 4)}
            self.sections[self.section] = []
        elif word in ("meter", "tempo"):
            value = tuple(map(int, rest.split()[0].split("/"))) if word == "meter" else self.read_tempo(rest)
            if self.now is None:
                setattr(self, word, value)
            else:
                self.now[word] = value
        elif word == "tune":
            self.title = rest.strip().strip('"')
        elif word == "form":
            self.form = rest.split()
        elif word == "running":
            self.running = [self.read_item(item.strip()) for item in rest.split("|")]
        elif word == "changes":
            self.changes(rest)
        elif word in ("melody", "long", "marks", "hits"):
            self.row(word, rest)

    @staticmethod
    def read_tempo(text):
        words = text.split('"')[0].split()
        return int(words[0]), words[1] if len(words) > 1 else ""

    @staticmethod
    def read_item(text):
        item = Item(name=re.split(r"[\s,]", text.strip('"'))[0])
        item.last = bool(re.search(r"\blast\b", text))
        item.solo = bool(re.search(r"\bopen\b|each soloist|solo \"", text)) or item.name.lower().startswith("solo")
        if found := re.search(r"vamp (\S+)", text):
            item.vamp = found.group(1).rstrip(",")
        if found := re.search(r"tag (\S+):(\d+)(?:-(\d+))?(?: (\d+) times?)?", text):
            first = int(found.group(2))
            item.tag = (found.group(1), first, int(found.group(3) or first), int(found.group(4) or 1))
        elif found := re.search(r"(\d+) times?", text):
            item.times = int(found.group(1))
        return item

    def changes(self, text):
        bars = self.sections[self.section]
        self.group, words, ending, repeat = [], [], (), False
        began = False

        def close():
            nonlocal words, ending, repeat
            if not words:
                return
            bar = Bar(len(bars) + 1, self.now["meter"], self.now["tempo"], Fraction(*self.now["meter"]))
            onsets = chord_onsets(words, bar.meter)
            bar.last_chord, bar.pushes = onsets[-1][0], pushes_of(onsets)
            bar.ending, bar.repeat_begins = ending, repeat
            bars.append(bar)
            self.group.append(bar)
            words, ending, repeat = [], (), False

        for word in text.split():
            if word == "]":
                close()
                self.group[-1].ending_ends = True
            elif word.startswith("["):
                ending = tuple(word[1:].split(","))
            elif word.startswith(":|"):
                close()
                self.group[-1].repeat_ends = int(word[3:]) if word.startswith(":|*") else 2
            elif set(word) <= set("|:"):
                assert began or not words, "a pickup with chords, which no sample has"
                close()
                repeat = word.endswith(":")
                began = True
            else:
                words.append(word)
        close()

    def row(self, kind, text):
        before, *cells = split_row(text)
        if kind == "melody" and before:
            pickup = Bar(0, self.now["meter"], self.now["tempo"])
            pickup.notes, self.now["running"], pickup.length = read_melody(before, self.now["running"])
            self.pickups[self.section] = pickup
        for bar, cell in zip(self.group, cells):
            if kind == "marks":
                bar.marks = re.sub(r'"[^"]*"', "", cell)
            elif kind == "hits":
                bar.hits = cell if cell != "." else ""
            elif kind == "long" and not re.search(r"\b[whqest]\b", cell):
                pitches = [word for word in cell.split() if word != "."]
                share = bar.length / max(len(pitches), 1)
                bar.notes = [(share * i, share, key_of(word.rstrip("~")), "~" in word, [])
                             for i, word in enumerate(pitches) if word[0] in "ABCDEFG"]
            elif cell not in (".", "?", ""):
                bar.melody = cell
                bar.notes, self.now["running"], length = read_melody(cell, self.now["running"])
                assert length == bar.length, f"{self.title} {self.section}:{bar.number} holds {length}"


class Player:
    """The bars in the order in which a band plays them: [(item, [bar ...]) ...]."""

    def __init__(self, tune):
        self.tune = tune

    def performance(self):
        items = self.tune.running or [Item("Head", last=True)]
        return [(item, self.chorus(item, item.last and time == item.times))
                for item in items for time in range(1, item.times + 1)]

    def chorus(self, item, last):
        played = self.by_form(last) if self.tune.form else self.by_signs()
        if item.tag and last == item.last:
            name, first, until, times = item.tag
            tag = [(name, bar) for bar in self.tune.sections[name] if first <= bar.number <= until]
            end = max(i for i, one in enumerate(played) if one == tag[-1]) + 1
            played[end:end] = tag * times
        if item.vamp:
            played = self.section(item.vamp, 1, False) + played
        return played

    def by_form(self, last):
        played, counts = [], {}
        for name in self.tune.form:
            counts[name] = counts.get(name, 0) + 1
            final = counts[name] == self.tune.form.count(name)
            played += self.section(name, counts[name], last and final, final)
        return played

    def section(self, name, playing, takes_last, final=True):
        played, bars = [], self.tune.sections[name]
        begin, at, current, times = 0, 0, 1, {}
        skipping = False
        repeated = any(bar.repeat_ends for bar in bars)
        while at < len(bars):
            bar = bars[at]
            if bar.repeat_begins and at != begin:
                begin, current = at, 1
            if bar.ending:
                number = current if repeated else playing
                wanted = str(number)
                has_last = any("last" in one.ending for one in bars)
                if has_last and takes_last:
                    wanted = "last"
                elif has_last and final and not any(wanted in one.ending for one in bars):
                    wanted = "last"
                skipping = wanted not in bar.ending
            if not skipping:
                played.append((name, bar))
            if bar.repeat_ends and not skipping and current < bar.repeat_ends:
                current += 1
                at = begin
                continue
            if bar.ending_ends:
                skipping = False
            at += 1
        return played

    def by_signs(self):
        """Every section with its repeats; D.S. al coda back to the segno, from there without repeats."""
        straight = [pair for name in self.tune.sections for pair in self.section(name, 1, True)]
        once = [(name, bar) for name, bars in self.tune.sections.items() for bar in bars]
        jump = max((i for i, (_, bar) in enumerate(straight) if "D.S. al coda" in bar.marks), default=None)
        if jump is None:
            return straight
        segno = next(i for i, (_, bar) in enumerate(once) if "segno" in bar.marks)
        leave = next(i for i, (_, bar) in enumerate(once) if "to coda" in bar.marks)
        coda = next(i for i, (_, bar) in enumerate(straight) if re.search(r"(?<!to )(?<!al )\bcoda\b", bar.marks))
        return straight[:jump + 1] + once[segno:leave + 1] + straight[coda:]
