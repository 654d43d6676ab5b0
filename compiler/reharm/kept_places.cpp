#include "reharm/kept_places.h"

#include <algorithm>

namespace relead::reharm {
namespace {

using theory::ChordClass;

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
    return !spot.chord.is_none() && theory::semitones_up(home.tonic, spot.chord.root) == 0 &&
           kind != ChordClass::suspended && kind != ChordClass::diminished;
}

/// Bar 5 of a blues, where its IV7 is awaited.
bool blues_fifth_bar(const rules::Chart& chart, const rules::Spot& spot) {
    constexpr int bars_before = 4;
    return chart.home.mode == theory::Mode::blues && spot.in_chorus.from_start == bars_before &&
           spot.beat() == Beats(1);
}

bool same_root_and_class(const theory::Chord& old, const theory::Chord& now) {
    return theory::semitones_up(old.root, now.root) == 0 &&
           theory::chord_class(old) == theory::chord_class(now);
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

/// How the spots `order` end, one after the other.
LastCadence cadence_of(const rules::Chart& chart, const std::vector<int>& order) {
    const Fraction most = 4;
    Fraction bars = 0;
    LastCadence cadence;
    auto& homes = cadence.homes;
    for (auto i = order.size(); i-- > 0;) {
        const auto& spot = chart.at(order[i]);
        bars += spot.beats() / Fraction(std::max(1, spot.beats_in_bar));
        const bool here = at_home(spot, chart.home);
        if (!homes.empty() && !here) {
            cadence.leading = {order[i]};
            return cadence;
        }
        if (bars > most) break;
        if (here) homes.push_back(order[i]);
    }
    // Home for longer: nothing arrives, the last one is kept.
    if (!homes.empty()) homes.erase(homes.begin() + 1, homes.end());
    return cadence;
}

}  // namespace

bool stands_for(const theory::Chord& old, const theory::Chord& now, const theory::Key& key) {
    const auto old_class = theory::chord_class(old), now_class = theory::chord_class(now);
    const int up = theory::semitones_up(root_of(old), root_of(now));
    constexpr int tritone = 6, fourth = 5;
    const int degree = theory::semitones_up(key.tonic, old.root);
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

bool opens_section(const rules::Spot& spot) {
    return spot.bar_number == 1 && spot.beat() == Beats(1);
}

bool arrives_in_new_key(const rules::Chart& chart, int spot) {
    const auto& here = chart.at(spot);
    if (here.key == chart.home || !at_home(here, here.key)) return false;
    for (int before = spot - 1; before >= 0; --before) {
        const auto& earlier = chart.at(before);
        if (earlier.ref.section != here.ref.section || earlier.key != here.key) break;
        if (at_home(earlier, here.key)) return false;
    }
    return true;
}

LastCadence last_cadence(const rules::Chart& chart) {
    auto cadence = cadence_of(chart, chart.chorus);
    const auto last = cadence_of(chart, chart.last_chorus);
    cadence.homes.insert(cadence.homes.end(), last.homes.begin(), last.homes.end());
    cadence.leading.insert(cadence.leading.end(), last.leading.begin(), last.leading.end());
    const auto& order = chart.last_chorus.empty() ? chart.chorus : chart.last_chorus;
    if (!order.empty() && at_home(chart.at(order.back()), chart.home)) cadence.end = order.back();
    for (auto* spots : {&cadence.homes, &cadence.leading}) {
        std::sort(spots->begin(), spots->end());
        spots->erase(std::unique(spots->begin(), spots->end()), spots->end());
    }
    return cadence;
}

int places_lost(const rules::Chart& chart, const rules::Placement& placement) {
    int lost = 0;
    for (int i = placement.begin; i < placement.end; ++i) {
        const auto& spot = chart.at(i);
        const auto* now = sounding(chart, placement, spot.start, false);
        if (now == nullptr) continue;
        if (opens_section(spot) || blues_fifth_bar(chart, spot))
            lost += stands_for(spot.chord, *now, spot.fact.local_key) ? 0 : 1;
        if (arrives_in_new_key(chart, i)) lost += same_root_and_class(spot.chord, *now) ? 0 : 1;
    }
    const auto cadence = last_cadence(chart);
    for (const int home : cadence.homes)
        lost += loses(chart, placement, home, chart.at(home).start, false) ? 1 : 0;
    if (cadence.end >= 0)
        lost += loses(chart, placement, cadence.end, chart.at(cadence.end).end(), true) ? 1 : 0;
    for (const int leading : cadence.leading)
        lost += loses(chart, placement, leading, chart.at(leading).end(), true) ? 1 : 0;
    return lost;
}

}  // namespace relead::reharm
