#include "reharm/kept_places.h"

#include <algorithm>
#include <optional>

namespace relead::reharm {
namespace {

using theory::ChordClass;

int above(theory::NoteName note, theory::NoteName root) {
    return (theory::pitch_class(note) - theory::pitch_class(root) + 12) % 12;
}
bool dominant_like(const theory::Chord& chord) {
    const auto kind = theory::chord_class(chord);
    return kind == ChordClass::dominant || kind == ChordClass::suspended ||
           theory::is_two_over_dominant(chord);
}
theory::NoteName root_of(const theory::Chord& chord) {
    return theory::is_two_over_dominant(chord) ? *chord.bass : chord.root;
}
bool at_home(const rules::Spot& spot, const theory::Key& home) {
    const auto kind = theory::chord_class(spot.chord);
    return !spot.chord.is_none() && above(spot.chord.root, home.tonic) == 0 &&
           kind != ChordClass::suspended && kind != ChordClass::diminished;
}

/// Bar 5 of a blues, where its IV7 is awaited.
bool blues_fifth_bar(const rules::Chart& chart, const rules::Spot& spot) {
    constexpr int bars_before = 4;
    return chart.home.mode == theory::Mode::blues && spot.in_chorus.from_start == bars_before &&
           spot.beat() == Beats(1);
}

/// Where in the chorus the tune comes home: the last home chord of the last four bars, said again or not.
/// Counted in playing order: a section that is played again at the end ends the tune too.
struct Homecoming {
    std::size_t first = 0, last = 0;
    bool arrives = false;  ///< not so where it has been home for longer
};

std::optional<Homecoming> homecoming(const rules::Chart& chart) {
    const Fraction most = 4;
    Fraction bars = 0;
    std::optional<Homecoming> home;
    for (auto i = chart.chorus.size(); i-- > 0;) {
        const auto& spot = chart.at(chart.chorus[i]);
        bars += spot.beats() / Fraction(std::max(1, spot.beats_in_bar));
        const bool here = at_home(spot, chart.home);
        if (home && !here) {
            home->arrives = true;
            return home;
        }
        if (bars > most) break;
        if (!here) continue;
        if (!home) home = Homecoming{i, i, false};
        home->first = i;
    }
    if (home) home->first = home->last;
    return home;
}

const theory::Chord* sounding(const rules::Chart& chart, const rules::Placement& placement, Time when,
                              bool up_to) {
    const auto start = chart.at(placement.begin).start;
    for (const auto& chord : placement.chords) {
        const auto from = start + chord.at, to = from + chord.length;
        if (up_to ? from < when && when <= to : from <= when && when < to) return &chord.chord;
    }
    return nullptr;
}

/// Whether the placement gives a written spot another function in the home key, as heard at `when`.
bool loses(const rules::Chart& chart, const rules::Placement& placement, int spot, Time when, bool up_to) {
    if (spot < placement.begin || spot >= placement.end) return false;
    const auto* now = sounding(chart, placement, when, up_to);
    return now != nullptr && !stands_for(chart.at(spot).chord, *now, chart.home);
}

}  // namespace

bool stands_for(const theory::Chord& old, const theory::Chord& now, const theory::Key& key) {
    const auto old_class = theory::chord_class(old), now_class = theory::chord_class(now);
    const int up = above(root_of(now), root_of(old));
    constexpr int tritone = 6, fourth = 5;
    const int degree = above(old.root, key.tonic);
    // I7 and IV7 of a blues are no dominants.
    if (key.mode == theory::Mode::blues && (degree == 0 || degree == fourth)) return up == 0;
    if (dominant_like(old))
        return (dominant_like(now) && (up == 0 || up == tritone)) ||
               (now_class == ChordClass::diminished && up % 3 == 1);
    if (old_class == now_class && up == 0) return true;
    constexpr int minor_third = 3, major_third = 4, major_sixth = 9;
    if (old_class == ChordClass::minor) return now_class == ChordClass::major && up == minor_third;
    if (old_class != ChordClass::major || now_class != ChordClass::minor) return false;
    return up == major_sixth || (up == major_third && degree == 0);
}

int places_lost(const rules::Chart& chart, const rules::Placement& placement) {
    int lost = 0;
    for (int i = placement.begin; i < placement.end; ++i) {
        const auto& spot = chart.at(i);
        // By the printed number, so that a first bar to which a repeat leads back is a start each time.
        const bool starts = spot.bar_number == 1 && spot.beat() == Beats(1);
        if (!starts && !blues_fifth_bar(chart, spot)) continue;
        const auto* now = sounding(chart, placement, spot.start, false);
        lost += now != nullptr && !stands_for(spot.chord, *now, spot.fact.local_key) ? 1 : 0;
    }
    const auto home = homecoming(chart);
    if (!home) return lost;
    for (auto at = home->first; at <= home->last; ++at) {
        const int spot = chart.chorus[at];
        lost += loses(chart, placement, spot, chart.at(spot).start, false) ? 1 : 0;
    }
    if (!home->arrives) return lost;
    const int leading = chart.chorus[home->first - 1];
    return lost + (loses(chart, placement, leading, chart.at(leading).end(), true) ? 1 : 0);
}

}  // namespace relead::reharm
