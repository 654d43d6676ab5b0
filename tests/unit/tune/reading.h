// Reading tunes in the tests of the tune layer.
#pragma once

#include <algorithm>
#include <string>
#include <vector>

#include "support/catch.h"
#include "text/render.h"
#include "text/source.h"
#include "tune/dump.h"
#include "tune/lower.h"

namespace relead::tune::testing {

inline Outcome<Tune> read(const std::string& text, const Limits& limits = {}) {
    return read_tune(text::Source("test.tune", text), limits);
}

inline std::string codes(const Diagnostics& diagnostics) {
    std::string text;
    for (const auto& one : diagnostics) text += (text.empty() ? "" : " ") + std::string(one.code);
    return text;
}

/// A head that leaves nothing to remark; `lines` are further lines of it.
inline std::string head(const std::string& lines = "", const std::string& meter = "4/4") {
    return "tune \"T\"\nkey C major\nmeter " + meter + "\ntempo 120 swing\n" + lines;
}
/// Rows in the only section, A.
inline std::string in_section(const std::string& rows, const std::string& meter = "4/4") {
    return head("", meter) + "section A\n" + rows + "\n";
}
/// Two sections of two bars with a form.
inline std::string in_form(const std::string& lines, const std::string& a_row = "",
                           const std::string& b_row = "") {
    return head(lines) + "section A\nchanges | C | F |\n" + a_row + "section B\nchanges | G7 | C |\n" + b_row;
}
/// Rows under four bars of changes: Cmaj7, A7 D7, G7 locked, C6.
inline std::string in_plan(const std::string& lines) {
    return head() + "section A\nchanges | Cmaj7 | A7 D7 | G7! | C6 |\nplan \"p\" for band\n" + lines + "\n";
}

/// The tune of a text that must read clean.
inline Tune tune_of(const std::string& text) {
    auto outcome = read(text);
    const text::Source source("test.tune", text);
    INFO(text);
    INFO(text::render_all(outcome.diagnostics, {&source, 1}));
    REQUIRE(outcome.clean());
    return std::move(*outcome.value);
}
inline const Bar& bar_of(const Tune& tune, std::size_t index, std::size_t section = 0) {
    return tune.sections.at(section).bars.at(index);
}

inline std::string with_fix(const std::string& text, const Fix& fix) {
    return text.substr(0, fix.where.begin) + fix.text + text.substr(fix.where.end);
}

/// One broken tune and the one thing that is said about it.
struct Broken {
    std::string text;
    std::string code;
    std::string place;     ///< "A:3", "" when there is none
    std::string where;     ///< the bytes under the carets
    std::string sentence;  ///< in full
    std::string fixed;     ///< what the first fix puts there; "none" when no fix is offered
};

/// Checks a row, and that each fix makes what was said go away.
inline void check(const Broken& broken) {
    INFO(broken.text);
    const auto outcome = read(broken.text);
    const text::Source source("test.tune", broken.text);
    INFO(text::render_all(outcome.diagnostics, {&source, 1}));
    CHECK(codes(outcome.diagnostics) == broken.code);
    if (outcome.diagnostics.empty()) return;
    const auto& said = outcome.diagnostics.front();
    CHECK(text::to_string(said.place) == broken.place);
    CHECK(source.slice(said.span) == broken.where);
    CHECK(said.sentence == broken.sentence);
    CHECK((said.fixes.empty() ? "none" : said.fixes.front().text) == broken.fixed);
    CHECK(said.place.line > 0);
    for (const auto& fix : said.fixes) {
        INFO(with_fix(broken.text, fix));
        const auto after = read(with_fix(broken.text, fix));
        CHECK(!has_errors(after.diagnostics));
        CHECK(std::none_of(after.diagnostics.begin(), after.diagnostics.end(),
                           [&](const Diagnostic& other) { return other.code == said.code; }));
    }
}

}  // namespace relead::tune::testing
