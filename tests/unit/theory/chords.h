// Short words for the theory tests.
#pragma once

#include <sstream>
#include <string>
#include <string_view>
#include <vector>

#include "support/catch.h"
#include "theory/chord.h"

namespace relead::theory::test {

/// The chord that `symbol` means; the test fails when it cannot be read.
inline Chord chord(std::string_view symbol) {
    const auto reading = parse_chord(symbol);
    INFO("chord symbol " << symbol);
    REQUIRE(reading.chord.has_value());
    return *reading.chord;
}

inline NoteName note(std::string_view name) {
    const auto parsed = parse_note_name(name);
    INFO("note name " << name);
    REQUIRE(parsed.has_value());
    return *parsed;
}

inline std::vector<std::string> words(std::string_view text) {
    std::istringstream in{std::string(text)};
    std::vector<std::string> out;
    for (std::string word; in >> word;) out.push_back(word);
    return out;
}

inline std::string joined(const std::vector<std::string>& parts) {
    std::string out;
    for (const auto& part : parts) out += (out.empty() ? "" : " ") + part;
    return out;
}

/// "C E G Bb"
inline std::string tone_names(const Chord& of) {
    std::vector<std::string> out;
    for (const NoteName name : tones(of)) out.push_back(to_string(name));
    return joined(out);
}

/// "1 3 5 b7"
inline std::string degree_names(const Chord& of) {
    std::vector<std::string> out;
    for (const Degree degree : degrees(of)) out.push_back(to_string(degree));
    return joined(out);
}

/// "alter 5 -1; (add 9 1)": as the chord table writes MusicXML degrees.
inline std::string harmony_text(const HarmonyKind& kind) {
    std::string out;
    for (const auto& d : kind.degrees) {
        const std::string type = d.type == HarmonyDegree::Type::add     ? "add"
                                 : d.type == HarmonyDegree::Type::alter ? "alter"
                                                                        : "subtract";
        const std::string text = type + ' ' + std::to_string(d.value) + ' ' + std::to_string(d.alter);
        out += (out.empty() ? "" : "; ") + (d.printed ? text : '(' + text + ')');
    }
    return out;
}

}  // namespace relead::theory::test
