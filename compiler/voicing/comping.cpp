#include "voicing/comping.h"

#include <algorithm>
#include <cstdlib>

#include "theory/chord_table.h"
#include "theory/instrument.h"
#include "voicing/choose.h"
#include "voicing/colours.h"
#include "voicing/tables/comping_voicings.h"
#include "voicing/tables/interval_limits.h"

namespace relead::voicing {
namespace {

using theory::Degree;

constexpr std::size_t most_candidates = 24;
constexpr int missing_tension = 3;  // a stated colour that the shape leaves out
constexpr int top_leap = 5;         // from here on the top voice, which the ear follows, counts twice
constexpr int voice_more_or_less = 3;
constexpr int middle_c = 60;
constexpr int third = 3;

bool too_low(const std::vector<int>& keys) {
    for (std::size_t i = 1; i < keys.size(); ++i)
        if (keys[i - 1] < lowest_for_interval(keys[i] - keys[i - 1])) return true;
    return false;
}

/// A minor ninth, or its octaves, that is not root and b9 of a dominant.
bool harsh(const Voicing& voicing, const theory::Chord& chord) {
    const bool dominant = theory::chord_class(chord) == theory::ChordClass::dominant ||
                          theory::chord_class(chord) == theory::ChordClass::suspended;
    for (std::size_t low = 0; low < voicing.keys.size(); ++low)
        for (std::size_t high = low + 1; high < voicing.keys.size(); ++high) {
            const int gap = voicing.keys[high] - voicing.keys[low];
            if (gap < 13 || gap % 12 != 1) continue;
            if (dominant && voicing.degrees[low].number == 1 && voicing.degrees[high] == Degree{9, -1})
                continue;
            return true;
        }
    return false;
}

/// Puts the degrees on top of each other, the lowest at or above `bottom`.
Voicing stack(const theory::Chord& chord, const std::vector<Degree>& degrees, int bottom) {
    Voicing voicing;
    int floor = bottom;
    for (const auto degree : degrees) {
        const int key = floor + theory::semitones_up(floor, theory::pitch_class(theory::tone(chord, degree)));
        voicing.keys.push_back(key);
        voicing.degrees.push_back(degree);
        floor = key + 1;
    }
    return voicing;
}

bool doubled(const std::vector<Degree>& degrees, bool allowed) {
    for (std::size_t i = 0; i < degrees.size(); ++i)
        for (std::size_t j = i + 1; j < degrees.size(); ++j)
            if (!allowed &&
                theory::semitones_above_root(degrees[i]) == theory::semitones_above_root(degrees[j]))
                return true;
    return false;
}

/// Every way to fill the roles: 7alt has two ninths.
std::vector<std::vector<Degree>> fill(const Colours& colours, std::span<const int> roles) {
    std::vector<std::vector<Degree>> filled{{}};
    for (const int role : roles) {
        std::vector<std::vector<Degree>> longer;
        for (const auto& begun : filled)
            for (const auto degree : colours.of(role)) {
                longer.push_back(begun);
                longer.back().push_back(degree);
            }
        filled = std::move(longer);
    }
    return filled;
}

class Candidates {
public:
    Candidates(const ChordToVoice& chord, CompingRange range)
        : chord_(chord.chord), colours_(chord), range_(range) {}

    void add_shapes() {
        const auto family = comping_family(chord_);
        for (const auto& row : tables::comping_voicing_rows) {
            if (row.family != family) continue;
            for (const auto& degrees : fill(colours_, row.tones))
                add(degrees, row.cost + missing_tension * colours_.missing(degrees),
                    family == CompingFamily::power);
        }
    }

    /// The upper triad in its inversions over the guide tones.
    void add_upper_structure() {
        auto triad = colours_.upper_structure();
        for (std::size_t turn = 0; turn < triad.size(); ++turn) {
            for (const bool third_below : {true, false}) {
                auto degrees = colours_.of(third_below ? 3 : 7);
                const auto second = colours_.of(third_below ? 7 : 3);
                degrees.insert(degrees.end(), second.begin(), second.end());
                std::erase_if(degrees, [&](Degree d) { return sounds_in(d, triad); });
                degrees.insert(degrees.end(), triad.begin(), triad.end());
                add(degrees, 0, false);
            }
            std::rotate(triad.begin(), triad.begin() + 1, triad.end());
        }
    }

    /// What no table row covers: all tones of the chord, three or four of them, from each one upwards.
    void add_plain() {
        auto degrees = theory::degrees(chord_);
        if (degrees.size() > 4) degrees.resize(4);
        for (std::size_t turn = 0; turn < degrees.size(); ++turn) {
            add(degrees, 4, false);
            std::rotate(degrees.begin(), degrees.begin() + 1, degrees.end());
        }
    }

