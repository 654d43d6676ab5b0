// All roots, all spellings, and the degrees that may be added.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "support/catch.h"
#include "theory/chord_table.h"

namespace relead::theory::test {

/// The 35 names with up to two accidentals.
inline std::vector<NoteName> every_root() {
    std::vector<NoteName> out;
    for (const char letter : std::string_view("CDEFGAB"))
        for (int alteration = -2; alteration <= 2; ++alteration) out.push_back(note_from(letter, alteration));
    return out;
}

inline std::vector<QualityId> every_quality() {
    std::vector<QualityId> out;
    for (std::uint16_t row = 1; row < quality_count(); ++row) out.push_back({row});
    return out;
}

inline const std::vector<Degree>& added_degrees() {
    static const std::vector<Degree> degrees = {{5, -1}, {5, 1},  {7, 0},  {7, -1},  {9, -1}, {9, 0},
                                                {9, 1},  {11, 0}, {11, 1}, {13, -1}, {13, 0}};
    return degrees;
}

/// Every chord on C with up to two further degrees that do not contradict it.
inline std::vector<Chord> every_chord_on_c() {
    std::vector<Chord> out;
    for (const QualityId quality : every_quality()) {
        Chord plain;
        plain.quality = quality;
        out.push_back(plain);
        for (const Degree first : added_degrees()) {
            const auto one = with_degree(plain, first);
            if (!one || *one == plain) continue;
            out.push_back(*one);
            for (const Degree second : added_degrees()) {
                const auto two = with_degree(*one, second);
                if (two && !(*two == *one)) out.push_back(*two);
            }
        }
    }
    return out;
}

/// The printed forms read back as the same chord, and the author's own is kept to the letter.
inline void check_round_trip(const std::string& word, const Chord& expected) {
    const auto reading = parse_chord(word);
    INFO(word);
    REQUIRE(reading.chord.has_value());
    if (!(*reading.chord == expected))
        CHECK(to_string(*reading.chord, SymbolStyle::plain) == to_string(expected, SymbolStyle::plain));
    REQUIRE(*reading.chord == expected);
    for (const SymbolStyle style : {SymbolStyle::as_written, SymbolStyle::plain, SymbolStyle::unicode}) {
        const std::string printed = to_string(*reading.chord, style);
        const auto again = parse_chord(printed);
        INFO("printed as " << printed);
        REQUIRE(again.chord.has_value());
        REQUIRE(*again.chord == expected);
        REQUIRE(to_string(*again.chord, style) == printed);
    }
}

}  // namespace relead::theory::test
