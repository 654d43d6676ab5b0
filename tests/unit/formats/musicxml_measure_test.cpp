// compiler/formats/musicxml/: measures, notes, directions. Order of elements: W3C MusicXML 4.0 schema.
#include "musicxml_tree.h"

namespace {

using namespace relead;
using Kind = score::Direction::Kind;

score::Harmony harmony(const char* symbol, Time at) {
    score::Harmony result;
    result.chord = *theory::parse_chord(symbol).chord;
    result.at = at;
    return result;
}

score::Direction direction(Kind kind, Time at, const char* text = "", const char* target = "") {
    score::Direction result;
    result.kind = kind;
    result.at = at;
    result.text = text;
    result.target = target;
    return result;
}

Tree transposed(int fifths, int octaves) {
    auto measure = four_quarters();
    measure.transposition = theory::Interval{fifths, octaves};
    return Tree(score_of({measure}));
}

}  // namespace

TEST_CASE("a chord symbol stands right before its note; inside a note it is walked to, never offset") {
    auto measure = four_quarters();
    measure.harmonies = {harmony("C", 0), harmony("F", {1, 2})};
    CHECK(Tree(score_of({measure})).children("//measure") ==
          "print attributes harmony note note harmony note note");
    auto held = bar_of({quarter("C5", 0)});
    held.voices[0].elements[0].value = {1, 0};
    held.voices[0].elements[0].length = 1;
    held.harmonies = {harmony("C", 0), harmony("F", {1, 2}), harmony("G7", {3, 4})};
    const Tree tree(score_of({held}));
    CHECK(tree.children("//measure") ==
          "print attributes harmony note backup forward harmony forward harmony forward");
    CHECK(tree.count("//offset") == 0);
    CHECK(tree["//backup/duration"] == "48");
    CHECK(tree["(//forward/duration)[1]"] == "24");
    CHECK(tree["(//forward/duration)[3]"] == "12");
}

TEST_CASE("what a note consists of, in order") {
    auto measure = four_quarters();
    auto& note = measure.voices[0].elements[0];
    note.heads[0].accidental = score::Accidental::sharp;
    note.heads[0].tie_begins = true;
    note.value = {8, 1};
    note.tuplet = score::Tuplet{3, 2, true, false};
    note.stem = score::Stem::down;
    note.notehead = score::Notehead::slash;
    note.beams = {score::Beam::begin, score::Beam::forward_hook};
    note.articulations = {score::Articulation::accent};
    note.slurs_begin = 1;
    note.fermata = true;
    note.silent = note.highlighted = true;
    note.lyrics.push_back({1, "la", score::Lyric::Syllabic::begin, false});
    measure.voices[0].elements[1].slurs_end = 1;
    const Tree tree(score_of({measure}));
    CHECK(tree.children("//note[1]") ==
          "pitch duration tie voice type dot accidental time-modification stem notehead beam beam notations "
          "lyric");
    CHECK(tree.children("//notations[1]") == "tied slur tuplet articulations fermata");
    CHECK(tree.count("//note[1][@dynamics='0'][@color]") == 1);
    CHECK(tree["(//beam)[2]"] == "forward hook");
    CHECK(tree["//note[2]/notations/slur/@type"] == "stop");
}

TEST_CASE("chords, rests, graces, cues, gaps") {
    auto measure = four_quarters();
    auto& elements = measure.voices[0].elements;
    elements[0].heads.push_back(elements[1].heads[0]);
    elements[1].kind = score::Element::Kind::rest;
    elements[1].heads.clear();
    elements[2].cue = true;
    elements[3].kind = score::Element::Kind::gap;
    auto grace = quarter("B4", 0);
    grace.grace = true;
    grace.length = 0;
    grace.value = {8, 0};
    elements.insert(elements.begin(), grace);
    measure.harmonies = {harmony("C", 0)};
    const Tree tree(score_of({measure}));
    CHECK(tree.children("//measure") == "print attributes harmony note note note note note forward");
    CHECK(tree.children("//note[1]") == "grace pitch voice type");
    CHECK(tree.count("//note[3]/chord") == 1);
    CHECK(tree.children("//note[4]") == "rest duration voice type");
    CHECK(tree.children("//note[5]") == "cue pitch duration voice type");
    CHECK(tree["//note[5]/type/@size"] == "cue");
}

TEST_CASE("a whole bar's rest has no type") {
    auto measure = bar_of({});
    score::Element rest;
    rest.kind = score::Element::Kind::bar_rest;
    rest.length = 1;
    measure.voices[0].elements.push_back(rest);
    const Tree tree(score_of({measure}));
    CHECK(tree.children("//note") == "rest duration voice");
    CHECK(tree["//rest/@measure"] == "yes");
}

