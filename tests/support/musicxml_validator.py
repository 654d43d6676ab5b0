"""Structural checks of MusicXML beyond its schema (W3C MusicXML 4.0): lengths, ties, form, accidentals.

Every check returns sentences that name part and measure; an empty list means that the file is sound. Nothing here knows
how the writer works: the file is read as a stranger reads it.
"""

import re
import xml.etree.ElementTree as ElementTree
from fractions import Fraction

KINDS = set(
    "major minor augmented diminished dominant major-seventh minor-seventh diminished-seventh augmented-seventh "
    "half-diminished major-minor major-sixth minor-sixth dominant-ninth major-ninth minor-ninth dominant-11th major-11th "
    "minor-11th dominant-13th major-13th minor-13th suspended-second suspended-fourth Neapolitan Italian French German "
    "pedal power Tristan other none".split()
)
TYPES = {"whole": 4, "half": 2, "quarter": 1, "eighth": Fraction(1, 2), "16th": Fraction(1, 4), "32nd": Fraction(1, 8),
         "64th": Fraction(1, 16), "128th": Fraction(1, 32)}
STEPS = {"C": 0, "D": 2, "E": 4, "F": 5, "G": 7, "A": 9, "B": 11}
SHARP_ORDER = "FCGDAEB"
ACCIDENTALS = {"flat-flat": -2, "flat": -1, "natural": 0, "sharp": 1, "double-sharp": 2}


