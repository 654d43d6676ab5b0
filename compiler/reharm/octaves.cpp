#include "reharm/octaves.h"

#include <vector>

#include "rules/sounding_melody.h"

namespace relead::reharm {
namespace {

/// A chord in its time from the start of a section's text.
struct Place {
    const theory::Chord* chord = nullptr;
    int section = 0;
    Time start, length;
    bool fresh = false;

    [[nodiscard]] theory::NoteName bass() const { return theory::bass_of(*chord); }
    [[nodiscard]] Time end() const { return start + length; }
};

bool sounds(const rules::SoundingNote& note, const theory::NoteName& name) {
    return theory::pitch_class(theory::name_of(note.pitch)) == theory::pitch_class(name);
}

/// What follows chord `index` of a placement, in each playing.
std::vector<Place> after(const rules::Chart& chart, const rules::Placement& placement, std::size_t index,
                         const Place& here) {
    std::vector<Place> places;
    if (index + 1 < placement.chords.size()) {
        const auto& next = placement.chords[index + 1];
        places.push_back({&next.chord, here.section, here.end(), next.length, !next.kept_from});
        return places;
    }
    for (const int spot : chart.at(placement.end - 1).next) {
        const auto& next = chart.at(spot);
        places.push_back({&next.chord, next.ref.section, next.start, next.length, false});
    }
    return places;
}

/// The melody leaves the one with its bass note and comes into the other with its bass note, with less than
/// `gap` of silence between.
bool moves_along(const rules::Melodies& melodies, const Place& from, const Place& to, Time gap) {
    const auto leaving = melodies.between(from.section, from.start, from.end());
    const auto coming = melodies.between(to.section, to.start, to.end());
    if (leaving.notes.empty() || coming.notes.empty()) return false;
    const auto &last = leaving.notes.back(), &first = coming.notes.front();
    const Time silence = (from.end() - last.end()) + (first.start - to.start);
    const bool tied_over = last.end() > from.end() || first.start < to.start;
    return !tied_over && silence < gap && sounds(last, from.bass()) && sounds(first, to.bass());
}

}  // namespace

std::optional<std::string> doubles_leading_tone(const rules::Chart& chart,
                                                const rules::Placement& placement) {
    const auto& first = chart.at(placement.begin);
    for (std::size_t i = 0; i < placement.chords.size(); ++i) {
        const auto& chord = placement.chords[i];
        const Place here{&chord.chord, first.ref.section, first.start + chord.at, chord.length,
                         !chord.kept_from};
        if (chord.chord.is_none()) continue;
        for (const auto& next : after(chart, placement, i, here)) {
            if (next.chord->is_none() || (!here.fresh && !next.fresh)) continue;
            const int up = theory::semitones_up(here.bass(), next.bass());
            if (up != 1 || !moves_along(*chart.melodies, here, next, first.beat_length)) continue;
            return "Melody and bass would both climb from " + theory::to_string(here.bass()) + " to " +
                   theory::to_string(next.bass()) + ": octaves.";
        }
    }
    return std::nullopt;
}

}  // namespace relead::reharm
