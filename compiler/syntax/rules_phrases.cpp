#include "syntax/rules_phrases.h"

#include <array>

#include "syntax/cursor.h"

namespace relead::syntax {
namespace {

constexpr std::array<std::string_view, 12> words_that_end_a_run{
    "and", "or", "at", "of", "is", "lasts", "with", "over", "rest", "not", "when", "unless"};

bool chord_word(const RuleToken& token) {
    if (token.kind != RuleToken::Kind::word) return false;
    for (const auto word : words_that_end_a_run) {
        if (token.text == word) return false;
    }
    return true;
}

std::optional<LengthBound::Unit> unit_of(std::string_view word) {
    using Unit = LengthBound::Unit;
    if (word == "beat" || word == "beats") return Unit::beats;
    if (word == "bar" || word == "bars") return Unit::bars;
    if (word == "second" || word == "seconds") return Unit::seconds;
    return std::nullopt;
}

std::optional<RuleElement> read_element(RuleCursor& cursor, text::Sink& sink) {
    const auto start = cursor.mark();
    RuleElement element;
    do {
        if (cursor.done() || !chord_word(cursor.peek())) {
            sink.emit(
                text::Code::rules_bad_run, cursor.here(),
                "A chord is missing here: write a numeral with its quality (ii7, bVII7) or a degree with a "
                "class (1:maj, any:dom).");
            return std::nullopt;
        }
        element.alternatives.push_back(word_of(cursor.take()));
    } while (cursor.accept("|"));
    element.optional = cursor.accept("?");
    while (at_length(cursor)) {
        const auto length = read_length(cursor, sink);
        if (!length) return std::nullopt;
        element.lengths.push_back(*length);
    }
    element.span = cursor.span_from(start);
    return element;
}

}  // namespace

RuleWord word_of(const RuleToken& token) {
    return {token.text, token.span};
}

std::optional<Fraction> read_amount(std::string_view word) {
    const auto amount = parse_fraction(word);
    if (!amount || *amount <= 0 || *amount > 1000) return std::nullopt;
    return amount;
}

std::vector<RuleWord> read_alternatives(RuleCursor& cursor) {
    std::vector<RuleWord> words;
    do {
        if (cursor.done() || cursor.peek().kind != RuleToken::Kind::word) return {};
        words.push_back(word_of(cursor.take()));
    } while (cursor.accept("|"));
    return words;
}

bool at_length(const RuleCursor& cursor) {
    return cursor.at("at") && (cursor.peek(1).is("least") || cursor.peek(1).is("most"));
}

std::optional<LengthBound> read_length(RuleCursor& cursor, text::Sink& sink) {
    const auto start = cursor.mark();
    LengthBound bound;
    const bool at = cursor.accept("at");
    bound.at_least = cursor.at("least");
    const bool how = at && (cursor.accept("least") || cursor.accept("most"));
    const auto amount = how ? read_amount(cursor.take().text) : std::nullopt;
    const auto unit = amount ? unit_of(cursor.take().text) : std::nullopt;
    if (!unit) {
        sink.emit(text::Code::rules_bad_length, cursor.span_from(start),
                  "A length reads `at least 2 beats`, `at most 1 bar` or `at least 3/2 seconds`.");
        return std::nullopt;
    }
    bound.amount = *amount;
    bound.unit = *unit;
    return bound;
}

std::optional<FormPlace> read_place(RuleCursor& cursor, text::Sink& sink) {
    const auto start = cursor.mark();
    FormPlace place;
    place.last = cursor.at("last");
    bool good = cursor.accept("last") || cursor.accept("first");
    const auto bars = good && !cursor.done() ? parse_number(cursor.take().text) : std::nullopt;
    good = bars && *bars > 0 && *bars <= 999 && (cursor.accept("bars") || cursor.accept("bar")) &&
           cursor.accept("of");
    if (good && cursor.accept("section")) {
        place.of = FormPlace::Of::section;
    } else if (good && cursor.accept("phrase")) {
        place.of = FormPlace::Of::phrase;
    } else if (good && cursor.accept("chorus")) {
        place.of = FormPlace::Of::chorus;
    } else {
        sink.emit(
            text::Code::rules_bad_place, cursor.span_from(start),
            "A place in the form reads `last 2 bars of section` (first or last; section, phrase or chorus).");
        return std::nullopt;
    }
    place.bars = *bars;
    return place;
}

std::optional<RuleRun> read_run(RuleCursor& cursor, text::Sink& sink) {
    const auto start = cursor.mark();
    RuleRun run;
    run.written = cursor.accept("written");
    do {
        auto element = read_element(cursor, sink);
        if (!element) return std::nullopt;
        run.elements.push_back(std::move(*element));
    } while (!cursor.done() && chord_word(cursor.peek()));
    run.span = cursor.span_from(start);
    return run;
}

}  // namespace relead::syntax
