#include <algorithm>
#include <array>
#include <map>

#include "analysis/analysis.h"
#include "analysis/functions.h"
#include "analysis/home_key.h"
#include "analysis/numerals.h"
#include "analysis/reading.h"
#include "theory/chord_table.h"
#include "theory/scale.h"

namespace relead::analysis {
namespace {

using theory::Key;
using theory::Mode;
using theory::NoteName;

/// Names for tonics as this tune spells its roots: its own key's name first, then the commonest root, else
/// the name nearest to the home tonic.
class Speller {
public:
    Speller(const Chorus& chorus, const std::optional<Key>& given) {
        std::map<int, std::map<int, int>> counts;  // pitch class -> fifths -> how often
        for (const auto& chord : chorus.chords) ++counts[chord.root][chord.chord->root.fifths];
        for (const auto& [pitch_class, names] : counts) {
            const auto most = std::max_element(
                names.begin(), names.end(), [](const auto& a, const auto& b) { return a.second < b.second; });
            names_[static_cast<std::size_t>(pitch_class)] = NoteName{most->first};
        }
        if (given) {
            names_[static_cast<std::size_t>(theory::pitch_class(given->tonic))] = given->tonic;
            center_ = given->tonic;
        }
    }
    void set_center(NoteName center) { center_ = center; }

    NoteName name(int pitch_class) const {
        const auto& known = names_[static_cast<std::size_t>(pitch_class)];
        if (known) return *known;
        const int fifths = (pitch_class * 7) % 12;  // the same pitch class somewhere on the line of fifths
        return theory::respell_near({fifths}, center_);
    }
    Key key(const Tonality& tonality, Mode major = Mode::major, Mode minor = Mode::minor) const {
        // Seven accidentals only for a root that the tune itself spells so.
        const bool spelled = names_[static_cast<std::size_t>(tonality.tonic)].has_value();
        return theory::practical_key({name(tonality.tonic), tonality.minor ? minor : major}, spelled);
    }

private:
    std::array<std::optional<NoteName>, 12> names_;
    NoteName center_;
};

Tonality tonality_of(const Key& key) {
    return {theory::pitch_class(key.tonic), theory::is_minor_like(key)};
}

std::optional<ModeScale> mode_scale(const Key& key) {
    const auto scale = theory::is_modal(key) ? theory::find_scale(theory::mode_name(key.mode)) : std::nullopt;
    if (!scale) return std::nullopt;
    ModeScale tones{};
    for (const auto degree : scale->degrees)
        tones[static_cast<std::size_t>(theory::pitch_class(key.tonic) +
                                       theory::semitones_above_root(degree)) %
              12] = true;
    return tones;
}

/// Positions that stand for written chords: the first playing of each.
std::vector<int> first_playings(const ChorusReading& reading, std::size_t written) {
    std::vector<int> first(written, -1);
    for (int i = reading.size() - 1; i >= 0; --i) first[static_cast<std::size_t>(reading.at(i).written)] = i;
    return first;
}

class Teller {
public:
    Teller(const ChorusReading& reading, const Speller& speller, const Key& home)
        : r_(reading), speller_(speller), home_(home), duties_(functions_of(reading)) {}

    ChordFact told(int i, std::size_t written) const {
        const auto at = static_cast<std::size_t>(i);
        ChordFact fact;
        const auto& local = r_.local[at];
        fact.local_key = local == r_.home ? home_ : speller_.key(local);
        fact.numeral = numeral_of(r_, duties_, i, numeral_tonic(fact.local_key));
        fact.function = duties_[at].function;
        if (const int target = r_.targets[at]; target >= 0)
            fact.target = target < r_.size() ? r_.at(target).written : static_cast<int>(written);
        fact.relation = r_.relations[at];
        fact.colours_earlier = r_.hosts[at] >= 0;
        if (const int goal = duties_[at].goal; goal >= 0) fact.applied_to = r_.at(goal).written;
        fact.related_ii = duties_[at].related_ii;
        fact.blues_tonic = duties_[at].blues_tonic;
        fact.deceptive = duties_[at].deceptive;
        fact.common_tone = duties_[at].common_tone;
        fact.in_modal_stretch = r_.modal[at];
        fact.over_pedal = r_.pedal[at];
        fact.line_cliche = r_.line[at];
        fact.planing = r_.planing[at];
        fact.turnaround = r_.turnaround[at];
        return fact;
    }

private:
    static NoteName numeral_tonic(const Key& key) { return key.tonic; }

