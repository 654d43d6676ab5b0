// Making diagnostics. Codes are rows of codes.def; rendering is render.h.
#pragma once

#include <deque>
#include <string>
#include <string_view>
#include <vector>

#include <relead/outcome.h>

#include "text/limits.h"

namespace relead::text {

/// Every diagnostic code, from codes.def (bar_overfull is the slug "bar-overfull").
enum class Code {
#define RELEAD_CODE(name, severity, meaning) name,
#include "text/codes.def"
#undef RELEAD_CODE
};

struct CodeInfo {
    std::string_view slug;
    Severity severity = Severity::error;
    std::string_view meaning;  ///< one line for the list of codes
};
[[nodiscard]] const CodeInfo& info(Code code);
[[nodiscard]] std::vector<Code> all_codes();

/// Collects diagnostics in the order found. Above the limit it counts and keeps no more
/// (one `too-many-diagnostics` row says how many were left out).
class Sink {
public:
    explicit Sink(const Limits& limits = {}) : limit_(limits.diagnostics) {}

    /// Handle for adding a place and fixes to the diagnostic just made; valid until take().
    class Note {
    public:
        Note& at(Place place);
        Note& fix(Span where, std::string text, std::string label);

    private:
        friend class Sink;
        explicit Note(Diagnostic* diagnostic) : diagnostic_(diagnostic) {}
        Diagnostic* diagnostic_;  // null when the limit was passed
    };

    Note emit(Code code, Span span, std::string sentence);
    void append(Diagnostics diagnostics);
    [[nodiscard]] bool has_errors() const;
    /// Takes what was collected, sorted by place in the text, stable; the sink is empty afterwards.
    /// The row about what was left out comes last and is as severe as the worst of it.
    [[nodiscard]] Diagnostics take();

private:
    explicit Sink(int limit) : limit_(limit) {}
    /// Null when the limit was passed.
    Diagnostic* keep(Diagnostic diagnostic);

    int limit_;
    int dropped_ = 0;
    Severity worst_dropped_ = Severity::remark;
    Span first_dropped_;
    std::deque<Diagnostic> diagnostics_;  // a deque, so that Notes stay valid
};

}  // namespace relead::text
