// compiler/theory: published facts about dominants, their substitutes and borrowed chords
#include <algorithm>
#include <set>

#include "theory/scale.h"
#include "unit/theory/chords.h"

using namespace relead::theory;
using namespace relead::theory::test;

namespace {

std::set<int> guide_pitches(const Chord& of) {
    const auto guides = guide_tones(of);
    return {pitch_class(tone(of, guides->third)), pitch_class(tone(of, guides->seventh))};
}

}  // namespace

TEST_CASE("tritone substitutes share their guide tones with roles exchanged") {
    struct Row {
        const char *dominant, *target, *third, *seventh, *strict, *strict_tones, *practical, *practical_tones;
    };
    // Pairs for twelve keys: apassion4jazz.net/tritone.html; definition: Wikipedia, "Tritone
    // substitution", and Wikibooks, Music Theory/Dominant substitute. Strict spelling is computed.
    const Row rows[] = {{"C7", "F", "E", "Bb", "Gb7", "Gb Bb Db Fb", "Gb7", "Gb Bb Db Fb"},
                        {"F7", "Bb", "A", "Eb", "Cb7", "Cb Eb Gb Bbb", "B7", "B D# F# A"},
                        {"Bb7", "Eb", "D", "Ab", "Fb7", "Fb Ab Cb Ebb", "E7", "E G# B D"},
                        {"Eb7", "Ab", "G", "Db", "Bbb7", "Bbb Db Fb Abb", "A7", "A C# E G"},
                        {"Ab7", "Db", "C", "Gb", "Ebb7", "Ebb Gb Bbb Dbb", "D7", "D F# A C"},
                        {"Db7", "Gb", "F", "Cb", "Abb7", "Abb Cb Ebb Gbb", "G7", "G B D F"},
                        {"F#7", "B", "A#", "E", "C7", "C E G Bb", "C7", "C E G Bb"},
                        {"B7", "E", "D#", "A", "F7", "F A C Eb", "F7", "F A C Eb"},
                        {"E7", "A", "G#", "D", "Bb7", "Bb D F Ab", "Bb7", "Bb D F Ab"},
                        {"A7", "D", "C#", "G", "Eb7", "Eb G Bb Db", "Eb7", "Eb G Bb Db"},
                        {"D7", "G", "F#", "C", "Ab7", "Ab C Eb Gb", "Ab7", "Ab C Eb Gb"},
                        {"G7", "C", "B", "F", "Db7", "Db F Ab Cb", "Db7", "Db F Ab Cb"}};
    for (const auto& row : rows) {
        INFO(row.dominant << " to " << row.target);
        const Chord dominant = chord(row.dominant);
        CHECK(to_string(tone(dominant, guide_tones(dominant)->third)) == row.third);
        CHECK(to_string(tone(dominant, guide_tones(dominant)->seventh)) == row.seventh);
        Chord substitute = dominant;  // the flat second of the target
        substitute.root = note_at(note(row.target), {2, -1});
        CHECK(to_string(substitute) == row.strict);
        CHECK(tone_names(substitute) == row.strict_tones);
        const Chord practical = practical_spelling(substitute, {note(row.target), Mode::major});
        CHECK(to_string(practical) == row.practical);
        CHECK(tone_names(practical) == row.practical_tones);
        CHECK(guide_pitches(substitute) == guide_pitches(dominant));
        const auto guides = guide_tones(dominant), of_substitute = guide_tones(substitute);
        CHECK(pitch_class(tone(dominant, guides->third)) ==
              pitch_class(tone(substitute, of_substitute->seventh)));
        CHECK(pitch_class(tone(dominant, guides->seventh)) ==
              pitch_class(tone(substitute, of_substitute->third)));
    }
}

TEST_CASE("the scale of a substitute dominant holds the old root") {
    // finerethan.wordpress.com (2009): lydian dominant over Db7, whose #11 is G.
    const auto scale = find_scale("lydian dominant");
    REQUIRE(scale.has_value());
    std::vector<std::string> names;
    for (const NoteName name : notes_of(*scale, note("Db"))) names.push_back(to_string(name));
    CHECK(joined(names) == "Db Eb F G Ab Bb Cb");
}

