// compiler/report/comparison.cpp: rows over the same bars in the playing order of one chorus.
#include "report/comparison.h"

#include <map>

#include "analysis/analysis.h"
#include "report/explanation.h"
#include "report/guide_line.h"
#include "rules/read_rules.h"
#include "support/catch.h"
#include "support/small_tunes.h"
#include "tune/transpose.h"

using namespace relead;
using report::Comparison;

namespace {

/// The bars of a row: "A:1 Gm7 | A:2 Gb7#9* ~0": `*` changed, `~` which change.
std::string row_text(const Comparison& comparison, std::size_t row) {
    std::string text;
    for (const auto& bar : comparison.bars) {
        text += bar.section + std::to_string(bar.playing) + ":" + std::to_string(bar.number);
        for (const auto& chord : bar.rows.at(row)) {
            text += " " + chord.symbol;
            if (chord.at != Time(0)) text += "@" + chord.at.to_string();
            if (chord.changed) text += "*";
            if (chord.change >= 0) text += "~" + std::to_string(chord.change);
        }
        text += "\n";
    }
    return text;
}

/// "E>F step 1": each voice of the guide-tone line at a chord, where it lands.
std::string thread_text(const report::ComparedChord& chord) {
    std::string text;
    for (const auto& tone : chord.guide_tones) {
        if (!text.empty()) text += ", ";
        text += tone.name;
        if (!tone.move.empty())
            text += ">" + tone.to + " " + tone.move + " " + std::to_string(tone.semitones);
    }
    return text;
}

const report::ComparedChord& chord_of(const Comparison& comparison, std::size_t row, std::size_t bar,
                                      std::size_t chord = 0) {
    return comparison.bars.at(bar).rows.at(row).at(chord);
}

reharm::Choices choose(const tune::Tune& tune, const reharm::Wish& wish) {
    const auto outcome = reharm::reharmonise(tune, analysis::analyse(tune), rules::built_in_rules(), wish);
    REQUIRE(outcome.value);
    return *outcome.value;
}

Comparison with_version(const tune::Tune& tune, const reharm::Choices& choices) {
    const auto& version = choices.versions.front();
    return report::compare(tune, {{version.name, &version.tune, &version, &choices.report}});
}

Comparison with_tune(const tune::Tune& written, const tune::Tune& other) {
    return report::compare(written, {{"Other", &other, nullptr, nullptr}});
}

reharm::Wish only(const std::string& rule) {
    reharm::Wish wish;
    wish.use = {rule};
    return wish;
}

const char* const aaba =
    "tune \"Slip\"\nkey F major\nmeter 4/4\ntempo 120 swing\nform A A B A\n\n"
    "section A\nchanges | Gm7 | [1 C7 ] [2,3 Fmaj7 ] |\n\nsection B\nchanges | Am7 D7 | Gm7 C7 |\n";

}  // namespace

TEST_CASE("one chorus in playing order, endings and playings named") {
    const auto tune = testing::read_whole(aaba);
    const auto comparison = report::compare(tune, {});
    CHECK(
        row_text(comparison, 0) ==
        "A1:1 Gm7\nA1:2 C7\nA2:1 Gm7\nA2:3 Fmaj7\nB1:1 Am7 D7@1/2\nB1:2 Gm7 C7@1/2\nA3:1 Gm7\nA3:3 Fmaj7\n");
    CHECK(comparison.bars[1].ending == "1");
    CHECK(comparison.bars[3].ending == "2,3");
    CHECK(comparison.bars[2].section_begins);
    CHECK_FALSE(comparison.bars[3].section_begins);
    CHECK(comparison.bars[5].start == Time(5));
    CHECK(comparison.key == "F major");
    CHECK(comparison.rows.front().name == "written");
    CHECK(comparison.rows.front().changes.empty());
}

TEST_CASE("a version: what differs is marked, with its change, its numbers and what the search did") {
    const auto tune =
        testing::small_tune("F major", "Gm7 | C7 | Fmaj7 | F6", {"melody | w Bb4 | A4 | A4 | F4 |"});
    const auto choices = choose(tune, only("tritone"));
    const auto comparison = with_version(tune, choices);
    REQUIRE(comparison.rows.size() == 2);
    CHECK(row_text(comparison, 0) == "A1:1 Gm7\nA1:2 C7\nA1:3 Fmaj7\nA1:4 F6\n");
    CHECK(row_text(comparison, 1) == "A1:1 Gm7\nA1:2 Gb7#9*~0\nA1:3 Fmaj7\nA1:4 F6\n");
    const auto& row = comparison.rows[1];
    REQUIRE(row.changes.size() == 1);
    CHECK(row.changes[0].place == "A:2");
    CHECK(row.bars_changed == 1);
    CHECK(row.highest_outside == 2);
    CHECK(row.melody.chord_tones == 1);  // the melody's A is the #9 that the symbol now names
    CHECK(row.melody.tensions + row.melody.clashes + row.melody.old_clashes + row.melody.unchecked == 0);
    CHECK(row.search == reharm::to_string(choices.report));
    CHECK(row.idea == "Tritone substitute.");
    CHECK_FALSE(row.soloist);
    CHECK(row.stamp.find(choices.versions.front().stamp.hash) != std::string::npos);
}

