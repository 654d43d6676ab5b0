// Results that carry diagnostics. Wrong input is a value, never an exception: every reader
// returns what could be understood together with what was said about the rest.
#pragma once

#include <algorithm>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <relead/fraction.h>

namespace relead {

/// remark: worth knowing; warning: probably not what was meant; error: cannot be used as it is.
enum class Severity { remark, warning, error };

/// A half-open range of bytes [begin, end) in one source text.
struct Span {
    std::uint32_t source = 0;  ///< Index of the source text in its SourceSet.
    std::uint32_t begin = 0;
    std::uint32_t end = 0;
    friend bool operator==(const Span&, const Span&) = default;
};

/// For what was said on a command line or by a program: it stands in no text.
inline constexpr Span nowhere{0xFFFFFFFFU, 0, 0};

/// Where something stands, in a musician's terms and in the text's. `A:7.3` is beat 3 of bar 7
/// of section A. Fields that are not known are empty or 0.
struct Place {
    std::string section;
    int bar = 0;       ///< 1-based within its section; 0 for a pickup or when unknown.
    Beats beat = 0;    ///< 1-based; 0 when the whole bar is meant.
    int line = 0;      ///< 1-based line of the text.
    int column = 0;    ///< 1-based column, counted in user-perceived characters.
    friend bool operator==(const Place&, const Place&) = default;
};

/// A repair that an editor can apply: put `text` in place of `where`.
struct Fix {
    Span where;
    std::string text;
    std::string label;  ///< What the repair does, as a short sentence.
};

struct Diagnostic {
    std::string_view code;  ///< Stable slug such as "bar-overfull"; see compiler/text/codes.def.
    Severity severity = Severity::error;
    Span span;
    Place place;
    std::string sentence;  ///< Plain words for a musician, ending with a full stop.
    std::vector<Fix> fixes;
};

using Diagnostics = std::vector<Diagnostic>;

[[nodiscard]] inline bool has_errors(const Diagnostics& diagnostics) {
    return std::any_of(diagnostics.begin(), diagnostics.end(),
                       [](const Diagnostic& d) { return d.severity == Severity::error; });
}

/// A value and what was said while making it. The value is absent only when nothing is usable.
template <class T>
struct [[nodiscard]] Outcome {
    std::optional<T> value;
    Diagnostics diagnostics;

    /// True when there is a value and no error (remarks and warnings are allowed).
    [[nodiscard]] bool clean() const { return value.has_value() && !has_errors(diagnostics); }
};

}  // namespace relead
