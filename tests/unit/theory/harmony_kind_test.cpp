// compiler/theory/harmony_kind.cpp, grammar/harmony-kinds.txt: MusicXML kinds and degrees both ways
#include <algorithm>
#include <set>

#include "theory/chord_table.h"
#include "unit/theory/chords.h"

using namespace relead::theory;
using namespace relead::theory::test;
using Type = HarmonyDegree::Type;

namespace {

// W3C MusicXML 4.0, data type kind-value: all 33 values, with what that page says they contain.
struct PublishedKind {
    const char *kind, *content;
};
const PublishedKind published[] = {{"major", "1 3 5"},
                                   {"minor", "1 b3 5"},
                                   {"augmented", "1 3 #5"},
                                   {"diminished", "1 b3 b5"},
                                   {"dominant", "1 3 5 b7"},
                                   {"major-seventh", "1 3 5 7"},
                                   {"minor-seventh", "1 b3 5 b7"},
                                   {"diminished-seventh", "1 b3 b5 bb7"},
                                   {"augmented-seventh", "1 3 #5 b7"},
                                   {"half-diminished", "1 b3 b5 b7"},
                                   {"major-minor", "1 b3 5 7"},
                                   {"major-sixth", "1 3 5 6"},
                                   {"minor-sixth", "1 b3 5 6"},
                                   {"dominant-ninth", "1 3 5 b7 9"},
                                   {"major-ninth", "1 3 5 7 9"},
                                   {"minor-ninth", "1 b3 5 b7 9"},
                                   {"dominant-11th", "1 3 5 b7 9 11"},
                                   {"major-11th", "1 3 5 7 9 11"},
                                   {"minor-11th", "1 b3 5 b7 9 11"},
                                   {"dominant-13th", "1 3 5 b7 9 11 13"},
                                   {"major-13th", "1 3 5 7 9 11 13"},
                                   {"minor-13th", "1 b3 5 b7 9 11 13"},
                                   {"suspended-second", "1 2 5"},
                                   {"suspended-fourth", "1 4 5"},
                                   {"Neapolitan", nullptr},
                                   {"Italian", nullptr},
                                   {"French", nullptr},
                                   {"German", nullptr},
                                   {"pedal", nullptr},
                                   {"power", "1 5"},
                                   {"Tristan", nullptr},
                                   {"other", nullptr},
                                   {"none", nullptr}};

const PublishedKind* published_kind(std::string_view kind) {
    for (const auto& row : published)
        if (row.kind == kind) return &row;
    return nullptr;
}

Degree degree_from(const std::string& word) {
    const auto digits = word.find_first_not_of("b#");
    const int sign = word[0] == 'b' ? -1 : 1;
    return {std::stoi(word.substr(digits)), sign * static_cast<int>(digits)};
}

// What a kind with degrees contains, by the rules of the elements degree-alter and degree-type: `add`
// counts from a dominant chord, `alter` and `subtract` from the degree that the kind already has.
std::set<Degree> expanded(const HarmonyKind& kind) {
    std::set<Degree> out;
    for (const auto& word : words(published_kind(kind.kind)->content)) out.insert(degree_from(word));
    for (const auto& change : kind.degrees) {
        if (change.type == Type::add) {
            out.insert({change.value, change.alter + (change.value == 7 ? -1 : 0)});
            continue;
        }
        const auto at =
            std::find_if(out.begin(), out.end(), [&](Degree d) { return d.number == change.value; });
        REQUIRE(at != out.end());
        const Degree old = *at;
        out.erase(at);
        if (change.type == Type::alter) out.insert({old.number, old.alteration + change.alter});
    }
    return out;
}

HarmonyKind kind_of(const char* kind, const char* text, std::vector<HarmonyDegree> degrees) {
    return {kind, text, std::move(degrees)};
}

}  // namespace

TEST_CASE("every kind in the chord table is one of the 33 published ones, and contains the chord") {
    CHECK(std::size(published) == 33);
    for (std::uint16_t i = 0; i < quality_count(); ++i) {
        const auto row = quality_row({i});
        INFO("chord-table.txt:" << row.line << ' ' << row.name);
        REQUIRE(published_kind(row.kind) != nullptr);
        if (i == 0) continue;
        Chord of;
        of.quality = {i};
        std::set<Degree> encoded = expanded(harmony_kind(of));
        // The published 13ths hold the natural 11, which players leave out.
        if (row.kind == "dominant-13th" || row.kind == "major-13th") encoded.erase({11, 0});
        CHECK(encoded == std::set<Degree>(row.degrees.begin(), row.degrees.end()));
    }
}

TEST_CASE("every published kind is read") {
    for (const auto& row : published) {
        INFO(row.kind);
        const auto read = chord_from_harmony(note("C"), {row.kind, "", {}}, std::nullopt);
        if (std::string_view(row.kind) == "other") {
            CHECK_FALSE(read.has_value());
            continue;
        }
        REQUIRE(read.has_value());
        CHECK(read->is_none() == (std::string_view(row.kind) == "none"));
        const bool read_otherwise = std::string_view(row.kind) == "dominant-11th" ||
                                    std::string_view(row.kind) == "dominant-13th" ||
                                    std::string_view(row.kind) == "major-13th";
        if (row.content != nullptr && !read_otherwise) CHECK(degree_names(*read) == row.content);
    }
}

