// Lines of a `.rules` text as words. A word ends at white space or one of `| , > ?` outside
// parentheses, so that V7(b9,#11) is one word. Lines and comments are line_feed.h.
#pragma once

#include <string>
#include <vector>

#include <relead/outcome.h>

#include "syntax/line_feed.h"
#include "text/diagnose.h"

namespace relead::syntax {

struct RuleToken {
    enum class Kind { word, text, sign };  ///< text = quoted; sign = one of | , > ?
    Kind kind = Kind::word;
    std::string text;
    Span span;
    [[nodiscard]] bool is(std::string_view word) const { return kind != Kind::text && text == word; }
};

/// The tokens of a line of source text number `source`.
[[nodiscard]] std::vector<RuleToken> rule_tokens(const FedLine& line, std::uint32_t source, text::Sink& sink);

/// Reads the tokens of one logical line from left to right.
class RuleCursor {
public:
    RuleCursor(std::vector<RuleToken> tokens, Span line) : tokens_(std::move(tokens)), line_(line) {}
    [[nodiscard]] bool done() const { return at_ >= tokens_.size(); }
    [[nodiscard]] const RuleToken& peek(std::size_t ahead = 0) const;
    [[nodiscard]] bool at(std::string_view word) const { return !done() && peek().is(word); }
    RuleToken take() { return done() ? peek() : tokens_[at_++]; }
    bool accept(std::string_view word);
    [[nodiscard]] std::size_t mark() const { return at_; }
    void back_to(std::size_t mark) { at_ = mark; }
    /// From the token `mark` to the last one taken.
    [[nodiscard]] Span span_from(std::size_t mark) const;
    [[nodiscard]] std::string text_from(std::size_t mark) const;
    /// The token here, or the end of the line.
    [[nodiscard]] Span here() const;

private:
    std::vector<RuleToken> tokens_;
    std::size_t at_ = 0;
    Span line_;
};

}  // namespace relead::syntax
