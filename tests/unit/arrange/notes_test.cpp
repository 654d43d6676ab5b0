// compiler/arrange/melody_notes.h, slash_notes.h, beams.h, accidentals.h
#include <algorithm>

#include "arrange/accidentals.h"
#include "arrange/beams.h"
#include "arrange/lead_sheet.h"
#include "arrange/melody_notes.h"
#include "arrange/slash_notes.h"
#include "score/dump.h"
#include "tunes.h"

namespace {

using namespace relead;

const theory::Pitch middle = *theory::parse_pitch("B4");

/// The dump of the first voice, between ":" and the end of the line.
std::string dumped(std::vector<score::Element> elements) {
    score::Measure measure;
    measure.voices.push_back({1, 1, std::move(elements)});
    auto text = score::dump(measure);
    text = text.substr(text.find(": ") + 2);
    text.pop_back();
    return text;
}

/// The first voice of each bar of a one-section tune's concert sheet.
std::vector<std::string> melody(const std::string& bars, const std::string& meter = "4/4",
                                const std::string& key = "C major") {
    const auto count = std::count(bars.begin(), bars.end(), '|');
    std::string changes = "|";
    for (std::ptrdiff_t i = 1; i < count; ++i) changes += " C |";
    const auto tune = short_tune("section A\nchanges " + changes + "\nmelody " + bars + "\n", key, meter);
    const auto sheet = arrange::lead_sheet(tune);
    std::vector<std::string> found;
    for (const auto& measure : sheet.parts[0].measures) found.push_back(dumped(measure.voices[0].elements));
    return found;
}

std::string beamed(const std::string& bar, const std::string& meter) {
    return melody("| " + bar + " |", meter)[0];
}

}  // namespace

TEST_CASE("lengths are spelled with the longest values first") {
    const auto text = [](Time length) {
        std::string values;
        for (const auto& value : arrange::values_of(length)) {
            values += std::to_string(value.denominator) +
                      std::string(static_cast<std::size_t>(value.dots), '.') + " ";
        }
        return values;
    };
    CHECK(text({1, 1}) == "1 ");
    CHECK(text({5, 8}) == "2 8 ");
    CHECK(text({7, 8}) == "2. 8 ");
    CHECK(text({3, 16}) == "8. ");
    CHECK(text({5, 4}) == "1 4 ");
}

TEST_CASE("the melody keeps its values, tuplets, graces, ties and slurs") {
    CHECK(melody("| q C5 e D5 E5 h F5~ | h F5 q {E5} D5 r |") ==
          std::vector<std::string>{"q C5 e D5{<} e E5{>} h F5~", "h ~F5 ge E5 q D5 q r"});
    CHECK(melody("| e [3:2 C5 D5 E5] q (F5 G5) r |")[0] == "[3:2 e C5{<} e D5{=} e E5{>}] q F5( q G5) q r");
    CHECK(melody("| w r |")[0] == "R");
    CHECK(melody("| {D5 E5} w F5 |")[0] == "gs D5{<<} gs E5{>>} w F5");
}

TEST_CASE("a tie that leads to another pitch or nowhere is not drawn") {
    CHECK(melody("| w C5~ | w C5 | w D5 |") == std::vector<std::string>{"w C5~", "w ~C5", "w D5"});
    const auto sheet = arrange::lead_sheet(
        short_tune("form A A\nsection A\nchanges | C | [1 F ] [2 G7 ] |\nmelody | w C5~ | C5 | D5 |\n"));
    const auto& measures = sheet.parts[0].measures;
    CHECK(dumped(measures[0].voices[0].elements) == "w C5~");
    CHECK(dumped(measures[1].voices[0].elements) == "w ~C5");
    CHECK(dumped(measures[2].voices[0].elements) == "w D5");
}

TEST_CASE("unknown stretches are slashes") {
    CHECK(melody("| h C5 ? |")[0] == "h C5 q /B4 q /B4");
}

