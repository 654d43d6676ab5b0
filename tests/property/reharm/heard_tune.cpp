#include "heard_tune.h"

#include <algorithm>
#include <cstdlib>

#include "analysis/analysis.h"
#include "rules/chart.h"
#include "theory/guide_motion.h"

namespace relead::testing {
namespace {

constexpr int whole_step = 2;

struct HeardNote {
    theory::Pitch pitch;
    Time start;
    Time length;
    bool on_the_beat = false;
    [[nodiscard]] Time within(Time from, Time to) const {
        const auto first = std::max(start, from), last = std::min(start + length, to);
        return last > first ? last - first : Time(0);
    }
};

std::vector<HeardChord> chords_of(const tune::Section& section) {
    std::vector<HeardChord> chords;
    Time bar_start = 0;
    for (const auto& bar : section.bars) {
        for (const auto& event : bar.changes) {
            if (!chords.empty() && chords.back().chord == event.chord) {
                chords.back().length += event.length;
            } else {
                chords.push_back({event.chord, bar_start + event.at, event.length});
            }
        }
        bar_start += bar.length;
    }
    return chords;
}

std::vector<HeardNote> notes_of(const tune::Section& section) {
    std::vector<HeardNote> notes;
    Time bar_start = 0;
    for (const auto& bar : section.bars) {
        if (bar.melody) {
            for (const auto& note : *bar.melody) {
                if (note.kind != tune::NoteEvent::Kind::note) continue;
                notes.push_back({note.pitch, bar_start + note.at, note.length,
                                 bar.meter.in_beats(note.at).denominator() == 1});
            }
        }
        bar_start += bar.length;
    }
    return notes;
}

bool same_chord(const theory::Chord& a, const theory::Chord& b) {
    return theory::pitch_class(a.root) == theory::pitch_class(b.root) && a.quality == b.quality;
}

/// Written chords that sound while `chord` does.
std::vector<HeardChord> below(const std::vector<HeardChord>& written, const HeardChord& chord) {
    std::vector<HeardChord> together;
    for (const auto& old : written) {
        if (old.start < chord.end() && chord.start < old.end()) together.push_back(old);
    }
    return together;
}

/// No written chord of its time, over whatever bass.
bool is_new(const std::vector<HeardChord>& written, const HeardChord& chord) {
    const auto together = below(written, chord);
    return std::none_of(together.begin(), together.end(),
                        [&](const HeardChord& old) { return same_chord(old.chord, chord.chord); });
}

bool is_foreign(const theory::Chord& chord, int pitch_class, const theory::Key& home) {
    const auto role = theory::role_of(chord, pitch_class, home);
    return role == theory::ToneRole::avoid || role == theory::ToneRole::clash;
}

/// A short note that the ear passes over: left or reached by step; one that is a half step over the root, the
/// other third or the other seventh needs both, and a place off the beat.
bool goes_by(const std::vector<HeardNote>& notes, std::size_t i, const HeardChord& chord) {
    const auto step = [&](std::size_t a, std::size_t b) {
        return std::abs(theory::midi_number(notes[a].pitch) - theory::midi_number(notes[b].pitch)) <=
               whole_step;
    };
    const bool left = i + 1 < notes.size() && step(i, i + 1);
    const bool reached = i > 0 && step(i - 1, i);
    const int above =
        (theory::pitch_class(theory::name_of(notes[i].pitch)) - theory::pitch_class(chord.chord.root) + 12) %
        12;
    const bool rubs = above == 1 || above == 3 || above == 4 || above == 10 || above == 11;
    return rubs ? left && reached && !notes[i].on_the_beat : left || reached;
}

std::string told(const tune::Section& section, const HeardChord& chord) {
    return theory::to_string(chord.chord) + " at " + chord.start.to_string() + " of " + section.name;
}

}  // namespace

const std::vector<tune::ChordEvent>& played_row(const tune::Bar& bar, bool soloist) {
    return soloist && bar.soloist ? *bar.soloist : bar.changes;
}

tune::Tune as_played(tune::Tune tune, bool soloist) {
    for (auto& section : tune.sections) {
        for (auto& bar : section.bars) {
            bar.changes = std::vector<tune::ChordEvent>(played_row(bar, soloist));
            bar.soloist.reset();
        }
    }
    return tune;
}

std::vector<Breach> far_arrivals(const SideBySide& tunes, const std::vector<const rules::Rule*>& makers,
                                 LimitTally& tally) {
    std::vector<std::vector<HeardChord>> written;
    for (const auto& section : tunes.written.sections) written.push_back(chords_of(section));
    const auto near = [](const std::optional<theory::GuideMotion>& motion) {
        return !motion || motion->largest() <= whole_step;
    };
    const auto by_threads = [&](const theory::Chord& from, const theory::Chord& to) {
        for (const auto* rule : makers) {
            for (const auto& set : rule->threads) {
                if (near(theory::guide_motion(from, to, set.threads))) return true;
            }
        }
        return false;
    };
    const auto chart = rules::make_chart(tunes.played, analysis::analyse(tunes.played));
    std::vector<Breach> breaches;
    for (const auto& spot : chart.spots) {
        const auto section = static_cast<std::size_t>(spot.ref.section);
        const HeardChord chord{spot.chord, spot.start, spot.length};
        if (!is_new(written[section], chord)) continue;
        for (const int next : spot.next) {
            const auto& to = chart.at(next).chord;
            ++tally.arrivals;
            if (near(theory::guide_motion(chord.chord, to))) continue;
            ++tally.by_threads;
            if (!by_threads(chord.chord, to))
                breaches.push_back({told(tunes.written.sections[section], chord) + " moves too far into " +
                                    theory::to_string(to)});
        }
    }
    return breaches;
}

std::vector<Breach> new_clashes(const SideBySide& tunes, LimitTally& tally) {
    constexpr int beats_of_whole = 4;
    const Time beat{1, beats_of_whole};
    std::vector<Breach> breaches;
    for (std::size_t s = 0; s < tunes.written.sections.size(); ++s) {
        const auto& section = tunes.written.sections[s];
        const auto written = chords_of(section);
        const auto notes = notes_of(section);
        for (const auto& chord : chords_of(tunes.played.sections[s])) {
            if (!is_new(written, chord)) continue;
            for (std::size_t i = 0; i < notes.size(); ++i) {
                const auto with = notes[i].within(chord.start, chord.end());
                if (with == 0) continue;
                ++tally.notes;
                const int pitch_class = theory::pitch_class(theory::name_of(notes[i].pitch));
                if (!is_foreign(chord.chord, pitch_class, tunes.written.key)) continue;
                const auto together = below(written, chord);
                const bool before = std::any_of(together.begin(), together.end(), [&](const HeardChord& old) {
                    return notes[i].within(old.start, old.end()) > 0 &&
                           is_foreign(old.chord, pitch_class, tunes.written.key);
                });
                const bool held = with >= std::min(beat, chord.length / 2);
                if (before || (!held && goes_by(notes, i, chord))) continue;
                ++tally.clashes;
                breaches.push_back({theory::to_string(theory::name_of(notes[i].pitch)) + " clashes with " +
                                    told(section, chord)});
            }
        }
    }
    return breaches;
}

std::vector<Breach> too_short(const SideBySide& tunes, double seconds, LimitTally& tally) {
    constexpr double rounding = 1e-6, seconds_a_minute = 60;
    std::vector<Breach> breaches;
    for (std::size_t s = 0; s < tunes.written.sections.size(); ++s) {
        const auto& section = tunes.written.sections[s];
        const auto written = chords_of(section);
        Time shortest = written.front().length;
        for (const auto& bar : section.bars) {
            for (const auto& event : bar.changes) shortest = std::min(shortest, event.length);
        }
        for (const auto& chord : chords_of(tunes.played.sections[s])) {
            if (chord.length >= shortest) continue;
            ++tally.clocked;
            const auto beats = section.meter.in_beats(chord.length).to_double();
            const double lasts = beats * seconds_a_minute / section.tempo.beats_per_minute;
            if (lasts + rounding < seconds)
                breaches.push_back({told(section, chord) + " lasts " + std::to_string(lasts) + " seconds"});
        }
    }
    return breaches;
}

std::vector<Breach> too_far_from_the_bass(const SideBySide& tunes, int outside, LimitTally& tally) {
    std::vector<Breach> breaches;
    for (std::size_t s = 0; s < tunes.written.sections.size(); ++s) {
        const auto written = chords_of(tunes.written.sections[s]);
        for (const auto& chord : chords_of(tunes.played.sections[s])) {
            if (!is_new(written, chord)) continue;
            for (const auto& old : below(written, chord)) {
                int foreign = 0;
                for (const auto degree : theory::degrees(chord.chord)) {
                    const int tone = theory::pitch_class(theory::tone(chord.chord, degree));
                    foreign += degree.number <= 7 && is_foreign(old.chord, tone, tunes.written.key) ? 1 : 0;
                }
                ++tally.superimposed;
                tally.rubbing += foreign >= 2 ? 1 : 0;
                const int level = foreign <= 1 ? 1 : foreign == 2 ? 3 : 4;
                if (level > outside)
                    breaches.push_back({told(tunes.written.sections[s], chord) + " rubs against " +
                                        theory::to_string(old.chord)});
            }
        }
    }
    return breaches;
}

}  // namespace relead::testing
