#!/usr/bin/env python3
"""Every JSON document that Relead prints, held against its schema in schemas/ by python3-jsonschema (JSON Schema,
draft 2020-12). A damaged document must be refused, else the check could not fail.
"""

import json
import os
import pathlib
import re
import subprocess
import sys
import tempfile

import jsonschema

ROOT = pathlib.Path(__file__).resolve().parents[3]
RELEAD = os.environ["RELEAD_BINARY"]
TUNES = sorted((ROOT / "samples/tunes").glob("*.tune"))
BROKEN = 'tune "Slip"\nkey F major\n\nsection A\nchanges | Fmja7 | C7 (b9) |\nmelody | q C5 D5 E5 F5 G5 | w C5 |\n'

# Tunes as bare as they come: (chart, chords as written).
BARE = (
    ('tune "One"\nsection A\nchanges | C7 |\n', ["C7"]),
    ('tune "Silent"\nsection A\nchanges | N.C. | N.C. |\n', ["N.C.", "N.C."]),
    ('tune "Break"\nmeter 3/4\nsection A\nchanges | Dm7 | N.C. G7*2 | Cmaj7 | % |\n', ["Dm7", "N.C.", "G7", "Cmaj7"]),
    ('tune "No key"\nkey open\nsection A\nchanges | Gm7 C7 | Fmaj7 | Gm7 C7 | F6 |\n', ["Gm7", "C7", "Fmaj7", "Gm7", "C7", "F6"]),
)
# Odd forms: (chart, place of each chord, where it leads). Targets that only a chord by chord reading settles are the
# matter of tests/external/analysis; these follow from the form alone (common practice, no source).
FORMS = (
    # A pickup is bar 0; chords over another bass keep it in their symbol.
    ('tune "Pickup"\nkey C major\nmeter 4/4\nsection A\nchanges G7*1 | Cmaj7/E | A7 | Dm7/C G7/B | C6 |\n'
     "melody q B4 | w C5 | w C#5 | h D5 B4 | w C5 |\n",
     ["A:0.1 G7", "A:1.1 Cmaj7/E", "A:2.1 A7", "A:3.1 Dm7/C", "A:3.3 G7/B", "A:4.1 C6"], {2: 3, 3: 4, 4: 5, 5: None}),
    # The second ending holds the last home chord.
    ('tune "Twice"\nkey F major\nsection A\nchanges |: Fmaj7 | Gm7 C7 | [1 Am7 | D7 :| ] [2 F6 | F6 ] |\n',
     ["A:1.1 Fmaj7", "A:2.1 Gm7", "A:2.3 C7", "A:3.1 Am7", "A:4.1 D7", "A:5.1 F6", "A:6.1 F6"], {1: 2, 3: 4, 5: 6, 6: None}),
    # From the D.S. back to the segno, a chord that stands earlier in the text: A7 is the dominant of that Dm7. Then the coda.
    ('tune "Signs"\nkey C major\nsection A\nchanges | Cmaj7 | Dm7 | G7 | A7 |\n'
     "marks | . | segno | to coda | D.S. al coda |\nsection B\nchanges | G7 | C6 |\nmarks | coda | . |\n",
     ["A:1.1 Cmaj7", "A:2.1 Dm7", "A:3.1 G7", "A:4.1 A7", "B:1.1 G7", "B:2.1 C6"], {1: 2, 3: 1, 4: 5, 5: None}),
    ('tune "Three"\nkey Bb major\nmeter 3/4\nsection A\nchanges | Bbmaj7 | G7*2 C7 | Cm7 / F7 | Bb6 |\n',
     ["A:1.1 Bbmaj7", "A:2.1 G7", "A:2.3 C7", "A:3.1 Cm7", "A:3.3 F7", "A:4.1 Bb6"], {3: 4, 4: 5, 5: None}),
    # The last chord prepares the first one of the next chorus.
    ('tune "Round"\nkey C major\nsection A\nchanges | Cmaj7 | Am7 | Dm7 | G7 |\n',
     ["A:1.1 Cmaj7", "A:2.1 Am7", "A:3.1 Dm7", "A:4.1 G7"], {2: 3, 3: 4}),
)
KEY = re.compile(r"[A-G](b|#)* (major|minor|dorian|phrygian|lydian|mixolydian|aeolian|locrian|blues)")
MEMBERS = {"index", "section", "bar", "beat", "symbol", "key", "numeral", "function", "target", "relation"}


def document(arguments, codes=(0,), stdin=""):
    done = subprocess.run([RELEAD, *arguments], input=stdin, capture_output=True, text=True, timeout=60)
    assert done.returncode in codes, f"{arguments}: exit {done.returncode}\n{done.stderr}"
    return json.loads(done.stdout)


