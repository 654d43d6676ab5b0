#include "reharm/melody_refusals.h"

#include <algorithm>

#include "reharm/altered_symbol.h"
#include "reharm/placement_symbols.h"

namespace relead::reharm {
namespace {

constexpr theory::Degree flat_ninth{9, -1}, flat_thirteenth{13, -1};

/// The chord that a note sounds with is a dominant that slides into the next one.
bool over_a_slide(const rules::Chart& chart, const rules::Placement& placement, const NoteVerdict& note) {
    const auto index = static_cast<std::size_t>(note.chord);
    const auto next = following(chart, placement, index);
    return next && slides(placement.chords[index].chord, *next);
}

}  // namespace

std::optional<std::string> flat_ninth_that_rubs(const rules::Chart& chart, const rules::Placement& placement,
                                                const MelodyVerdict& melody) {
    for (const auto& note : melody.notes) {
        const auto& chord = placement.chords[static_cast<std::size_t>(note.chord)];
        if (note.goes_by || note.degree != flat_ninth || chord.kept_from) continue;
        if (!over_a_slide(chart, placement, note)) continue;
        return theory::to_string(theory::name_of(note.pitch)) + " is the b9 of " +
               theory::to_string(chord.chord) + ", which does not fall a fifth: it rubs against the root.";
    }
    return std::nullopt;
}

std::optional<std::string> spells_another_chord(const rules::Placement& placement,
                                                const MelodyVerdict& melody) {
    for (std::size_t i = 0; i < placement.chords.size(); ++i) {
        const auto& chord = placement.chords[i];
        if (chord.kept_from) continue;
        const auto name = theory::to_string(chord.chord);
        if (melody.is_foreign_to(static_cast<int>(i)))
            return "Most of the melody over " + name + " is foreign to it.";
        if (melody.spells_written(static_cast<int>(i)))
            return "The melody spells the written chord: none of its notes is a tone of " + name + ".";
    }
    return std::nullopt;
}

std::optional<std::string> contradicts_third(const rules::Chart& chart, const rules::Placement& placement,
                                             const MelodyVerdict& melody) {
    if (chart.home.mode == theory::Mode::blues) return std::nullopt;
    for (std::size_t i = 0; i < placement.chords.size(); ++i) {
        const auto& chord = placement.chords[i].chord;
        if (placement.chords[i].kept_from || theory::chord_class(chord) != theory::ChordClass::dominant)
            continue;
        const auto sung = [&](theory::Degree degree) {
            return std::find_if(melody.notes.begin(), melody.notes.end(), [&](const NoteVerdict& note) {
                return note.chord == static_cast<int>(i) && note.degree == degree;
            });
        };
        const auto fourth = sung({11, 0}), minor_third = sung({9, 1});
        if (fourth == melody.notes.end() || minor_third == melody.notes.end()) continue;
        const auto name = [](const NoteVerdict& note) {
            return theory::to_string(theory::name_of(note.pitch));
        };
        return name(*fourth) + " and " + name(*minor_third) + " both deny the third of " +
               theory::to_string(chord) + ".";
    }
    return std::nullopt;
}

int harsh_beats(const rules::Chart& chart, const rules::Placement& placement, const NoteVerdict& note) {
    const bool dark = note.degree == flat_ninth || note.degree == flat_thirteenth;
    if (!dark || !note.held || !over_a_slide(chart, placement, note)) return 0;
    return static_cast<int>(note.beats.floor());
}

}  // namespace relead::reharm
