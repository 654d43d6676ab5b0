#include "rules/match.h"

#include <algorithm>

#include "rules/match_context.h"
#include "rules/replace.h"
#include "tune/spot.h"

namespace relead::rules {
namespace {

class Matcher {
public:
    Matcher(const RuleSet& rules, int index, const Chart& chart, const MatchWish& wish)
        : rule_(rules.rules[static_cast<std::size_t>(index)]),
          index_(index),
          chart_(chart),
          wish_(wish),
          examiner_(rule_, chart),
          asks_new_(asks_about_new_chords(rule_)),
          opening_(wish.explain ? any_kind : opening_kinds(rule_.find.run)) {}

    std::vector<Match> run() {
        if (rule_.audience != Audience::everybody && rule_.audience != wish_.audience && !wish_.explain)
            return {};
        if (rule_.find.region) {
            find_regions();
        } else {
            const int last = wish_.last < 0 ? chart_.size() : std::min(wish_.last, chart_.size());
            for (int i = std::max(0, wish_.first); i < last; ++i) start_at(i);
        }
        return std::move(matches_);
    }

private:
    static constexpr KindSet any_kind = any_chord | no_chord;

    /// What the first chord found may be, whatever degree 1 is.
    static KindSet opening_kinds(const Run& run) {
        if (run.empty() || run.front().optional) return any_kind;
        KindSet kinds = 0;
        for (const auto& pattern : run.front().alternatives) kinds |= pattern.kinds;
        return kinds;
    }
    void start_at(int begin) {
        const auto& spot = chart_.at(begin);
        if ((spot.heard.kind & opening_) == 0) return;
        found_.begin = begin;
        if (rule_.tonic == TonicBinding::home) found_.tonic = chart_.home.tonic;
        if (rule_.tonic == TonicBinding::local) found_.tonic = spot.fact.local_key.tonic;
        if (rule_.tonic != TonicBinding::any) {
            extend(begin);
            return;
        }
        const auto& patterns = rule_.find.run.front().alternatives;
        for (std::size_t i = 0; i < patterns.size(); ++i) {
            const auto tonic = tonic_by(patterns[i], spot);
            const bool tried = std::any_of(
                patterns.begin(), patterns.begin() + static_cast<std::ptrdiff_t>(i),
                [&](const auto& earlier) {
                    return theory::pitch_class(tonic_by(earlier, spot)) == theory::pitch_class(tonic);
                });
            if (tried) continue;
            found_.tonic = tonic;
            extend(begin);
        }
    }
    /// Degree 1 when the chord there stands on the degree that the pattern names.
    static theory::NoteName tonic_by(const ChordPattern& pattern, const Spot& spot) {
        return spot.heard.root -
               theory::interval_of_degree(pattern.degree->degree, pattern.degree->alteration);
    }
    /// Where the same chord, repeated over bar lines, ends. What a rule wrote beside the same chord of the
    /// author's is another one.
    int end_of_repeats(int at) const {
        int end = at + 1;
        while (end < chart_.size() && chart_.joined(end - 1) && chart_.at(end).made == chart_.at(at).made &&
               chart_.at(end).chord == chart_.at(at).chord)
            ++end;
        return end;
    }
    void extend(int at) {
        const auto done = found_.ranges.size();
        if (done == rule_.find.run.size()) {
            finish(at, {});
            return;
        }
        const auto& element = rule_.find.run[done];
        if (element.optional) take(at, at);
        if (at >= chart_.size() || (at > found_.begin && !chart_.joined(at - 1))) return;
        if (!matches(element, chart_.at(at).heard, found_.tonic)) {
            if (wish_.explain) explain_kind(at);
            return;
        }
        take(at, at + 1);
        if (const int end = end_of_repeats(at); end > at + 1) take(at, end);
    }
    /// The next element is found there; what comes after it?
    void take(int begin, int end) {
        found_.ranges.emplace_back(begin, end);
        extend(end);
        found_.ranges.pop_back();
    }
    /// Near misses that a player asks about: a suspended chord where a dominant is wanted.
    void explain_kind(int at) {
        const auto& element = rule_.find.run[found_.ranges.size()];
        const auto& heard = chart_.at(at).heard;
        if (heard.kind != suspended || found_.ranges.size() + 1 != rule_.find.run.size()) return;
        if (!matches(element, {heard.root, dominant}, found_.tonic)) return;
        found_.ranges.emplace_back(at, at + 1);
        finish(at + 1, {{Objection::Kind::find,
                         theory::to_string(chart_.at(at).chord) +
                             " is a suspended chord; the rule needs a dominant with its third."}});
        found_.ranges.pop_back();
    }
    void finish(int end, std::vector<Objection> objections) {
        if (end <= found_.begin || (wish_.over_made && !takes_in_made(found_.begin, end))) return;
        auto found = found_;
        found.end = end;
        take_next_spelling(found);
        if (asks_new_) plan_new_chords(found);
        if (!fits(found, wish_.explain ? &objections : nullptr) && !wish_.explain) return;
        Match match;
        match.objections = std::move(objections);
        match.candidate.rule = index_;
        match.candidate.begin = found.begin;
        match.candidate.end = found.end;
        match.candidate.tonic = found.tonic;
        if (wish_.open_contexts) examiner_.leave_open(found.tonic, match.candidate);
        const auto colour = wish_.open_contexts ? coloured_before(rule_) : std::nullopt;
        if (!colour) {
            write(std::move(match), found, Colouring::by_chart);
            return;
        }
        for (const bool coloured : {true, false}) {
            auto variant = match;
            variant.candidate.right.push_back(
                {{{{std::nullopt, *colour, ""}}, false, {}}, found.tonic, !coloured});
            write(std::move(variant), found, coloured ? Colouring::yes : Colouring::no);
        }
    }
    void plan_new_chords(Found& found) const {
        for (const auto& chord : replace(rule_, chart_, found, Colouring::no).chords)
            found.new_chords.push_back({chord.chord, chord.at, chord.length});
    }
    void write(Match match, const Found& found, Colouring colouring) {
        auto replacement = replace(rule_, chart_, found, colouring);
        if (!replacement.problem.empty())
            match.objections.push_back({Objection::Kind::share, std::move(replacement.problem)});
        match.candidate.chords = std::move(replacement.chords);
        for (auto& chord : match.candidate.chords) chord.rule = index_;
        if (match.fits() || wish_.explain) matches_.push_back(std::move(match));
    }
    /// Degree 1 is spelled as the chord that stands there, when it does; else near the local key.
    void take_next_spelling(Found& found) const {
        if (rule_.tonic != TonicBinding::any) return;
        const auto& last = chart_.at(found.end - 1);
        found.tonic = near_key(found.tonic, last.fact.local_key);
        if (last.next.size() != 1) return;
        const auto root = chart_.at(last.next.front()).chord.root;
        if (theory::pitch_class(root) == theory::pitch_class(found.tonic)) found.tonic = root;
    }
    /// In C major a D flat, not a C sharp: at most six fifths away.
    static theory::NoteName near_key(theory::NoteName note, const theory::Key& key) {
        constexpr int farthest = 6, enharmonic = 12;
        while (note.fifths - key.tonic.fifths > farthest) note.fifths -= enharmonic;
        while (note.fifths - key.tonic.fifths < -farthest) note.fifths += enharmonic;
        return note;
    }
    bool takes_in_made(int begin, int end) const {
        for (int i = begin; i < end; ++i) {
            if (chart_.at(i).made) return true;
        }
        return false;
    }
    /// As in Examiner: nobody who asks for no reasons waits for a second objection.
    bool fits(const Found& found, std::vector<Objection>* against) const {
        const bool lengths = lengths_fit(found, against);
        if (!lengths && !against) return false;
        const bool frame = frame_fits(found, against);
        if (!frame && !against) return false;
        return examiner_.fits(found, wish_.open_contexts, against) && lengths && frame;
    }
    bool lengths_fit(const Found& found, std::vector<Objection>* against) const {
        bool all_fit = true;
        for (std::size_t i = 0; i < rule_.find.run.size() && i < found.ranges.size(); ++i) {
            const auto [begin, end] = found.ranges[i];
            if (begin == end) continue;
            for (const auto& bound : rule_.find.run[i].lengths) {
                if (within(bound, chart_, begin, end)) continue;
                if (!against) return false;
                against->push_back({Objection::Kind::length, length_sentence(chart_.at(begin).chord, bound)});
                all_fit = false;
            }
        }
        return all_fit;
    }
    static std::string length_sentence(const theory::Chord& chord, const LengthBound& bound) {
        const char* unit = bound.unit == LengthBound::Unit::beats  ? "beat"
                           : bound.unit == LengthBound::Unit::bars ? "bar"
                                                                   : "second";
        return theory::to_string(chord) + " is too " +
               (bound.at_least ? "short: the rule needs at least " : "long: the rule needs at most ") +
               tune::count_of(bound.amount, unit) + ".";
    }
    bool frame_fits(const Found& found, std::vector<Objection>* against) const {
        const bool for_them = rule_.audience == Audience::everybody || rule_.audience == wish_.audience;
        const auto& key = chart_.at(found.begin).fact.local_key;
        const bool in_mode =
            !rule_.tonic_mode || (*rule_.tonic_mode == "minor") == theory::is_minor_like(key);
        if (against && !for_them)
            against->push_back({Objection::Kind::audience, rule_.audience == Audience::soloist
                                                               ? "The rule is for a soloist only."
                                                               : "The rule is for the band only."});
        if (against && !in_mode)
            against->push_back({Objection::Kind::tonic, "The rule needs a " + *rule_.tonic_mode +
                                                            " key; this is " + theory::to_string(key) + "."});
        return for_them && in_mode;
    }
    /// Runs of joined chords that fill the asked bars of a stretch of form exactly.
    void find_regions() {
        const auto& place = *rule_.find.region;
        for (int begin = 0; begin < chart_.size();) {
            if (!within(place, chart_, begin, begin + 1)) {
                ++begin;
                continue;
            }
            int end = begin + 1;
            while (end < chart_.size() && chart_.joined(end - 1) && within(place, chart_, end, end + 1))
                ++end;
            Fraction bars = 0;
            for (int i = begin; i < end; ++i)
                bars += chart_.at(i).beats() / Fraction(std::max(1, chart_.at(i).beats_in_bar));
            if (bars == place.bars) {
                found_ = {};
                found_.begin = begin;
                found_.ranges = {{begin, end}};  // @1 is all of it
                found_.tonic = rule_.tonic == TonicBinding::home ? chart_.home.tonic
                                                                 : chart_.at(begin).fact.local_key.tonic;
                finish(end, {});
            }
            begin = end;
        }
    }

