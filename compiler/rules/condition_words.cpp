#include "rules/condition_words.h"

#include <algorithm>

#include "rules/kind.h"
#include "tune/spot.h"

namespace relead::rules {
namespace {

std::string verb(const ChordNames& names, const std::string& word) {
    return names.found + " " + word + (names.several ? "" : "s");
}

/// "1 bar", "2 bars"; nothing for parts of one, which a sentence cannot count.
std::optional<std::string> counted(const LengthBound& bound) {
    if (bound.amount.denominator() != 1) return std::nullopt;
    const auto amount = bound.amount.numerator();
    const std::string unit = bound.unit == LengthBound::Unit::beats  ? "beat"
                             : bound.unit == LengthBound::Unit::bars ? "bar"
                                                                     : "second";
    return std::to_string(amount) + " " + unit + (amount == 1 ? "" : "s");
}

/// `lasts at least 2 bars and lasts at most 2 bars` is one length.
std::optional<std::string> length_words(const std::vector<Condition>& all, const ChordNames& names) {
    std::optional<std::string> least, most;
    for (const auto& condition : all) {
        if (condition.negated) return std::nullopt;
        (condition.length->at_least ? least : most) = counted(*condition.length);
    }
    if (least && most && *least == *most) return verb(names, "last") + " " + *least;
    if (least && most && all.size() == 2)
        return verb(names, "last") + " at least " + *least + " and at most " + *most;
    if (all.size() != 1 || (!least && !most)) return std::nullopt;
    return verb(names, "last") + (least ? " at least " + *least : " at most " + *most);
}

std::string function_words(const std::string& function) {
    return function == "blues tonic" ? "a tonic of the blues" : "a " + function;
}

/// Of the tune's key, or of the one in which the chords are heard.
std::optional<std::string> key_words(const Condition& condition) {
    std::vector<std::string> keys;
    for (const auto& word : condition.words)
        keys.push_back(word == "blues"                      ? "a blues"
                       : word == "major" || word == "minor" ? "in " + word
                                                            : word);
    if (keys.empty()) return std::nullopt;
    const bool of_tune = condition.kind == ConditionKind::home_key;
    return std::string(of_tune ? "the tune is " : "the key is ") + (condition.negated ? "not " : "") +
           tune::listed(keys, "or");
}

std::optional<std::string> words_of(const Condition& condition, const ChordNames& names) {
    const auto not_word = [&] { return std::string(condition.negated ? "not " : ""); };
    switch (condition.kind) {
        case ConditionKind::is_kind:
            if (const auto name = names.subject(condition); !name.empty())
                return name + " is " + not_word() + describe(condition.kinds);
            return std::nullopt;
        case ConditionKind::prepares_home:
            if (const auto name = names.subject(condition); !name.empty())
                return name + (condition.negated ? " does not lead home" : " leads home");
            return std::nullopt;
        case ConditionKind::has_function:
            if (const auto name = names.subject(condition); !name.empty())
                return name + " is " + not_word() + function_words(condition.words.front());
            return std::nullopt;
        case ConditionKind::is_inverted:
            if (const auto name = names.subject(condition); !name.empty())
                return name +
                       (condition.negated ? " has its root in the bass" : " has another tone in the bass");
            return std::nullopt;
        case ConditionKind::is_altered:
        case ConditionKind::alters_fifth: {
            const bool ninth_too = condition.kind == ConditionKind::is_altered;
            if (const auto name = names.subject(condition); !name.empty())
                return name + (condition.negated ? " has no altered " : " has an altered ") +
                       (ninth_too ? "ninth or fifth" : "fifth");
            return std::nullopt;
        }
        case ConditionKind::is_diatonic:
            if (const auto name = names.subject(condition); !name.empty())
                return name + (condition.negated ? " does not belong" : " belongs") + " to the key";
            return std::nullopt;
        case ConditionKind::in_blues:
            return std::string("the tune is ") + not_word() + "a blues";
        case ConditionKind::home_key:
        case ConditionKind::local_key:
            return key_words(condition);
        case ConditionKind::tonic_is_home:
            return std::string("the tonic that it counts from is ") + not_word() + "the tune's own";
        case ConditionKind::in_place:
            if (condition.negated)
                return names.found + (names.several ? " do" : " does") + " not stand in " +
                       place_words(*condition.place);
            return verb(names, "stand") + " in " + place_words(*condition.place);
        default:
            return std::nullopt;
    }
}

}  // namespace

std::string place_words(const FormPlace& place) {
    const std::string of = place.of == FormPlace::Of::section  ? "section"
                           : place.of == FormPlace::Of::phrase ? "phrase"
                                                               : "chorus";
    const std::string bars = place.bars == 1 ? "bar" : std::to_string(place.bars) + " bars";
    return std::string("the ") + (place.last ? "last " : "first ") + bars + " of the " + of;
}

std::optional<std::string> words_of(const std::vector<Condition>& all, const ChordNames& names) {
    std::vector<Condition> lengths;
    std::vector<std::string> words;
    for (const auto& condition : all) {
        if (condition.kind == ConditionKind::lasts) {
            lengths.push_back(condition);
        } else if (auto said = words_of(condition, names)) {
            words.push_back(std::move(*said));
        } else {
            return std::nullopt;
        }
    }
    if (!lengths.empty()) {
        auto said = length_words(lengths, names);
        if (!said) return std::nullopt;
        words.push_back(std::move(*said));
    }
    return tune::listed(words);
}

std::optional<std::string> words_of(const Clause& clause, const ChordNames& names) {
    std::string alternatives;
    for (const auto& all : clause.any_of) {
        const auto said = words_of(all, names);
        if (!said) return std::nullopt;
        alternatives += (alternatives.empty() ? "" : " or where ") + *said;
    }
    return alternatives;
}

}  // namespace relead::rules