TEST_CASE("guide tones: where each voice lands") {
    // ii-V-I: the seventh falls a half step to the third, the third holds as the seventh (Open Music Theory
    // v2, "ii-V-I": 7-3 and 3-7).
    const auto comparison = report::compare(testing::small_tune("C major", "Dm7 | G7 | Cmaj7 | N.C."), {});
    CHECK(thread_text(chord_of(comparison, 0, 0)) == "C>B step -1, F>F held 0");
    CHECK(thread_text(chord_of(comparison, 0, 1)) == "B>B held 0, F>E step -1");
    CHECK(thread_text(chord_of(comparison, 0, 2)) == "B, E");
    CHECK(thread_text(chord_of(comparison, 0, 3)).empty());
    const auto& line = comparison.rows[0].guide_line;
    CHECK(line.held == 2);
    CHECK(line.step == 2);
    CHECK(line.skip + line.leap == 0);
    CHECK(line.tendency_tones == 2);
    CHECK(line.resolved == 2);
}

TEST_CASE("a chord that is written again holds its tones without being counted") {
    const auto comparison = report::compare(testing::small_tune("C major", "Dm7 | Dm7 | G7 | Cmaj7"), {});
    CHECK(thread_text(chord_of(comparison, 0, 0)) == "C>C held 0, F>F held 0");
    const auto& line = comparison.rows[0].guide_line;
    // Three changes of chord, the turn to the next chorus among them, for two voices.
    CHECK(line.held + line.step + line.skip + line.leap == 6);
}

TEST_CASE("threads are the moves that are counted, but for the turn to the next chorus") {
    for (const char* chords :
         {"G7 | C | F | C", "Dm7 G7 | Em7b5 A7 | Ab7 | Cmaj7/E Ebdim7", "C | N.C. | F7 | Bb6"}) {
        CAPTURE(chords);
        const auto tune = testing::small_tune("C major", chords);
        const auto comparison = report::compare(tune, {});
        std::map<std::string, int> drawn;
        const report::ComparedChord* before = nullptr;
        for (const auto& bar : comparison.bars) {
            for (const auto& chord : bar.rows[0]) {
                for (std::size_t voice = 0; before != nullptr && voice < chord.guide_tones.size(); ++voice) {
                    if (before->guide_tones.empty()) continue;
                    const auto& from = before->guide_tones[voice];
                    CHECK(from.to == chord.guide_tones[voice].name);
                    CHECK(from.pitch + from.semitones == chord.guide_tones[voice].pitch);
                    if (!(before->chord == chord.chord)) ++drawn[from.move];
                }
                before = &chord;
            }
        }
        for (const auto& tone : before->guide_tones) CHECK(tone.move.empty());
        const auto& counts = comparison.rows[0].guide_line;
        CHECK(counts.held + counts.step + counts.skip + counts.leap -
                  (drawn["held"] + drawn["step"] + drawn["skip"] + drawn["leap"]) ==
              2);
        CHECK(counts.leap >= drawn["leap"]);
        CHECK(counts.held >= drawn["held"]);
    }
}

TEST_CASE("the numbers of a row are those that explain and reharm give") {
    const auto tune = testing::small_tune("F major", "Gm7 | C7 | Fmaj7 | F6", {},
                                          "plan \"over\" for soloist on solos\n  use tritone\n");
    const auto choices = choose(tune, {});
    const auto comparison = with_version(tune, choices);
    const auto counts = report::guide_counts(tune, choices.versions.front().tune, true);
    CHECK(report::guide_sentence(comparison.rows[0].guide_line) == report::guide_sentence(counts.written));
    CHECK(report::guide_sentence(comparison.rows[1].guide_line) == report::guide_sentence(counts.version));
    const auto explained = report::explain(tune, analysis::analyse(tune));
    CHECK(report::guide_sentence(explained.guide_line) == report::guide_sentence(counts.written));
    // The soloist's Gb7 is followed, not the C7 below it: the numbers differ from those of the changes.
    const auto below = report::guide_counts(tune, choices.versions.front().tune, false);
    CHECK(thread_text(chord_of(comparison, 1, 1)) != thread_text(chord_of(comparison, 0, 1)));
    CHECK(below.version.held == counts.written.held);
}

