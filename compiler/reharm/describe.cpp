#include "reharm/describe.h"

#include <algorithm>

#include "reharm/guard.h"
#include "reharm/reason.h"
#include "reharm/takes.h"
#include "tune/spot.h"

namespace relead::reharm {
namespace {

const theory::Chord* first_chord(const rules::Chart& chart, const std::vector<int>& spots) {
    return spots.empty() ? nullptr : &chart.at(spots.front()).chord;
}

Change describe(const Situation& situation, const rules::Chart& made, int first, int last,
                const Judged& judged) {
    const auto& placement = judged.placement;
    const auto& chart = situation.chart;
    const auto& from = chart.at(placement.begin);
    const auto& to = chart.at(placement.end - 1);
    const auto& rule = situation.rules.rules[static_cast<std::size_t>(placement.leading().rule)];
    Change change;
    change.first = from.ref;
    change.last = to.ref;
    change.place = tune::place_of(situation.tune, from.ref);
    if (change.place.beat == 1) change.place.beat = 0;
    for (int i = placement.begin; i < placement.end; ++i) change.old_chords.push_back(chart.at(i).chord);
    for (const auto& chord : placement.chords) {
        change.new_chords.push_back(chord.chord);
        change.new_beats.push_back(chord.length / from.beat_length);
    }
    const auto* previous = first_chord(made, made.at(first).previous);
    const auto* next = first_chord(made, made.at(last).next);
    const auto* old_next = first_chord(chart, to.next);
    if (previous) change.previous = *previous;
    if (next) change.next = *next;
    const bool dominant_stays = theory::chord_class(to.chord) == theory::ChordClass::dominant &&
                                placement.chords.back().chord.root == to.chord.root;
    if (dominant_stays) change.goal = to.leads_to;
    if (old_next) change.old_motion = motions_between(to.chord, *old_next);
    if (next) change.new_motion = arrival(situation.rules, placement.chords.back(), *next);
    change.rule = rule.name;
    change.title = rule.title;
    change.family = rule.family;
    change.source = rule.source;
    for (const auto& applied : placement.derivation)
        change.derivation.push_back(situation.rules.rules[static_cast<std::size_t>(applied.rule)].name);
    change.reason = reason(situation.rules, placement, chart.home, {previous, next});
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
        const auto last = first + static_cast<std::ptrdiff_t>(version[i].placement.chords.size()) - 1;
        changes.push_back(
            describe(situation, made.chart, static_cast<int>(first), static_cast<int>(last), version[i]));
    }
    return changes;
}

}  // namespace relead::reharm
