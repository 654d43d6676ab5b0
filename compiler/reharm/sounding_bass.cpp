#include "reharm/sounding_bass.h"

#include <algorithm>

namespace relead::reharm {
namespace {

struct Tone {
    theory::NoteName name;
    theory::Degree over;  ///< of the sounding chord's root
    bool guide = false;
    bool rubs = false;
};

bool falls_together(const TimedChord& a, const TimedChord& b) {
    return a.start < b.start + b.length && b.start < a.start + a.length;
}

bool rubs(const theory::Chord& sounding, int pitch_class, const theory::Key& key) {
    const auto role = theory::role_of(sounding, pitch_class, key);
    if (role == theory::ToneRole::chord_tone) return false;
    if (role != theory::ToneRole::available_tension) return true;
    const int over_bass =
        (pitch_class - theory::pitch_class(sounding.bass.value_or(sounding.root)) + 12) % 12;
    return sounding.bass && over_bass == 1;
}

std::vector<Tone> tones_over(const theory::Chord& sounding, const theory::Chord& chord,
                             const theory::Key& key) {
    const auto guides = theory::guide_tones(chord);
    std::vector<Tone> tones;
    for (const auto degree : theory::degrees(chord)) {
        if (degree.number > 7) continue;
        const auto name = theory::tone(chord, degree);
        const int pitch_class = theory::pitch_class(name);
        const bool guide = guides && (degree == guides->third || degree == guides->seventh);
        tones.push_back({name, degree_over(sounding, pitch_class), guide, rubs(sounding, pitch_class, key)});
    }
    return tones;
}

std::string facts(const std::vector<Tone>& tones, bool rubbing) {
    std::string text;
    for (const auto& tone : tones) {
        if (rubbing ? !tone.rubs : !tone.guide) continue;
        text += text.empty() ? "" : ", ";
        text += theory::to_string(tone.name) + (text.empty() ? " is the " : " the ") +
                theory::to_string(tone.over);
    }
    return text;
}

}  // namespace

SoundingVerdict against_the_bass(const std::vector<TimedChord>& sounding,
                                 const std::vector<TimedChord>& superimposed, const theory::Key& key) {
    SoundingVerdict verdict;
    for (const auto& chord : superimposed) {
        for (const auto& below : sounding) {
            if (!falls_together(chord, below) || below.chord.is_none() || chord.chord.is_none()) continue;
            const auto tones = tones_over(below.chord, chord.chord, key);
            const auto count = static_cast<int>(
                std::count_if(tones.begin(), tones.end(), [](const Tone& t) { return t.rubs; }));
            if (!verdict.sentence.empty() && count <= verdict.rubs) continue;
            verdict.rubs = count;
            verdict.sentence = theory::to_string(chord.chord) + " over " + theory::to_string(below.chord) +
                               ": " + facts(tones, count > 0) +
                               (count == 0   ? "; nothing rubs against the bass."
                                : count == 1 ? ": it rubs and goes by."
                                             : ": they rub.");
        }
    }
    return verdict;
}

int level_of_rubs(int rubs) {
    return rubs <= 1 ? 1 : rubs == 2 ? 3 : 4;
}

}  // namespace relead::reharm
