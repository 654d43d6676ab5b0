#include "rules/contradiction.h"

#include <algorithm>

namespace relead::rules {
namespace {

/// Conditions that must hold, and those that must not: clauses without an "or".
struct Demands {
    std::vector<const Condition*> held, refused;

    explicit Demands(const Rule& rule) {
        for (const auto& clause : rule.when) {
            if (clause.any_of.size() != 1) continue;
            for (const auto& one : clause.any_of.front()) (one.negated ? refused : held).push_back(&one);
        }
        for (const auto& clause : rule.unless) {
            for (const auto& each : clause.any_of) {
                if (each.size() != 1) continue;
                (each.front().negated ? held : refused).push_back(&each.front());
            }
        }
    }
};

/// "not V7 prepares 1" and "V7 prepares 1" speak of the same.
std::string_view without_not(const Condition& condition) {
    const std::string_view text = condition.text;
    return text.substr(0, 4) == "not " ? text.substr(4) : text;
}

std::string asks_and_refuses(const Demands& demands) {
    for (const auto* held : demands.held) {
        for (const auto* refused : demands.refused) {
            if (without_not(*held) == without_not(*refused))
                return "It asks for `" + std::string(without_not(*held)) + "` and refuses it as well.";
        }
    }
    return {};
}

/// The shortest time that is asked for is longer than the longest that is allowed.
std::string lengths_apart(const std::vector<LengthBound>& bounds, const std::string& of_what) {
    for (const auto& least : bounds) {
        for (const auto& most : bounds) {
            if (least.at_least && !most.at_least && least.unit == most.unit && least.amount > most.amount)
                return "It asks that " + of_what + " be longer than it allows.";
        }
    }
    return {};
}

std::string impossible_length(const Rule& rule, const Demands& demands) {
    std::vector<LengthBound> whole;
    for (const auto* held : demands.held) {
        if (held->kind == ConditionKind::lasts && held->length) whole.push_back(*held->length);
    }
    auto sentence = lengths_apart(whole, "all that it finds");
    for (std::size_t i = 0; i < rule.find.run.size() && sentence.empty(); ++i) {
        auto bounds = rule.find.run[i].lengths;
        for (const auto* held : demands.held) {
            if (held->kind == ConditionKind::chord_lasts && held->length &&
                held->subject == static_cast<int>(i))
                bounds.push_back(*held->length);
        }
        sentence = lengths_apart(bounds, rule.find.run[i].alternatives.front().text);
    }
    return sentence;
}

KindSet kinds_of(const Element& element) {
    KindSet kinds = 0;
    for (const auto& pattern : element.alternatives) kinds |= pattern.kinds;
    return kinds;
}

std::string impossible_kind(const Rule& rule, const Demands& demands) {
    const auto kinds_at = [&](const Condition& condition) -> KindSet {
        if (condition.kind != ConditionKind::is_kind || !condition.subject) return 0;
        const auto index = static_cast<std::size_t>(*condition.subject);
        return index < rule.find.run.size() ? kinds_of(rule.find.run[index]) : 0;
    };
    for (const auto* held : demands.held) {
        const auto kinds = kinds_at(*held);
        if (kinds != 0 && (kinds & held->kinds) == 0)
            return "No chord that it finds there can be what it asks: `" + held->text + "`.";
    }
    for (const auto* refused : demands.refused) {
        const auto kinds = kinds_at(*refused);
        if (kinds != 0 && (kinds & ~refused->kinds) == 0)
            return "Every chord that it finds there is what it refuses: `" +
                   std::string(without_not(*refused)) + "`.";
    }
    return {};
}

/// Two modes of one key.
std::string two_modes(const Rule& rule, const Demands& demands) {
    for (const auto kind : {ConditionKind::home_key, ConditionKind::local_key}) {
        std::string mode;
        if (kind == ConditionKind::local_key && rule.tonic_mode) mode = *rule.tonic_mode;
        for (const auto* held : demands.held) {
            if (held->kind != kind || held->words.empty()) continue;
            if (!mode.empty() && mode != held->words.front())
                return "It asks for " + mode + " and for " + held->words.front() + " at once.";
            mode = held->words.front();
        }
    }
    return {};
}

}  // namespace

std::string contradiction(const Rule& rule) {
    const Demands demands(rule);
    auto sentence = asks_and_refuses(demands);
    if (sentence.empty()) sentence = impossible_length(rule, demands);
    if (sentence.empty()) sentence = impossible_kind(rule, demands);
    if (sentence.empty()) sentence = two_modes(rule, demands);
    return sentence;
}

}  // namespace relead::rules