    const ChorusReading& r_;
    const Speller& speller_;
    Key home_;
    std::vector<Duty> duties_;
};

/// The last chorus where it plays chords that others do not: those of a last ending, of a coda.
std::optional<Chorus> other_end(const tune::Tune& tune, const std::vector<int>& first) {
    const auto unplayed = [&](const Heard& heard) {
        return first[static_cast<std::size_t>(heard.written)] < 0;
    };
    auto last = hear(tune, true);
    if (std::none_of(last.chords.begin(), last.chords.end(), unplayed)) return std::nullopt;
    return last;
}

/// A chord that no chorus plays (an intro), or a silent one: it leads to the written chord after it.
ChordFact silent(std::size_t index, const theory::Chord& chord, const Key& home) {
    ChordFact fact;
    if (!chord.is_none()) {
        fact.numeral = plain_numeral(chord, home.tonic);
        Heard heard;
        heard.root = theory::pitch_class(chord.root);
        heard.sound = sound_of(chord);
        if (is_tonic_chord(heard, tonality_of(home))) fact.function = Function::tonic;
    }
    fact.local_key = home;
    fact.target = static_cast<int>(index) + 1;
    fact.relation = Relation::prolongs;
    return fact;
}

/// What chords that no chorus plays do among each other: a tonic is taken up by the next tonic, any other
/// chord prepares the chord after it. `unplayed[i]` says that chord i is one of them.
void relate_unplayed(const tune::Tune& tune, const std::vector<bool>& unplayed,
                     std::vector<ChordFact>& facts) {
    const auto sounding = [&](std::size_t i) -> const theory::Chord& {
        return tune::chord_at(tune, facts[i].ref).chord;
    };
    for (std::size_t i = 0; i < facts.size(); ++i) {
        if (!unplayed[i] || sounding(i).is_none()) continue;
        std::size_t next = i + 1;
        const bool tonic = facts[i].function == Function::tonic;
        while (next < facts.size() && unplayed[next] &&
               (sounding(next).is_none() || (tonic && facts[next].function != Function::tonic)))
            ++next;
        if (next >= facts.size() || !unplayed[next]) continue;
        facts[i].target = static_cast<int>(next);
        const bool same_root =
            theory::pitch_class(sounding(i).root) == theory::pitch_class(sounding(next).root);
        if (!tonic && !same_root) facts[i].relation = Relation::prepares;
    }
}

Key estimate(const Chorus& chorus, const Speller& speller) {
    const auto home = home_tonality(chorus);
    const bool blues = !home.minor && is_blues(chorus, home.tonic);
    return speller.key(home, blues ? Mode::blues : Mode::major);
}

}  // namespace

Key estimate_key(const tune::Tune& tune) {
    const auto chorus = hear(tune);
    return estimate(chorus, Speller(chorus, std::nullopt));
}

Analysis analyse(const tune::Tune& tune) {
    Analysis analysis;
    auto chorus = hear(tune);
    analysis.given = tune.given_key;
    Speller speller(chorus, std::nullopt);
    analysis.estimated = estimate(chorus, speller);
    analysis.home = analysis.given.value_or(analysis.estimated);
    speller = Speller(chorus, analysis.given);
    speller.set_center(analysis.home.tonic);

    const auto home = tonality_of(analysis.home);
    const bool blues = analysis.home.mode == Mode::blues ||
                       (!home.minor && !theory::is_modal(analysis.home) && is_blues(chorus, home.tonic));
    const auto refs = tune::written_chords(tune);
    const auto reading = read_chorus(home, blues, std::move(chorus), mode_scale(analysis.home));
    analysis.exact = reading.exact;
    analysis.window = reading.window;

    const auto first = first_playings(reading, refs.size());
    analysis.chords.resize(refs.size());
    std::vector<bool> told(refs.size(), false);
    const auto tell = [&](const ChorusReading& read, const std::vector<int>& playings) {
        const Teller teller(read, speller, analysis.home);
        for (std::size_t i = 0; i < refs.size(); ++i) {
            if (told[i] || playings[i] < 0) continue;
            analysis.chords[i] = teller.told(playings[i], refs.size());
            told[i] = true;
        }
    };
    tell(reading, first);
    if (auto last = other_end(tune, first)) {
        const auto end = read_chorus(home, blues, std::move(*last), mode_scale(analysis.home));
        tell(end, first_playings(end, refs.size()));
    }
    for (std::size_t i = 0; i < refs.size(); ++i) {
        if (!told[i]) analysis.chords[i] = silent(i, tune::chord_at(tune, refs[i]).chord, analysis.home);
        analysis.chords[i].ref = refs[i];
    }
    std::vector<bool> unplayed(told);
    unplayed.flip();
    relate_unplayed(tune, unplayed, analysis.chords);
    for (int i = 0; i < reading.size(); ++i)
        analysis.chords[static_cast<std::size_t>(reading.at(i).written)].playings.push_back(i);
    return analysis;
}

}  // namespace relead::analysis
