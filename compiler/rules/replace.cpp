#include "rules/replace.h"

#include <algorithm>
#include <optional>

namespace relead::rules {
namespace {

class Replacer {
public:
    Replacer(const Rule& rule, const Chart& chart, const Found& found, Colouring colouring)
        : rule_(rule), chart_(chart), found_(found), colouring_(colouring) {
        for (int i = found.begin; i < found.end; ++i) whole_ += chart.at(i).length;
    }

    Replacement run() {
        if (rule_.write.front().base == NewChordSpec::Base::each) {
            keep_each();
            if (!problem_.empty()) return {{}, problem_};
        } else {
            std::vector<Time> lengths = raw_lengths();
            if (!problem_.empty() || !snap(lengths)) return {{}, problem_};
            Time at = 0;
            for (std::size_t i = 0; i < rule_.write.size(); ++i) {
                add(static_cast<int>(i), at, lengths[i]);
                at += lengths[i];
            }
        }
        spell_for_paper(chords_, first().key, chords_.empty() ? nullptr : following(chords_.size() - 1));
        add_colours();
        return {std::move(chords_), {}};
    }

private:
    const Spot& first() const { return chart_.at(found_.begin); }
    /// Range of found chord k; regions count single spots.
    std::pair<int, int> range(int k) const {
        if (!rule_.find.region) return found_.ranges[static_cast<std::size_t>(k)];
        const int at = std::min(found_.begin + k, found_.end - 1);
        return {at, at + 1};
    }
    Time length_of(int k) const {
        const auto [begin, end] = range(k);
        Time length = 0;
        for (int i = begin; i < end; ++i) length += chart_.at(i).length;
        return length;
    }
    void keep_each() {
        Time at = 0;
        for (int i = found_.begin; i < found_.end; ++i) {
            const auto& spot = chart_.at(i);
            NewChord chord{spot.chord, spot.chord, at, spot.length, 0, 0, {}};
            chord.kept_from = i;
            set_bass(rule_.write.front(), chord.strict);
            chord.chord = chord.strict;
            if (rubs_over_bass(chord.chord) && !rubs_over_bass(spot.chord)) {
                problem_ = theory::to_string(spot.chord) + " would rub against the bass below it.";
                return;
            }
            at += spot.length;
            // Two inversions of one chord in a bar are one over the held bass.
            if (i > found_.begin && spot.beat() > Beats(1) && chords_.back().chord == chord.chord) {
                chords_.back().length += spot.length;
                continue;
            }
            chords_.push_back(std::move(chord));
        }
    }
    /// Its root lies a half step from its bass, or it has the tone a half step below the bass; the bass's own
    /// dominant may have that (D7/G).
    static bool rubs_over_bass(const theory::Chord& chord) {
        if (!chord.bass || chord.is_none()) return false;
        const auto above_bass = [&](const theory::NoteName& tone) {
            return theory::semitones_up(*chord.bass, tone);
        };
        const int root = above_bass(chord.root);
        if (root == 1 || root == 11) return true;
        const auto degrees = theory::degrees(chord);
        return root != 7 && std::any_of(degrees.begin(), degrees.end(), [&](const auto degree) {
                   return above_bass(theory::tone(chord, degree)) == 11;
               });
    }
    void set_bass(const NewChordSpec& item, theory::Chord& chord) const {
        std::optional<theory::NoteName> bass;
        if (item.bass_of_chord)
            bass = chord.root +
                   theory::interval_of_degree(item.bass_of_chord->number, item.bass_of_chord->alteration);
        if (item.bass_of_tonic) bass = theory::note_at(found_.tonic, *item.bass_of_tonic);
        if (!bass || chord.is_none()) return;
        chord.suffix.clear();
        chord.bass.reset();
        if (theory::pitch_class(*bass) != theory::pitch_class(chord.root)) chord.bass = bass;
    }
    bool one_to_one() const {
        if (rule_.find.region || rule_.write.size() != found_.ranges.size()) return false;
        for (std::size_t i = 0; i < rule_.write.size(); ++i) {
            if (rule_.write[i].share.kind != Share::Kind::even ||
                found_.ranges[i].first == found_.ranges[i].second)
                return false;
        }
        return true;
    }
    std::vector<Time> raw_lengths() {
        std::vector<Time> lengths;
        Time given = 0;
        int open = 0;
        const bool matched = one_to_one();
        for (std::size_t i = 0; i < rule_.write.size(); ++i) {
            const auto& share = rule_.write[i].share;
            Time length = 0;
            switch (share.kind) {
                case Share::Kind::even:
                    length = matched ? length_of(static_cast<int>(i)) : Time(0);
                    break;
                case Share::Kind::fraction:
                    length = (share.found ? length_of(*share.found) : whole_) * share.amount;
                    break;
                case Share::Kind::beats:
                    length = first().beat_length * share.amount;
                    break;
                case Share::Kind::rest:
                    break;
            }
            const bool is_open =
                (share.kind == Share::Kind::even && !matched) || share.kind == Share::Kind::rest;
            open += is_open ? 1 : 0;
            given += length;
            lengths.push_back(is_open ? Time(-1) : length);
        }
        if (given > whole_ || (open == 0 && given != whole_) || (open > 0 && given == whole_)) {
            problem_ = "There is not enough time for its chords.";
            return lengths;
        }
        for (auto& length : lengths) {
            if (length < 0) length = (whole_ - given) / Fraction(open);
        }
        return lengths;
    }
    /// Moves inner boundaries to the next beat, so that the longer part comes first.
    bool snap(std::vector<Time>& lengths) {
        const auto beat = first().beat_length;
        const auto offset = first().start - first().bar_start;
        Time raw = 0, last = 0;
        for (std::size_t i = 0; i < lengths.size(); ++i) {
            raw += lengths[i];
            auto edge = raw;
            if (i + 1 < lengths.size() && !is_boundary(raw)) {
                const auto beats = (offset + raw) / beat;
                edge = Fraction(-(-beats).floor()) * beat - offset;
                if (!says_beats(i) && !says_beats(i + 1)) edge = on_group(raw, last, edge);
            }
            if (i + 1 < lengths.size() && !keeps_with_bars(i, raw, lengths, edge)) {
                problem_ = "Its chords would not fall with the bars.";
                return false;
            }
            lengths[i] = edge - last;
            last = edge;
            if (lengths[i] <= 0 || edge > whole_) {
                problem_ = "There is not enough time for its chords: each needs a beat.";
                return false;
            }
        }
        return true;
    }
    /// How many beats a new chord takes is the rule's own word: no grouping moves it.
    bool says_beats(std::size_t i) const { return rule_.write[i].share.kind == Share::Kind::beats; }
    /// In a meter of stated groups (5/4 as 3+2) the beginning of a group that is nearest to `raw`, after
    /// `last`: nobody counts across one. Elsewhere `edge`.
    Time on_group(Time raw, Time last, Time edge) const {
        if (chart_.tune == nullptr) return edge;
        const auto& section = chart_.tune->sections[static_cast<std::size_t>(first().ref.section)];
        const auto& meter = section.bars[static_cast<std::size_t>(first().ref.bar)].meter;
        if (meter.groups.empty()) return edge;
        const auto away = [&](Time at) { return at < raw ? raw - at : at - raw; };
        std::optional<Time> nearest;
        for (Time at = first().bar_start - first().start; at <= whole_;) {
            for (const int group : meter.groups) {
                if (at > last && at < whole_ && (!nearest || away(at) <= away(*nearest))) nearest = at;
                at += Time(group, meter.unit);
            }
        }
        return nearest.value_or(whole_);
    }
    /// What starts inside a bar ends with it: nobody counts three beats and three beats over the bar lines.
    /// Of two chords the second waits for the bar line.
    bool keeps_with_bars(std::size_t i, Time raw, const std::vector<Time>& lengths, Time& edge) const {
        const auto bar = first().beat_length * Fraction(std::max(1, first().beats_in_bar));
        const auto in_bars = (first().start - first().bar_start + edge) / bar;
        const auto rest_of_bar = (Fraction(-(-in_bars).floor()) - in_bars) * bar;
        const auto end = i + 2 == lengths.size() ? whole_ : raw + lengths[i + 1];
        if (rest_of_bar == 0 || is_boundary(edge) || end - edge <= rest_of_bar) return true;
        if (lengths.size() != 2) return false;
        edge += rest_of_bar;
        return true;
    }
    /// The author's own chord boundaries need no snapping.
    bool is_boundary(Time at) const {
        Time edge = 0;
        for (int i = found_.begin; i < found_.end; ++i) {
            edge += chart_.at(i).length;
            if (edge == at) return true;
        }
        return false;
    }
    /// A chord that stands there anyway is the author's own and nothing new (Imaj7 where Cmaj7 is written);
    /// where a dominant with colours (D7b9) has the root of a plain V7, these stay. Over another bass only a
    /// flat ninth does: D7#9/F# is a symbol that nobody reads.
    void keep_what_is_written(Time at, NewChord& chord, bool over_its_root) const {
        Time edge = 0;
        for (int i = found_.begin; i < found_.end && edge <= at; ++i) {
            const auto& spot = chart_.at(i);
            const bool here = at < edge + spot.length;
            if (here && (spot.chord == chord.strict || (colours(spot.chord, chord.strict) &&
                                                        (over_its_root || has_flat_ninth(spot.chord))))) {
                if (edge == at) chord.kept_from = i;
                chord.strict = spot.chord;
                if (edge != at) chord.strict.bass.reset();
            }
            edge += spot.length;
        }
    }
    static bool has_flat_ninth(const theory::Chord& chord) {
        const auto degrees = theory::degrees(chord);
        return std::find(degrees.begin(), degrees.end(), theory::Degree{9, -1}) != degrees.end();
    }
    /// `written` is a dominant on the root of the plain seventh chord `plain`, with whatever colours.
    static bool colours(const theory::Chord& written, const theory::Chord& plain) {
        return plain.quality == theory::find_quality("7") && plain.extra.empty() &&
               theory::chord_class(written) == theory::ChordClass::dominant &&
               theory::pitch_class(written.root) == theory::pitch_class(plain.root);
    }
    void add(int index, Time at, Time length) {
        const auto& item = rule_.write[static_cast<std::size_t>(index)];
        NewChord chord;
        chord.at = at;
        chord.length = length;
        chord.item = index;
        if (item.base == NewChordSpec::Base::found) {
            const auto [begin, end] = range(item.found);
            const int from = begin < end ? begin : found_.begin;
            chord.strict = chart_.at(from).chord;
            if (item.colours.empty()) chord.kept_from = from;
        } else {
            chord.strict.root = theory::note_at(found_.tonic, item.degree);
            chord.strict.quality = item.quality;
            chord.strict.extra = item.extra;
            keep_what_is_written(at, chord, !item.bass_of_chord && !item.bass_of_tonic);
        }
        set_bass(item, chord.strict);
        chord.chord = chord.strict;
        chords_.push_back(std::move(chord));
    }
    const theory::Chord* following(std::size_t i) const {
        if (i + 1 < chords_.size()) return &chords_[i + 1].chord;
        const auto& next = chart_.at(found_.end - 1).next;
        return next.empty() ? nullptr : &chart_.at(next.front()).chord;
    }
    bool wants(std::size_t i, KindSet kinds) const {
        if (i + 1 == chords_.size() && colouring_ != Colouring::by_chart) return colouring_ == Colouring::yes;
        const auto* next = following(i);
        return next && is_a(*next, kinds);
    }
    void add_colours() {
        for (std::size_t i = 0; i < chords_.size(); ++i) {
            for (const auto& colour : rule_.write[static_cast<std::size_t>(chords_[i].item)].colours) {
                if (colour.before && !wants(i, *colour.before)) continue;
                if (auto with = theory::with_degree(chords_[i].chord, colour.degree))
                    chords_[i].chord = *with;
                if (auto with = theory::with_degree(chords_[i].strict, colour.degree))
                    chords_[i].strict = *with;
            }
        }
    }

