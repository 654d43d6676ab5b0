// Words and comments of a text, as every syntax tree keeps them.
#pragma once

#include <optional>
#include <string>

#include <relead/outcome.h>

namespace relead::syntax {

/// A word or a quoted text (already without quotes and escapes) and its bytes (with the quotes).
struct Words {
    std::string text;
    Span span;
};

/// A comment, without its `--` and the blanks around.
struct Comment {
    std::string text;
    Span span;               ///< from the `--` to the end of the line
    bool gap_after = false;  ///< a blank line follows (comment lines only)
};

}  // namespace relead::syntax
