#include "bench/measures.h"

#include <algorithm>
#include <cstdlib>
#include <map>
#include <string_view>

#include "theory/guide_motion.h"

namespace relead::bench {
namespace {

using theory::ChordClass;

int above(theory::NoteName note, theory::NoteName root) {
    return (theory::pitch_class(note) - theory::pitch_class(root) + 12) % 12;
}
bool dominant_like(const theory::Chord& chord) {
    const auto kind = theory::chord_class(chord);
    return kind == ChordClass::dominant || kind == ChordClass::suspended ||
           theory::is_two_over_dominant(chord);
}
theory::NoteName sounding_root(const theory::Chord& chord) {
    return theory::is_two_over_dominant(chord) ? *chord.bass : chord.root;
}

/// 'T', 'S', 'D', or '-' for a chord that is none of them (a secondary dominant).
char family(const theory::Chord& chord, const theory::Key& key) {
    const bool minor = theory::is_minor_like(key);
    // Minor chords on 1 b2 2 b3 3 4 #4 5 b6 6 b7 7; v is a ii of the fourth degree.
    constexpr std::string_view minor_chords = "T-S-TS-S-T--";
    switch (theory::chord_class(chord)) {
        case ChordClass::major:
        case ChordClass::augmented: {
            const int degree = above(chord.root, key.tonic);
            if (degree == 0) return 'T';
            if (degree == 7) return 'D';
            if (degree == 3) return minor ? 'T' : '-';
            return degree == 5 || degree == 8 || degree == 1 || degree == 10 ? 'S' : '-';
        }
        case ChordClass::minor:
            return minor_chords[static_cast<std::size_t>(above(chord.root, key.tonic))];
        case ChordClass::half_diminished: {
            const int degree = above(chord.root, key.tonic);
            return degree == 2 ? 'S' : degree == 11 ? 'D' : degree == 9 && minor ? 'T' : '-';
        }
        case ChordClass::dominant:
        case ChordClass::suspended: {
            const int degree = above(chord.root, key.tonic);
            if (key.mode == theory::Mode::blues && degree == 0) return 'T';
            if (key.mode == theory::Mode::blues && degree == 5) return 'S';
            return degree == 7 || degree == 1 || degree == 10 ? 'D' : '-';
        }
        case ChordClass::diminished:
            return above(chord.root, key.tonic) % 3 == 2 ? 'D' : '-';
        default:
            return '-';
    }
}

/// Local keys of the written chords.
class Keys {
public:
    explicit Keys(const analysis::Analysis& analysis) : home_(analysis.home) {
        for (const auto& fact : analysis.chords)
            keys_[{fact.ref.section, fact.ref.bar}].emplace_back(fact.ref.chord, fact.local_key);
    }
    [[nodiscard]] theory::Key at(const tune::PlayedBar& bar) const {
        const auto found = keys_.find({bar.section, bar.bar});
        return found == keys_.end() ? home_ : found->second.front().second;
    }

private:
    theory::Key home_;
    std::map<std::pair<int, int>, std::vector<std::pair<int, theory::Key>>> keys_;
};

void measure_starts(const Chorus& before, const Chorus& after, const Keys& keys, Measures& measures) {
    std::vector<int> seen;
    for (const auto& bar : after.bars) {
        if (!bar.starts_section) continue;
        if (std::find(seen.begin(), seen.end(), bar.bar.section) != seen.end()) continue;
        seen.push_back(bar.bar.section);
        const auto* old = before.at(bar.bar.start);
        const auto* now = after.at(bar.bar.start);
        if (old != nullptr && now != nullptr)
            measures.starts.count(keeps_function(old->chord, now->chord, keys.at(bar.bar)));
    }
}

/// The last home chord in the last four bars of the last chorus, the chord before it, and with what it ends.
void measure_cadence(const Chorus& before, const Chorus& after, const theory::Key& home, Measures& measures) {
    const auto at_home = [&](const theory::Chord& chord) {
        const auto kind = theory::chord_class(chord);
        return !chord.is_none() && above(chord.root, home.tonic) == 0 && kind != ChordClass::suspended &&
               kind != ChordClass::diminished;
    };
    const auto first = after.bars.size() > 4 ? after.bars[after.bars.size() - 4].bar.start : Time(0);
    for (auto moment = before.chords.rbegin(); moment != before.chords.rend(); ++moment) {
        if (moment->start < first) return;
        if (!at_home(moment->chord)) continue;
        const int old = before.index_at(moment->start);
        const int now = after.index_at(moment->start);
        if (now < 1 || old < 1) return;
        const auto o = static_cast<std::size_t>(old), n = static_cast<std::size_t>(now);
        measures.cadence.count(keeps_function(before.chords[o].chord, after.chords[n].chord, home));
        // What comes home: the chord that sounds last before it.
        const bool on_time = after.chords[n].start == moment->start;
        const auto& leading = after.chords[on_time ? n - 1 : n].chord;
        measures.cadence.count(keeps_function(before.chords[o - 1].chord, leading, home));
        const auto& end = before.chords.back().chord;
        if (at_home(end)) measures.cadence.count(keeps_function(end, after.chords.back().chord, home));
        return;
    }
}

/// A colour or another bass over the written root makes no new root.
bool has_new_root(const Chorus& before, const Moment& now) {
    const auto* old = before.at(now.start);
    return old == nullptr || above(sounding_root(now.chord), sounding_root(old->chord)) != 0;
}

void measure_motion(const Chorus& before, const Chorus& chorus, Measures& measures) {
    for (std::size_t i = 0; i < chorus.chords.size(); ++i) {
        const auto& from = chorus.chords[i];
        const auto& to = chorus.chords[(i + 1) % chorus.chords.size()];
        const auto motion = theory::guide_motion(from.chord, to.chord);
        if (!motion) continue;
        const int up = above(sounding_root(to.chord), sounding_root(from.chord));
        if (up != 0) {
            measures.semitones += motion->sum();
            ++measures.root_moves;
        }
        if (from.fresh != to.fresh) {
            measures.guides.count(std::abs(motion->third.semitones) <= 2);
            measures.guides.count(std::abs(motion->seventh.semitones) <= 2);
        }
        if ((has_new_root(before, from) || has_new_root(before, to)) && up != 0)
            measures.roots.count(up == 5 || up == 1 || up == 2 || up == 10 || up == 11);
    }
}

struct Outer {
    int melody = 0;
    int bass = 0;
    bool known = false;
    friend bool operator==(const Outer&, const Outer&) = default;
};

/// Both on the strong beats; what stays as it was is no move, and does not break a row of parallels.
std::vector<Outer> outer_voices(const Chorus& chorus) {
    std::vector<Outer> voices;
    for (const auto& bar : chorus.bars) {
        for (const auto beat : bar.strong) {
            const auto note = chorus.note_at(beat);
            const int chord = chorus.index_at(beat);
            const bool known =
                note && chord >= 0 && !chorus.chords[static_cast<std::size_t>(chord)].chord.is_none();
            const auto outer =
                known ? Outer{*note, chorus.bass[static_cast<std::size_t>(chord)], true} : Outer{};
            if (voices.empty() || !(outer == voices.back())) voices.push_back(outer);
        }
    }
    return voices;
}

Share not_together(const std::vector<Outer>& voices) {
    Share share;
    for (std::size_t i = 1; i < voices.size(); ++i) {
        const auto& a = voices[i - 1];
        const auto& b = voices[i];
        if (!a.known || !b.known) continue;
        const int melody = b.melody - a.melody, bass = b.bass - a.bass;
        share.count(melody * bass <= 0);
    }
    return share;
}

/// Three octaves or fifths in a row, both voices moving each time.
int parallels(const std::vector<Outer>& voices) {
    int rows = 0;
    for (std::size_t i = 2; i < voices.size(); ++i) {
        const auto interval = [&](std::size_t k) { return (voices[k].melody - voices[k].bass + 120) % 12; };
        const bool known = voices[i].known && voices[i - 1].known && voices[i - 2].known;
        if (!known || (interval(i) != 0 && interval(i) != 7)) continue;
        const bool same = interval(i) == interval(i - 1) && interval(i) == interval(i - 2);
        const bool moving = voices[i].bass != voices[i - 1].bass && voices[i - 1].bass != voices[i - 2].bass;
        rows += same && moving ? 1 : 0;
    }
    return rows;
}

bool rubs(const theory::Chord& chord, int midi, const theory::Key& home) {
    const auto role = theory::role_of(chord, midi % 12, home);
    return role == theory::ToneRole::avoid || role == theory::ToneRole::clash;
}

Time overlap(const Moment& moment, const Note& note) {
    const auto from = std::max(moment.start, note.start);
    const auto to = std::min(moment.end(), note.end());
    return to > from ? to - from : Time(0);
}

int new_clashes(const Chorus& before, const Chorus& after, const theory::Key& home) {
    int clashes = 0;
    const auto beat = after.bars.empty() ? Time(1, 4) : after.bars.front().beat_length;
    for (const auto& note : after.melody) {
        bool rubbed = false;
        for (const auto& moment : before.chords)
            rubbed = rubbed || (overlap(moment, note) > 0 && rubs(moment.chord, note.midi, home));
        if (rubbed) continue;
        for (const auto& moment : after.chords)
            clashes +=
                moment.fresh && overlap(moment, note) >= beat && rubs(moment.chord, note.midi, home) ? 1 : 0;
    }
    return clashes;
}

int chords_in(const Chorus& chorus, const PlayedMeasure& bar) {
    return static_cast<int>(
        std::count_if(chorus.chords.begin(), chorus.chords.end(), [&](const Moment& moment) {
            return moment.start < bar.bar.start + bar.length && moment.end() > bar.bar.start;
        }));
}

int crowded_bars(const Chorus& before, const Chorus& after) {
    int crowded = 0;
    for (const auto& bar : after.bars) {
        if (bar.quarter_tempo <= 200) continue;
        crowded += chords_in(after, bar) > std::max(2, chords_in(before, bar)) ? 1 : 0;
    }
    return crowded;
}

/// Characters of a symbol; `on_c` with roots and basses of one letter, so that Bb7 counts as B7 does.
std::size_t letters(theory::Chord chord, bool on_c) {
    if (on_c) chord.root = {};
    if (on_c && chord.bass) chord.bass = theory::NoteName{};
    return theory::to_string(chord, theory::SymbolStyle::plain).size();
}

double median_symbol(const Chorus& chorus, bool on_c) {
    std::vector<std::size_t> lengths;
    for (const auto& moment : chorus.chords) {
        if (moment.fresh) lengths.push_back(letters(moment.chord, on_c));
    }
    if (lengths.empty()) return 0;
    std::sort(lengths.begin(), lengths.end());
    return static_cast<double>(lengths[(lengths.size() - 1) / 2] + lengths[lengths.size() / 2]) / 2;
}

}  // namespace

bool keeps_function(const theory::Chord& old, const theory::Chord& now, const theory::Key& key) {
    const int up = above(sounding_root(now), sounding_root(old));
    const auto old_class = theory::chord_class(old), now_class = theory::chord_class(now);
    if (up == 0 && (old_class == now_class || (dominant_like(old) && dominant_like(now)))) return true;
    if (up == 6 && dominant_like(old) && dominant_like(now)) return true;
    if (dominant_like(old) && now_class == ChordClass::diminished && up % 3 == 1) return true;
    const char wanted = family(old, key);
    return wanted != '-' && wanted == family(now, key);
}

Measures measure(const tune::Tune& written, const analysis::Analysis& analysis, const tune::Tune& version) {
    const auto before = play(written, written);
    const auto after = play(written, version);
    Measures measures;
    measures.dose = difference(before, after);
    measure_starts(before, after, Keys(analysis), measures);
    measure_cadence(play(written, written, true), play(written, version, true), analysis.home, measures);
    measure_motion(before, after, measures);
    const auto voices = outer_voices(after), old_voices = outer_voices(before);
    measures.outer = not_together(voices);
    measures.outer_written = not_together(old_voices);
    measures.parallels = std::max(0, parallels(voices) - parallels(old_voices));
    measures.clashes = new_clashes(before, after, analysis.home);
    measures.crowded = crowded_bars(before, after);
    measures.median_symbol = median_symbol(after, false);
    measures.median_on_c = median_symbol(after, true);
    measures.new_chords = static_cast<int>(std::count_if(after.chords.begin(), after.chords.end(),
                                                         [](const Moment& moment) { return moment.fresh; }));
    return measures;
}

}  // namespace relead::bench
