// What the parsers of single lines share: the tokens of the line, what to say when they do not fit, and
// the small things that several lines hold (names, numbers, addresses).
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "syntax/lexer.h"
#include "syntax/tune_tree.h"
#include "text/diagnose.h"
#include "text/limits.h"

namespace relead::syntax {

class LineParser {
public:
    LineParser(Lexer lexer, text::Sink& sink) : lexer_(std::move(lexer)), sink_(&sink) {}

    [[nodiscard]] Lexer& lexer() { return lexer_; }
    [[nodiscard]] const Lexer& lexer() const { return lexer_; }
    [[nodiscard]] text::Sink& sink() { return *sink_; }
    [[nodiscard]] const Token& peek() const { return lexer_.peek(); }
    [[nodiscard]] bool at_end() const { return lexer_.at_end(); }
    Token next() {
        last_end_ = lexer_.peek().span.end;
        return lexer_.next();
    }
    /// Where the token that was taken last ends.
    [[nodiscard]] std::uint32_t last_end() const { return last_end_; }

    /// Moves past this word (compared without case) when it stands here.
    bool accept(std::string_view word);
    /// Moves past several words in a row, all or none.
    bool accept_phrase(std::string_view phrase);
    bool accept(Token::Kind kind);
    /// Emits at the token here.
    text::Sink::Note complain(text::Code code, std::string sentence) {
        return sink_->emit(code, peek().span, std::move(sentence));
    }
    /// Says what is too much when the line is not over, and skips it.
    void expect_end(std::string_view line);

    /// A quoted text; words without quotes are taken to the line's end with an error and its fix.
    std::optional<Words> quoted_text(std::string_view line);
    /// A name of a section, rule or plan: one word, checked; nothing when no word stands here.
    std::optional<Words> name();
    /// A number in a range; complains when it is none or outside, and names the word that takes it.
    std::optional<int> number(int low, int high, std::string_view word);
    /// `A:7`, `A:7.3`, `A:1-4`; complains and moves past the word when it is none.
    std::optional<Address> address();

private:
    Lexer lexer_;
    text::Sink* sink_;
    std::uint32_t last_end_ = 0;
};

/// Reads an address whole. `span` is the word's; parts are found inside it.
[[nodiscard]] std::optional<Address> read_address(std::string_view word, Span span);
/// True for a word that can name a section, plan or rule: no quotes, brackets, colons, commas, bar signs.
[[nodiscard]] bool is_name(std::string_view word);
/// ", did you mean “melody”?" or "" — for the end of a sentence.
[[nodiscard]] std::string did_you_mean(std::string_view nearest);

}  // namespace relead::syntax
