#include "text/diagnose.h"

#include <algorithm>
#include <array>
#include <cassert>
#include <iterator>
#include <tuple>

#include "base/fmt.h"

namespace relead::text {
namespace {

struct Row {
    std::string_view name;
    Severity severity;
    std::string_view meaning;
};

constexpr Row rows[] = {
#define RELEAD_CODE(name, severity, meaning) {#name, Severity::severity, meaning},
#include "text/codes.def"
#undef RELEAD_CODE
};
constexpr std::size_t code_count = std::size(rows);

constexpr std::size_t slug_bytes() {
    std::size_t total = 0;
    for (const auto& row : rows) total += row.name.size();
    return total;
}

/// All names in a row with '-' for '_': the storage behind the slugs.
constexpr auto slug_storage = [] {
    std::array<char, slug_bytes()> storage{};
    std::size_t at = 0;
    for (const auto& row : rows)
        for (const char c : row.name) storage[at++] = c == '_' ? '-' : c;
    return storage;
}();

constexpr auto code_table = [] {
    std::array<CodeInfo, code_count> table{};
    std::size_t at = 0;
    for (std::size_t i = 0; i < code_count; ++i) {
        const auto length = rows[i].name.size();
        table[i] = {std::string_view(slug_storage.data() + at, length), rows[i].severity, rows[i].meaning};
        at += length;
    }
    return table;
}();

}  // namespace

const CodeInfo& info(Code code) {
    return code_table[static_cast<std::size_t>(code)];
}

std::vector<Code> all_codes() {
    std::vector<Code> codes;
    for (std::size_t i = 0; i < code_count; ++i) codes.push_back(static_cast<Code>(i));
    return codes;
}

Sink::Note& Sink::Note::at(Place place) {
    if (diagnostic_ != nullptr) diagnostic_->place = std::move(place);
    return *this;
}

Sink::Note& Sink::Note::fix(Span where, std::string text, std::string label) {
    if (diagnostic_ != nullptr) diagnostic_->fixes.push_back({where, std::move(text), std::move(label)});
    return *this;
}

Sink::Note Sink::emit(Code code, Span span, std::string sentence) {
    assert(span.begin <= span.end);
    const auto& row = info(code);
    return Note(keep({row.slug, row.severity, span, {}, std::move(sentence), {}}));
}

void Sink::append(Diagnostics diagnostics) {
    for (auto& diagnostic : diagnostics) keep(std::move(diagnostic));
}

Diagnostic* Sink::keep(Diagnostic diagnostic) {
    if (static_cast<int>(diagnostics_.size()) < limit_)
        return &diagnostics_.emplace_back(std::move(diagnostic));
    if (dropped_ == 0) first_dropped_ = diagnostic.span;
    worst_dropped_ = std::max(worst_dropped_, diagnostic.severity);
    ++dropped_;
    return nullptr;
}

bool Sink::has_errors() const {
    return (dropped_ > 0 && worst_dropped_ == Severity::error) ||
           std::any_of(diagnostics_.begin(), diagnostics_.end(),
                       [](const Diagnostic& d) { return d.severity == Severity::error; });
}

Diagnostics Sink::take() {
    Diagnostics taken(std::make_move_iterator(diagnostics_.begin()),
                      std::make_move_iterator(diagnostics_.end()));
    std::stable_sort(taken.begin(), taken.end(), [](const Diagnostic& a, const Diagnostic& b) {
        return std::tie(a.span.source, a.span.begin) < std::tie(b.span.source, b.span.begin);
    });
    if (dropped_ > 0) {
        const auto& row = info(Code::too_many_diagnostics);
        taken.push_back({row.slug,
                         worst_dropped_,
                         first_dropped_,
                         {},
                         fmt::format("There is more to say: {} further {} left out after the first {}.",
                                     dropped_, dropped_ == 1 ? "remark was" : "remarks were", limit_),
                         {}});
    }
    *this = Sink(limit_);
    return taken;
}

}  // namespace relead::text