def documents(folder):
    """(schema name, document) for each command on each sample tune, and on a broken one."""
    yield "check", document(["check", "--as", "json", "-"], (1,), BROKEN)
    for number, tune in enumerate(TUNES):
        yield "check", document(["check", "--as", "json", str(tune)])
        yield "explain", document(["explain", "--as", "json", str(tune)])
        if number % 4 == 1:
            other = str(TUNES[number - 1])
            out = str(folder / "compare" / tune.stem)
            yield "compare", document(["compare", str(tune), "--versions", "2", "--with", other, "--as", "json", "-o", out])
        if number % 4 == 0:
            yield "reharm", document(["reharm", str(tune), "--as", "json", "-o", str(folder / tune.stem)])
    yield "rules", document(["rules", "--as", "json"])
    for name in ("tritone", "side-slip", "blues-jazz-cadence"):
        yield "rules", document(["rules", name, "--in", "Eb", "--as", "json"])
    for tune, at in (("ferry-at-first-light", "A:2"), ("ferry-at-first-light", "A:1-4"), ("regatta-monday", "A:1-4")):
        path = ROOT / "samples/tunes" / f"{tune}.tune"
        spot = document(["options", str(path), "--at", at, "--outside", "5", "--as", "json"])
        assert spot["options"], f"{tune}: nothing stands at {at}"
        yield "options", spot


def bare_faults(validator):
    """`explain -` on bare tunes, and on one tune under three headers: what the interface promises."""
    for chart, symbols in BARE:
        value = document(["explain", "-", "--as", "json"], stdin=chart)
        yield from (error.message for error in validator.iter_errors(value))
        if value["key"]["given"] is not None:
            yield f"{chart!r}: a given key"
        if [chord["symbol"] for chord in value["chords"]] != symbols:
            yield f"{chart!r}: other chords"
        for index, chord in enumerate(value["chords"]):
            if not MEMBERS <= chord.keys() or chord["index"] != index:
                yield f"{chart!r}: chord {index} lacks a member or is out of order"
            if chord["target"] == index or not 0 <= (chord["target"] or 0) <= len(symbols):
                yield f"{chart!r}: chord {index} leads to {chord['target']}"
    changes = "section A\nchanges | Gm7 | C7 | Fmaj7 | D7 | Gm7 | C7 | F6 | F6 |\n"
    heard = [document(["explain", "-", "--as", "json"], stdin=f'tune "Header"\n{key}{changes}')["key"]
             for key in ("", "key F major\n", "key B minor\n")]
    if heard != [{"given": given, "estimated": "F major"} for given in (None, "F major", "B minor")]:
        yield f"the estimate follows the header: {heard}"
    empty = subprocess.run([RELEAD, "explain", "-", "--as", "json"], input='tune "Empty"\n', capture_output=True, text=True)
    if empty.returncode != 1 or "tune-empty" not in empty.stderr or empty.stdout:
        yield "an empty tune: one plain error and no document"


def form_faults(validator):
    """`explain -` where a tune is not read from top to bottom."""
    for chart, places, leads in FORMS:
        value = document(["explain", "-", "--as", "json"], stdin=chart)
        yield from (error.message for error in validator.iter_errors(value))
        chords = value["chords"]
        said = [f"{chord['section']}:{chord['bar']}.{chord['beat']} {chord['symbol']}" for chord in chords]
        if said != places:
            yield f"{chart!r}: {said}"
            continue
        for index, target in leads.items():
            if chords[index]["target"] != target:
                yield f"{chart!r}: {places[index]} leads to {chords[index]['target']}, not to {target}"
        for chord in chords:
            if not KEY.fullmatch(chord["key"]) or not chord["numeral"]:
                yield f"{chart!r}: {chord['symbol']} has the key {chord['key']!r} and the numeral {chord['numeral']!r}"


def damaged(value):
    """The document with its first member left out."""
    copy = dict(value)
    copy.pop(next(iter(copy)))
    return copy


def main():
    validators = {}
    for path in sorted((ROOT / "schemas").glob("*.schema.json")):
        schema = json.loads(path.read_text(encoding="utf-8"))
        jsonschema.Draft202012Validator.check_schema(schema)
        validators[path.name.removesuffix(".schema.json")] = jsonschema.Draft202012Validator(schema)
    seen = {}
    faults = 0
    with tempfile.TemporaryDirectory() as folder:
        for name, value in documents(pathlib.Path(folder)):
            seen[name] = seen.get(name, 0) + 1
            for error in validators[name].iter_errors(value):
                faults += 1
                print(f"{name}: {error.json_path}: {error.message}")
            if validators[name].is_valid(damaged(value)):
                faults += 1
                print(f"{name}: the schema accepts a damaged document")
    for fault in (*bare_faults(validators["explain"]), *form_faults(validators["explain"])):
        faults += 1
        print(f"explain: {fault}")
    for name in validators.keys() - seen.keys():
        faults += 1
        print(f"{name}: no document was held against this schema")
    print(", ".join(f"{count} {name}" for name, count in sorted(seen.items())))
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
