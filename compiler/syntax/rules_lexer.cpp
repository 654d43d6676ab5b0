#include "syntax/rules_lexer.h"

#include "syntax/cursor.h"

namespace relead::syntax {
namespace {

bool sign(char c) {
    return c == '|' || c == ',' || c == '>' || c == '?';
}

RuleToken read_word(Cursor& cursor) {
    const auto from = cursor.position();
    const auto rest = cursor.rest();
    std::size_t length = 0;
    for (int depth = 0; length < rest.size(); ++length) {
        if (blank_length(rest, length) > 0 || rest[length] == '"' || (depth == 0 && sign(rest[length])))
            break;
        if (rest[length] == '(') ++depth;
        if (rest[length] == ')') --depth;
    }
    const std::string text(rest.substr(0, length));
    cursor.advance(length);
    return {RuleToken::Kind::word, text, cursor.span_from(from)};
}

}  // namespace

std::vector<RuleToken> rule_tokens(const FedLine& line, std::uint32_t source, text::Sink& sink) {
    Cursor cursor(line.body, source, line.begin);
    std::vector<RuleToken> tokens;
    for (cursor.skip_blanks(); !cursor.at_end(); cursor.skip_blanks()) {
        if (cursor.at_quote()) {
            auto words = cursor.quoted(sink);
            tokens.push_back({RuleToken::Kind::text, std::move(words.text), words.span});
        } else if (sign(cursor.peek())) {
            const auto from = cursor.position();
            std::string text(1, cursor.peek());
            cursor.advance(1);
            tokens.push_back({RuleToken::Kind::sign, std::move(text), cursor.span_from(from)});
        } else {
            tokens.push_back(read_word(cursor));
        }
    }
    return tokens;
}

const RuleToken& RuleCursor::peek(std::size_t ahead) const {
    static const RuleToken end{RuleToken::Kind::sign, "", {}};
    return at_ + ahead < tokens_.size() ? tokens_[at_ + ahead] : end;
}

bool RuleCursor::accept(std::string_view word) {
    if (!at(word)) return false;
    ++at_;
    return true;
}

Span RuleCursor::span_from(std::size_t mark) const {
    if (mark >= tokens_.size()) return {line_.source, line_.end, line_.end};
    const auto last = at_ > mark ? at_ - 1 : mark;
    return {line_.source, tokens_[mark].span.begin, tokens_[last].span.end};
}

std::string RuleCursor::text_from(std::size_t mark) const {
    std::string text;
    for (auto i = mark; i < at_; ++i) {
        const auto& token = tokens_[i];
        const bool gap = i > mark && token.span.begin > tokens_[i - 1].span.end;
        text +=
            (gap ? " " : "") + (token.kind == RuleToken::Kind::text ? '"' + token.text + '"' : token.text);
    }
    return text;
}

Span RuleCursor::here() const {
    return done() ? Span{line_.source, line_.end, line_.end} : tokens_[at_].span;
}

}  // namespace relead::syntax
