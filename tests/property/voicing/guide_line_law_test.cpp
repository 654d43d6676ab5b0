// The guide-tone line against trying every line there is, over thousands of small walks, and its laws: voices
// never cross, stay in their register, and follow a transposition.
#include <array>
#include <cstdlib>
#include <limits>
#include <random>

#include "support/catch.h"
#include "voicing/guide_line.h"

using namespace relead;
using voicing::ChordWalk;
using voicing::GuideLineWeights;
using voicing::GuidePair;

namespace {

using Random = std::mt19937;

int below(Random& random, int limit) {
    return static_cast<int>(random() % static_cast<unsigned>(limit));
}

theory::Chord random_chord(Random& random) {
    static constexpr std::array roots{"C", "Db", "D", "Eb", "E", "F", "F#", "Gb", "G", "Ab", "A", "Bb", "B"};
    static constexpr std::array kinds{"maj7", "7", "m7",    "m7b5", "dim7", "6",      "m6",
                                      "",     "m", "7sus4", "sus4", "7alt", "maj7#5", "5"};
    if (below(random, 14) == 0) return *theory::parse_chord("N.C.").chord;
    std::string word = roots[static_cast<std::size_t>(below(random, roots.size()))];
    word += kinds[static_cast<std::size_t>(below(random, kinds.size()))];
    const auto reading = theory::parse_chord(word);
    INFO(word);
    REQUIRE(reading.chord);
    return *reading.chord;
}

/// One to three runs of one to three chords, five chords at most, with plays and joints of any kind.
ChordWalk random_walk(Random& random) {
    ChordWalk walk;
    const int count = 2 + below(random, 4);
    for (int i = 0; i < count; ++i) {
        walk.chords.push_back(random_chord(random));
        walk.refs.push_back({0, 0, i});
        walk.chorus.push_back(i);
        if (i == 0 || (walk.runs.size() < 3 && below(random, 3) == 0))
            walk.runs.push_back({i, i, 1 + below(random, 3)});
        walk.runs.back().last = i + 1;
    }
    const int runs = static_cast<int>(walk.runs.size());
    for (int from = 0; from < runs; ++from) {
        for (int to = 0; to < runs; ++to) {
            if (below(random, 2) == 0) walk.joints.push_back({from, to, 1 + below(random, 3)});
        }
    }
    return walk;
}

struct Place {
    int low = 0, high = 0;
};

/// All places of a chord's guide tones by pitch class alone.
std::vector<Place> all_places(const theory::Chord& chord, const GuideLineWeights& weights) {
    std::vector<Place> places;
    for (const auto& choice : theory::guide_tone_choices(chord)) {
        const int third = theory::pitch_class(theory::tone(chord, choice.third));
        const int seventh = theory::pitch_class(theory::tone(chord, choice.seventh));
        for (int low = weights.where.low; low <= weights.where.high; ++low) {
            for (int high = low + 1; high <= std::min(weights.where.high, low + weights.widest); ++high) {
                const bool up = low % 12 == third && high % 12 == seventh;
                const bool down = low % 12 == seventh && high % 12 == third;
                if (up || down) places.push_back({low, high});
            }
        }
    }
    return places;
}

/// Tries every line; no bound, no memory.
class Trial {
public:
    Trial(const ChordWalk& walk, const GuideLineWeights& weights) : walk_(walk), weights_(weights) {
        for (const auto& chord : walk.chords) {
            places_.push_back(all_places(chord, weights));
            if (places_.back().empty()) places_.back().push_back({});  // N.C.
        }
        chosen_.resize(walk.chords.size());
    }
    long least() {
        choose(0);
        return least_;
    }

private:
    [[nodiscard]] const Place& at(int chord) const { return *chosen_[static_cast<std::size_t>(chord)]; }
    [[nodiscard]] long move(int from, int to) const {
        if (at(from).high == 0 || at(to).high == 0) return 0;
        return long{weights_.motion} *
               (std::abs(at(from).low - at(to).low) + std::abs(at(from).high - at(to).high));
    }
    [[nodiscard]] long cost() const {
        long sum = 0;
        for (const auto& run : walk_.runs) {
            for (int i = run.first; i < run.last; ++i) {
                const int middle = at(i).low + at(i).high - weights_.where.low - weights_.where.high;
                const int beyond = std::max(0, std::abs(middle) - 2 * weights_.free);
                if (at(i).high != 0) sum += long{run.plays} * weights_.drift * beyond;
                if (i > run.first) sum += run.plays * move(i - 1, i);
            }
        }
        for (const auto& joint : walk_.joints) {
            const auto& from = walk_.runs[static_cast<std::size_t>(joint.from)];
            const auto& to = walk_.runs[static_cast<std::size_t>(joint.to)];
            sum += joint.times * move(from.last - 1, to.first);
        }
        return sum;
    }
    void choose(std::size_t chord) {
        if (chord == chosen_.size()) {
            least_ = std::min(least_, cost());
            return;
        }
        for (const auto& place : places_[chord]) {
            chosen_[chord] = &place;
            choose(chord + 1);
        }
    }