TEST_CASE("a plan that unfolds the form: places keep the written address and name the playing") {
    const auto tune = testing::read_whole(
        "tune \"Waves\"\nkey F major\nmeter 4/4\ntempo 120 swing\nform A A B\n\nsection A\nchanges | Gm7 C7 "
        "| "
        "Fmaj7 |\n\nsection B\nchanges | Bbmaj7 | C7 |\n\nplan \"waves\" for band on all\n  use tritone\n  "
        "each "
        "time different\n  take tritone at A:1.3\n");
    const auto comparison = with_version(tune, choose(tune, {}));
    REQUIRE(comparison.bars.size() == 6);
    const auto& row = comparison.rows[1];
    REQUIRE(row.changes.size() >= 2);
    CHECK(row.changes[0].place == "A:1.3 (time 1)");
    CHECK(row.changes[1].place == "A:1.3 (time 2)");
    CHECK(comparison.bars[0].rows[1][1].change == 0);
    CHECK(comparison.bars[2].rows[1][1].change == 1);
    CHECK(comparison.bars[2].section == "A");
    CHECK(comparison.bars[2].playing == 2);
    CHECK(row.name == "waves");
}

TEST_CASE("a soloist's version shows what the soloist plays; the written row stays") {
    const auto tune = testing::small_tune("F major", "Gm7 | C7 | Fmaj7 | F6", {},
                                          "plan \"over\" for soloist on solos\n  use tritone\n");
    const auto comparison = with_version(tune, choose(tune, {}));
    CHECK(comparison.rows[1].soloist);
    CHECK(row_text(comparison, 1) == "A1:1 Gm7\nA1:2 Gb7*~0\nA1:3 Fmaj7\nA1:4 F6\n");
    CHECK(row_text(comparison, 0) == "A1:1 Gm7\nA1:2 C7\nA1:3 Fmaj7\nA1:4 F6\n");
    CHECK(comparison.rows[1].melody.unchecked == 1);
}

TEST_CASE("a sentence that begins with a numeral keeps its letters") {
    const auto tune = testing::small_tune("F major", "Fmaj7 | Gm7 | C7 | Fmaj7");
    const auto comparison = with_version(tune, choose(tune, only("two-over-five")));
    REQUIRE_FALSE(comparison.rows[1].changes.empty());
    CHECK(comparison.rows[1].idea == "ii over the root of the dominant.");
}

TEST_CASE("a soloist row that the tune had already is no version's") {
    const auto tune =
        testing::small_tune("F major", "Gm7 | C7 | Fmaj7 | F6", {"soloist | . | Db7 | . | . |"});
    const auto comparison = with_version(tune, choose(tune, only("tritone")));
    CHECK_FALSE(comparison.rows[1].soloist);
    CHECK(chord_of(comparison, 1, 1).symbol == "Gb7");
}

TEST_CASE("a soloist's version is held against the row that the tune has for the soloist") {
    const auto tune = testing::small_tune("F major", "Gm7 | C7 | Fmaj7 | D7", {"soloist | Dm7 | . | . | . |"},
                                          "plan \"over\" for soloist on solos\n  use tritone\n  hold A:4\n");
    const auto choices = choose(tune, {});
    const auto comparison = with_version(tune, choices);
    REQUIRE(comparison.rows[1].soloist);
    CHECK(row_text(comparison, 1) == "A1:1 Dm7\nA1:2 Gb7*~0\nA1:3 Fmaj7\nA1:4 D7\n");
    CHECK(comparison.rows[1].bars_changed == 1);
    // As written is what the tune writes for the soloist too.
    const auto counts = report::guide_counts(tune, choices.versions.front().tune, true);
    CHECK(report::guide_sentence(counts.written) ==
          report::guide_sentence(report::guide_counts(tune, tune, true).version));
    CHECK(report::guide_sentence(counts.written) !=
          report::guide_sentence(report::guide_counts(tune, tune, false).written));
}

