// compiler/voicing/comping.cpp, colours.cpp: shapes of the comping hand and how they follow each other.
#include "voicing/comping.h"

#include <algorithm>
#include <string>

#include "support/catch.h"
#include "theory/chord_table.h"

using namespace relead;
using namespace relead::voicing;
using theory::parse_chord;

namespace {

theory::Chord chord(const std::string& word) {
    INFO(word);
    const auto reading = parse_chord(word);
    REQUIRE(reading.chord);
    return *reading.chord;
}

const theory::Key c_major{};

ChordToVoice in_c(const std::string& word, unsigned melody = 0) {
    return {chord(word), c_major, melody};
}

std::string names(const Voicing& voicing) {
    constexpr const char* classes[] = {"C", "Db", "D", "Eb", "E", "F", "Gb", "G", "Ab", "A", "Bb", "B"};
    std::string text;
    for (const int key : voicing.keys)
        text += (text.empty() ? "" : " ") + std::string(classes[key % 12]) + std::to_string(key / 12 - 1);
    return text;
}

bool offers(const ChordToVoice& wanted, const std::string& notes) {
    const auto found = comping_voicings(wanted, comping_range());
    return std::any_of(found.begin(), found.end(), [&](const Voicing& v) { return names(v) == notes; });
}

std::vector<theory::Chord> every_chord() {
    std::vector<theory::Chord> all;
    for (std::size_t row = 1; row < theory::quality_count(); ++row)
        for (const char* root : {"C", "Db", "D", "Eb", "E", "F", "F#", "G", "Ab", "A", "Bb", "B"}) {
            theory::Chord one;
            one.root = *theory::parse_note_name(root);
            one.quality = theory::quality_at(row);
            all.push_back(one);
        }
    return all;
}

}  // namespace

TEST_CASE("Published rootless voicings are offered", "[voicing]") {
    // piano.org/theory/rootless-voicings; lessonrating.com and proproach.com, ii-V-I voicings; Tymoczko
    // (2011), figures 10.1.2-10.1.4; minor and diminished shapes from memory.
    const struct {
        const char* chord;
        const char* notes;
    } rows[] = {
        {"Dm7", "F3 A3 C4 E4"},    {"G7", "F3 A3 B3 E4"},        {"Cmaj7", "E3 G3 B3 D4"},
        {"Dm7", "C4 E4 F4 A4"},    {"G7", "B3 E4 F4 A4"},        {"Cmaj7", "B3 D4 E4 G4"},
        {"Dm7", "F3 C4 E4"},       {"G7", "F3 B3 E4"},           {"Cmaj7", "E3 B3 D4"},
        {"Dm7b5", "F3 Ab3 C4 D4"}, {"G7b9b13", "F3 Ab3 B3 Eb4"}, {"Bdim7", "F3 Ab3 B3 D4"},
    };
    for (const auto& row : rows) {
        INFO(row.chord << ": " << row.notes);
        CHECK(offers(in_c(row.chord), row.notes));
    }
}

TEST_CASE("A cadence moves as little as the published one", "[voicing]") {
    // The A-shape ii-V-I of piano.org and lessonrating.com, and its twin that starts from the seventh
    // (Tymoczko): whichever the register favours, it is one of the two, note by note.
    const ChordToVoice row[] = {in_c("Dm9"), in_c("G13"), in_c("Cmaj9")};
    const auto played = comping(row);
    REQUIRE(played.size() == 3);
    const auto line = names(played[0]) + " | " + names(played[1]) + " | " + names(played[2]);
    INFO(line);
    CHECK((line == "F3 A3 C4 E4 | F3 A3 B3 E4 | E3 G3 B3 D4" ||
           line == "C4 E4 F4 A4 | B3 E4 F4 A4 | B3 D4 E4 G4"));
}

TEST_CASE("Colours beyond the symbol need the key and room beside the melody", "[voicing]") {
    CHECK(offers(in_c("Dm7"), "F3 A3 C4 E4"));
    // iii has no natural ninth in its key: the root takes its place.
    CHECK_FALSE(offers(in_c("Em7"), "G3 B3 D4 Gb4"));
    CHECK(offers(in_c("Em7"), "G3 B3 D4 E4"));
    // A foreign root: lydian dominant colours are common practice.
    CHECK(offers(in_c("Db7"), "F3 Bb3 B3 Eb4"));
    // A melody on A flat (b9 of G7): no natural ninth against it.
    CHECK(offers(in_c("G7"), "F3 A3 B3 E4"));
    CHECK_FALSE(offers(in_c("G7", 1U << 8), "F3 A3 B3 E4"));
    // A plain triad stays a triad.
    for (const auto& voicing : comping_voicings(in_c("C"), comping_range())) {
        INFO(names(voicing));
        CHECK(voicing.keys.size() == 3);
    }
}

