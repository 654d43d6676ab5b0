#include "reharm/melody_fit.h"

#include <algorithm>
#include <cstdlib>
#include <span>

#include "rules/sounding_melody.h"
#include "tune/spot.h"

namespace relead::reharm {
namespace {

using rules::SoundingNote;
using Notes = std::span<const SoundingNote>;

/// Names of the tones above a root that are not the chord's own; 5 is there for power chords.
constexpr theory::Degree tension_names[12] = {{1, 0},  {9, -1}, {9, 0},   {9, 1},  {3, 0},  {11, 0},
                                              {11, 1}, {5, 0},  {13, -1}, {13, 0}, {7, -1}, {7, 0}};

bool is_foreign(NoteFit fit) {
    return fit == NoteFit::passing || fit == NoteFit::clash;
}

class MelodyJudge {
public:
    MelodyJudge(const tune::Tune& tune, int section, const theory::Key& key)
        : tune_(tune), section_(section), key_(key) {}

    NoteVerdict judge(Notes notes, std::size_t index, const TimedChord& now,
                      const std::vector<TimedChord>& before) const {
        const auto& note = notes[index];
        const int pitch_class = theory::pitch_class(theory::name_of(note.pitch));
        NoteVerdict verdict;
        verdict.pitch = note.pitch;
        verdict.place = place_of(note);
        verdict.degree = degree_over(now.chord, pitch_class);
        verdict.held = held(notes, index, now);
        verdict.goes_by = passes(notes, index, now);
        verdict.fit = fit(notes, index, now);
        verdict.beats = bar_of(note).meter.in_beats(note.within(now.start, now.start + now.length));
        for (const auto& old : before) {
            const bool together = old.start < now.start + now.length && now.start < old.start + old.length &&
                                  note.within(old.start, old.start + old.length) > 0;
            if (!together) continue;
            const auto as_written = fit(notes, index, old);
            verdict.clashed_before = verdict.clashed_before || as_written == NoteFit::clash;
            verdict.foreign_before = verdict.foreign_before || is_foreign(as_written);
            verdict.tone_before = verdict.tone_before || as_written == NoteFit::chord_tone;
        }
        return verdict;
    }

private:
    const tune::Bar& bar_of(const SoundingNote& note) const {
        return tune_.sections[static_cast<std::size_t>(section_)].bars[static_cast<std::size_t>(note.bar)];
    }
    /// A half step over the root, the other third, or the other seventh: it names another chord.
    static bool rubs(const SoundingNote& note, const theory::Chord& chord) {
        const int pitch_class = theory::pitch_class(theory::name_of(note.pitch));
        const int above = theory::semitones_up(theory::pitch_class(chord.root), pitch_class);
        return above == 1 || above == 3 || above == 4 || above == 10 || above == 11;
    }
    bool held(Notes notes, std::size_t index, const TimedChord& chord) const {
        // Half of a short chord is long too: in 12/8 a crotchet over a chord of one beat.
        return rules::sounding_within(notes, index, chord.start, chord.start + chord.length) >=
               std::min(bar_of(notes[index]).meter.beat_length(), chord.length / 2);
    }
    Place place_of(const SoundingNote& note) const {
        const auto& bar = bar_of(note);
        Place place;
        place.section = tune_.sections[static_cast<std::size_t>(section_)].name;
        place.bar = bar.number;
        place.beat = Beats(1) + bar.meter.in_beats(note.at);
        return place;
    }
    bool off_the_beat(const SoundingNote& note) const {
        const auto beat = bar_of(note).meter.in_beats(note.at);
        return beat.denominator() != 1;
    }
    /// Off the first beat and, in fours, off the third.
    bool weak(const SoundingNote& note) const {
        const auto& meter = bar_of(note).meter;
        const auto beat = meter.in_beats(note.at);
        return !(beat == 0 || (meter.beats % 4 == 0 && beat == 2));
    }
    static bool step_between(const SoundingNote& a, const SoundingNote& b) {
        return std::abs(theory::midi_number(a.pitch) - theory::midi_number(b.pitch)) <= 2;
    }
    /// A short note that goes by: it is left by step, or reached by step on a weak place. A note that rubs
    /// needs a step on both sides and a place off the beat, and the chord must have been heard before it.
    bool passes(Notes notes, std::size_t index, const TimedChord& chord) const {
        if (held(notes, index, chord)) return false;
        const auto& note = notes[index];
        const bool left_by_step = index + 1 < notes.size() && step_between(note, notes[index + 1]);
        const bool reached_by_step = index > 0 && step_between(notes[index - 1], note);
        if (rubs(note, chord.chord))
            return left_by_step && reached_by_step && off_the_beat(note) && note.start > chord.start;
        return left_by_step || (reached_by_step && weak(note));
    }
    NoteFit fit(Notes notes, std::size_t index, const TimedChord& chord) const {
        const int pitch_class = theory::pitch_class(theory::name_of(notes[index].pitch));
        switch (theory::role_of(chord.chord, pitch_class, key_)) {
            case theory::ToneRole::chord_tone:
                return NoteFit::chord_tone;
            case theory::ToneRole::available_tension:
                return NoteFit::tension;
            default:
                return passes(notes, index, chord) ? NoteFit::passing : NoteFit::clash;
        }
    }