    [[nodiscard]] bool empty() const { return found_.empty(); }
    [[nodiscard]] std::vector<Voicing> take() {
        std::stable_sort(found_.begin(), found_.end(),
                         [](const Voicing& a, const Voicing& b) { return a.cost < b.cost; });
        if (found_.size() > most_candidates) found_.resize(most_candidates);
        return std::move(found_);
    }

private:
    static bool sounds_in(Degree degree, const std::vector<Degree>& others) {
        return std::any_of(others.begin(), others.end(), [&](Degree other) {
            return theory::semitones_above_root(other) == theory::semitones_above_root(degree);
        });
    }

    void add(const std::vector<Degree>& degrees, int cost, bool may_double) {
        if (degrees.empty() || doubled(degrees, may_double)) return;
        for (int bottom = range_.low; bottom <= range_.low + 12; bottom += 12) {
            auto voicing = stack(chord_, degrees, bottom);
            if (voicing.keys.back() > range_.high || too_low(voicing.keys) || harsh(voicing, chord_))
                continue;
            voicing.cost = cost;
            found_.push_back(std::move(voicing));
        }
    }

    const theory::Chord& chord_;
    Colours colours_;
    CompingRange range_;
    std::vector<Voicing> found_;
};

int nearest(int key, const std::vector<int>& others) {
    int best = 127;
    for (const int other : others) best = std::min(best, std::abs(key - other));
    return best;
}

}  // namespace

CompingRange comping_range() {
    const auto* piano = theory::find_instrument("piano");
    return {piano->low_comfortable, piano->high_comfortable};
}

int lowest_for_interval(int semitones) {
    for (const auto& row : tables::interval_limit_rows)
        if (row.semitones == semitones) return row.lowest;
    return 0;
}

std::vector<Voicing> comping_voicings(const ChordToVoice& chord, CompingRange range) {
    if (chord.chord.is_none()) return {};
    Candidates candidates(chord, range);
    if (chord.chord.upper) candidates.add_upper_structure();
    if (candidates.empty()) candidates.add_shapes();
    if (candidates.empty()) candidates.add_plain();
    return candidates.take();
}

int movement(const Voicing& from, const Voicing& to) {
    int sum = 0;
    if (from.keys.size() == to.keys.size()) {
        for (std::size_t i = 0; i < from.keys.size(); ++i) sum += std::abs(from.keys[i] - to.keys[i]);
        return sum;
    }
    const bool grows = to.keys.size() > from.keys.size();
    for (const int key : grows ? to.keys : from.keys) sum += nearest(key, grows ? from.keys : to.keys);
    return sum;
}

int standing_cost(const Voicing& voicing) {
    if (voicing.keys.empty()) return 0;
    const int middle = (voicing.keys.front() + voicing.keys.back()) / 2;
    return voicing.cost + std::max(std::abs(middle - middle_c) - third, 0);
}

int leading_cost(const Voicing& from, const Voicing& to) {
    if (from.keys.empty() || to.keys.empty()) return 0;
    const int top = std::abs(from.keys.back() - to.keys.back());
    const auto sizes = static_cast<int>(from.keys.size()) - static_cast<int>(to.keys.size());
    return movement(from, to) + (top >= top_leap ? top : 0) + voice_more_or_less * std::abs(sizes);
}

std::vector<Voicing> comping(std::span<const ChordToVoice> chords) {
    const auto range = comping_range();
    std::vector<Voicing> voicings(chords.size());
    std::vector<std::size_t> sounding;
    std::vector<std::vector<Voicing>> candidates;
    std::vector<std::size_t> counts;
    for (std::size_t i = 0; i < chords.size(); ++i) {
        auto found = comping_voicings(chords[i], range);
        if (found.empty()) continue;
        sounding.push_back(i);
        counts.push_back(found.size());
        candidates.push_back(std::move(found));
    }
    const auto chosen = choose_cheapest(
        counts, {[&](std::size_t step, std::size_t one) {
                     return std::int64_t{standing_cost(candidates[step][one])};
                 },
                 [&](std::size_t step, std::size_t one, std::size_t next) {
                     return std::int64_t{leading_cost(candidates[step][one], candidates[step + 1][next])};
                 }});
    for (std::size_t step = 0; step < chosen.size(); ++step)
        voicings[sounding[step]] = candidates[step][chosen[step]];
    return voicings;
}

}  // namespace relead::voicing
