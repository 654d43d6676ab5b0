#include "reharm/describe.h"

#include <algorithm>

#include "reharm/guard.h"
#include "reharm/takes.h"
#include "reharm/where_it_goes.h"
#include "tune/spot.h"

namespace relead::reharm {
namespace {

const theory::Chord* first_chord(const rules::Chart& chart, const std::vector<int>& spots) {
    return spots.empty() ? nullptr : &chart.at(spots.front()).chord;
}

/// What of a placement a reader is shown: where its chords at the ends sound as written they are no change. A
/// chord that is kept over several bars is shown from the bar on where it does not last as written.
struct Shown {
    int begin = 0, end = 0;               ///< written spots
    std::vector<rules::NewChord> chords;  ///< with the time that they take in these
    std::size_t first = 0;                ///< of the placement's chords
};

Shown shown(const rules::Chart& chart, const rules::Placement& placement) {
    Shown part{placement.begin, placement.end, placement.chords, 0};
    const auto goes_on = [&](const rules::NewChord& chord, int spot) {
        return chord.kept_from && chord.chord == chart.at(spot).chord &&
               chord.length >= chart.at(spot).length;
    };
    const auto has_more = [&](const rules::NewChord& chord, int spot) {
        return part.end - part.begin > 1 && (part.chords.size() > 1 || chord.length > chart.at(spot).length);
    };
    while (goes_on(part.chords.front(), part.begin) && has_more(part.chords.front(), part.begin)) {
        auto& chord = part.chords.front();
        chord.length -= chart.at(part.begin++).length;
        if (chord.length > 0) continue;
        part.chords.erase(part.chords.begin());
        ++part.first;
    }
    while (goes_on(part.chords.back(), part.end - 1) && has_more(part.chords.back(), part.end - 1)) {
        auto& chord = part.chords.back();
        chord.length -= chart.at(--part.end).length;
        if (chord.length == 0) part.chords.pop_back();
    }
    return part;
}

/// A fifth or a half step down, from root to root.
bool falls_to(const theory::Chord& from, const theory::Chord& to) {
    const int down = theory::semitones_up(to.root, from.root);
    return down == 7 || down == 1;
}

/// What the change leads to where that is not simply what follows: of a new dominant the chord that it falls
/// to, also inside the change; else of a dominant that stays or returns at its end, or comes right after it,
/// the chord that it serves.
std::optional<theory::Chord> goal_of(const rules::Chart& chart, const rules::Placement& placement,
                                     const Shown& part) {
    const auto& to = chart.at(part.end - 1);
    const auto& chords = part.chords;
    const auto& last = chords.back().chord;
    const auto is_dominant = [](const theory::Chord& chord) {
        return theory::chord_class(chord) == theory::ChordClass::dominant;
    };
    for (auto i = chords.size() - 1; i-- > 0;) {
        const auto& chord = chords[i];
        if (!chord.kept_from && is_dominant(chord.chord) && falls_to(chord.chord, chords[i + 1].chord) &&
            (i + 2 == chords.size() || chords[i + 1].kept_from))
            return chords[i + 1].chord;
    }
    if (is_dominant(to.chord) && last.root == to.chord.root) return to.leads_to;
    if (part.end == placement.end) return std::nullopt;
    const auto& next = chart.at(part.end);
    if (is_dominant(last) && falls_to(last, next.chord)) return next.chord;
    return is_dominant(next.chord) ? next.leads_to : std::nullopt;
}

Change describe(const Situation& situation, const rules::Chart& made, int start, const Judged& judged) {
    const auto& placement = judged.placement;
    const auto& chart = situation.chart;
    const auto part = shown(chart, placement);
    const auto& from = chart.at(part.begin);
    const auto& to = chart.at(part.end - 1);
    const auto& chords = part.chords;
    const int first = start + static_cast<int>(part.first);
    const int last = first + static_cast<int>(chords.size()) - 1;
    const auto& rule = situation.rules.rules[static_cast<std::size_t>(placement.leading().rule)];
    Change change;
    change.first = from.ref;
    change.last = to.ref;
    change.place = tune::place_of(situation.tune, from.ref);
    if (change.place.beat == 1) change.place.beat = 0;
    for (int i = part.begin; i < part.end; ++i) change.old_chords.push_back(chart.at(i).chord);
    for (const auto& chord : chords) {
        change.new_chords.push_back(chord.chord);
        change.new_beats.push_back(chord.length / from.beat_length);
    }
    const auto* previous = first_chord(made, made.at(first).previous);
    const auto* next = first_chord(made, made.at(last).next);
    const auto* old_next = first_chord(chart, to.next);
    if (previous) change.previous = *previous;
    if (next) change.next = *next;
    change.goal = goal_of(chart, placement, part);
    if (old_next) change.old_motion = motions_between(to.chord, *old_next);
    if (next) change.new_motion = arrival(situation.rules, chords.back(), *next);
    change.rule = rule.name;
    change.title = rule.title;
    change.family = rule.family;
    change.source = rule.source;
    for (const auto& applied : placement.derivation)
        change.derivation.push_back(situation.rules.rules[static_cast<std::size_t>(applied.rule)].name);
    const int end = start + static_cast<int>(placement.chords.size()) - 1;
    const Neighbours around{first_chord(made, made.at(start).previous), first_chord(made, made.at(end).next)};
    change.reason = reason_for(situation, placement, around);
    change.outside = judged.outside;
    change.terms = judged.verdict.terms;
    change.cost = judged.verdict.cost;
    change.melody = judged.verdict.melody;
    change.sounding = judged.verdict.sounding;
    change.taken = is_taken(situation, placement);
    return change;
}

}  // namespace

std::vector<Change> describe_changes(const Situation& situation, const rules::MadeChart& made,
                                     const std::vector<Judged>& version) {
    std::vector<Change> changes;
    for (std::size_t i = 0; i < version.size(); ++i) {
        const auto& owners = made.placement_of;
        const auto first = std::find(owners.begin(), owners.end(), static_cast<int>(i)) - owners.begin();
        changes.push_back(describe(situation, made.chart, static_cast<int>(first), version[i]));
    }
    return changes;
}

}  // namespace relead::reharm