// transpose is what to add to the written pitch; octaves apart, present from an octave on: W3C MusicXML 4.0,
// elements transpose and octave-change; rows as in its instrument examples and music21, instrument.py.
TEST_CASE("transpositions") {
    struct Row {
        const char* part;
        theory::Interval written_to_sounding;
        const char* diatonic;
        const char* chromatic;
        const char* octaves;
    };
    const Row rows[] = {
        {"trumpet", {-2, 1}, "-1", "-2", ""},       {"tenor sax", {-2, 0}, "-1", "-2", "-1"},
        {"alto sax", {-3, 1}, "-5", "-9", ""},      {"baritone sax", {-3, 0}, "-5", "-9", "-1"},
        {"horn in F", {-1, 0}, "-4", "-7", ""},     {"guitar", {0, -1}, "0", "0", "-1"},
        {"D flat for B", {10, -6}, "-2", "-2", ""},
    };
    for (const auto& row : rows) {
        INFO(row.part);
        const auto tree = transposed(row.written_to_sounding.fifths, row.written_to_sounding.octaves);
        CHECK(tree["//transpose/diatonic"] == row.diatonic);
        CHECK(tree["//transpose/chromatic"] == row.chromatic);
        CHECK(tree["//transpose/octave-change"] == row.octaves);
    }
}

TEST_CASE("attributes stand in order and only where they change") {
    auto first = four_quarters();
    first.transposition = theory::Interval{-2, 1};
    first.slashes = score::SlashStyle::beats;
    auto second = four_quarters();
    second.key.reset();
    second.time.reset();
    second.clef.reset();
    second.number = "2";
    const Tree tree(score_of({first, second, second}));
    CHECK(tree.children("//measure[1]/attributes") == "divisions key time clef transpose measure-style");
    CHECK(tree.children("//measure[2]/attributes") == "measure-style");
    CHECK(tree["//measure[2]//slash/@type"] == "stop");
    CHECK(tree.count("//measure[3]/attributes") == 0);
}

TEST_CASE("repeats and endings") {
    auto first = four_quarters();
    first.repeat_begins = true;
    auto second = four_quarters();
    second.ending = score::Ending{{1, 2}, "1. 2."};
    second.ending_stop = score::EndingStop::closed;
    second.repeat_ends = 3;
    auto third = four_quarters();
    third.ending = score::Ending{{3}, "3."};
    third.ending_stop = score::EndingStop::open;
    third.right = score::BarStyle::final_bar;
    const Tree tree(score_of({first, second, third}));
    CHECK(tree.children("//measure[1]/barline") == "bar-style repeat");
    CHECK(tree.children("//measure[2]/barline[@location='right']") == "bar-style ending repeat");
    CHECK(tree["//measure[2]/barline[@location='left']/ending/@number"] == "1,2");
    CHECK(tree["//measure[2]/barline/ending"] == "1. 2.");
    CHECK(tree["//measure[2]//repeat/@times"] == "3");
    CHECK(tree["//measure[2]/barline[@location='right']/ending/@type"] == "stop");
    CHECK(tree["//measure[3]/barline[@location='right']/ending/@type"] == "discontinue");
    CHECK(tree["//measure[3]/barline[@location='right']/bar-style"] == "light-heavy");
}

TEST_CASE("an ending's text has a number, without which a reader passes over its first bar") {
    auto first = four_quarters();
    first.repeat_begins = true;
    first.ending = score::Ending{{1, 2}, "1.\u20132."};
    first.ending_stop = score::EndingStop::closed;
    first.repeat_ends = 2;
    auto last = four_quarters();
    last.ending = score::Ending{{3}, "Last time"};
    last.ending_stop = score::EndingStop::open;
    const Tree tree(score_of({first, last}));
    CHECK(tree["//measure[1]/barline/ending"] == "1.\u20132.");
    CHECK(tree["//measure[2]/barline/ending"] == "3. Last time");
}

TEST_CASE("words of several lines keep them, small upright ones say so, systems their room") {
    auto first = four_quarters();
    auto text = direction(Kind::words, 0, "(1) one\n\u2003two");
    text.above = false;
    text.style.small = true;
    first.directions = {text, direction(Kind::words, 0, "plain")};
    auto second = four_quarters();
    second.before = score::Break::system;
    second.room_above = 140;
    const Tree tree(score_of({first, second}));
    CHECK(tree["//measure[1]/direction[1]/@placement"] == "below");
    CHECK(tree["//measure[1]/direction[1]//words"] == "(1) one\n\u2003two");
    CHECK(tree["//measure[1]/direction[1]//words/@xml:space"] == "preserve");
    CHECK(tree["//measure[1]/direction[1]//words/@font-style"] == "normal");
    CHECK(tree["//measure[1]/direction[2]//words/@xml:space"].empty());
    CHECK(tree["//measure[2]/print/system-layout/system-distance"] == "140");
    CHECK(tree.count("//measure[1]/print/system-layout") == 0);
}

