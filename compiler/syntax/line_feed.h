// The lines of a text with their comments taken off. A comment is `--` at the start of a line or after
// white space, and before white space or the end of the line, outside quoted texts.
#pragma once

#include <cstdint>
#include <optional>
#include <string_view>

#include "syntax/words.h"
#include "text/diagnose.h"
#include "text/source.h"

namespace relead::syntax {

struct FedLine {
    int number = 0;           ///< 1-based
    std::uint32_t begin = 0;  ///< offset of `body` in the text
    std::string_view
        body;  ///< without comment and without white space around; empty in blank and comment lines
    bool indented = false;  ///< white space stands before the body
    std::optional<Comment> comment;
    [[nodiscard]] bool blank() const { return body.empty() && !comment; }
};

/// Hands out one line after the other.
class LineFeed {
public:
    /// `source` is shared, not copied; views stay valid as long as any copy of it lives.
    LineFeed(text::Source source, text::Sink& sink) : source_(std::move(source)), sink_(&sink) {}

    /// Nothing after the last line. Says "comments start with --" for lines that begin with `#`,
    /// `//` or a dash that a word processor made, and hands them out as comments.
    [[nodiscard]] std::optional<FedLine> next();

private:
    text::Source source_;
    text::Sink* sink_;
    int line_ = 0;
};

}  // namespace relead::syntax
