// compiler/arrange/lead_sheet.h: whole sheets as text
#include <algorithm>

#include "arrange/lead_sheet.h"
#include "arrange/sheet_marks.h"
#include "score/dump.h"
#include "tunes.h"

namespace {

using namespace relead;

std::string sheet_text(const tune::Tune& tune, const arrange::SheetWish& wish = {}) {
    const auto text = score::dump(arrange::lead_sheet(tune, wish));
    return text.substr(text.find("part "));
}

std::vector<std::string> symbols(const score::Measure& measure) {
    std::vector<std::string> found;
    for (const auto& harmony : measure.harmonies) {
        found.push_back(theory::to_string(harmony.chord, theory::SymbolStyle::plain) + "@" +
                        harmony.at.to_string());
    }
    return found;
}

std::vector<std::string> words(const score::Score& sheet) {
    std::vector<std::string> found;
    for (const auto& measure : sheet.parts[0].measures) {
        for (const auto& direction : measure.directions) {
            if (direction.kind == score::Direction::Kind::words) found.push_back(direction.text);
        }
    }
    return found;
}

using Texts = std::vector<std::string>;

}  // namespace

TEST_CASE("a small tune in full, for an alto") {
    const auto tune = tune_of(
        "tune \"Small\"\nby \"Nobody\"\nkey F major\nmeter 4/4\ntempo 120 swing\nform A A\n"
        "section A\nchanges | Gm7 Gb7 | [1 Fmaj7 ] [2 F6 ] |\nmelody | h D5 Bb4 | w A4 | F4 |\n");
    arrange::SheetWish wish;
    wish.instrument = theory::find_instrument("alto");
    CHECK(sheet_text(tune, wish) ==
          "part Alto Sax\n"
          "1 key 2 major 4/4 transpose -9 |:  <mark@0 \"A\">  <tempo@0 \"Swing\" q=120>  | Em7@0 Eb7@1/2  : "
          "h B5 h G5\n"
          "2 [1.   | Dmaj7@0  : w F#5 ] :| 2\n"
          "3 [2.   | D6@0  : w D5 ) |||\n");
}

TEST_CASE("pushed chords stand where they sound") {
    const auto tune = short_tune("section A\nchanges | C | <F | <<G7 >Am7 | F <G7 |\n");
    const auto sheet = arrange::lead_sheet(tune);
    const auto& measures = sheet.parts[0].measures;
    CHECK(symbols(measures[0]) == Texts{"C@0", "F@7/8"});
    CHECK(symbols(measures[1]) == Texts{"G7@3/4"});
    CHECK(symbols(measures[2]) == Texts{"Am7@5/8"});
    CHECK(symbols(measures[3]) == Texts{"F@0", "G7@3/8"});
    // the slash of the early chord is tied over the bar line
    const auto text = score::dump(sheet);
    CHECK(text.find("e /|B4{<} e /|B4~{>}") != std::string::npos);
    CHECK(text.find("q /|~B4") != std::string::npos);
}

TEST_CASE("a push over a joint that leads two ways stays on its beat and says so") {
    const auto tune = short_tune("form A A B\nsection A\nchanges | C | F |\nsection B\nchanges | <G7 |\n");
    const auto sheet = arrange::lead_sheet(tune);
    CHECK(symbols(sheet.parts[0].measures[1]) == Texts{"F@0"});
    CHECK(symbols(sheet.parts[0].measures[2]) == Texts{"G7@0"});
    CHECK(words(sheet) == Texts{"push"});
}

TEST_CASE("a push at the start of a repeat stands at the end of both bars that lead to it") {
    const auto tune = short_tune(
        "form I A A B\nsection I\nchanges | G7 |\nsection A\nchanges | <C | F |\nsection B\nchanges | F |\n");
    const auto sheet = arrange::lead_sheet(tune);
    CHECK(words(sheet) == Texts{"push"});  // the second F leads to B as well
}

TEST_CASE("the chord of a simile bar is printed again only at the start of a line") {
    const auto tune = short_tune("section A\nchanges | Dm7 | % | % | % | % | G7 | C | C |\n");
    const auto sheet = arrange::lead_sheet(tune);
    const auto& measures = sheet.parts[0].measures;
    CHECK(symbols(measures[1]).empty());
    REQUIRE(measures[4].before == score::Break::system);
    CHECK(symbols(measures[4]) == Texts{"Dm7@0"});
    CHECK(symbols(measures[7]) == Texts{"C@0"});
}

TEST_CASE("ossia, soloist and what stood there before are words in the player's pitch") {
    const auto tune = short_tune("section A\nchanges | C | F |\nossia | Db7 | . |\nsoloist | . | Gm7 C7 |\n");
    arrange::SheetWish wish;
    wish.instrument = theory::find_instrument("tenor");
    CHECK(words(arrange::lead_sheet(tune, wish)) == Texts{"(E\u266d7)", "solo: Am7", "D7"});
    wish.show_ossia = wish.show_soloist = false;
    arrange::ChangedChord changed;
    changed.ref = {0, 1, 0};
    changed.was.push_back(*theory::parse_chord("Bb7").chord);
    wish.changed.push_back(changed);
    CHECK(words(arrange::lead_sheet(tune, wish)).empty());
    wish.show_replaced = true;
    const auto sheet = arrange::lead_sheet(tune, wish);
    CHECK(words(sheet) == Texts{"was C7"});
    const auto& bar = sheet.parts[0].measures[1];
    CHECK(bar.harmonies[0].changed);
    CHECK(std::all_of(bar.voices[0].elements.begin(), bar.voices[0].elements.end(),
                      [](const score::Element& element) { return element.highlighted; }));
    CHECK(!sheet.parts[0].measures[0].voices[0].elements[0].highlighted);
}