// Beams by the groups of the meter: common practice, no source.
TEST_CASE("beams follow the meter") {
    struct Row {
        const char* meter;
        const char* bar;
        const char* beams;
    };
    const Row rows[] = {
        {"4/4", "e C5 D5 E5 F5 G5 F5 E5 D5",
         "e C5{<} e D5{=} e E5{=} e F5{>} e G5{<} e F5{=} e E5{=} e D5{>}"},
        {"4/4", "q. C5 e D5 h E5", "q. C5 e D5 h E5"},
        {"4/4", "e C5 q D5 e E5 h F5", "e C5 q D5 e E5 h F5"},
        {"4/4", "e r C5 D5 E5 h F5", "e r e C5{<} e D5{=} e E5{>} h F5"},
        {"4/4", "e. C5 s D5 e E5 F5 h G5", "e. C5{<} s D5{><.} e E5{<} e F5{>} h G5"},
        {"4/4", "s C5 e D5 s E5 q F5 h G5", "s C5{<>.} e D5{=} s E5{><.} q F5 h G5"},
        {"3/4", "e C5 D5 E5 F5 G5 F5", "e C5{<} e D5{=} e E5{=} e F5{=} e G5{=} e F5{>}"},
        {"6/8", "e C5 D5 E5 F5 G5 F5", "e C5{<} e D5{=} e E5{>} e F5{<} e G5{=} e F5{>}"},
        {"5/4", "e C5 D5 E5 F5 h. G5", "e C5{<} e D5{>} e E5{<} e F5{>} h. G5"},
        {"7/8 2+2+3", "e C5 D5 E5 F5 G5 F5 E5", "e C5{<} e D5{>} e E5{<} e F5{>} e G5{<} e F5{=} e E5{>}"},
        {"2/2", "e C5 D5 E5 F5 G5 F5 E5 D5",
         "e C5{<} e D5{=} e E5{=} e F5{>} e G5{<} e F5{=} e E5{=} e D5{>}"},
    };
    for (const auto& row : rows) {
        INFO(row.meter << " " << row.bar);
        CHECK(beamed(row.bar, row.meter) == row.beams);
    }
}

TEST_CASE("accidentals stand where the eye needs them") {
    // first change, no repetition in the bar, cancelling; a reminder in the next bar; none after a tie
    CHECK(melody("| q F#5 F#5 F5 F4 | F5 r h r |") ==
          std::vector<std::string>{"q F#5(#) q F#5 q F5(n) q F4(n)?", "q F5(n)? q r h r"});
    CHECK(melody("| w Bb4~ | h Bb4 Bb4 | w B4 |") ==
          std::vector<std::string>{"w Bb4(b)~", "h ~Bb4 h Bb4(b)", "w B4(n)?"});
    CHECK(melody("| q Bb4 B4 Eb5 F5 |", "4/4", "F major")[0] == "q Bb4 q B4(n) q Eb5(b) q F5");
    CHECK(melody("| q Cb5 Fb5 B4 C5 |", "4/4", "Ab minor")[0] == "q Cb5 q Fb5 q B4(n) q C5(n)");
    CHECK(melody("| q F#5 F##5 F#5 F5 |", "4/4", "G major")[0] == "q F#5 q F##5(##) q F#5(#) q F5(n)");
}

TEST_CASE("a slash a beat, and rhythm where a chord stands between the beats") {
    const auto bar = [](const tune::Meter& meter, const std::vector<Time>& chords) {
        const auto slashes = arrange::slash_bar(meter, meter.bar_length(), chords, middle);
        return (slashes.style == score::SlashStyle::beats ? "beats " : "rhythm ") + dumped(slashes.elements);
    };
    CHECK(bar({4, 4, {}}, {0, Time(1, 2)}) == "beats q /B4 q /B4 q /B4 q /B4");
    CHECK(bar({6, 8, {}}, {0}) == "beats q. /B4 q. /B4");
    CHECK(bar({7, 8, {2, 2, 3}}, {0}) == "beats q /B4 q /B4 q. /B4");
    CHECK(bar({5, 8, {}}, {0}) == "beats e /B4 e /B4 e /B4 e /B4 e /B4");
    CHECK(bar({4, 4, {}}, {0, Time(7, 8)}) == "rhythm q /B4 q /B4 q /B4 e /|B4 e /|B4");
    CHECK(bar({3, 4, {}}, {0, Time(1, 16)}) == "rhythm s /|B4 e. /|B4 q /B4 q /B4");
}

TEST_CASE("hits: rhythm in bars without melody, small above a melody, accents where they agree") {
    const auto sheet = [](const std::string& melody_row) {
        const auto made = arrange::lead_sheet(
            short_tune("section A\nchanges | C |\n" + melody_row + "hits | q. x e X~ h X |\n"));
        const auto& measure = made.parts[0].measures[0];
        std::string text = dumped(measure.voices[0].elements);
        if (measure.voices.size() > 1) text = dumped({measure.voices[1].elements});
        return text;
    };
    CHECK(sheet("") == "q. /|B4^ e /|B4~> h /|~B4");
    CHECK(sheet("melody | q. C5 e D5~ h D5 |\n") == "q. C5^ e D5~> h ~D5");
    CHECK(sheet("melody | w C5 |\n") == "cq. /|G5^ ce /|G5~> ch /|~G5");
    CHECK(sheet("melody | w A5 |\n") == "cq. /|E6^ ce /|E6~> ch /|~E6");
}