TEST_CASE("only the tritone substitute keeps both guide tones among dominants a minor third apart") {
    // H. Raach, henning-raach.com: three groups of exchangeable dominants; shared notes computed.
    const auto shared = [](const char* a, const char* b) {
        const unsigned both = pitch_class_set(chord(a)) & pitch_class_set(chord(b));
        return static_cast<int>(__builtin_popcount(both));
    };
    for (const char* other : {"E7", "Bb7", "Db7"}) CHECK(shared("G7", other) == 2);
    CHECK(guide_pitches(chord("Db7")) == guide_pitches(chord("G7")));
    CHECK(guide_pitches(chord("E7")) != guide_pitches(chord("G7")));
    CHECK(guide_pitches(chord("Bb7")) != guide_pitches(chord("G7")));
}

TEST_CASE("diminished sevenths are dominants without their root") {
    struct Row {
        const char *diminished, *tones, *dominants;
    };
    // H. Raach, henning-raach.com; the dominants of a row are a minor third apart.
    const Row rows[] = {
        {"C#dim7", "C# E G Bb", "A7b9 C7b9 Eb7b9 F#7b9"}, {"D#dim7", "D# F# A C", "B7b9 D7b9 F7b9 Ab7b9"},
        {"Edim7", "E G Bb Db", "C7b9 Eb7b9 F#7b9 A7b9"},  {"F#dim7", "F# A C Eb", "D7b9 F7b9 Ab7b9 B7b9"},
        {"G#dim7", "G# B D F", "E7b9 G7b9 Bb7b9 Db7b9"},  {"Bdim7", "B D F Ab", "G7b9 Bb7b9 Db7b9 E7b9"}};
    for (const auto& row : rows) {
        INFO(row.diminished);
        CHECK(tone_names(chord(row.diminished)) == row.tones);
        for (const auto& symbol : words(row.dominants)) {
            INFO(symbol);
            const Chord dominant = chord(symbol);
            const unsigned root = 1U << pitch_class(dominant.root);
            CHECK((pitch_class_set(dominant) & ~root) == pitch_class_set(chord(row.diminished)));
        }
    }
}

TEST_CASE("secondary and substitute dominants with their related iis, in C and E flat") {
    struct Row {
        const char *key, *target, *dominant, *related, *substitute, *substitute_related;
    };
    // V7 of each degree in C: F. Singer, "Secondary and Extended Dominants" (2003-04). The rest is computed:
    // the related ii is a fifth above its dominant, the substitute a half step above the target.
    const Row rows[] = {
        {"C", "Cmaj7", "G7", "Dm7", "Db7", "Abm7"},  {"C", "Dm7", "A7", "Em7b5", "Eb7", "Bbm7"},
        {"C", "Em7", "B7", "F#m7b5", "F7", "Cm7"},   {"C", "Fmaj7", "C7", "Gm7", "Gb7", "Dbm7"},
        {"C", "G7", "D7", "Am7", "Ab7", "Ebm7"},     {"C", "Am7", "E7", "Bm7b5", "Bb7", "Fm7"},
        {"Eb", "Ebmaj7", "Bb7", "Fm7", "E7", "Bm7"}, {"Eb", "Fm7", "C7", "Gm7b5", "Gb7", "Dbm7"},
        {"Eb", "Gm7", "D7", "Am7b5", "Ab7", "Ebm7"}, {"Eb", "Abmaj7", "Eb7", "Bbm7", "A7", "Em7"},
        {"Eb", "Bb7", "F7", "Cm7", "B7", "F#m7"},    {"Eb", "Cm7", "G7", "Dm7b5", "Db7", "Abm7"}};
    for (const auto& row : rows) {
        INFO(row.dominant << " to " << row.target << " in " << row.key);
        const Chord target = chord(row.target);
        const Chord dominant = chord(row.dominant), substitute = chord(row.substitute);
        CHECK(target.root + interval_of_degree(5, 0) == dominant.root);
        CHECK(chord(row.related).root == dominant.root + interval_of_degree(5, 0));
        const Key key{note(row.key), Mode::major};
        Chord strict = dominant;
        strict.root = note_at(target.root, {2, -1});
        CHECK(to_string(practical_spelling(strict, key)) == row.substitute);
        Chord ii = chord("Cm7");
        ii.root = strict.root + interval_of_degree(5, 0);
        CHECK(pitch_class(ii.root) == pitch_class(chord(row.substitute_related).root));
        CHECK(guide_pitches(substitute) == guide_pitches(dominant));
    }
}