TEST_CASE("marks, fermata, tempo and meter changes, groups") {
    const auto tune = tune_of(
        "tune \"T\"\nby \"N\"\nkey C major\nmeter 7/8 2+2+3\ntempo 300 even \"Brisk\"\nform A B\n"
        "section A \"First\"\nchanges | C | F |\nmarks | \"drums only\" | break |\n"
        "section B\nkey G major\nmeter 4/4\ntempo 90 swing\nchanges | G | G |\nmelody | w G4 | G4 |\nmarks | "
        "ritard | fermata |\n");
    const auto sheet = arrange::lead_sheet(tune);
    CHECK(words(sheet) == Texts{"First", "drums only", "Break", "rit."});
    const auto& measures = sheet.parts[0].measures;
    const auto tempo = [](const score::Measure& measure) {
        for (const auto& direction : measure.directions) {
            if (direction.kind == score::Direction::Kind::tempo)
                return direction.text + " " + std::to_string(direction.beats_per_minute);
        }
        return std::string("none");
    };
    CHECK(tempo(measures[0]) == "Brisk (Even eighths), 2+2+3 300");
    CHECK(tempo(measures[1]) == "none");
    CHECK(tempo(measures[2]) == "Swing 90");
    CHECK(measures[2].key->fifths == 1);
    CHECK(measures[2].time == score::TimeSignature{4, 4, {}});
    CHECK(measures[3].voices[0].elements[0].fermata);
    CHECK(!measures[3].key);
}

TEST_CASE("the running order in words") {
    const auto text = [](const std::string& running) {
        return arrange::running_text(
            short_tune("form A\nrunning " + running + "\nsection A\nchanges | C | F | G7 |\n"));
    };
    CHECK(text("Head | Solos open, each soloist, written changes | Head last") ==
          "Head \u00b7 Solos (open, each soloist, written changes) \u00b7 Head, last time");
    CHECK(text("Head 2 times | Solo, solo \"flute\" | Head last, tag A:2-3 2 times") ==
          "Head, twice \u00b7 Solo (flute) \u00b7 Head, last time (tag A:2-3 twice more)");
}

TEST_CASE("sections of the sheet: four bars a line, pickup apart, lines cut by phrases") {
    const auto lines = [](const std::string& bars, const std::string& form = "form A\n") {
        const auto sheet = arrange::lead_sheet(short_tune(form + "section A\nchanges " + bars + "\n"));
        std::string text;
        int count = 0;
        for (const auto& measure : sheet.parts[0].measures) {
            if (measure.before != score::Break::none) {
                text += std::to_string(count) + " ";
                count = 0;
            }
            ++count;
        }
        return text + std::to_string(count);
    };
    const auto plain = [](int count) {
        std::string bars = "|";
        for (int i = 0; i < count; ++i) bars += " C |";
        return bars;
    };
    CHECK(lines(plain(8)) == "4 4");
    CHECK(lines(plain(12)) == "4 4 4");
    CHECK(lines(plain(5)) == "5");
    CHECK(lines(plain(9)) == "4 5");
    CHECK(lines(plain(10)) == "4 4 2");
    CHECK(lines("| C | C | C | C | C | C | [1 C | C ] [2 C | C ] |", "form A A\n") == "4 4 2");
    // more than six symbols a bar do not go four on a line
    std::string dense = "|";
    for (int i = 0; i < 4; ++i) dense += " C F C F C F C F |";
    CHECK(lines(dense) != "4");
}

TEST_CASE("thirty-two bars are one page, and long tunes begin pages with a section") {
    for (const auto& [name, tune] : sample_tunes()) {
        const auto sheet = arrange::lead_sheet(tune);
        INFO(name);
        if (sheet.parts[0].measures.size() <= 36) CHECK(sheet.pages == 1);
        int pages = 1;
        for (const auto& measure : sheet.parts[0].measures)
            pages += measure.before == score::Break::page ? 1 : 0;
        CHECK(pages == sheet.pages);
        CHECK(sheet.systems_a_page <= 11);
    }
}

TEST_CASE("a sheet of slashes has no melody, and a stamp is printed as it is given") {
    auto tune = short_tune("section A\nchanges | C | F |\nmelody | w C5 | D5 |\n");
    arrange::SheetWish wish;
    wish.show_melody = false;
    CHECK(sheet_text(tune, wish).find("slashes") != std::string::npos);
    tune.stamp = tune::VersionStamp{"mild", "3fa94c21", "25 November 2026"};
    CHECK(arrange::lead_sheet(tune).stamp == "mild \u00b7 3fa94c21 \u00b7 25 November 2026");
    wish.stamp = "draft";
    CHECK(arrange::lead_sheet(tune, wish).stamp == "draft");
    CHECK(arrange::stamp_text({"mild", "3fa94c21", ""}) == "mild \u00b7 3fa94c21");
}

TEST_CASE("every sheet of every sample for every instrument: voices fill their bars, symbols lie inside") {
    for (const auto& [name, tune] : sample_tunes()) {
        for (const auto& instrument : theory::instruments()) {
            arrange::SheetWish wish;
            wish.instrument = &instrument;
            const auto sheet = arrange::lead_sheet(tune, wish);
            for (const auto& measure : sheet.parts[0].measures) {
                INFO(name << " " << instrument.id << " measure " << measure.number);
                for (const auto& voice : measure.voices) {
                    Time at = 0;
                    for (const auto& element : voice.elements) {
                        CHECK(element.at == at);
                        at = element.end();
                    }
                    CHECK(at == measure.length);
                }
                for (const auto& harmony : measure.harmonies) {
                    CHECK(harmony.at >= Time(0));
                    CHECK(harmony.at < measure.length);
                }
            }
        }
    }
}
