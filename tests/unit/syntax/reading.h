// Reading texts in the tests of the syntax layer.
#pragma once

#include <string>
#include <vector>

#include "support/catch.h"
#include "syntax/chord_word.h"
#include "syntax/parse_tune.h"
#include "text/render.h"
#include "text/source.h"

namespace relead::syntax::testing {

struct Reading {
    text::Source source;
    TuneTree tree;
    Diagnostics diagnostics;
};

inline Reading read(const std::string& text, const Limits& limits = {}) {
    text::Source source("test.tune", text);
    auto outcome = parse_tune(source, limits);
    return {source, std::move(*outcome.value), std::move(outcome.diagnostics)};
}

/// With the chords read, as the tune model does (at their bar).
inline Reading read_with_chords(const std::string& text) {
    auto reading = read(text);
    text::Sink sink;
    sink.append(reading.diagnostics);
    for (const auto& section : reading.tree.sections)
        for (const auto& group : section.groups)
            for (const auto& row : group.rows) {
                int bar = group.first_bar;
                for (const auto& cell : row.cells) {
                    for (const auto& word : cell.chords)
                        if (word.kind == ChordWord::Kind::chord)
                            (void)read_chord(word, Place{section.name.text, bar, 0, 0, 0}, sink);
                    ++bar;
                }
            }
    reading.diagnostics = sink.take();
    return reading;
}

inline std::string codes(const Diagnostics& diagnostics) {
    std::string text;
    for (const auto& one : diagnostics) text += (text.empty() ? "" : " ") + std::string(one.code);
    return text;
}

inline std::string head() {
    return "tune \"T\"\n";
}
/// Lines in section A of a tune.
inline std::string in_section(const std::string& lines) {
    return head() + "section A\n" + lines + "\n";
}
/// One row under four bars of changes.
inline std::string under_changes(const std::string& row) {
    return in_section("changes | C | F | G7 | C |\n" + row);
}
inline std::string in_plan(const std::string& lines) {
    return in_section("changes | C |") + "plan \"p\" for band\n" + lines + "\n";
}

inline std::string with_fix(const std::string& text, const Fix& fix) {
    return text.substr(0, fix.where.begin) + fix.text + text.substr(fix.where.end);
}

/// One broken text and all that is said about it.
struct Broken {
    std::string text;
    std::string code;   ///< the only diagnostic
    std::string place;  ///< "A:3", "" when there is none
    std::string where;  ///< the bytes under the carets
    std::string fixed;  ///< what the first fix puts there; "none" when no fix is offered
};

/// Checks a row, and that each fix makes this diagnostic go away.
inline void check(const Broken& broken) {
    INFO(broken.text);
    const auto reading = read_with_chords(broken.text);
    INFO(text::render_all(reading.diagnostics, std::vector<text::Source>{reading.source}));
    CHECK(codes(reading.diagnostics) == broken.code);
    if (reading.diagnostics.empty()) return;
    const auto& said = reading.diagnostics.front();
    CHECK(text::to_string(said.place) == broken.place);
    CHECK(reading.source.slice(said.span) == broken.where);
    CHECK((said.fixes.empty() ? "none" : said.fixes.front().text) == broken.fixed);
    CHECK(said.sentence.back() == (said.sentence.back() == '?' ? '?' : '.'));
    for (const auto& fix : said.fixes) {
        INFO(with_fix(broken.text, fix));
        CHECK(codes(read_with_chords(with_fix(broken.text, fix)).diagnostics) == "");
    }
}

}  // namespace relead::syntax::testing
