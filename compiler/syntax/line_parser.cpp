#include "syntax/line_parser.h"

#include "base/fmt.h"
#include "syntax/keywords.h"

namespace relead::syntax {
using text::Code;

namespace {

/// Long or broken words are shown shortened in sentences.
std::string shown(std::string_view word) {
    constexpr std::size_t most = 40;
    if (word.size() <= most) return std::string(word);
    std::size_t end = 0;
    while (end < most - 4) end += character_length(word, end);
    return std::string(word.substr(0, end)) + "…";
}

}  // namespace

bool LineParser::accept(std::string_view word) {
    if (peek().kind != Token::Kind::word || !same_word(peek().raw, word)) return false;
    next();
    return true;
}

bool LineParser::accept_phrase(std::string_view phrase) {
    LineParser ahead = *this;
    while (!phrase.empty()) {
        const auto blank = phrase.find(' ');
        if (!ahead.accept(phrase.substr(0, blank))) return false;
        phrase = blank == std::string_view::npos ? std::string_view{} : phrase.substr(blank + 1);
    }
    *this = std::move(ahead);
    return true;
}

bool LineParser::accept(Token::Kind kind) {
    if (peek().kind != kind) return false;
    next();
    return true;
}

void LineParser::expect_end(std::string_view line) {
    if (at_end()) return;
    const auto raw = peek().raw;
    Span rest = peek().span;
    const auto tail = lexer_.cursor().rest();
    rest.end += static_cast<std::uint32_t>(trimmed(tail).empty() ? 0 : tail.size());
    const bool comment = raw.front() == '#' || raw.substr(0, 2) == "//";
    if (comment) {
        const auto sign = static_cast<std::uint32_t>(raw.front() == '#' ? 1 : 2);
        const Span where{rest.source, rest.begin, rest.begin + sign};
        sink_->emit(Code::comment_sign, where, "Comments start with --.")
            .fix(where, raw.size() > sign ? "-- " : "--", "make it a comment");
    } else {
        sink_->emit(Code::word_unexpected, rest,
                    fmt::format("The {} line is over before “{}”.", line, shown(raw)));
    }
    lexer_.skip_to_end();
}

std::optional<Words> LineParser::quoted_text(std::string_view line) {
    if (peek().kind == Token::Kind::quoted) {
        auto token = next();
        return Words{std::move(token.text), token.span};
    }
    if (at_end()) {
        complain(Code::text_missing, fmt::format("After {} a text in quotes is missing.", line));
        return std::nullopt;
    }
    Span span = peek().span;
    std::string text(peek().raw);
    text += lexer_.cursor().rest();
    span.end += static_cast<std::uint32_t>(lexer_.cursor().rest().size());
    sink_->emit(Code::quote_missing, span, fmt::format("The text after {} stands in quotes.", line))
        .fix(span, quote(text), "put it in quotes");
    lexer_.skip_to_end();
    return Words{std::move(text), span};
}

bool is_name(std::string_view word) {
    return !word.empty() && word.find_first_of("\",:|[](){}*!<>%\\") == std::string_view::npos &&
           word != "." && word != "/";
}

std::optional<Words> LineParser::name() {
    if (peek().kind != Token::Kind::word) return std::nullopt;
    const auto token = next();
    if (!is_name(token.raw))
        sink_->emit(Code::name_unreadable, token.span,
                    fmt::format("“{}” cannot be a name: names are one word of letters, digits and dashes.",
                                shown(token.raw)));
    return Words{std::string(token.raw), token.span};
}

std::optional<int> LineParser::number(int low, int high, std::string_view word) {
    const auto value = peek().kind == Token::Kind::word ? parse_number(peek().raw) : std::nullopt;
    if (!value) {
        complain(Code::number_out_of_range,
                 fmt::format("“{}” takes a whole number from {} to {}, not {}.", word, low, high,
                             at_end() ? std::string("nothing") : shown(peek().raw)));
        if (peek().kind == Token::Kind::word) next();
        return std::nullopt;
    }
    if (*value < low || *value > high) {
        complain(Code::number_out_of_range,
                 fmt::format("“{}” takes a whole number from {} to {}, not {}.", word, low, high, *value));
        next();
        return std::nullopt;
    }
    next();
    return value;
}

/// "3", "2+1/2" (as messages print it), "5/2" or "2.5".
static std::optional<Beats> parse_beat(std::string_view text) {
    const auto plus = text.find('+');
    auto beat = parse_fraction(text.substr(0, plus));
    if (plus != std::string_view::npos) {
        const auto rest = parse_fraction(text.substr(plus + 1));
        // "1+7/2" is beat 4+1/2, and says so.
        if (!beat || !beat->is_whole() || !rest || *rest <= Beats(0) || *rest >= Beats(1))
            return std::nullopt;
        *beat += *rest;
    }
    // Neither "4.2" in A:1.4.2 nor "4+1/5" is a part of a beat that anybody counts.
    constexpr int finest = 24;
    return beat && finest % beat->denominator() == 0 ? beat : std::nullopt;
}

std::optional<Address> read_address(std::string_view word, Span span) {
    const auto colon = word.find(':');
    if (colon == std::string_view::npos || !is_name(word.substr(0, colon))) return std::nullopt;
    Address address;
    address.span = span;
    address.section = {std::string(word.substr(0, colon)),
                       {span.source, span.begin, span.begin + static_cast<std::uint32_t>(colon)}};
    const auto bars = word.substr(colon + 1);
    const auto dash = bars.find('-'), dot = bars.find('.');
    const auto first = parse_number(bars.substr(0, std::min(dash, dot)));
    if (!first || *first < 1) return std::nullopt;
    address.first_bar = address.last_bar = *first;
    if (dash != std::string_view::npos) {
        const auto last = parse_number(bars.substr(dash + 1));
        if (!last || *last < *first) return std::nullopt;
        address.last_bar = *last;
    } else if (dot != std::string_view::npos) {
        address.beat = parse_beat(bars.substr(dot + 1));
        if (!address.beat || *address.beat < Beats(1)) return std::nullopt;
    }
    return address;
}

std::optional<Address> LineParser::address() {
    if (peek().kind != Token::Kind::word) {
        complain(Code::address_unreadable, "Here a place is missing, such as A:7, A:7.3 or A:1-4.");
        return std::nullopt;
    }
    const auto token = next();
    auto address = read_address(token.raw, token.span);
    if (!address)
        sink_->emit(
            Code::address_unreadable, token.span,
            fmt::format("“{}” is no place; places are written A:7 (bar 7 of section A), A:7.3 (its beat "
                        "3) or A:1-4.",
                        shown(token.raw)));
    return address;
}

std::string did_you_mean(std::string_view nearest) {
    return nearest.empty() ? std::string() : fmt::format(" Did you mean {}?", nearest);
}

}  // namespace relead::syntax
