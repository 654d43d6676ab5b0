#include "reharm/sounding_bass.h"

#include <algorithm>
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

bool falls_together(const TimedChord& a, const TimedChord& b) {
    return a.start < b.start + b.length && b.start < a.start + a.length;
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

bool rubs(const theory::Chord& sounding, int tone, const theory::Key& key) {
    const auto role = theory::role_of(sounding, tone, key);
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

/// The sounding tone that it lies a half step above, else the one that it lies a half step below.
std::optional<int> beside(const std::vector<theory::NoteName>& sounding, int tone) {
    for (const int other : {(tone + 11) % 12, (tone + 1) % 12}) {
        if (find_tone(sounding, other)) return other;
    }
    return std::nullopt;
}

/// What the soloist brings, in the new chord's order.
std::vector<Tone> new_tones(const theory::Chord& sounding, const theory::Chord& chord,
                            const theory::Key& key) {
    const auto below = tones_with_bass(sounding);
    std::vector<Tone> fresh;
    for (const auto name : theory::tones(chord)) {
        const int tone = pitch_class(name);
        if (find_tone(below, tone)) continue;
        const bool rubbing = rubs(sounding, tone, key);
        fresh.push_back({name, degree_in(sounding, tone), rubbing, beside(below, tone)});
    }
    return fresh;
}

/// "Db7 over G7: new are Db (#11) and Ab (b9); F and B stay."
std::string what_is_new(const theory::Chord& sounding, const theory::Chord& chord,
                        const std::vector<Tone>& fresh) {
    const auto below = tones_with_bass(sounding);
    std::vector<std::string> brought, kept;
    for (const auto& tone : fresh)
        brought.push_back(theory::to_string(tone.name) + " (" + theory::to_string(tone.over) + ")");
    for (const auto name : theory::tones(chord)) {
        if (const auto* as_written = find_tone(below, pitch_class(name)))
            kept.push_back(theory::to_string(*as_written));
    }
    const auto over = theory::to_string(chord) + " over " + theory::to_string(sounding) + ": ";
    return over + (brought.size() == 1 ? "new is " : "new are ") + tune::listed(brought) +
           (kept.empty() ? "." : "; " + tune::listed(kept) + (kept.size() == 1 ? " stays." : " stay."));
}

/// " C rubs on B: pass through it." or nothing. A tone with no neighbour is only foreign.
std::string what_rubs(const theory::Chord& sounding, const std::vector<Tone>& fresh) {
    const auto below = tones_with_bass(sounding);
    std::vector<std::string> pairs, foreign;
    for (const auto& tone : fresh) {
        if (!tone.rubs) continue;
        if (!tone.beside) {
            foreign.push_back(theory::to_string(tone.name));
            continue;
        }
        pairs.push_back(theory::to_string(tone.name) + (pairs.empty() ? " rubs on " : " on ") +
                        theory::to_string(*find_tone(below, *tone.beside)));
    }
    std::string text;
    if (!pairs.empty())
        text +=
            " " + tune::listed(pairs) + (pairs.size() == 1 ? ": pass through it." : ": pass through them.");
    if (!foreign.empty())
        text += " " + tune::listed(foreign) + (foreign.size() == 1 ? " is" : " are") + " foreign to " +
                theory::to_string(sounding) + ".";
    return text;
}

}  // namespace

SoundingVerdict against_the_bass(const std::vector<TimedChord>& sounding,
                                 const std::vector<TimedChord>& superimposed, const theory::Key& key) {
    SoundingVerdict verdict;
    for (const auto& chord : superimposed) {
        for (const auto& below : sounding) {
            if (!falls_together(chord, below) || below.chord.is_none() || chord.chord.is_none()) continue;
            const auto fresh = new_tones(below.chord, chord.chord, key);
            if (fresh.empty()) continue;
            const auto rubbing =
                std::count_if(fresh.begin(), fresh.end(), [](const Tone& tone) { return tone.rubs; });
            verdict.rubs = std::max(verdict.rubs, static_cast<int>(rubbing));
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