    const tune::Tune& tune_;
    int section_;
    const theory::Key& key_;
};

bool stands_as_written(const TimedChord& chord, const std::vector<TimedChord>& before) {
    return std::any_of(before.begin(), before.end(), [&](const TimedChord& old) {
        return old.chord == chord.chord && old.start < chord.start + chord.length &&
               chord.start < old.start + old.length;
    });
}

bool is_flat_ninth(const NoteVerdict& note) {
    return note.fit == NoteFit::tension && note.degree == theory::Degree{9, -1};
}

/// " C goes by over Db7.": the first note that does so over a new chord; empty when none does.
std::string passing_note(const MelodyVerdict& verdict, const std::vector<TimedChord>& before,
                         const std::vector<TimedChord>& now) {
    for (const auto& note : verdict.notes) {
        const auto& chord = now[static_cast<std::size_t>(note.chord)];
        const bool rubs = note.fit == NoteFit::passing || is_flat_ninth(note);
        if (!rubs || !note.goes_by || stands_as_written(chord, before)) continue;
        return " " + theory::to_string(theory::name_of(note.pitch)) + " goes by over " +
               theory::to_string(chord.chord) + ".";
    }
    return {};
}

/// "9", "b7"; a natural third or seventh over a chord that has the other one in words: "3" would be taken for
/// the chord's own.
std::string told_degree(const theory::Degree& degree, const theory::Chord& chord) {
    const auto own = theory::degrees(chord);
    const bool beside_its_own = std::any_of(own.begin(), own.end(), [&](const theory::Degree& one) {
        return one.number == degree.number && one.alteration < 0;
    });
    if (degree.alteration == 0 && beside_its_own && degree.number == 3) return "major third";
    if (degree.alteration == 0 && beside_its_own && degree.number == 7) return "major seventh";
    return theory::to_string(degree);
}

/// The worst that there is to say: a new clash, what the melody added to symbols, a clash that the written
/// chord had too, a held colour over a new chord, and what goes by there.
std::string sentence_for(const MelodyVerdict& verdict, const std::vector<TimedChord>& before,
                         const std::vector<TimedChord>& now, const std::string& coloured) {
    if (!verdict.known) return "Melody unknown: not checked.";
    std::string clash, old_clash, colour = coloured;
    for (const auto& note : verdict.notes) {
        const auto& chord = now[static_cast<std::size_t>(note.chord)];
        const auto fact = [&] {
            return theory::to_string(theory::name_of(note.pitch)) + " is the " +
                   told_degree(note.degree, chord.chord) + " of " + theory::to_string(chord.chord);
        };
        if (note.fit == NoteFit::clash && !note.clashed_before) {
            if (clash.empty()) clash = fact() + ": it clashes.";
        } else if (note.fit == NoteFit::clash) {
            if (old_clash.empty() && !stands_as_written(chord, before))
                old_clash = fact() + ": it clashes, as with the written chord.";
        } else if (note.fit == NoteFit::tension && note.held && note.degree.alteration != 0) {
            if (colour.empty() && !stands_as_written(chord, before)) colour = fact() + ".";
        }
    }
    if (!clash.empty()) return clash;
    const std::string rest = verdict.partly ? " Part of the melody is unknown." : "";
    if (coloured.empty() && !old_clash.empty()) return old_clash + rest;
    return (colour.empty() ? std::string(melody_fits) : colour) + passing_note(verdict, before, now) + rest;
}

}  // namespace

theory::Degree degree_over(const theory::Chord& chord, int pitch_class) {
    for (const auto degree : theory::degrees(chord)) {
        if (theory::pitch_class(theory::tone(chord, degree)) == pitch_class) return degree;
    }
    const int above = theory::semitones_up(theory::pitch_class(chord.root), pitch_class);
    return tension_names[above];
}

std::string_view to_string(NoteFit fit) {
    switch (fit) {
        case NoteFit::chord_tone:
            return "chord tone";
        case NoteFit::tension:
            return "tension";
        case NoteFit::passing:
            return "passing";
        case NoteFit::clash:
            return "clash";
    }
    return "";
}

bool MelodyVerdict::is_foreign_to(int chord) const {
    Beats at_home, all;
    for (const auto& note : notes) {
        if (note.chord != chord || note.foreign_before) continue;
        all += note.beats;
        if (!is_foreign(note.fit)) at_home += note.beats;
    }
    return at_home * 2 < all;
}

bool MelodyVerdict::spells_written(int chord) const {
    bool several = false;
    const NoteVerdict* first = nullptr;
    for (const auto& note : notes) {
        if (note.chord != chord) continue;
        if (!note.tone_before || note.fit == NoteFit::chord_tone) return false;
        if (first == nullptr) first = &note;
        several = several || note.degree != first->degree;
    }
    return several;
}

bool MelodyVerdict::has_new_clash() const {
    return std::any_of(notes.begin(), notes.end(),
                       [](const NoteVerdict& n) { return n.fit == NoteFit::clash && !n.clashed_before; });
}

MelodyVerdict judge_melody(const tune::Tune& tune, const rules::Melodies& melodies, int section,
                           const theory::Key& key, const std::vector<TimedChord>& before,
                           const std::vector<TimedChord>& now, const std::string& coloured) {
    MelodyVerdict verdict;
    if (now.empty()) return verdict;
    const auto from = now.front().start;
    const auto to = now.back().start + now.back().length;
    // A beat more on either side, so that steps into and out of the span are seen.
    const Time around(1, 4);
    const auto melody = melodies.between(section, from, to);
    const auto wide = melodies.between(section, std::max(Time(0), from - around), to + around).notes;
    verdict.known = melody.known;
    verdict.partly = melody.known && !melody.all_known;
    const MelodyJudge judge(tune, section, key);
    for (std::size_t c = 0; c < now.size(); ++c) {
        for (std::size_t n = 0; n < wide.size(); ++n) {
            if (wide[n].within(now[c].start, now[c].start + now[c].length) <= 0) continue;
            verdict.notes.push_back(judge.judge(wide, n, now[c], before));
            verdict.notes.back().chord = static_cast<int>(c);
        }
    }
    verdict.sentence = sentence_for(verdict, before, now, coloured);
    return verdict;
}

theory::Chord with_melody_tensions(const tune::Tune& tune, const rules::Melodies& melodies, int section,
                                   const TimedChord& chord) {
    auto result = chord.chord;
    const auto melody = melodies.between(section, chord.start, chord.start + chord.length);
    for (const auto& note : melody.notes) {
        const auto& bars = tune.sections[static_cast<std::size_t>(section)].bars;
        const auto beat = bars[static_cast<std::size_t>(note.bar)].meter.beat_length();
        if (note.within(chord.start, chord.start + chord.length) < beat) continue;
        const int pitch_class = theory::pitch_class(theory::name_of(note.pitch));
        if (theory::role_of(result, pitch_class) != theory::ToneRole::available_tension) continue;
        const auto degree = degree_over(result, pitch_class);
        if (degree.number < 9 || degree.alteration == 0) continue;
        if (auto with = theory::with_degree(result, degree)) result = *with;
    }
    return result;
}

}  // namespace relead::reharm