    const Rule& rule_;
    int index_;
    const Chart& chart_;
    MatchWish wish_;
    Examiner examiner_;
    bool asks_new_;    ///< some condition speaks of the chords that it would write
    KindSet opening_;  ///< kinds of chord with which a match can begin
    Found found_;      ///< so far
    std::vector<Match> matches_;
};

}  // namespace

std::string_view to_string(Objection::Kind kind) {
    constexpr std::string_view words[] = {
#define RELEAD_OBJECTION(kind, word) word,
#include "rules/objections.def"
#undef RELEAD_OBJECTION
    };
    return words[static_cast<std::size_t>(kind)];
}

std::vector<Match> match_rule(const RuleSet& rules, int rule, const Chart& chart, const MatchWish& wish) {
    return Matcher(rules, rule, chart, wish).run();
}

std::vector<Match> match_all(const RuleSet& rules, const Chart& chart, const MatchWish& wish) {
    std::vector<Match> all;
    for (int rule = 0; rule < static_cast<int>(rules.rules.size()); ++rule) {
        auto some = match_rule(rules, rule, chart, wish);
        all.insert(all.end(), std::make_move_iterator(some.begin()), std::make_move_iterator(some.end()));
    }
    std::stable_sort(all.begin(), all.end(), [](const Match& a, const Match& b) {
        return std::pair(a.candidate.begin, a.candidate.end) < std::pair(b.candidate.begin, b.candidate.end);
    });
    return all;
}

}  // namespace relead::rules