TEST_CASE("another bass is a change for the band, for a soloist over the band's bass it is none") {
    const auto written = testing::small_tune("F major", "Gm7 | C7 | Fmaj7 | F6");
    const auto band = testing::small_tune("F major", "Gm7 | Gm7/C C7 | Fmaj7/D | F6");
    CHECK(row_text(with_tune(written, band), 1) == "A1:1 Gm7\nA1:2 Gm7/C* C7@1/2\nA1:3 Fmaj7/D*\nA1:4 F6\n");
    const auto soloist = testing::small_tune("F major", "Gm7 | C7 | Fmaj7 | F6",
                                             {"soloist | . | Gm7/C C7 | Fmaj7/D | Dm7/F |"});
    // Dm7/F has the tones of F6 and another root: who thinks of D plays something else.
    CHECK(row_text(with_tune(written, soloist), 1) ==
          "A1:1 Gm7\nA1:2 Gm7/C* C7@1/2\nA1:3 Fmaj7/D\nA1:4 Dm7/F*\n");
    CHECK(with_tune(written, soloist).rows[1].bars_changed == 2);
}

TEST_CASE("another tune of the same form: changes without reasons, no notes") {
    const auto written = testing::small_tune("F major", "Gm7 | C7 | Fmaj7 | F6");
    const auto other = testing::small_tune("F major", "Gm7 | Gm7 C7 | Fmaj7 | F#dim7 F6");
    const auto comparison = with_tune(written, other);
    CHECK(row_text(comparison, 1) == "A1:1 Gm7\nA1:2 Gm7* C7@1/2\nA1:3 Fmaj7\nA1:4 F#dim7* F6@1/2\n");
    CHECK(comparison.notes.empty());
    CHECK(comparison.rows[1].changes.empty());
    CHECK(comparison.rows[1].search.empty());
    CHECK(comparison.rows[1].bars_changed == 2);
}

TEST_CASE("another tempo or feel is said") {
    const auto written = testing::small_tune("F major", "Gm7 | C7 | Fmaj7 | F6");
    auto other = written;
    other.tempo.beats_per_minute = 96;
    other.tempo.feel = "bossa";
    const auto notes = with_tune(written, other).notes;
    REQUIRE(notes.size() == 1);
    CHECK(notes[0].find(" is marked 96 bossa, this tune ") != std::string::npos);
    CHECK(notes[0].find(": each is played as it is marked.") != std::string::npos);
}

TEST_CASE("the same sound under another name is no change") {
    const auto written = testing::small_tune("F major", "Gm7 | Gb7 | Fmaj7 | C+7");
    const auto other = testing::small_tune("F major", "G-7 | F#7 | FM7 | C7#5");
    const auto comparison = with_tune(written, other);
    CHECK(comparison.rows[1].bars_changed == 0);
    const auto inverted = with_tune(written, testing::small_tune("F major", "Gm7/D | Gb7 | Fmaj7 | C+7"));
    CHECK(chord_of(inverted, 1, 0).changed);
}

TEST_CASE("another tune with other bar lines is cut at the written ones") {
    const auto written = testing::small_tune("C major", "Cmaj7 | Dm7 | G7 | Cmaj7");
    const auto other = testing::read_whole(
        "tune \"Waltz\"\nkey C major\nmeter 3/4\ntempo 120 even\nform A\n\nsection A\nchanges | Cmaj7 | Dm7 "
        "| G7 "
        "| Cmaj7 |\n");
    const auto comparison = with_tune(written, other);
    // 4/4 against 3/4: the second chord begins on beat 4 of the first bar.
    CHECK(row_text(comparison, 1) == "A1:1 Cmaj7 Dm7@3/4*\nA1:2 Dm7 G7@1/2*\nA1:3 G7 Cmaj7@1/4*\nA1:4\n");
    REQUIRE(comparison.notes.size() == 3);
    CHECK(comparison.notes[0].find("another length from A:1 on") != std::string::npos);
    CHECK(comparison.notes[1].find("shorter: the last 1 bar ") != std::string::npos);
    CHECK(comparison.notes.back().find(": each is played as it is marked.") != std::string::npos);
}

TEST_CASE("another tune that ends within the last bar: said so, and no bar stands alone") {
    const auto written = testing::small_tune("C major", "Cmaj7 | Dm7 | G7 | Cmaj7");
    const auto other = testing::read_whole(
        "tune \"Five threes\"\nkey C major\nmeter 3/4\ntempo 120 even\nform A\n\nsection A\n"
        "changes | Cmaj7 | Dm7 | G7 | Cmaj7 | C6 |\n");
    const auto comparison = with_tune(written, other);
    REQUIRE(comparison.notes.size() == 4);
    CHECK(comparison.notes[1].find("sections of Other hold other numbers of bars") != std::string::npos);
    CHECK(comparison.notes[2] == "Other is shorter: it ends within the last bar of this tune.");
    CHECK(comparison.notes.back().find(": each is played as it is marked.") != std::string::npos);
}

