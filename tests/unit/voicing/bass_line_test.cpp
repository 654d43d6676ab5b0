// compiler/voicing/bass_line.cpp, bass_degrees.cpp: lines that reach the roots and stay in register.
#include "voicing/bass_line.h"

#include <algorithm>
#include <cstdlib>
#include <string>

#include "support/catch.h"
#include "voicing/bass_degrees.h"

using namespace relead;
using namespace relead::voicing;

namespace {

theory::Chord chord(const std::string& word) {
    INFO(word);
    const auto reading = theory::parse_chord(word);
    REQUIRE(reading.chord);
    return *reading.chord;
}

/// One chord a bar of four quarters; "Dm7+G7" splits it; "%" sounds on.
std::vector<BassSpan> spans(const std::vector<std::string>& bars, std::string_view style) {
    std::vector<BassSpan> all;
    Time at;
    for (const auto& bar : bars) {
        const auto plus = bar.find('+');
        if (bar == "%") {
            all.push_back(all.back());
            all.back().at = at;
            all.back().length = 1;
            all.back().begins = false;
        } else if (plus == std::string::npos) {
            all.push_back({chord(bar), std::nullopt, at, 1, {1, 4}, true, style});
        } else {
            all.push_back({chord(bar.substr(0, plus)), std::nullopt, at, {1, 2}, {1, 4}, true, style});
            all.push_back(
                {chord(bar.substr(plus + 1)), std::nullopt, at + Time(1, 2), {1, 2}, {1, 4}, true, style});
        }
        at += 1;
    }
    return all;
}

std::vector<std::string> changes() {
    return {"Fmaj7", "D7", "Gm7", "C7", "F7", "Bbmaj7+Bbm6", "Am7+D7", "Gm7+C7", "F6", "%", "Cm7", "F7/A"};
}

const BassNote* note_at(const std::vector<BassNote>& line, Time at) {
    const auto found =
        std::find_if(line.begin(), line.end(), [&](const BassNote& note) { return note.at == at; });
    return found == line.end() ? nullptr : &*found;
}

}  // namespace

TEST_CASE("Every style reaches the bass note on every change, in register, without overlaps", "[voicing]") {
    CHECK(bass_range().low == 28);   // E1
    CHECK(bass_range().high == 50);  // D3
    for (const char* style : {"walking", "two", "bossa", "samba", "latin", "even", "funk", "odd", "hold"}) {
        INFO(style);
        const auto row = spans(changes(), style);
        const auto line = bass_line(row);
        for (const auto& span : row) {
            if (!span.begins) continue;
            const auto* note = note_at(line, span.at);
            REQUIRE(note != nullptr);
            CHECK(note->key % 12 == theory::pitch_class(bass_of(span.chord)));
        }
        for (std::size_t i = 0; i < line.size(); ++i) {
            CHECK(line[i].key >= bass_range().low);
            CHECK(line[i].key <= bass_range().high);
            CHECK(line[i].length > Time(0));
            if (i > 0) CHECK(line[i - 1].at + line[i - 1].length <= line[i].at);
        }
    }
}

TEST_CASE("A walking line has a note on every quarter and moves well", "[voicing]") {
    const auto line = bass_line(spans(changes(), "walking"));
    CHECK(line.size() == 48);
    int leaps = 0;
    for (std::size_t i = 1; i < line.size(); ++i) {
        const int gap = std::abs(line[i].key - line[i - 1].key);
        INFO(i << ": " << line[i - 1].key << " -> " << line[i].key);
        CHECK(gap > 0);    // no note twice
        CHECK(gap <= 12);  // no leap beyond an octave
        leaps += gap > 7 ? 1 : 0;
    }
    CHECK(leaps <= 4);
}

TEST_CASE("Two-feel plays halves, a bossa its root and fifth", "[voicing]") {
    const auto two = bass_line(spans({"Dm7", "G7", "Cmaj7", "%"}, "two"));
    CHECK(two.size() >= 8);
    CHECK(two.size() <= 12);
    const auto bossa = bass_line(spans({"Dm7", "G7"}, "bossa"));
    REQUIRE(bossa.size() >= 6);
    CHECK(bossa[0].length == Time(3, 8));
    CHECK(bossa[1].at == Time(3, 8));
    CHECK((bossa[1].key - bossa[0].key == 7 || bossa[1].key - bossa[0].key == -5));
}

TEST_CASE("Approach notes lie a half step from the root that they lead to", "[voicing]") {
    // A walking line over slow changes must contain some, and none may miss its root (common practice).
    const auto row = spans({"Cmaj7", "A7", "Dm7", "G7", "Cmaj7", "A7", "Dm7", "G7"}, "walking");
    const auto line = bass_line(row);
    int arrivals = 0;
    for (std::size_t bar = 1; bar < 8; ++bar) {
        const auto* before = note_at(line, Time(static_cast<std::int64_t>(bar)) - Time(1, 4));
        const auto* root = note_at(line, Time(static_cast<std::int64_t>(bar)));
        REQUIRE(before != nullptr);
        REQUIRE(root != nullptr);
        if (std::abs(before->key - root->key) <= 2) ++arrivals;
    }
    CHECK(arrivals >= 4);
}

TEST_CASE("Words of a cell over a chord", "[voicing]") {
    const theory::Key c_major{};
    const struct {
        const char* chord;
        const char* word;
        int semitones;
    } rows[] = {
        {"Cmaj7", "1", 0}, {"Cmaj7", "3", 4}, {"Cmaj7", "5", 7},  {"Cmaj7", "7", 11}, {"Cmaj7", "8", 12},
        {"Dm7", "3", 3},   {"Dm7", "-7", -2}, {"Dm7", "2", 2},    {"Dm7", "6", 9},    {"Em7", "2", 1},
        {"Bm7b5", "5", 6}, {"Bm7b5", "2", 1}, {"G7sus4", "3", 5}, {"C6", "6", 9},     {"C6", "7", 11},
        {"G7b9", "2", 2},  {"C/E", "1", 0},   {"C/E", "3", 3},    {"C/E", "5", 8},    {"F7", "7", 10},
        {"Caug", "5", 8},  {"Bdim7", "7", 9}, {"C5", "5", 7},     {"C/E", "-5", -4},
    };
    for (const auto& row : rows) {
        INFO(row.chord << " " << row.word);
        const auto step = bass_step(chord(row.chord), c_major, row.word);
        REQUIRE(step);
        CHECK(*step == row.semitones);
    }
    CHECK_FALSE(bass_step(chord("C/E"), c_major, "6"));
    CHECK_FALSE(bass_step(chord("C"), c_major, "9"));
    CHECK_FALSE(bass_step(chord("C"), c_major, "x"));
}

TEST_CASE("Silence where there is no chord; odd lengths are covered", "[voicing]") {
    auto row = spans({"Dm7", "N.C.", "G7"}, "walking");
    const auto line = bass_line(row);
    CHECK(std::none_of(line.begin(), line.end(),
                       [](const BassNote& note) { return note.at >= Time(1) && note.at < Time(2); }));
    // Seven quarters and a half, in walking: a bar of four, three, and what is left.
    const std::vector<BassSpan> odd{{chord("Dm7"), std::nullopt, 0, {15, 8}, {1, 4}, true, "walking"}};
    const auto notes = bass_line(odd);
    REQUIRE(notes.size() == 8);
    CHECK(notes.back().at + notes.back().length == Time(15, 8));
}
