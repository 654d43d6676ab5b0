#include "reharm/placement_symbols.h"

#include <algorithm>

#include "reharm/altered_symbol.h"
#include "reharm/touched.h"

namespace relead::reharm {
namespace {

void name_in_derivation(rules::Placement& placement, const theory::Chord& before, const theory::Chord& now) {
    for (auto& applied : placement.derivation) {
        for (auto& named : applied.new_chords) {
            if (named == before) named = now;
        }
        for (auto* beside : {&applied.previous, &applied.next}) {
            if (*beside == before) *beside = now;
        }
    }
}

/// The written chord there has the same tones over another bass.
bool has_colours_of_written(const rules::Chart& chart, const rules::Placement& placement,
                            const rules::NewChord& chord) {
    auto plain = chord.chord;
    for (int i = placement.begin; i < placement.end; ++i) {
        const auto& written = chart.at(i).chord;
        plain.bass = written.bass;
        if (sounds_with(chart, placement, chord, i) && plain == written) return true;
    }
    return false;
}

/// Some chord on the one root that would do.
std::optional<theory::Chord> asked_for(const rules::Need& need) {
    const auto& patterns = need.element.alternatives;
    const auto& degree = patterns.front().degree;
    const bool one_root = !need.negated && degree &&
                          std::all_of(patterns.begin(), patterns.end(),
                                      [&](const auto& pattern) { return pattern.degree == degree; });
    if (!one_root) return std::nullopt;
    theory::Chord chord;
    chord.root = theory::note_at(need.tonic, *degree);
    chord.quality = *theory::find_quality("7");
    return chord;
}

/// A written chord, perhaps over another bass.
void write_kept(const Situation& situation, rules::Placement& placement, rules::NewChord& chord) {
    if (chord.chord == situation.chart.at(*chord.kept_from).chord) return;
    situation.symbols.dress(chord.chord);
    name_in_derivation(placement, chord.chord, chord.chord);
}

/// What the melody added; empty when nothing.
std::string write_new(const Situation& situation, rules::Placement& placement, std::size_t index) {
    const auto& chart = situation.chart;
    auto& chord = placement.chords[index];
    const auto& from = chart.at(placement.begin);
    TimedChord timed{chord.chord, from.start + chord.at, chord.length};
    situation.symbols.dress(timed.chord);
    const auto before = timed.chord;
    timed.chord = with_melody_tensions(situation.tune, *chart.melodies, from.ref.section, timed);
    const auto next = following(chart, placement, index);
    chord.chord = as_players_write(*chart.melodies, from.ref.section, timed, next ? &*next : nullptr);
    situation.symbols.dress(chord.chord);
    name_in_derivation(placement, before, chord.chord);
    if (chord.chord == before || has_colours_of_written(chart, placement, chord)) return {};
    return "The melody colours " + theory::to_string(before) + " into " + theory::to_string(chord.chord) +
           ".";
}

}  // namespace

std::string write_symbols(const Situation& situation, rules::Placement& placement) {
    std::string coloured;
    for (std::size_t i = 0; i < placement.chords.size(); ++i) {
        if (placement.chords[i].kept_from) {
            write_kept(situation, placement, placement.chords[i]);
            continue;
        }
        const auto sentence = write_new(situation, placement, i);
        if (!sentence.empty()) coloured += (coloured.empty() ? "" : " ") + sentence;
    }
    return coloured;
}

std::optional<theory::Chord> following(const rules::Chart& chart, const rules::Placement& placement,
                                       std::size_t index) {
    if (index + 1 < placement.chords.size()) return placement.chords[index + 1].chord;
    const auto& next = chart.at(placement.end - 1).next;
    if (next.empty()) return std::nullopt;
    const auto& there = chart.at(next.front()).chord;
    const auto unmet = std::find_if(placement.right.begin(), placement.right.end(),
                                    [&](const rules::Need& need) { return !need.met_by(there); });
    return unmet == placement.right.end() ? std::optional(there) : asked_for(*unmet);
}

}  // namespace relead::reharm
