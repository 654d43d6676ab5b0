#include "voicing/guide_line.h"

#include <algorithm>
#include <cstdlib>
#include <iterator>
#include <utility>

#include "base/shared_lattice.h"

namespace relead::voicing {

namespace {

/// Nodes that the search may grow to before it pins a joint; some 100 bytes each.
constexpr std::size_t node_limit = 1U << 18;

int sound(const GuideTone& tone) {
    return theory::midi_number(tone.pitch);
}

/// Twice the distance between the middle of a pair and the middle of the register.
int off_centre(const GuidePair& pair, const Register& where) {
    return std::abs(sound(pair.lower) + sound(pair.upper) - where.low - where.high);
}

/// Sounding places of one degree inside the register, lowest first.
std::vector<GuideTone> places_of(const theory::Chord& chord, theory::Degree degree, const Register& where) {
    std::vector<GuideTone> places;
    const auto name = theory::tone(chord, degree);
    for (int octave = 0; octave <= 10; ++octave) {
        const GuideTone tone{degree, theory::pitch_from(name, octave)};
        if (sound(tone) >= where.low && sound(tone) <= where.high) places.push_back(tone);
    }
    return places;
}

class Line {
public:
    Line(const ChordWalk& walk, const GuideLineWeights& weights) : walk_(walk), weights_(weights) {
        for (const auto& chord : walk.chords) places_.push_back(guide_places(chord, weights));
    }

    GuideLine run() {
        GuideLine line;
        line.pairs.resize(walk_.chords.size());
        if (walk_.chords.empty()) return line;
        const auto lattice = build();
        const auto graph = unroll(lattice, node_limit);
        line.exact = graph.pinned.empty();
        const auto path = best_path(graph.graph);
        if (!path) return line;  // cannot be: every pair may follow every other
        line.cost = path->cost.cost;
        for (const auto& choice : choices_of(graph, *path)) {
            const auto& run = walk_.runs[static_cast<std::size_t>(choice.segment)];
            const auto& meaning =
                meanings_[static_cast<std::size_t>(choice.segment)][static_cast<std::size_t>(choice.edge)];
            const auto chord = static_cast<std::size_t>(run.first + meaning.first);
            if (meaning.second >= 0)
                line.pairs[chord] = places_[chord][static_cast<std::size_t>(meaning.second)];
        }
        return line;
    }

private:
    using Meaning = std::pair<int, int>;  // chord of its run, place; -1 = no chord

    [[nodiscard]] SearchCost own_cost(const GuidePair& pair) const {
        const int off = off_centre(pair, weights_.where);
        const int height = sound(pair.lower) + sound(pair.upper) - 2 * weights_.where.low;
        const auto tie = (std::int64_t{off} << 12) + height;
        return {std::int64_t{weights_.drift} * std::max(0, off - 2 * weights_.free), tie};
    }
    [[nodiscard]] SearchCost move_cost(int exit, int entry) const {
        const auto& from = classes_[static_cast<std::size_t>(exit)];
        const auto& to = classes_[static_cast<std::size_t>(entry)];
        if (!from || !to) return {};
        const int low = to->first - from->first;
        const int high = to->second - from->second;
        return {std::int64_t{weights_.motion} * (std::abs(low) + std::abs(high)),
                std::int64_t{low * low + high * high} << 32};
    }
    /// Pairs that sound alike are one class.
    int class_of(std::optional<std::pair<int, int>> sounds) {
        const auto known = std::find(classes_.begin(), classes_.end(), sounds) - classes_.begin();
        if (known == std::ssize(classes_)) classes_.push_back(sounds);
        return static_cast<int>(known);
    }
    SharedLattice build() {
        SharedLattice lattice;
        meanings_.resize(walk_.runs.size());
        for (std::size_t r = 0; r < walk_.runs.size(); ++r) {
            const auto& run = walk_.runs[r];
            LatticeSegment segment;
            segment.nodes = run.last - run.first + 1;
            segment.plays = run.plays;
            for (int at = 0; at + 1 < segment.nodes; ++at) add_edges(run.first, at, segment, meanings_[r]);
            lattice.segments.push_back(std::move(segment));
        }
        for (const auto& joint : walk_.joints) lattice.joints.push_back({joint.from, joint.to, joint.times});
        lattice.pair = [this](int exit, int entry) { return std::optional(move_cost(exit, entry)); };
        return lattice;
    }
    void add_edges(int first, int at, LatticeSegment& segment, std::vector<Meaning>& meanings) {
        const auto& places = places_[static_cast<std::size_t>(first + at)];
        if (places.empty()) {
            const int none = class_of(std::nullopt);
            segment.edges.push_back({at, at + 1, {}, none, none, 0, true});
            meanings.emplace_back(at, -1);
            return;
        }
        const auto middle =
            std::min_element(places.begin(), places.end(), [&](const GuidePair& a, const GuidePair& b) {
                return off_centre(a, weights_.where) < off_centre(b, weights_.where);
            });
        for (auto place = places.begin(); place != places.end(); ++place) {
            const int kind = class_of(std::pair(sound(place->lower), sound(place->upper)));
            segment.edges.push_back({at, at + 1, own_cost(*place), kind, kind, 0, place == middle});
            meanings.emplace_back(at, static_cast<int>(place - places.begin()));
        }
    }

    const ChordWalk& walk_;
    const GuideLineWeights& weights_;
    std::vector<std::vector<GuidePair>> places_;  // per chord
    std::vector<std::vector<Meaning>> meanings_;  // per segment and edge
    std::vector<std::optional<std::pair<int, int>>> classes_;
};

}  // namespace

std::vector<GuidePair> guide_places(const theory::Chord& chord, const GuideLineWeights& weights) {
    std::vector<GuidePair> pairs;
    for (const auto& choice : theory::guide_tone_choices(chord)) {
        const auto thirds = places_of(chord, choice.third, weights.where);
        const auto sevenths = places_of(chord, choice.seventh, weights.where);
        for (const auto& third : thirds) {
            for (const auto& seventh : sevenths) {
                const int apart = sound(seventh) - sound(third);
                if (apart == 0 || std::abs(apart) > weights.widest) continue;
                pairs.push_back(apart > 0 ? GuidePair{third, seventh} : GuidePair{seventh, third});
            }
        }
    }
    std::stable_sort(pairs.begin(), pairs.end(), [](const GuidePair& a, const GuidePair& b) {
        return std::pair(sound(a.lower), sound(a.upper)) < std::pair(sound(b.lower), sound(b.upper));
    });
    return pairs;
}

int semitones_between(const GuidePair& from, const GuidePair& to) {
    return std::abs(sound(to.lower) - sound(from.lower)) + std::abs(sound(to.upper) - sound(from.upper));
}

GuideLine guide_line(const ChordWalk& walk, const GuideLineWeights& weights) {
    return Line(walk, weights).run();
}

}  // namespace relead::voicing