TEST_CASE("jumps carry sign, words and sound in one direction") {
    auto measure = four_quarters();
    measure.directions = {
        direction(Kind::segno, 0, "", "segno1"), direction(Kind::to_coda, 1, "To Coda", "coda1"),
        direction(Kind::dal_segno, 1, "D.S. al Coda", "segno1"), direction(Kind::fine, 1, "Fine")};
    const Tree tree(score_of({measure}));
    CHECK(tree.children("//measure") ==
          "print attributes direction note note note note direction direction direction");
    CHECK(tree.count("//direction[direction-type/segno]/sound[@segno='segno1']") == 1);
    CHECK(tree.count(
              "//direction[direction-type/words='To Coda'][direction-type/coda]/sound[@tocoda='coda1']") ==
          1);
    CHECK(tree.count("//sound[@dalsegno='segno1']") == 1);
    CHECK(tree.count("//sound[@fine='yes']") == 1);
}

TEST_CASE("tempo counts quarters for programs, the meter's beat for players; swing is said") {
    auto measure = four_quarters();
    auto tempo = direction(Kind::tempo, 0, "Shuffle");
    tempo.beat = {4, 1};
    tempo.beats_per_minute = 75;
    tempo.swing = true;
    measure.directions.push_back(tempo);
    const Tree tree(score_of({measure}));
    CHECK(tree["//sound/@tempo"] == "112.50");
    CHECK(tree["//per-minute"] == "75");
    CHECK(tree.count("//beat-unit-dot") == 1);
    CHECK(tree.children("//swing") == "first second swing-type");
}

TEST_CASE("divisions fit every tuplet, and the document is the same each time") {
    auto measure = bar_of({});
    for (int i = 0; i < 5; ++i) {
        auto note = quarter("C5", Time(i, 5));
        note.length = {1, 5};
        note.tuplet = score::Tuplet{5, 4, i == 0, i == 4};
        measure.voices[0].elements.push_back(note);
    }
    const auto score = score_of({measure});
    const Tree tree(score);
    CHECK(tree["//divisions"] == "60");
    CHECK(tree["//note/duration"] == "48");
    CHECK(formats::write_musicxml(score) == formats::write_musicxml(score));
}

TEST_CASE("scores of several parts: names, groups, channels, marks for all on top only") {
    auto score = score_of({four_quarters()});
    score.parts[0].measures[0].directions.push_back(direction(Kind::rehearsal, 0, "A"));
    score.parts.push_back(score.parts[0]);
    score.parts[1].midi_program = 0;
    score.groups.push_back({0, 1});
    const Tree tree(score);
    CHECK(tree.children("//part-list") == "part-group score-part score-part part-group");
    CHECK(tree["//score-part[@id='P2']//midi-channel"] == "10");
    CHECK(tree.count("//part") == 2);
    CHECK(tree.count("//direction[@system='only-top']") == 2);
}

TEST_CASE("a grand staff numbers staves, clefs and voices") {
    auto measure = four_quarters();
    measure.clef = theory::Clef::grand;
    measure.voices.push_back({5, 2, measure.voices[0].elements});
    measure.harmonies = {harmony("C", 0)};
    auto score = score_of({measure});
    score.parts[0].staves = 2;
    const Tree tree(score);
    CHECK(tree["//staves"] == "2");
    CHECK(tree["//clef[@number='2']/sign"] == "F");
    CHECK(tree.count("//note[staff='2'][voice='5']") == 4);
    CHECK(tree["//harmony/staff"] == "1");
    CHECK(tree["//backup/duration"] == "48");
}

TEST_CASE("on two staves a chord inside a note is walked to before the notes of its own staff") {
    auto measure = four_quarters();
    measure.voices.push_back(measure.voices[0]);
    measure.voices[0].elements.resize(1);
    measure.voices[0].elements[0].value = {1, 0};
    measure.voices[0].elements[0].length = 1;
    measure.voices[1].number = 5;
    measure.voices[1].staff = 2;
    measure.harmonies = {harmony("C", 0), harmony("F", {1, 2})};
    auto score = score_of({measure});
    score.parts[0].staves = 2;
    // The note after a symbol is one of its staff, whatever stands on the other one at that moment.
    CHECK(Tree(score).children("//measure") ==
          "print attributes forward harmony forward backup harmony note backup note note note note");
}

TEST_CASE("a second staff with a clef and a size of its own") {
    auto score = score_of({four_quarters()});
    score.parts[0].staves = 2;
    score.parts[0].second_staff_size = 70;
    auto& measure = score.parts[0].measures[0];
    measure.clef = theory::Clef::treble;
    measure.second_clef = theory::Clef::tenor_treble;
    measure.voices.push_back({5, 2, measure.voices[0].elements});
    const Tree tree(score);
    CHECK(tree["//clef[@number='1']/sign"] == "G");
    CHECK(tree.count("//clef[@number='1']/clef-octave-change") == 0);
    CHECK(tree["//clef[@number='2']/clef-octave-change"] == "-1");
    CHECK(tree["//staff-details[@number='2']/staff-size"] == "70");
    CHECK(tree["//defaults/staff-layout[@number='2']/staff-distance"] == "45");
    CHECK(tree.count("//note[voice=5][staff=2]") == 4);
}