TEST_CASE("Every chord of the table has a clean voicing in the register", "[voicing]") {
    const auto range = comping_range();
    CHECK(range.low == 52);   // E3
    CHECK(range.high == 72);  // C5
    for (const auto& one : every_chord()) {
        INFO(theory::to_string(one));
        const auto found = comping_voicings({one, c_major, 0}, range);
        REQUIRE_FALSE(found.empty());
        const unsigned sounding = theory::pitch_class_set(one);
        for (const auto& voicing : found) {
            INFO(names(voicing));
            CHECK(voicing.keys.size() >= 3);
            CHECK(voicing.keys.size() <= 4);
            CHECK(std::is_sorted(voicing.keys.begin(), voicing.keys.end()));
            CHECK(voicing.keys.front() >= range.low);
            CHECK(voicing.keys.back() <= range.high);
            for (std::size_t i = 0; i < voicing.keys.size(); ++i) {
                const bool own = (sounding >> (voicing.keys[i] % 12) & 1U) != 0;
                const bool colour =
                    voicing.degrees[i] == theory::Degree{9, 0} || voicing.degrees[i] == theory::Degree{13, 0};
                CHECK((own || colour));
                if (i > 0)
                    CHECK(voicing.keys[i - 1] >= lowest_for_interval(voicing.keys[i] - voicing.keys[i - 1]));
            }
        }
    }
}

TEST_CASE("No minor ninth inside a voicing but root and b9 of a dominant", "[voicing]") {
    for (const auto& one : every_chord())
        for (const auto& voicing : comping_voicings({one, c_major, 0}, comping_range()))
            for (std::size_t low = 0; low < voicing.keys.size(); ++low)
                for (std::size_t high = low + 1; high < voicing.keys.size(); ++high) {
                    if (voicing.keys[high] - voicing.keys[low] != 13) continue;
                    INFO(theory::to_string(one) << ": " << names(voicing));
                    CHECK(voicing.degrees[low].number == 1);
                    CHECK(voicing.degrees[high] == theory::Degree{9, -1});
                }
}

TEST_CASE("Guide tones are there, and what the symbol asks for where it can", "[voicing]") {
    for (const auto& one : every_chord()) {
        const auto guides = theory::guide_tones(one);
        if (!guides) continue;
        const auto best = comping_voicings({one, c_major, 0}, comping_range()).front();
        INFO(theory::to_string(one) << ": " << names(best));
        const auto has = [&](theory::Degree wanted) {
            return std::any_of(best.degrees.begin(), best.degrees.end(), [&](theory::Degree d) {
                return theory::semitones_above_root(d) == theory::semitones_above_root(wanted);
            });
        };
        CHECK(has(guides->third));
        if (guides->seventh.number >= 6) CHECK(has(guides->seventh));
    }
}

TEST_CASE("Upper structures lie over the guide tones", "[voicing]") {
    const auto found = comping_voicings(in_c("C7{D}"), comping_range());
    REQUIRE_FALSE(found.empty());
    unsigned classes = 0;
    for (const int key : found.front().keys) classes |= 1U << (key % 12);
    CHECK(classes == ((1U << 4) | (1U << 10) | (1U << 2) | (1U << 6) | (1U << 9)));  // E Bb | D F# A
}

TEST_CASE("Voice leading is smooth round the circle of fifths", "[voicing]") {
    // A circle of ii-Vs through all keys: on the average no voice moves more than a whole step a chord,
    // and no single change moves a voice by more than a fourth on the average (common practice).
    std::vector<ChordToVoice> row;
    for (const char* word :
         {"Dm7", "G7", "Cm7", "F7", "Bbm7", "Eb7", "Abm7", "Db7", "F#m7", "B7", "Em7", "A7"})
        row.push_back({chord(word), std::nullopt, 0});
    row.insert(row.end(), row.begin(), row.end());
    const auto played = comping(row);
    int sum = 0;
    for (std::size_t i = 1; i < played.size(); ++i) {
        const int moved = movement(played[i - 1], played[i]);
        INFO(names(played[i - 1]) << " -> " << names(played[i]));
        CHECK(moved <= 4 * 5);
        sum += moved;
    }
    CHECK(sum <= 4 * 2 * static_cast<int>(played.size() - 1));
}

TEST_CASE("No chord, no voicing", "[voicing]") {
    const ChordToVoice row[] = {in_c("Dm7"), in_c("N.C."), in_c("G7")};
    const auto played = comping(row);
    REQUIRE(played.size() == 3);
    CHECK(played[1].keys.empty());
    CHECK_FALSE(played[2].keys.empty());
}

TEST_CASE("The choice is the cheapest of all rows", "[voicing]") {
    // Against trying everything, for rows of three.
    const ChordToVoice row[] = {in_c("Dm7"), in_c("Db7"), in_c("C6")};
    const auto range = comping_range();
    const auto cost = [](const std::vector<Voicing>& line) {
        int sum = 0;
        for (std::size_t i = 0; i < line.size(); ++i) {
            sum += standing_cost(line[i]);
            if (i > 0) sum += leading_cost(line[i - 1], line[i]);
        }
        return sum;
    };
    int least = 1 << 20;
    for (const auto& a : comping_voicings(row[0], range))
        for (const auto& b : comping_voicings(row[1], range))
            for (const auto& c : comping_voicings(row[2], range)) least = std::min(least, cost({a, b, c}));
    CHECK(cost(comping(row)) == least);
}