    const ChordWalk& walk_;
    const GuideLineWeights& weights_;
    std::vector<std::vector<Place>> places_;
    std::vector<const Place*> chosen_;
    long least_ = std::numeric_limits<long>::max();
};

int low(const GuidePair& pair) {
    return theory::midi_number(pair.lower.pitch);
}
int high(const GuidePair& pair) {
    return theory::midi_number(pair.upper.pitch);
}

/// The line that takes the nearest place of each chord in turn.
long greedy(const ChordWalk& walk, const GuideLineWeights& weights) {
    std::optional<Place> last;
    long sum = 0;
    for (const auto& chord : walk.chords) {
        const auto places = all_places(chord, weights);
        if (places.empty()) {
            last.reset();
            continue;
        }
        long best = std::numeric_limits<long>::max();
        Place taken;
        for (const auto& place : places) {
            const int middle = place.low + place.high - weights.where.low - weights.where.high;
            long cost = long{weights.drift} * std::max(0, std::abs(middle) - 2 * weights.free);
            if (last)
                cost += long{weights.motion} *
                        (std::abs(last->low - place.low) + std::abs(last->high - place.high));
            if (cost >= best) continue;
            best = cost;
            taken = place;
        }
        last = taken;
        sum += best;
    }
    return sum;
}

}  // namespace

TEST_CASE("no other line costs less: 4,000 small walks with shared runs against trying everything") {
    const auto weights = voicing::guide_line_weights();
    for (unsigned seed = 1; seed <= 4000; ++seed) {
        Random random(seed);
        const auto walk = random_walk(random);
        const auto line = voicing::guide_line(walk, weights);
        INFO("seed " << seed);
        REQUIRE(line.exact);
        REQUIRE(line.cost == Trial(walk, weights).least());
    }
}

TEST_CASE("taking the nearest place chord by chord is often worse, so the walks are not too easy") {
    const auto weights = voicing::guide_line_weights();
    int worse = 0;
    for (unsigned seed = 1; seed <= 1000; ++seed) {
        Random random(seed);
        std::vector<theory::Chord> chords;
        for (int i = 0; i < 12; ++i) chords.push_back(random_chord(random));
        const auto walk = voicing::walk_chords(chords);
        const long exact = voicing::guide_line(walk, weights).cost;
        const long nearest = greedy(walk, weights);
        INFO("seed " << seed);
        REQUIRE(exact <= nearest);
        worse += exact < nearest ? 1 : 0;
    }
    CHECK(worse >= 200);
}

TEST_CASE("the line stays in its register, its voices never cross, every tone is a guide tone of its chord") {
    auto weights = voicing::guide_line_weights();
    for (unsigned seed = 1; seed <= 1000; ++seed) {
        Random random(seed);
        weights.where.low = 40 + below(random, 12);
        weights.where.high = weights.where.low + 18 + below(random, 12);
        std::vector<theory::Chord> chords;
        const int count = 1 + below(random, 40);
        for (int i = 0; i < count; ++i) chords.push_back(random_chord(random));
        const auto line = voicing::guide_line(voicing::walk_chords(chords, true), weights);
        INFO("seed " << seed);
        REQUIRE(line.pairs.size() == chords.size());
        for (std::size_t i = 0; i < chords.size(); ++i) {
            REQUIRE(line.pairs[i].has_value() != chords[i].is_none());
            if (!line.pairs[i]) continue;
            const auto& pair = *line.pairs[i];
            REQUIRE(low(pair) >= weights.where.low);
            REQUIRE(high(pair) <= weights.where.high);
            REQUIRE(low(pair) < high(pair));
            REQUIRE(high(pair) - low(pair) <= weights.widest);
            REQUIRE(theory::name_of(pair.lower.pitch) == theory::tone(chords[i], pair.lower.degree));
            REQUIRE(theory::name_of(pair.upper.pitch) == theory::tone(chords[i], pair.upper.degree));
        }
    }
}

TEST_CASE("chords and register moved by one interval: the line moves by it, name for name") {
    for (unsigned seed = 1; seed <= 1000; ++seed) {
        Random random(seed);
        const auto walk = random_walk(random);
        const int fifths = below(random, 13) - 6;
        const theory::Interval by{fifths, -(7 * fifths) / 12};
        auto moved = walk;
        for (auto& chord : moved.chords) chord = theory::transpose(chord, by);
        auto weights = voicing::guide_line_weights();
        const auto here = voicing::guide_line(walk, weights);
        weights.where.low += by.semitones();
        weights.where.high += by.semitones();
        const auto there = voicing::guide_line(moved, weights);
        INFO("seed " << seed << " by " << by.semitones());
        REQUIRE(here.cost == there.cost);
        for (std::size_t i = 0; i < walk.chords.size(); ++i) {
            REQUIRE(here.pairs[i].has_value() == there.pairs[i].has_value());
            if (!here.pairs[i]) continue;
            REQUIRE(here.pairs[i]->lower.pitch + by == there.pairs[i]->lower.pitch);
            REQUIRE(here.pairs[i]->upper.pitch + by == there.pairs[i]->upper.pitch);
        }
    }
}
