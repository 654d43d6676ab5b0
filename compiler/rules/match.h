// Rules × chart → candidates: whole replacements over spans of written chords, each with the
// reasons why its rule fits there, or the reason why not. No costs and no choice.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "rules/chart.h"
#include "rules/rule.h"

namespace relead::rules {

/// A chord that a rule writes, in its time from the start of the candidate's span.
struct NewChord {
    theory::Chord chord;   ///< practical spelling
    theory::Chord strict;  ///< spelled as the degree that the rule names
    Time at;
    Time length;
    int rule = 0;                  ///< index into RuleSet::rules
    int item = 0;                  ///< index into Rule::write
    std::optional<int> kept_from;  ///< spot whose chord it is, unchanged in root and quality
};

/// Why a rule does not fit although its chords are there.
struct Objection {
    enum class Kind {
#define RELEAD_OBJECTION(kind, word) kind,
#include "rules/objections.def"
#undef RELEAD_OBJECTION
    };
    Kind kind = Kind::condition;
    std::string sentence;  ///< for a musician, with a full stop
};
/// Its word in grammar/near-misses.txt.
[[nodiscard]] std::string_view to_string(Objection::Kind kind);

/// What a candidate asks of the chord that stands right before or after it in a version.
struct Need {
    Element element;
    theory::NoteName tonic;
    bool negated = false;
    [[nodiscard]] bool met_by(const theory::Chord& chord) const;
};

struct Candidate {
    int rule = 0;            ///< index into RuleSet::rules
    int begin = 0, end = 0;  ///< spots [begin, end)
    std::vector<NewChord> chords;
    theory::NoteName tonic;               ///< degree 1 of the rule's numerals
    std::vector<Need> left, right;        ///< when contexts were left open
    int keeps_left = 0, keeps_right = 0;  ///< so many chords around it must stay as they are
};

/// A place where a rule's chords stand: a candidate when there is no objection.
struct Match {
    Candidate candidate;
    std::vector<Objection> objections;
    [[nodiscard]] bool fits() const { return objections.empty(); }
};

struct MatchWish {
    Audience audience = Audience::band;
    bool explain = false;  ///< keep matches with objections
    /// Do not ask about the chords around: say in the candidate what they must be. Contexts of several
    /// chords are still asked of the chart, and their chords must then stay.
    bool open_contexts = false;
    bool over_made = false;  ///< only matches that take in a chord that a rule wrote
    int first = 0;           ///< only matches that start at spots [first, last)
    int last = -1;           ///< -1 = the end
};

/// Every match of one rule, in the order of the chart.
[[nodiscard]] std::vector<Match> match_rule(const RuleSet& rules, int rule, const Chart& chart,
                                            const MatchWish& wish = {});
/// Every match of every rule, ordered by place, then by rule.
[[nodiscard]] std::vector<Match> match_all(const RuleSet& rules, const Chart& chart,
                                           const MatchWish& wish = {});

}  // namespace relead::rules
