#include "reharm/sounding_bass.h"

#include <algorithm>
#include <cstdlib>
#include <optional>

#include "tune/spot.h"

namespace relead::reharm {
namespace {

using theory::pitch_class;

struct Tone {
    theory::NoteName name;
    theory::Degree over;  ///< of the sounding chord's root
    bool rubs = false;
    std::optional<int> beside;  ///< the sounding tone a half step from it that it rubs on, a pitch class
};

/// How long both sound; 0 and less: never.
Time overlap(const TimedChord& a, const TimedChord& b) {
    return std::min(a.start + a.length, b.start + b.length) - std::max(a.start, b.start);
}

std::vector<theory::NoteName> tones_with_bass(const theory::Chord& chord) {
    auto tones = theory::tones(chord);
    const auto same = [&](theory::NoteName name) { return pitch_class(name) == pitch_class(*chord.bass); };
    if (chord.bass && std::none_of(tones.begin(), tones.end(), same)) tones.push_back(*chord.bass);
    return tones;
}

const theory::NoteName* find_tone(const std::vector<theory::NoteName>& tones, int sought) {
    const auto at = std::find_if(tones.begin(), tones.end(),
                                 [&](theory::NoteName name) { return pitch_class(name) == sought; });
    return at == tones.end() ? nullptr : &*at;
}

/// Also in the blues: its scale is at home over every dominant, and the fourth still lies on the third.
bool rubs(const theory::Chord& sounding, int tone) {
    const auto role = theory::role_of(sounding, tone);
    if (role == theory::ToneRole::chord_tone) return false;
    if (role != theory::ToneRole::available_tension) return true;
    const int over_bass = theory::semitones_up(theory::pitch_class(theory::bass_of(sounding)), tone);
    return sounding.bass && over_bass == 1;
}

/// Over a minor third the tritone is the flat fifth: the fifth itself sounds a half step above it.
theory::Degree degree_in(const theory::Chord& sounding, int tone) {
    const auto degree = degree_over(sounding, tone);
    const auto guides = theory::guide_tones(sounding);
    const bool minor = guides && guides->third == theory::Degree{3, -1};
    return minor && degree == theory::Degree{11, 1} ? theory::Degree{5, -1} : degree;
}

/// The sounding tone that it lies a half step above, else the one that it lies a half step below. A flat
/// ninth is at home over a dominant's root: there it rubs on the natural one.
std::optional<int> beside(const theory::Chord& chord, int tone) {
    const auto sounding = tones_with_bass(chord);
    const int below = (tone + 11) % 12, above = (tone + 1) % 12;
    const bool ninth = theory::chord_class(chord) == theory::ChordClass::dominant && !chord.bass &&
                       below == pitch_class(chord.root) && find_tone(sounding, above);
    for (const int other : {ninth ? above : below, above}) {
        if (find_tone(sounding, other)) return other;
    }
    return std::nullopt;
}

/// What the soloist brings, in the new chord's order.
std::vector<Tone> new_tones(const theory::Chord& sounding, const theory::Chord& chord) {
    std::vector<Tone> fresh;
    for (const auto name : tones_beyond(sounding, chord)) {
        const int tone = pitch_class(name);
        fresh.push_back({name, degree_in(sounding, tone), rubs(sounding, tone), beside(sounding, tone)});
    }
    return fresh;
}

/// "b9", "#11"; a dominant's 7 is the minor one, and players read it so.
std::string told_degree(theory::Degree degree) {
    return degree == theory::Degree{7, 0} ? "maj7" : theory::to_string(degree);
}

/// "Db7 over G7: new are Db (#11) and Ab (b9); F and B stay."
std::string what_is_new(const theory::Chord& sounding, const theory::Chord& chord,
                        const std::vector<Tone>& fresh) {
    const auto below = tones_with_bass(sounding);
    std::vector<std::string> brought, kept;
    for (const auto& tone : fresh)
        brought.push_back(theory::to_string(readable(tone.name)) + " (" + told_degree(tone.over) + ")");
    for (const auto name : theory::tones(chord)) {
        if (const auto* as_written = find_tone(below, pitch_class(name)))
            kept.push_back(theory::to_string(readable(*as_written)));
    }
    const auto over = theory::to_string(chord) + " over " + theory::to_string(sounding) + ": ";
    return over + (brought.size() == 1 ? "new is " : "new are ") + tune::listed(brought) +
           (kept.empty() ? "." : "; " + tune::listed(kept) + (kept.size() == 1 ? " stays." : " stay."));
}

/// " C rubs on B: keep it short." or nothing. A tone with no neighbour rubs on nothing that can be named.
std::string what_rubs(const theory::Chord& sounding, const std::vector<Tone>& fresh) {
    const auto below = tones_with_bass(sounding);
    std::vector<std::string> pairs;
    for (const auto& tone : fresh) {
        if (!tone.rubs || !tone.beside) continue;
        pairs.push_back(theory::to_string(readable(tone.name)) + (pairs.empty() ? " rubs on " : " on ") +
                        theory::to_string(readable(*find_tone(below, *tone.beside))));
    }
    if (pairs.empty()) return {};
    return " " + tune::listed(pairs) + (pairs.size() == 1 ? ": keep it short." : ": keep them short.");
}

/// It may last less, or rubs for longer.
bool is_stricter(const SoundingVerdict::Rubbing& now, const SoundingVerdict::Rubbing& before) {
    const auto here = longest_rub(now), there = longest_rub(before);
    if (!here) return false;
    return !there || *here < *there || (*here == *there && now.length > before.length);
}

}  // namespace

std::vector<theory::NoteName> tones_beyond(const theory::Chord& sounding, const theory::Chord& chord) {
    const auto below = tones_with_bass(sounding);
    std::vector<theory::NoteName> beyond;
    for (const auto name : theory::tones(chord)) {
        if (!find_tone(below, pitch_class(name))) beyond.push_back(name);
    }
    return beyond;
}

theory::NoteName readable(theory::NoteName name) {
    return std::abs(theory::alteration(name)) > 1 ? theory::respell_near(name, {}) : name;
}

std::optional<double> longest_rub(SoundingVerdict::Rubbing rubbing) {
    constexpr double leading_tone = 1.1, passing_chord = 2.0;
    if (rubbing.rubs == 0) return std::nullopt;
    if (rubbing.rubs == rubbing.fresh) return leading_tone;
    return rubbing.rubs > 1 ? std::optional(passing_chord) : std::nullopt;
}

SoundingVerdict against_the_bass(const std::vector<TimedChord>& sounding,
                                 const std::vector<TimedChord>& superimposed, const theory::Key& key) {
    SoundingVerdict verdict;
    for (const auto& chord : superimposed) {
        auto& most = verdict.rubbing.emplace_back();
        for (const auto& below : sounding) {
            if (overlap(chord, below) <= 0 || below.chord.is_none() || chord.chord.is_none()) continue;
            const auto fresh = new_tones(below.chord, chord.chord);
            if (fresh.empty()) continue;
            const auto rubbing = static_cast<int>(
                std::count_if(fresh.begin(), fresh.end(), [](const Tone& tone) { return tone.rubs; }));
            verdict.rubs = std::max(verdict.rubs, rubbing);
            const SoundingVerdict::Rubbing here{rubbing, static_cast<int>(fresh.size()),
                                                overlap(chord, below)};
            if (is_stricter(here, most)) most = here;
            const bool of_the_key = std::all_of(fresh.begin(), fresh.end(), [&](const Tone& tone) {
                return theory::is_diatonic(tone.name, key);
            });
            const bool same_root = pitch_class(chord.chord.root) == pitch_class(below.chord.root);
            verdict.little_new = verdict.little_new && (of_the_key || same_root);
            const auto said = what_is_new(below.chord, chord.chord, fresh) + what_rubs(below.chord, fresh);
            if (verdict.sentence.find(said) != std::string::npos) continue;
            verdict.sentence += (verdict.sentence.empty() ? "" : " ") + said;
        }
    }
    return verdict;
}

int level_of_rubs(int rubs) {
    return rubs <= 1 ? 1 : rubs == 2 ? 3 : 4;
}

}  // namespace relead::reharm
