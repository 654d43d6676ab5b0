// The syntax tree of a `.rules` text: what each rule's lines say, with their bytes. Chord names stay
// words here; what they mean is rules/rule.h. Reading is parse_rules.h.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include <relead/fraction.h>
#include <relead/outcome.h>

#include "syntax/words.h"

namespace relead::syntax {

using RuleWord = Words;

/// "at least 2 beats", "at most 1 second", "at least 1 bar".
struct LengthBound {
    enum class Unit { beats, bars, seconds };
    bool at_least = true;
    Fraction amount;
    Unit unit = Unit::beats;
};

/// "last 2 bars of section": bars counted from the start or the end of a stretch of form. A phrase is
/// four bars.
struct FormPlace {
    enum class Of { section, phrase, chorus };
    bool last = true;
    int bars = 1;
    Of of = Of::section;
};

/// `ii7 | iiø7 at least 2 beats`, with `?` behind the chords when the element may be absent.
struct RuleElement {
    std::vector<RuleWord> alternatives;
    bool optional = false;
    std::vector<LengthBound> lengths;
    Span span;
};
struct RuleRun {
    std::vector<RuleElement> elements;
    bool written = false;  ///< `before written …`
    Span span;
};

enum class ConditionKind {
#define RELEAD_CONDITION(name, phrase, meaning) name,
#include "syntax/rules_conditions.def"
#undef RELEAD_CONDITION
};

/// Words of a place in the bar: "beat 3", "a downbeat", "a strong beat", "a weak beat".
struct MetricPlace {
    enum class Kind { beat, downbeat, strong, weak };
    Kind kind = Kind::downbeat;
    int beat = 1;
};

struct RuleCondition {
    ConditionKind kind = ConditionKind::after;
    bool negated = false;             ///< `not` in front
    std::optional<RuleWord> subject;  ///< {chord}
    std::vector<RuleWord> words;      ///< {degree}, {degrees}, {kinds}, {mode}, {function}, {written}
    bool words_negated = false;       ///< "a chord that is not minor"
    std::optional<RuleWord> of;       ///< "holds 4 of V7": degrees of that chord
    std::optional<RuleRun> run;
    std::optional<LengthBound> length;
    std::optional<FormPlace> place;
    MetricPlace metric;
    std::string text;
    Span span;
};
/// A `when` or `unless` line: `or` between lists of `and`.
struct RuleClause {
    std::vector<std::vector<RuleCondition>> any_of;
    std::string text;
    Span span;
};

/// How much of the found span a new chord takes.
struct ShareWord {
    enum class Kind {
        even,      ///< nothing said
        fraction,  ///< `1/2`, `@2`, `@2 1/2`
        beats,     ///< `1 beat`
        rest,      ///< `rest`
    };
    Kind kind = Kind::even;
    Fraction amount = 1;
    std::optional<int> found;  ///< 1-based, as written
    Span span;
};

/// `with #11`, `with b9 before minor`.
struct ColourWord {
    RuleWord degree;
    std::optional<RuleWord> before;
};

struct ReplacementWord {
    RuleWord chord;                ///< `bII7`, `same`, `each`, `same/3`
    std::optional<int> same_of;    ///< `same 2`
    std::optional<RuleWord> over;  ///< `over V`
    std::vector<ColourWord> colours;
    ShareWord share;
    Span span;
};

/// `3>3`, `7>7|6|5`.
struct ThreadWord {
    RuleWord from;
    std::vector<RuleWord> to;
};
struct ThreadsLine {
    std::optional<int> chord;  ///< `@1`: threads of that new chord; else of the last
    std::vector<ThreadWord> threads;
    Span span;
};

struct FindLine {
    RuleRun run;
    std::optional<FormPlace> region;
    Span span;
};

struct RuleNode {
    RuleWord name;
    std::optional<RuleWord> title, family, tonic, tonic_mode, why, source, example;
    std::optional<RuleWord> audience;  ///< `band` or `soloist`
    std::optional<int> outside;
    std::optional<FindLine> find;
    std::vector<RuleRun> before, after;
    std::vector<RuleClause> when, unless;
    std::vector<ReplacementWord> write;
    std::vector<ThreadsLine> threads;
    bool broken = false;  ///< a line of it could not be read
    Span span;            ///< of the `rule` line
};

struct RulesTree {
    std::vector<RuleNode> rules;
};

}  // namespace relead::syntax