    const Rule& rule_;
    const Chart& chart_;
    const Found& found_;
    Colouring colouring_;
    Time whole_ = 0;
    std::vector<NewChord> chords_;
    std::string problem_;
};

}  // namespace

void spell_for_paper(std::vector<NewChord>& chords, const theory::Key& key, const theory::Chord* following) {
    for (auto& chord : chords) {
        if (!chord.kept_from) chord.chord = theory::practical_spelling(chord.strict, key);
    }
    const bool leads_on = following && !following->is_none();
    for (std::size_t i = chords.size() + (leads_on ? 1 : 0); i-- > 1;) {
        auto& chord = chords[i - 1];
        const auto next = i == chords.size() ? following->root : chords[i].chord.root;
        const bool falls_a_fifth =
            theory::semitones_up(next, chord.chord.root) == 7 && !chord.chord.is_none();
        if (!falls_a_fifth || chord.kept_from || chord.chord.root - next == 1) continue;
        const auto from = chord.chord.root;
        const theory::NoteName to{next.fifths + 1};
        // No Cb7 before Fb but where the key has them.
        const bool on_a_white_key = to.fifths <= -7 || (to.fifths >= 11 && to.fifths <= 12);
        if (theory::alteration(to) < -1 || theory::alteration(to) > 1) continue;
        if (on_a_white_key && !theory::is_diatonic(to, key)) continue;
        chord.chord = theory::transpose(chord.chord, {to - from, -7 * (to - from) / 12});
    }
}

Replacement replace(const Rule& rule, const Chart& chart, const Found& found, Colouring colouring) {
    return Replacer(rule, chart, found, colouring).run();
}

std::optional<KindSet> coloured_before(const Rule& rule) {
    for (const auto& colour : rule.write.back().colours) {
        if (colour.before) return colour.before;
    }
    return std::nullopt;
}

}  // namespace relead::rules
