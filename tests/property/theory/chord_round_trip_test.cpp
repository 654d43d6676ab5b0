// compiler/theory/chord_parse.cpp, chord_print.cpp, harmony_kind.cpp: parse, print, parse is the identity
#include <algorithm>

#include "property/theory/every_chord.h"

using namespace relead::theory;
using namespace relead::theory::test;

namespace {

// `text` with each ASCII or folded sign replaced by one of its look-alikes, one look-alike at a time.
std::vector<std::string> look_alikes(const std::string& text) {
    struct Sign {
        const char *folded, *look_alike;
    };
    static const Sign signs[] = {{"△", "∆"}, {"△", "Δ"}, {"°", "º"}, {"ø", "Ø"}, {"#", "♯"},
                                 {"b", "♭"}, {"-", "−"}, {"-", "–"}, {"7", "⁷"}, {"9", "⁹"}};
    std::vector<std::string> out;
    for (const auto& sign : signs) {
        std::string changed = text;
        const std::string_view folded = sign.folded, look_alike = sign.look_alike;
        for (auto at = changed.find(folded); at != std::string::npos;
             at = changed.find(folded, at + look_alike.size()))
            changed.replace(at, folded.size(), look_alike);
        if (changed != text) out.push_back(changed);
    }
    return out;
}

}  // namespace

TEST_CASE("every root, every quality, every spelling") {
    std::size_t checked = 0;
    for (const auto& spelling : all_spellings()) {
        if (spelling.quality.row == 0) continue;
        for (const NoteName root : every_root()) {
            Chord expected;
            expected.root = root;
            expected.quality = spelling.quality;
            const std::string word = to_string(root) + std::string(spelling.text);
            check_round_trip(word, expected);
            REQUIRE(to_string(*parse_chord(word).chord) == word);
            ++checked;
        }
    }
    CHECK(checked > 40000);
}

TEST_CASE("every spelling in Unicode look-alikes") {
    for (const auto& spelling : all_spellings()) {
        if (spelling.quality.row == 0) continue;
        for (const char* root : {"C", "Bb", "F#"}) {
            Chord expected;
            expected.root = *parse_note_name(root);
            expected.quality = spelling.quality;
            for (const auto& word : look_alikes(root + std::string(spelling.text)))
                check_round_trip(word, expected);
        }
    }
}

TEST_CASE("every quality with up to two further degrees, with bass and upper structure") {
    const auto chords = every_chord_on_c();
    CHECK(chords.size() > 2000);
    for (const Chord& of : chords) {
        check_round_trip(to_string(of), of);
        Chord slash = of;
        slash.bass = NoteName{-2};
        check_round_trip(to_string(slash), slash);
        slash.upper = UpperStructure{NoteName{6}, true};
        check_round_trip(to_string(slash), slash);
    }
}

TEST_CASE("degrees may stand in any order, bare or in brackets, with flat, sharp, minus or plus") {
    for (const Chord& of : every_chord_on_c()) {
        if (of.extra.size() != 2) continue;
        const std::string name = 'C' + std::string(quality_name(of.quality));
        const std::string a = to_string(of.extra[0]), b = to_string(of.extra[1]);
        if (of.extra[0].number == 7 || of.extra[1].number == 7) continue;  // printed as maj7
        if (quality_name(of.quality).empty()) continue;                    // "C" + "b9" is C flat
        std::vector<std::string> words = {name + '(' + a + ',' + b + ')', name + '(' + b + ',' + a + ')',
                                          name + '(' + a + ")(" + b + ')', name + "(" + b + ' ' + a + ')'};
        const bool altered = of.extra[0].alteration != 0 && of.extra[1].alteration != 0;
        if (altered) words.push_back(name + a + b);
        for (const auto& word : words) check_round_trip(word, of);
    }
}

TEST_CASE("MusicXML kind and degrees read back as the same chord") {
    for (const Chord& of : every_chord_on_c()) {
        const HarmonyKind kind = harmony_kind(of);
        const auto back = chord_from_harmony(of.root, kind, of.bass);
        INFO(to_string(of) << " as " << kind.kind << " text " << kind.text << " and " << kind.degrees.size()
                           << " degrees");
        REQUIRE(back.has_value());
        REQUIRE(to_string(*back) == to_string(of));
        REQUIRE(*back == of);
    }
}

TEST_CASE("chords without third or fifth") {
    for (const QualityId quality : every_quality()) {
        for (const int number : {3, 5}) {
            Chord of;
            of.quality = quality;
            of.omitted = {number};
            REQUIRE(normalise(of));
            check_round_trip(to_string(of), of);
            const auto own = quality_row(quality).degrees;
            const bool had =
                std::any_of(own.begin(), own.end(), [&](Degree d) { return d.number == number; });
            if (!had) continue;
            const auto back = chord_from_harmony(of.root, harmony_kind(of), std::nullopt);
            INFO(to_string(of));
            REQUIRE(back.has_value());
            REQUIRE(degrees(*back) == degrees(of));
        }
    }
}
