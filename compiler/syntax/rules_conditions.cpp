// Conditions by the phrases of rules_conditions.def: a phrase fits when its literal words and slots can be
// read from the line in turn.
#include <array>
#include <string>

#include "syntax/rules_phrases.h"

namespace relead::syntax {
namespace {

struct Phrase {
    ConditionKind kind;
    std::string_view words;
};
constexpr std::array phrases{
#define RELEAD_CONDITION(name, phrase, meaning) Phrase{ConditionKind::name, phrase},
#include "syntax/rules_conditions.def"
#undef RELEAD_CONDITION
};

std::string_view next_word(std::string_view& words) {
    const auto end = words.find(' ');
    const auto word = words.substr(0, end);
    words = end == std::string_view::npos ? std::string_view() : words.substr(end + 1);
    return word;
}

bool one_of(const RuleToken& token, std::initializer_list<std::string_view> words) {
    for (const auto word : words) {
        if (token.is(word)) return true;
    }
    return false;
}

bool starts_degree(const RuleToken& token) {
    if (token.kind != RuleToken::Kind::word) return false;
    const auto digit = token.text.find_first_not_of("b#");
    return digit != std::string::npos && token.text[digit] >= '1' && token.text[digit] <= '9' &&
           token.text.find_first_not_of("0123456789", digit) == std::string::npos;
}

/// `a chord that is [not] minor | dominant`, `a dominant`, `minor`.
bool read_kinds(RuleCursor& cursor, RuleCondition& condition) {
    cursor.accept("a");
    if (cursor.accept("chord") && !(cursor.accept("that") && cursor.accept("is"))) return false;
    condition.words_negated = cursor.accept("not");
    if (starts_degree(cursor.peek())) return false;
    condition.words = read_alternatives(cursor);
    return !condition.words.empty();
}

bool read_degrees(RuleCursor& cursor, RuleCondition& condition) {
    condition.words = read_alternatives(cursor);
    if (condition.words.empty()) return false;
    if (cursor.accept("of")) {
        if (cursor.done()) return false;
        condition.of = word_of(cursor.take());
    }
    return true;
}

bool read_metric(RuleCursor& cursor, MetricPlace& metric) {
    if (cursor.accept("beat")) {
        metric.kind = MetricPlace::Kind::beat;
        const auto amount = cursor.done() ? std::nullopt : read_amount(cursor.take().text);
        if (!amount || !amount->is_whole() || *amount > 64) return false;
        metric.beat = static_cast<int>(amount->numerator());
        return true;
    }
    cursor.accept("a");
    if (cursor.accept("downbeat")) {
        metric.kind = MetricPlace::Kind::downbeat;
        return true;
    }
    metric.kind = cursor.at("strong") ? MetricPlace::Kind::strong : MetricPlace::Kind::weak;
    return (cursor.accept("strong") || cursor.accept("weak")) && cursor.accept("beat");
}

/// `tonic`, `predominant`, `related ii`, `blues tonic` …: one or two words, joined by a blank.
bool read_function(RuleCursor& cursor, RuleCondition& condition) {
    cursor.accept("a");
    cursor.accept("the");
    if (cursor.done() || cursor.peek().kind != RuleToken::Kind::word) return false;
    auto word = word_of(cursor.take());
    if ((word.text == "related" && cursor.at("ii")) || (word.text == "blues" && cursor.at("tonic")) ||
        (word.text == "substitute" && cursor.at("dominant")) ||
        (one_of({RuleToken::Kind::word, word.text, {}}, {"passing", "auxiliary"}) &&
         cursor.at("diminished"))) {
        const auto second = cursor.take();
        word.text += " " + second.text;
        word.span.end = second.span.end;
    }
    for (const auto* known :
         {"tonic", "predominant", "dominant", "substitute dominant", "backdoor", "passing diminished",
          "auxiliary diminished", "borrowed", "related ii", "blues tonic"}) {
        if (word.text == known) {
            condition.words = {word};
            return true;
        }
    }
    return false;
}

bool read_words(RuleCursor& cursor, RuleCondition& condition, std::initializer_list<std::string_view> known) {
    const auto start = cursor.mark();
    condition.words = read_alternatives(cursor);
    for (const auto& word : condition.words) {
        if (!one_of({RuleToken::Kind::word, word.text, word.span}, known)) {
            cursor.back_to(start);
            return false;
        }
    }
    return !condition.words.empty();
}

bool read_slot(std::string_view slot, RuleCursor& cursor, RuleCondition& condition, text::Sink& sink) {
    if (cursor.done()) return false;
    if (slot == "{chord}") {
        if (cursor.peek().kind != RuleToken::Kind::word) return false;
        condition.subject = word_of(cursor.take());
        return true;
    }
    if (slot == "{degree}") {
        if (!starts_degree(cursor.peek())) return false;
        condition.words = {word_of(cursor.take())};
        return true;
    }
    if (slot == "{run}") {
        condition.run = read_run(cursor, sink);
        return condition.run.has_value();
    }
    if (slot == "{bound}") {
        if (at_length(cursor)) condition.length = read_length(cursor, sink);
        return condition.length.has_value();
    }
    if (slot == "{place}") {
        if (one_of(cursor.peek(), {"first", "last"})) condition.place = read_place(cursor, sink);
        return condition.place.has_value();
    }
    if (slot == "{kinds}") return read_kinds(cursor, condition);
    if (slot == "{degrees}") return read_degrees(cursor, condition);
    if (slot == "{metric}") return read_metric(cursor, condition.metric);
    if (slot == "{function}") return read_function(cursor, condition);
    if (slot == "{mode}")
        return read_words(cursor, condition,
                          {"major", "minor", "blues", "modal", "ionian", "dorian", "phrygian", "lydian",
                           "mixolydian", "aeolian", "locrian"});
    return read_words(cursor, condition, {"bass", "hits", "pedal"});
}

bool read_phrase(const Phrase& phrase, RuleCursor& cursor, RuleCondition& condition, text::Sink& sink) {
    condition.kind = phrase.kind;
    for (auto words = phrase.words; !words.empty();) {
        const auto word = next_word(words);
        const bool fits =
            word.front() == '{' ? read_slot(word, cursor, condition, sink) : cursor.accept(word);
        if (!fits) return false;
    }
    return cursor.done() || cursor.at("and") || cursor.at("or");
}

std::optional<RuleCondition> read_condition(RuleCursor& cursor, text::Sink& sink) {
    const auto start = cursor.mark();
    const bool negated = cursor.accept("not");
    const auto after_not = cursor.mark();
    for (const auto& phrase : phrases) {
        cursor.back_to(after_not);
        RuleCondition condition;
        text::Sink trial;  // what a phrase that does not fit complains of is not worth saying
        if (!read_phrase(phrase, cursor, condition, trial)) continue;
        condition.negated = negated;
        condition.span = cursor.span_from(start);
        condition.text = cursor.text_from(start);
        return condition;
    }
    cursor.back_to(start);
    while (!cursor.done()) cursor.take();
    sink.emit(
        text::Code::rules_bad_condition, cursor.span_from(start),
        "This condition is not one that a rule can state. Conditions read like `V7 prepares 1`, `after ii7`, "
        "`before 1:maj`, `lasts at least 2 beats`, `in last 2 bars of section`, `starts on a downbeat`, "
        "`V7 is a dominant`, `written bass | hits`, `melody holds 7`.");
    return std::nullopt;
}

}  // namespace

std::optional<RuleClause> read_clause(RuleCursor& cursor, text::Sink& sink) {
    const auto start = cursor.mark();
    RuleClause clause;
    do {
        auto& conjunction = clause.any_of.emplace_back();
        do {
            auto condition = read_condition(cursor, sink);
            if (!condition) return std::nullopt;
            conjunction.push_back(std::move(*condition));
        } while (cursor.accept("and"));
    } while (cursor.accept("or"));
    clause.span = cursor.span_from(start);
    clause.text = cursor.text_from(start);
    return clause;
}

}  // namespace relead::syntax
