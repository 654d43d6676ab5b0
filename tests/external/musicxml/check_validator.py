"""The validator finds what is wrong: a sound score, then the same with one fault each."""

import sheets
import musicxml_validator as validator

NOTE = "<note><pitch><step>{}</step>{}<octave>4</octave></pitch><duration>{}</duration>{}<voice>1</voice><type>{}</type>{}</note>"


def note(step, alter="", duration=12, ties="", kind="quarter", rest=""):
    return NOTE.format(step, alter, duration, ties, kind, rest)


TIED = '<notations><tied type="{}"/></notations>'
HARMONY = ('<harmony><root><root-step>C</root-step></root><kind text="7">dominant</kind><bass><bass-step>E</bass-step></bass>'
           '<degree><degree-value>9</degree-value><degree-alter>-1</degree-alter><degree-type text="">add</degree-type></degree>'
           '</harmony>')
SOUND = f"""<score-partwise version="4.0"><work><work-title>T</work-title></work><part-list>
<part-group number="1" type="start"/><score-part id="P1"><part-name>L</part-name><score-instrument id="I"><instrument-name>L</instrument-name>
<instrument-sound>keyboard.piano</instrument-sound></score-instrument><midi-instrument id="I"><midi-program>1</midi-program></midi-instrument>
</score-part><part-group number="1" type="stop"/></part-list><part id="P1">
<measure number="1"><barline location="left"><repeat direction="forward"/></barline><attributes><divisions>12</divisions><key><fifths>-1</fifths></key>
<time><beats>4</beats><beat-type>4</beat-type></time><transpose><diatonic>-1</diatonic><chromatic>-2</chromatic><octave-change>-1</octave-change></transpose></attributes>
<direction><direction-type><segno/></direction-type><sound segno="segno1"/></direction>{HARMONY}{note("F")}{note("G")}
{note("B", "<alter>-1</alter>", 24, '<tie type="start"/>', "half", TIED.format("start"))}</measure>
<measure number="2"><barline location="left"><ending number="1" type="start"/></barline>
{note("B", "<alter>-1</alter>", 12, '<tie type="stop"/>', "quarter", TIED.format("stop"))}
{note("F", "<alter>1</alter>", 6, "", "eighth", '<accidental>sharp</accidental><beam number="1">begin</beam>')}
{note("G", "", 6, "", "eighth", '<beam number="1">end</beam>')}{note("A", "", 24, "", "half")}
<barline location="right"><ending number="1" type="stop"/><repeat direction="backward"/></barline></measure>
<measure number="3"><barline location="left"><ending number="2" type="start"/></barline>
<note><pitch><step>F</step><octave>4</octave></pitch><duration>24</duration><voice>1</voice><type>half</type><accidental cautionary="yes">natural</accidental></note>
{note("C", "", 24, "", "half")}<backup><duration>48</duration></backup><forward><duration>12</duration></forward>{HARMONY}<forward><duration>36</duration></forward>
<direction><direction-type><words>D.S.</words></direction-type><sound dalsegno="segno1"/></direction>
<barline location="right"><ending number="2" type="discontinue"/></barline></measure></part></score-partwise>"""

# (what is replaced, by what, a part of the complaint); the first occurrence is replaced.
FAULTS = [
    ('<part id="P1">', '<part id="P2">', "differ"),
    ('<part-group number="1" type="stop"/>', "", "stays open"),
    ('<midi-instrument id="I">', '<midi-instrument id="J">', "differ"),
    ("<midi-program>1<", "<midi-program>0<", "midi program"),
    ("keyboard.piano", "keyboard.pianola", "published list"),
    ("<work-title>T</work-title>", "", "no title"),
    ("<part-list>", "<movement-title>T</movement-title><part-list>", "movement-title"),
    ('number="3">', 'number="2">', "not unique"),
    ("<beats>4<", "<beats>3<", "the meter asks for"),
    ("<duration>24</duration>", "<duration>12</duration>", "type says"),
    ("<backup><duration>48", "<backup><duration>60", "before the bar line"),
    ("<forward><duration>36</duration></forward>", "", "does not end at its end"),
    (HARMONY, "<harmony><offset>1</offset>" + HARMONY[9:], "uses offset"),
    (HARMONY, HARMONY + HARMONY, "two chord symbols"),
    ("<forward><duration>36</duration></forward>", "<forward><duration>36</duration></forward>" + HARMONY, "before no note"),
    (">dominant<", ">dominant-seventh<", "unknown kind"),
    ('text="7"', 'text="7b9"', "twice"),
    ('<degree-type text="">', "<degree-type>", "degree-type"),
    ("<bass-step>E", "<bass-step>C", "repeats the root"),
    ('<kind text="7">dominant', '<kind text="N.C.">none', "shows a root"),
    ('<tied type="stop"/>', "", "is drawn"),
    ('<tie type="stop"/>', "", "is drawn"),
    ("<accidental>sharp</accidental>", "", "needs an accidental"),
    ("<accidental>sharp<", "<accidental>flat<", "shows flat"),
    (' cautionary="yes"', "", "changes nothing"),
    ('<beam number="1">end</beam>', "", "stays open"),
    ('<beam number="1">begin</beam>', "", "without a beginning"),
    ('<ending number="1" type="stop"/>', "", "begins inside another"),
    ('<ending number="2" type="start"/>', '<ending number="3" type="start"/>', "follows ending 1"),
    ('<ending number="2" type="discontinue"/>', "", "stays open"),
    ('<repeat direction="forward"/>', "", "without its forward repeat"),
    ('dalsegno="segno1"', 'dalsegno="segno2"', "leads nowhere"),
    ('<sound segno="segno1"/>', "", "a sign without its sound"),
    ("<octave-change>-1<", "<octave-change>0<", "octave-change"),
    ("<chromatic>-2<", "<chromatic>-14<", "disagree"),
    ("<fifths>-1<", "<fifths>-8<", "signature"),
    ("<work-title>T", "<work-title>T\x01", "control characters"),
]


def main():
    problems, _ = validator.validate(SOUND, {"keyboard.piano"})
    problems = [f"the sound score: {problem}" for problem in problems]
    for old, new, complaint in FAULTS:
        if old not in SOUND:
            problems.append(f"no {old} to replace")
            continue
        text = SOUND.replace(old, new, 1)
        try:
            found, _ = validator.validate(text, {"keyboard.piano"})
        except validator.ElementTree.ParseError:
            found = ["control characters"] if "\x01" in text else ["not well-formed"]
        if not any(complaint in problem for problem in found):
            problems.append(f"{old} -> {new}: found {found}, not '{complaint}'")
    sheets.finish(problems, len(FAULTS), "faults are found")


main()