TEST_CASE("another tune that is longer, in another form and key: said so") {
    const auto written = testing::small_tune("C major", "Cmaj7 | Dm7 | G7 | Cmaj7");
    const auto other = testing::read_whole(
        "tune \"Long\"\nkey G major\nmeter 4/4\ntempo 120 even\nform A B\n\nsection A\nchanges | Gmaj7 | Am7 "
        "|\n\nsection B\nchanges | D7 | Gmaj7 | G6 |\n");
    const auto comparison = with_tune(written, other);
    REQUIRE(comparison.notes.size() == 4);
    CHECK(comparison.notes[0].find("is in G major, this tune in C major") != std::string::npos);
    CHECK(comparison.notes[1].find("The form of Other is A B, of this tune A") != std::string::npos);
    CHECK(comparison.notes[2].find("goes on for 1 bar more") != std::string::npos);
    CHECK(comparison.notes.back().find(": each is played as it is marked.") != std::string::npos);
}

TEST_CASE("pickups: first full bars stand under each other") {
    const auto tune_with = [](const std::string& row, const std::string& melody) {
        return testing::read_whole(
            "tune \"Up\"\nkey C major\nmeter 4/4\ntempo 120 even\nform A\n\nsection A\n"
            "changes " +
            row + "\nmelody " + melody + "\n");
    };
    const auto plain = tune_with("| Cmaj7 | G7 |", "| w C5 | D5 |");
    const auto pickup = tune_with("G7 | Cmaj7 | G7 |", "q B4 | w C5 | D5 |");
    const auto longer = tune_with("Dm7 G7 | Cmaj7 | G7 |", "q A4 B4 | w C5 | D5 |");

    const auto none_first = with_tune(plain, pickup);
    CHECK(row_text(none_first, 1) == "A1:1 Cmaj7\nA1:2 G7\n");
    REQUIRE(none_first.notes.size() == 1);
    CHECK(none_first.notes[0].find("pickup of Other is longer") != std::string::npos);

    const auto pickup_first = with_tune(pickup, plain);
    CHECK(row_text(pickup_first, 0) == "A1:0 G7\nA1:1 Cmaj7\nA1:2 G7\n");
    CHECK(row_text(pickup_first, 1) == "A1:0\nA1:1 Cmaj7\nA1:2 G7\n");
    CHECK(pickup_first.notes.empty());

    const auto both = with_tune(pickup, longer);
    CHECK(row_text(both, 1) == "A1:0 G7\nA1:1 Cmaj7\nA1:2 G7\n");
}

TEST_CASE("rows keep their places when everything is transposed") {
    const auto tune = testing::small_tune("F major", "Gm7 | C7 | Fmaj7 | F6");
    const auto here = with_version(tune, choose(tune, only("tritone")));
    const auto up = tune::transpose(tune, theory::Interval{2, -1});
    const auto there = with_version(up, choose(up, only("tritone")));
    REQUIRE(here.bars.size() == there.bars.size());
    CHECK(here.rows[1].guide_line.step == there.rows[1].guide_line.step);
    CHECK(here.rows[1].guide_line.held == there.rows[1].guide_line.held);
    for (std::size_t bar = 0; bar < here.bars.size(); ++bar)
        CHECK(chord_of(here, 1, bar).changed == chord_of(there, 1, bar).changed);
}

TEST_CASE("what only the last chorus plays is said so") {
    const auto tune = testing::read_whole(
        "tune \"Last\"\nkey F major\nmeter 4/4\ntempo 120 swing\nform A\nrunning Head | Head last\n\nsection "
        "A\n"
        "changes | Gm7 C7 | Fmaj7 | [1 Fmaj7 D7 ] [last C7 | Fmaj7 ] |\n");
    // By hand: what a plan made of the bar does not matter here.
    reharm::Version version;
    version.name = "end";
    version.tune = tune;
    auto& event = version.tune.sections[0].bars[3].changes[0];
    reharm::Change change;
    change.first = change.last = {0, 3, 0};
    change.place.section = "A";
    change.place.bar = 4;
    change.old_chords = {event.chord};
    event.chord = *theory::parse_chord("Gb7").chord;
    change.new_chords = {event.chord};
    change.new_beats = {4};
    version.changes = {change};
    const auto comparison = report::compare(tune, {{"end", &version.tune, &version, nullptr}});
    REQUIRE(comparison.notes.size() == 1);
    CHECK(comparison.notes[0] == "end also changes A:4 (Gb7 for C7), which only the last chorus plays.");
    CHECK(comparison.rows[1].bars_changed == 0);
}