def key_alteration(fifths, step):
    """What a signature does to a letter."""
    place = SHARP_ORDER.index(step)
    if fifths > 0:
        return (fifths + 6 - place) // 7
    return -((-fifths + place) // 7)


def pitch_of(note):
    pitch = note.find("pitch")
    if pitch is None:
        return None
    return pitch.findtext("step"), int(pitch.findtext("alter") or 0), int(pitch.findtext("octave"))


def midi(pitch):
    step, alter, octave = pitch
    return 12 * (octave + 1) + STEPS[step] + alter


class Events:
    """The notes and chord symbols of one part with exact times in quarters from the start of their measure."""

    def __init__(self):
        self.measures = []  # dicts: number, length, notes [(at, duration, note)], harmonies [(at, element)]


class Part:
    def __init__(self, element, problems):
        self.element = element
        self.id = element.get("id")
        self.problems = problems
        self.divisions = None
        self.meter = Fraction(4)
        self.fifths = 0
        self.slash = False
        self.events = []
        self.open_ties = {}
        self.open_slurs = set()
        self.changed_before = set()

    def say(self, measure, text):
        self.problems.append(f"{self.id} measure {measure.get('number')}: {text}")

    def read(self):
        measures = self.element.findall("measure")
        numbers = [m.get("number") for m in measures]
        if len(set(numbers)) != len(numbers):
            self.problems.append(f"{self.id}: measure numbers are not unique")
        for measure in measures:
            self.read_measure(measure)
        for slur in self.open_slurs:
            self.problems.append(f"{self.id}: slur {slur} stays open")
        for pitch, where in self.open_ties.items():
            self.problems.append(f"{self.id}: the tie of {pitch} from measure {where} has no end")
        self.check_form(measures)

    # --- time

    def read_measure(self, measure):
        self.cursor = Fraction(0)
        self.reach = Fraction(0)
        self.voices = {}
        self.chord_start = Fraction(0)
        self.notes, self.graces, self.harmonies = [], [], []
        self.beams, self.tuplets = {}, set()
        self.implicit = measure.get("implicit") == "yes"
        self.accidentals = {}
        self.changed_here = set()
        children = list(measure)
        for place, child in enumerate(children):
            handler = getattr(self, "on_" + child.tag.replace("-", "_"), None)
            if handler:
                handler(measure, child, children[place + 1:])
        self.check_lengths(measure)
        self.check_harmonies(measure)
        for (voice, level), state in self.beams.items():
            self.say(measure, f"beam {level} of voice {voice} stays open")
        for number in self.tuplets:
            self.say(measure, f"tuplet {number} stays open")
        self.changed_before = self.changed_here
        self.events.append({"number": measure.get("number"), "length": self.reach, "notes": self.notes, "graces": self.graces,
                            "harmonies": self.harmonies, "meter": self.meter, "fifths": self.fifths})

    def on_attributes(self, measure, element, _):
        divisions = element.findtext("divisions")
        if divisions:
            if self.divisions not in (None, int(divisions)):
                self.say(measure, "divisions change")
            self.divisions = int(divisions)
        if element.find("time") is not None:
            self.meter = Fraction(4 * int(element.findtext("time/beats")), int(element.findtext("time/beat-type")))
        if element.find("key") is not None:
            self.fifths = int(element.findtext("key/fifths"))
            if not -7 <= self.fifths <= 7:
                self.say(measure, f"signature of {self.fifths}")
        self.check_transpose(measure, element.find("transpose"))
        for slash in element.iterfind("measure-style/slash"):
            starts = slash.get("type") == "start"
            if starts == self.slash:
                self.say(measure, f"slash region: {slash.get('type')} at the wrong place")
            self.slash = starts

    def check_transpose(self, measure, transpose):
        if transpose is None:
            return
        diatonic, chromatic = int(transpose.findtext("diatonic")), int(transpose.findtext("chromatic"))
        octaves = transpose.findtext("octave-change")
        if abs(diatonic) >= 7 or octaves == "0":
            self.say(measure, "transpose: octaves belong into octave-change, which is absent below an octave")
        if abs(chromatic - [0, 2, 4, 5, 7, 9, 11][abs(diatonic)] * (1 if diatonic >= 0 else -1)) > 2:
            self.say(measure, "transpose: diatonic and chromatic disagree")

    def duration(self, measure, element):
        text = element.findtext("duration")
        if text is None or not text.isdigit() or int(text) == 0:
            self.say(measure, f"{element.tag} without a whole positive duration")
            return Fraction(0)
        return Fraction(int(text), self.divisions)

    def move(self, measure, to):
        if to < 0:
            self.say(measure, "backup goes before the bar line")
        self.cursor = to
        self.reach = max(self.reach, to)

    def on_backup(self, measure, element, _):
        self.move(measure, self.cursor - self.duration(measure, element))

    def on_forward(self, measure, element, _):
        length = self.duration(measure, element)
        voice = element.findtext("voice")
        if voice:
            self.voices[voice] = self.voices.get(voice, 0) + length
        self.move(measure, self.cursor + length)

    def on_direction(self, measure, element, _):
        if element.find("offset") is not None:
            self.say(measure, "a direction uses offset")

    def on_note(self, measure, note, _):
        if note.find("grace") is not None:
            self.graces.append(note)
            self.check_accidental(measure, note)
            return
        length = self.duration(measure, note)
        in_chord = note.find("chord") is not None
        at = self.chord_start if in_chord else self.cursor
        self.check_type(measure, note, length)
        self.check_accidental(measure, note)
        self.check_tie(measure, note)
        self.check_notations(measure, note)
        self.check_beams(measure, note)
        self.notes.append((at, length, note))
        if in_chord:
            return
        voice = note.findtext("voice") or "1"
        self.voices[voice] = self.voices.get(voice, 0) + length
        self.chord_start = self.cursor
        self.move(measure, self.cursor + length)

    def check_lengths(self, measure):
        if not self.implicit and self.reach != self.meter:
            self.say(measure, f"holds {self.reach} quarters, the meter asks for {self.meter}")
        if self.cursor != self.reach:
            self.say(measure, "does not end at its end")
        for voice, length in self.voices.items():
            if length != self.reach:
                self.say(measure, f"voice {voice} holds {length} quarters of {self.reach}")

    def check_type(self, measure, note, length):
        rest = note.find("rest")
        if rest is not None and rest.get("measure") == "yes":
            return
        value = note.findtext("type")
        if value not in TYPES:
            self.say(measure, f"note type {value}")
            return
        expected = Fraction(TYPES[value]) * (2 - Fraction(1, 2 ** len(note.findall("dot"))))
        change = note.find("time-modification")
        if change is not None:
            expected *= Fraction(int(change.findtext("normal-notes")), int(change.findtext("actual-notes")))
        if expected != length:
            self.say(measure, f"type says {expected}, duration says {length}")

    # --- pitch

    def check_accidental(self, measure, note):
        pitch = pitch_of(note)
        if pitch is None:
            return
        step, alter, octave = pitch
        staff = note.findtext("staff", "1")  # accidentals hold on their own staff
        slash = note.findtext("notehead") == "slash"
        shown = note.find("accidental")
        signature = key_alteration(self.fifths, step)
        if slash:
            if alter != signature or shown is not None:
                self.say(measure, f"slash on {step}{alter:+d}, foreign to the signature")
            return
        if alter != signature:
            self.changed_here.add((staff, step))
        tied = any(t.get("type") == "stop" for t in note.findall("tie"))
        if tied:
            if shown is not None:
                self.say(measure, "accidental on the second note of a tie")
            return
        expected = self.accidentals.get((staff, step, octave), signature)
        if shown is None and alter != expected:
            self.say(measure, f"{step}{octave} needs an accidental ({alter:+d})")
        if shown is not None and ACCIDENTALS.get(shown.text) != alter:
            self.say(measure, f"{step}{octave} shows {shown.text} and sounds {alter:+d}")
        if shown is not None and alter == expected and shown.get("cautionary") != "yes":
            self.say(measure, f"{step}{octave} has an accidental that changes nothing")
        if shown is not None and shown.get("cautionary") == "yes":
            if (staff, step) not in self.changed_before | self.changed_here:
                self.say(measure, f"{step}{octave} has a reminder without a reason")
        self.accidentals[(staff, step, octave)] = alter

    def check_tie(self, measure, note):
        pitch = pitch_of(note)
        kinds = {t.get("type") for t in note.findall("tie")}
        shown = {t.get("type") for t in note.findall("notations/tied")}
        cue = note.find("cue") is not None
        if not cue and kinds != shown:
            self.say(measure, f"tie {sorted(kinds)} sounds, {sorted(shown)} is drawn")
        if pitch is None:
            return
        key = (pitch, note.findtext("voice"), note.findtext("notehead"))
        if "stop" in shown and self.open_ties.pop(key, None) is None:
            self.say(measure, f"tie to {pitch} without a beginning")
        if "start" in shown:
            self.open_ties[key] = measure.get("number")

    def check_notations(self, measure, note):
        for slur in note.findall("notations/slur"):
            number = slur.get("number")
            if slur.get("type") == "start":
                if number in self.open_slurs:
                    self.say(measure, f"slur {number} begins twice")
                self.open_slurs.add(number)
            elif number in self.open_slurs:
                self.open_slurs.remove(number)
            else:
                self.say(measure, f"slur {number} ends without a beginning")
        for tuplet in note.findall("notations/tuplet"):
            number = tuplet.get("number", "1")
            if tuplet.get("type") == "start":
                self.tuplets.add(number)
            else:
                self.tuplets.discard(number)

    def check_beams(self, measure, note):
        voice = note.findtext("voice")
        for beam in note.findall("beam"):
            key = (voice, beam.get("number"))
            if beam.text == "begin":
                if key in self.beams:
                    self.say(measure, f"beam {key[1]} begins twice")
                self.beams[key] = True
            elif beam.text == "continue" and key not in self.beams:
                self.say(measure, f"beam {key[1]} goes on without a beginning")
            elif beam.text == "end" and self.beams.pop(key, None) is None:
                self.say(measure, f"beam {key[1]} ends without a beginning")

    # --- chord symbols

    def on_harmony(self, measure, harmony, rest):
        if harmony.find("offset") is not None:
            self.say(measure, "a chord symbol uses offset, which readers ignore")
        following = next((e for e in rest if e.tag not in ("harmony", "direction")), None)
        if following is None or following.tag not in ("note", "forward") or following.find("chord") is not None:
            self.say(measure, "a chord symbol stands before no note")
        self.harmonies.append((self.cursor, harmony))
        self.check_symbol(measure, harmony)

    def check_symbol(self, measure, harmony):
        kind = harmony.find("kind")
        if kind.text not in KINDS:
            self.say(measure, f"unknown kind {kind.text}")
        root = harmony.find("root/root-step")
        if kind.text == "none":
            if root.get("text") != "" or kind.get("text") != "N.C.":
                self.say(measure, "N.C. shows a root")
            return
        text = kind.get("text")
        if text is None:
            self.say(measure, "kind without text")
            text = ""
        bass = harmony.find("bass")
        if bass is not None:
            same = bass.findtext("bass-step") == root.text and bass.findtext("bass-alter") == harmony.findtext("root/root-alter")
            if same:
                self.say(measure, "the bass repeats the root")
        for degree in harmony.findall("degree"):
            visible = degree.get("print-object") != "no"
            if visible and degree.find("degree-type").get("text") != "":
                self.say(measure, 'a visible degree without degree-type text=""')
            value, alter = degree.findtext("degree-value"), int(degree.findtext("degree-alter"))
            sign = {-1: "b", 0: "", 1: "#"}.get(alter, "?")
            if visible and sign and re.search(re.escape(sign + value) + r"(?!\d)", text):
                self.say(measure, f"the symbol says {sign}{value} twice: {text}")

    def check_harmonies(self, measure):
        times = sorted(at for at, _ in self.harmonies)
        if len(set(times)) != len(times):
            self.say(measure, "two chord symbols at one moment")
        for at in times:
            if not 0 <= at < self.reach:
                self.say(measure, f"a chord symbol at {at} of {self.reach}")

    # --- form

    def check_form(self, measures):
        inside, number, repeat_open, last_number = None, None, False, 0
        for measure in measures:
            for barline in measure.findall("barline"):
                ending, repeat = barline.find("ending"), barline.find("repeat")
                if ending is not None and ending.get("type") == "start":
                    if inside:
                        self.say(measure, "an ending begins inside another")
                    inside, number = measure.get("number"), ending.get("number")
                    first = int(number.split(",")[0])
                    if first != 1 and first != last_number + 1:
                        self.say(measure, f"ending {number} follows ending {last_number}")
                    last_number = int(number.split(",")[-1])
                elif ending is not None:
                    if not inside or ending.get("number") != number:
                        self.say(measure, "an ending ends that did not begin")
                    inside = None
                if repeat is not None and repeat.get("direction") == "forward":
                    repeat_open = True
                elif repeat is not None:
                    if not repeat_open:
                        self.say(measure, "a backward repeat without its forward repeat")
                    # an ending may end the same repeat again
                    repeat_open = ending is not None
        if inside:
            self.problems.append(f"{self.id}: the ending of measure {inside} stays open")
        self.check_jumps(measures)
        self.check_rests(measures)

    def check_jumps(self, measures):
        sounds = [s for m in measures for s in m.iter("sound")]
        for name, target in (("dalsegno", "segno"), ("tocoda", "coda")):
            targets = {s.get(target) for s in sounds if s.get(target)}
            for sound in sounds:
                if sound.get(name) and sound.get(name) not in targets:
                    self.problems.append(f"{self.id}: {name} {sound.get(name)} leads nowhere")
        for m in measures:
            for direction in m.findall("direction"):
                sign = direction.find("direction-type/segno") is not None or direction.find("direction-type/coda") is not None
                if sign and direction.find("sound") is None:
                    self.say(m, "a sign without its sound")

    def check_rests(self, measures):
        for place, measure in enumerate(measures):
            count = measure.findtext("attributes/measure-style/multiple-rest")
            for following in measures[place:place + int(count or 0)]:
                if any(n.find("rest") is None for n in following.findall("note")):
                    self.say(following, "notes inside a block of rests")


def check_part_list(root, problems, sounds):
    listed = [p.get("id") for p in root.findall("part-list/score-part")]
    parts = [p.get("id") for p in root.findall("part")]
    if listed != parts:
        problems.append(f"part list {listed} and parts {parts} differ")
    opened = []
    for group in root.findall("part-list/part-group"):
        if group.get("type") == "start":
            opened.append(group.get("number"))
        elif group.get("number") in opened:
            opened.remove(group.get("number"))
        else:
            problems.append("a part group ends that did not begin")
    if opened:
        problems.append("a part group stays open")
    for part in root.findall("part-list/score-part"):
        declared = {i.get("id") for i in part.findall("score-instrument")}
        used = {i.get("id") for i in part.findall("midi-instrument")}
        if declared != used:
            problems.append(f"{part.get('id')}: instruments {declared} and their midi {used} differ")
        for program in part.iter("midi-program"):
            if not 1 <= int(program.text) <= 128:
                problems.append(f"midi program {program.text}")
        for sound in part.iter("instrument-sound"):
            if sounds and sound.text not in sounds:
                problems.append(f"instrument sound {sound.text} is not in the published list")


def check_parts_agree(root, problems):
    shapes = []
    for part in root.findall("part"):
        shapes.append([(m.get("number"), m.get("implicit")) for m in part.findall("measure")])
    if any(shape != shapes[0] for shape in shapes):
        problems.append("the parts have different measures")


def check_titles(root, problems):
    if root.find("movement-title") is not None:
        problems.append("movement-title beside work-title: some readers print both")
    if not root.findtext("work/work-title"):
        problems.append("no title")


def sound_ids(path):
    return {s.get("id") for s in ElementTree.parse(path).getroot().iter("sound")} if path else set()


def validate(text, sounds=frozenset()):
    """(problems, events per part) of a MusicXML document."""
    problems = []
    if re.search(r"[\x00-\x08\x0b\x0c\x0e-\x1f]", text):
        problems.append("control characters")
    root = ElementTree.fromstring(text.encode("utf-8"))
    check_part_list(root, problems, sounds)
    check_parts_agree(root, problems)
    check_titles(root, problems)
    events = []
    for element in root.findall("part"):
        part = Part(element, problems)
        part.read()
        events.append(part.events)
    return problems, events