TEST_CASE("further degrees, omissions and upper structures") {
    struct Row {
        const char *symbol, *kind, *text, *harmony;
    };
    const Row rows[] = {
        {"C7(b9,#9,#11)", "dominant", "7", "add 9 -1; add 9 1; add 11 1"},
        {"C6(maj7)", "major-sixth", "6", "add 7 1"},
        {"Cm7(b13)", "minor-seventh", "m7", "add 13 -1"},
        {"C7(no5)", "dominant", "7", "subtract 5 0"},
        {"C(b9)", "major", "", "add 9 -1"},
        {"C7{D}", "dominant", "7", "add 9 0; add 11 1; add 13 0"},
        {"C7(#5)", "augmented-seventh", "7#5", ""},
        {"C13(b9,no5)", "dominant", "7", "add 9 -1; add 13 0; subtract 5 0"},
        {"N.C.", "none", "N.C.", ""},
    };
    for (const auto& row : rows) {
        INFO(row.symbol);
        const HarmonyKind kind = harmony_kind(chord(row.symbol));
        CHECK(kind.kind == row.kind);
        CHECK(kind.text == row.text);
        CHECK(harmony_text(kind) == row.harmony);
    }
    // "add" is read only after a triad: Cadd9, but C7(9).
    CHECK(harmony_kind(chord("Cadd9")).degrees[0].says_add);
    CHECK_FALSE(harmony_kind(chord("C7(13)")).degrees[0].says_add);
    CHECK_FALSE(harmony_kind(chord("G7sus4")).degrees[0].says_add);
}

TEST_CASE("what other programs write is read as a player would") {
    struct Row {
        HarmonyKind kind;
        const char* reading;
        const char* why;
    };
    const Row rows[] = {
        {kind_of("dominant-ninth", "", {{13, 0, Type::add}}), "C13", "exact encoding of the jazz 13"},
        {kind_of("dominant-13th", "", {{11, 0, Type::subtract}}), "C13", "exact encoding of the jazz 13"},
        {kind_of("dominant-13th", "", {{11, 1, Type::alter}}), "C13#11", "alter on a degree of the kind"},
        {kind_of("dominant-ninth", "", {{9, -1, Type::alter}}), "C7b9", "alter on a degree of the kind"},
        {kind_of("dominant", "", {{9, 1, Type::alter}}), "C7#9", "alter on a degree that is not there"},
        {kind_of("dominant", "7b9", {}), "C7b9", "all in the text"},
        {kind_of("dominant", "7alt", {}), "C7alt", "all in the text"},
        {kind_of("suspended-fourth", "7sus4", {}), "C7sus4", "all in the text"},
        {kind_of("", "m7b5", {}), "Cm7b5", "empty kind"},
        {kind_of("dominant-seventh", "7", {}), "C7", "unknown kind with a text"},
        {kind_of("minor", "Dm", {}), "Cm", "a text that is no suffix"},
        {kind_of("dominant", "m7", {}), "C7", "a text that contradicts the kind"},
        {kind_of("dominant-11th", "", {}), "C9sus4", "players leave the third out"},
        {kind_of("dominant", "", {{5, 1, Type::alter}}), "C7#5", "another encoding of the same"},
        {kind_of("major-seventh", "", {{4, 1, Type::add}}), "Cmaj7#11", "a fourth is an eleventh"},
        {kind_of("dominant", "", {{6, 0, Type::add}}), "C7(13)", "a sixth over a seventh is a thirteenth"},
        {kind_of("dominant", "", {{3, 0, Type::subtract}}), "C7(no3)", "without its third"},
        {kind_of("major", "", {{2, 0, Type::add}}), "Cadd9", "a second is a ninth"},
        {kind_of("major", "", {{7, 0, Type::add}}), "C7", "add counts from a dominant"},
        {kind_of("major", "", {{7, 1, Type::add}}), "Cmaj7", "add counts from a dominant"},
        {kind_of("minor-seventh", "", {{5, -1, Type::alter}}), "Cm7b5", "another encoding of the same"},
        {kind_of("other", "", {{3, 0, Type::add}, {5, 0, Type::add}}), "C", "only added degrees"},
        {kind_of("French", "", {}), "C7b5", "by its sound"},
        {kind_of("none", "", {}), "N.C.", "no chord"},
    };
    for (const auto& row : rows) {
        INFO(row.reading << ": " << row.why);
        const auto read = chord_from_harmony(note("C"), row.kind, std::nullopt);
        REQUIRE(read.has_value());
        CHECK(to_string(*read) == row.reading);
    }
    CHECK_FALSE(chord_from_harmony(note("C"), kind_of("wrong", "", {}), std::nullopt).has_value());
    CHECK(to_string(*chord_from_harmony(note("D"), kind_of("dominant", "7", {}), note("F#"))) == "D7/F#");
    CHECK(to_string(*chord_from_harmony(note("D"), kind_of("dominant", "7", {}), note("D"))) == "D7");
}
