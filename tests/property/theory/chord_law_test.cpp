// compiler/theory: laws that hold for every chord and every key
#include <algorithm>
#include <cstdlib>

#include "property/theory/every_chord.h"
#include "theory/guide_motion.h"
#include "theory/instrument.h"

using namespace relead::theory;
using namespace relead::theory::test;

namespace {

// A small linear congruential generator: the same numbers on every machine.
class Dice {
public:
    explicit Dice(std::uint64_t seed) : state_(seed) {}
    std::size_t below(std::size_t limit) {
        state_ = state_ * 6364136223846793005ULL + 1442695040888963407ULL;
        return static_cast<std::size_t>((state_ >> 33) % limit);
    }

private:
    std::uint64_t state_;
};

// All twelve keys for a chord of the table, three for one with further degrees.
std::vector<Interval> transpositions(const Chord& of) {
    if (!of.extra.empty()) return {{5, 0}, {-7, 1}, {12, -7}};
    std::vector<Interval> out;
    for (int fifths = -12; fifths <= 12; ++fifths) out.push_back({fifths, 0});
    return out;
}

unsigned rotated(unsigned set, int by) {
    const auto up = static_cast<unsigned>(((by % 12) + 12) % 12);
    return ((set << up) | (set >> (12U - up))) & 0xFFFU;
}

}  // namespace

TEST_CASE("tones, pitch classes, guide tones and melody roles follow a transposition") {
    for (const Chord& of : every_chord_on_c()) {
        for (const Interval by : transpositions(of)) {
            const Chord moved = transpose(of, by);
            REQUIRE(transpose(moved, -by) == of);
            REQUIRE(pitch_class_set(moved) == rotated(pitch_class_set(of), by.semitones()));
            REQUIRE(degrees(moved) == degrees(of));
            for (int pitch = 0; pitch < 12; ++pitch)
                REQUIRE(role_of(moved, pitch + by.semitones()) == role_of(of, pitch));
        }
    }
}

TEST_CASE("guide-tone motion is the same in all keys and never longer than the other pairing") {
    const auto qualities = every_quality();
    for (const QualityId x_quality : qualities) {
        for (const QualityId y_quality : qualities) {
            for (int fifths = -6; fifths < 6; ++fifths) {
                Chord x, y;
                x.quality = x_quality;
                y.quality = y_quality;
                y.root = {fifths};
                const auto motion = guide_motion(x, y);
                REQUIRE(motion.has_value());
                const Interval by{5, 0};
                REQUIRE(guide_motion(transpose(x, by), transpose(y, by)) == motion);
                for (const auto& from : guide_tone_choices(x)) {
                    for (const auto& to : guide_tone_choices(y)) {
                        const auto way = [&](Degree a, Degree b) {
                            return std::abs(nearest_way(pitch_class(tone(x, a)), pitch_class(tone(y, b))));
                        };
                        REQUIRE(motion->sum() <= way(from.third, to.third) + way(from.seventh, to.seventh));
                        REQUIRE(motion->sum() <= way(from.third, to.seventh) + way(from.seventh, to.third));
                    }
                }
            }
        }
    }
}

TEST_CASE("practical spelling keeps the sound, is stable, and is readable") {
    for (const QualityId quality : every_quality()) {
        for (int tonic = -7; tonic <= 7; ++tonic) {
            const Key key{{tonic}, Mode::major};
            for (const NoteName root : every_root()) {
                Chord of;
                of.root = root;
                of.quality = quality;
                of.bass = root + interval_of_degree(3, 0);
                const Chord practical = practical_spelling(of, key);
                INFO(to_string(of) << " in " << to_string(key) << " as " << to_string(practical));
                REQUIRE(pitch_class_set(practical) == pitch_class_set(of));
                REQUIRE(practical_spelling(practical, key) == practical);
                REQUIRE(std::abs(alteration(practical.root)) <= 1);
                REQUIRE(std::abs(alteration(*practical.bass)) <= 1);
                const bool white = pitch_class(practical.root) == 0 || pitch_class(practical.root) == 4 ||
                                   pitch_class(practical.root) == 5 || pitch_class(practical.root) == 11;
                REQUIRE((!white || alteration(practical.root) == 0 || is_diatonic(practical.root, key)));
            }
        }
    }
}

TEST_CASE("a row of chords keeps its sound in practical spelling") {
    Dice dice(11);
    const auto qualities = every_quality();
    for (int round = 0; round < 2000; ++round) {
        std::vector<Chord> row(1 + dice.below(8));
        for (Chord& of : row) {
            of.root = {static_cast<int>(dice.below(25)) - 12};
            of.quality = qualities[dice.below(qualities.size())];
        }
        const Key key{{static_cast<int>(dice.below(13)) - 6}, Mode::major};
        const auto practical = practical_spelling(row, key);
        REQUIRE(practical.size() == row.size());
        for (std::size_t i = 0; i < row.size(); ++i) {
            INFO(to_string(row[i]) << " in " << to_string(key) << " as " << to_string(practical[i]));
            REQUIRE(pitch_class_set(practical[i]) == pitch_class_set(row[i]));
            REQUIRE(std::abs(alteration(practical[i].root)) <= 1);
        }
    }
}

TEST_CASE("part keys: at most six accidentals, and back to concert") {
    for (const auto& of : instruments()) {
        for (int tonic = -7; tonic <= 7; ++tonic) {
            const Key concert{{tonic}, Mode::major};
            const PartKey part = part_key(concert, of);
            INFO(of.id << " concert " << to_string(concert));
            REQUIRE(transpose(part.written, part.written_to_sounding) == concert);
            REQUIRE(part.written_to_sounding.semitones() == of.written_to_sounding.semitones());
            REQUIRE(std::abs(signature(part.written)) <= (of.written_to_sounding.fifths == 0 ? 7 : 6));
        }
    }
}

TEST_CASE("any bytes: a chord or a problem inside the word, and a suggestion that can be read") {
    Dice dice(7);
    const std::string_view pieces[] = {"C", "b", "#", "m",   "maj", "7",   "9",    "13", "(", ")",       ",",
                                       "/", "-", "+", "sus", "alt", "dim", "♭",    "△",  "ø", "°",       "{",
                                       "}", "D", " ", "add", "no",  "5",   "\xff", "x",  "h", "\xe2\x99"};
    for (int round = 0; round < 5000; ++round) {
        std::string word;
        for (std::size_t n = 1 + dice.below(9); n-- > 0;) word += pieces[dice.below(std::size(pieces))];
        const auto reading = parse_chord(word);
        INFO(word);
        REQUIRE(reading.chord.has_value() != reading.problem.has_value());
        if (reading.chord) {
            REQUIRE(parse_chord(to_string(*reading.chord)).chord == reading.chord);
            REQUIRE(parse_chord(to_string(*reading.chord, SymbolStyle::plain)).chord == reading.chord);
            continue;
        }
        REQUIRE(reading.problem->at <= word.size());
        const bool two_chords = reading.problem->kind == ChordProblem::Kind::two_chords_or_bass;
        if (!reading.problem->nearest.empty() && !two_chords)
            REQUIRE(parse_chord(reading.problem->nearest).chord.has_value());
        if (two_chords) REQUIRE(parse_chord(reading.problem->other).chord.has_value());
    }
}
