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
          examiner_(rule_, chart) {}

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
    void start_at(int begin) {
        Found found;
        found.begin = begin;
        const auto& spot = chart_.at(begin);
        if (rule_.tonic == TonicBinding::home) found.tonic = chart_.home.tonic;
        if (rule_.tonic == TonicBinding::local) found.tonic = spot.fact.local_key.tonic;
        if (rule_.tonic != TonicBinding::any) {
            extend(found, begin);
            return;
        }
        std::vector<int> tried;
        for (const auto& pattern : rule_.find.run.front().alternatives) {
            const auto degree = *pattern.degree;
            found.tonic =
                heard_as(spot.chord).root - theory::interval_of_degree(degree.degree, degree.alteration);
            const int pitch_class = theory::pitch_class(found.tonic);
            if (std::find(tried.begin(), tried.end(), pitch_class) != tried.end()) continue;
            tried.push_back(pitch_class);
            extend(found, begin);
        }
    }
    /// Where an element that starts at `at` may end: after one chord, or where the same chord, repeated
    /// over bar lines, ends. What a rule wrote beside the same chord of the author's is another one.
    std::vector<int> ends(int at) const {
        int end = at + 1;
        while (end < chart_.size() && chart_.joined(end - 1) && chart_.at(end).made == chart_.at(at).made &&
               chart_.at(end).chord == chart_.at(at).chord)
            ++end;
        if (end == at + 1) return {end};
        return {at + 1, end};
    }
    void extend(const Found& found, int at) {
        const auto done = found.ranges.size();
        if (done == rule_.find.run.size()) {
            finish(found, at, {});
            return;
        }
        const auto& element = rule_.find.run[done];
        if (element.optional) {
            auto without = found;
            without.ranges.emplace_back(at, at);
            extend(without, at);
        }
        if (at >= chart_.size() || (at > found.begin && !chart_.joined(at - 1))) return;
        const auto& chord = chart_.at(at).chord;
        if (!matches(element, chord, found.tonic)) {
            if (wish_.explain) explain_kind(found, at);
            return;
        }
        for (const int end : ends(at)) {
            auto with = found;
            with.ranges.emplace_back(at, end);
            extend(with, end);
        }
    }
    /// Near misses that a player asks about: a suspended chord where a dominant is wanted.
    void explain_kind(const Found& found, int at) {
        const auto& element = rule_.find.run[found.ranges.size()];
        const auto& chord = chart_.at(at).chord;
        const auto heard = heard_as(chord);
        if (heard.kind != suspended || found.ranges.size() + 1 != rule_.find.run.size()) return;
        auto stand_in = chord;
        stand_in.root = heard.root;
        stand_in.bass.reset();
        stand_in.quality = *theory::find_quality("7");
        stand_in.extra.clear();
        if (!matches(element, stand_in, found.tonic)) return;
        auto with = found;
        with.ranges.emplace_back(at, at + 1);
        finish(with, at + 1,
               {{Objection::Kind::find,
                 theory::to_string(chord) +
                     " is a suspended chord; the rule needs a dominant with its third."}});
    }
    void finish(Found found, int end, std::vector<Objection> objections) {
        found.end = end;
        if (found.end <= found.begin) return;
        take_next_spelling(found);
        Match match;
        match.objections = std::move(objections);
        match.candidate.rule = index_;
        match.candidate.begin = found.begin;
        match.candidate.end = found.end;
        match.candidate.why.tonic = found.tonic;
        match.candidate.why.found = found.ranges;
        check_lengths(found, match);
        check_frame(found, match);
        auto against = examiner_.objections(found, wish_.open_contexts, match.candidate);
        match.objections.insert(match.objections.end(), against.begin(), against.end());
        if (!match.fits() && !wish_.explain) return;
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
    void write(Match match, const Found& found, Colouring colouring) {
        auto replacement = replace(rule_, chart_, found, colouring);
        if (!replacement.problem.empty())
            match.objections.push_back({Objection::Kind::share, std::move(replacement.problem)});
        match.candidate.chords = std::move(replacement.chords);
        for (auto& chord : match.candidate.chords) chord.rule = index_;
        if (match.fits() || wish_.explain) matches_.push_back(std::move(match));
    }
    /// Degree 1 is spelled as the chord that stands there, when it does.
    void take_next_spelling(Found& found) const {
        if (rule_.tonic != TonicBinding::any) return;
        const auto& next = chart_.at(found.end - 1).next;
        if (next.size() != 1) return;
        const auto root = chart_.at(next.front()).chord.root;
        if (theory::pitch_class(root) == theory::pitch_class(found.tonic)) found.tonic = root;
    }
    void check_lengths(const Found& found, Match& match) const {
        for (std::size_t i = 0; i < found.ranges.size(); ++i) {
            const auto [begin, end] = found.ranges[i];
            if (begin == end) continue;
            for (const auto& bound : rule_.find.run[i].lengths) {
                if (within(bound, chart_, begin, end)) continue;
                const char* unit = bound.unit == LengthBound::Unit::beats  ? "beat"
                                   : bound.unit == LengthBound::Unit::bars ? "bar"
                                                                           : "second";
                match.objections.push_back(
                    {Objection::Kind::length, theory::to_string(chart_.at(begin).chord) + " is too " +
                                                  (bound.at_least ? "short: the rule needs at least "
                                                                  : "long: the rule needs at most ") +
                                                  tune::count_of(bound.amount, unit) + "."});
            }
        }
    }
    void check_frame(const Found& found, Match& match) const {
        if (rule_.audience != Audience::everybody && rule_.audience != wish_.audience)
            match.objections.push_back({Objection::Kind::audience, rule_.audience == Audience::soloist
                                                                       ? "The rule is for a soloist only."
                                                                       : "The rule is for the band only."});
        const auto& key = chart_.at(found.begin).fact.local_key;
        if (rule_.tonic_mode && (*rule_.tonic_mode == "minor") != theory::is_minor_like(key))
            match.objections.push_back(
                {Objection::Kind::tonic,
                 "The rule needs a " + *rule_.tonic_mode + " key; this is " + theory::to_string(key) + "."});
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
                Found found;
                found.begin = begin;
                found.tonic = rule_.tonic == TonicBinding::home ? chart_.home.tonic
                                                                : chart_.at(begin).fact.local_key.tonic;
                finish(found, end, {});
            }
            begin = end;
        }
    }

    const Rule& rule_;
    int index_;
    const Chart& chart_;
    MatchWish wish_;
    Examiner examiner_;
    std::vector<Match> matches_;
};

}  // namespace

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