TEST_CASE("chords borrowed in C major") {
    struct Row {
        const char *symbol, *numeral, *tones;
    };
    // "Modal Interchange", hand-out table (scribd 251361724); notes computed.
    const Row rows[] = {{"Cm7", "i7", "C Eb G Bb"},         {"Dbmaj7", "bIImaj7", "Db F Ab C"},
                        {"Dm7b5", "iiø7", "D F Ab C"},      {"Ebmaj7", "bIIImaj7", "Eb G Bb D"},
                        {"Fm7", "iv7", "F Ab C Eb"},        {"Fm6", "iv6", "F Ab C D"},
                        {"F7", "IV7", "F A C Eb"},          {"Gm7", "v7", "G Bb D F"},
                        {"Abmaj7", "bVImaj7", "Ab C Eb G"}, {"Bb7", "bVII7", "Bb D F Ab"},
                        {"Bbmaj7", "bVIImaj7", "Bb D F A"}};
    for (const auto& row : rows) {
        INFO(row.symbol);
        CHECK(numeral(chord(row.symbol), note("C")) == row.numeral);
        CHECK(tone_names(chord(row.symbol)) == row.tones);
    }
}

TEST_CASE("numerals of common progressions") {
    struct Row {
        const char *tonic, *chords, *numerals, *source;
    };
    const Row rows[] = {
        {"C", "Dm7 G7 Cmaj7", "ii7 V7 Imaj7", "Open Music Theory v2, ii-V-I"},
        {"Ab", "Bbm7 Eb7 Abmaj7", "ii7 V7 Imaj7", "Open Music Theory v2, ii-V-I, example 1"},
        {"C", "Dm7b5 G7b9 Cm6", "iiø7 V7b9 i6", "Open Music Theory v2, ii-V-I"},
        {"C", "Fm7 Bb7 Cmaj7", "iv7 bVII7 Imaj7", "Wikipedia, Backdoor progression"},
        {"C", "Cmaj7 C#dim7 Dm7 G7", "Imaj7 #i°7 ii7 V7",
         "musictheorymanual.com, Passing diminished seventh chords"},
        {"C", "Em7 Ebdim7 Dm7 G7", "iii7 biii°7 ii7 V7", "common practice, no source"},
        {"C", "C Eb7 Ab7 Db7 C", "I bIII7 bVI7 bII7 I", "Wikipedia, Tadd Dameron turnaround"},
        {"Bb", "D7 G7 C7 F7", "III7 VI7 II7 V7", "Wikipedia, Rhythm changes"},
        {"C", "G#7 C#7 F#7 B7 E7 A7 D7 G7 C", "#V7 #I7 #IV7 VII7 III7 VI7 II7 V7 I",
         "F. Singer, Secondary and Extended Dominants"},
        {"C", "Cm7 Fm7 Cm7 Ab7 G7 Cm7", "i7 iv7 i7 bVI7 V7 i7", "M. Warnock, Minor Blues Chord Progressions"},
        {"C", "Fmaj7 F#dim7 C/G A7 Dm7 G7 C", "IVmaj7 #iv°7 I/5 VI7 ii7 V7 I", "common practice, no source"},
        {"C", "Cm Am7b5 Dm7b5 G7b9", "i viø7 iiø7 V7b9", "from memory"},
        {"C", "C6 Cdim7 C6", "I6 i°7 I6", "Open Music Theory v2, Jazz embellishing chords"},
        {"F", "F7 Bb7 Cm7 D7/F# N.C.", "I7 IV7 v7 VI7/3 N.C.", "numeral with a bass: ours"},
        {"C", "Caug Cdim Dm9b5 Cm(maj7) C7sus4 C5", "I+ i° iiø9 i(maj7) I7sus4 I5", "ours"}};
    for (const auto& row : rows) {
        INFO(row.chords << " in " << row.tonic << ", " << row.source);
        std::vector<std::string> numerals;
        for (const auto& symbol : words(row.chords))
            numerals.push_back(numeral(chord(symbol), note(row.tonic)));
        CHECK(joined(numerals) == row.numerals);
    }
}

TEST_CASE("a ii over the root of its dominant stands for that dominant, suspended") {
    // Common practice, no source.
    for (const char* text : {"Dm7/G", "Am7/D", "Cm9/F", "Ebm/Ab", "Dbm7/Gb", "C#m7/F#"}) {
        INFO(text);
        CHECK(is_two_over_dominant(chord(text)));
    }
    for (const char* text : {"Dm7", "Dm7/A", "Dm7/C", "D7/G", "Dmaj7/G", "Dm7b5/G", "G7sus4", "N.C."}) {
        INFO(text);
        CHECK_FALSE(is_two_over_dominant(chord(text)));
    }
}
