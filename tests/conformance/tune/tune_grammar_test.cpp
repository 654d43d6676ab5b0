// grammar/tune.ebnf against compiler/syntax: what the grammar generates is read without a syntax error, but
// for the conditions that the grammar lists by their codes; broken sentences never do harm.
#include <algorithm>
#include <fstream>
#include <set>
#include <sstream>

#include "support/catch.h"
#include "support/ebnf.h"
#include "syntax/chord_word.h"
#include "syntax/dump.h"
#include "syntax/parse_tune.h"
#include "syntax/tidy.h"
#include "text/render.h"

using namespace relead;
using testing::Ebnf;

namespace {

const std::string& grammar_text() {
    static const std::string text = [] {
        std::ifstream file(RELEAD_SOURCE_DIR "/grammar/tune.ebnf");
        std::stringstream bytes;
        bytes << file.rdbuf();
        return bytes.str();
    }();
    return text;
}

/// Codes of the conditions "C5 row-missing-cell …" in the grammar's first comment.
std::set<std::string> listed_conditions() {
    std::set<std::string> codes;
    std::istringstream lines(grammar_text());
    for (std::string line; std::getline(lines, line);) {
        std::istringstream words(line);
        std::string number, code;
        words >> number >> code;
        const bool condition =
            line.substr(0, 4) == "   C" && number.find_first_not_of("0123456789", 1) == std::string::npos;
        if (condition) codes.insert(code);
    }
    return codes;
}

/// Everything said about a text, chords included.
Diagnostics all_said(const text::Source& source, const syntax::TuneTree& tree, Diagnostics said) {
    text::Sink sink;
    sink.append(std::move(said));
    for (const auto& section : tree.sections)
        for (const auto& group : section.groups)
            for (const auto& row : group.rows)
                for (const auto& cell : row.cells)
                    for (const auto& word : cell.chords)
                        if (word.kind == syntax::ChordWord::Kind::chord)
                            (void)syntax::read_chord(word, {}, sink);
    (void)source;
    return sink.take();
}

/// Spans lie in the text, rows have as many bars as their changes.
bool is_sound(const syntax::TuneTree& tree, std::size_t size) {
    bool sound = true;
    const auto inside = [&](Span span) { sound = sound && span.begin <= span.end && span.end <= size; };
    for (const auto& section : tree.sections) {
        inside(section.span);
        for (const auto& group : section.groups)
            for (const auto& row : group.rows) {
                sound = sound && row.cells.size() == group.rows.front().cells.size();
                inside(row.span);
                for (const auto& cell : row.cells) {
                    inside(cell.span);
                    for (const auto& word : cell.chords) inside(word.symbol_span);
                    for (const auto& note : cell.notes) inside(note.span);
                }
            }
    }
    return sound;
}

std::string changed(std::string text, std::mt19937& random) {
    static constexpr std::string_view signs = "|[](){}\"<>*!%/:~-_.,#\n\t \\\xC3\xFF";
    for (unsigned changes = 1 + random() % 4; changes > 0 && !text.empty(); --changes) {
        const auto at = random() % text.size();
        const auto length = 1 + random() % 8;
        const auto other = text.substr(random() % text.size(), length);
        switch (random() % 5) {
            case 0:
                text.erase(at, length);
                break;
            case 1:
                text.insert(at, 1, signs[random() % signs.size()]);
                break;
            case 2:
                text[at] = signs[random() % signs.size()];
                break;
            case 3:
                text.insert(at, other);
                break;
            case 4:
                text.resize(at);
                break;
        }
    }
    return text;
}

}  // namespace

TEST_CASE("The grammar of tunes is complete", "[grammar]") {
    const Ebnf grammar(grammar_text());
    CHECK(grammar.undefined().empty());
    CHECK(grammar.unreached("Tune").empty());
    CHECK(listed_conditions().size() == 11);  // twelve conditions, two of one code
}

TEST_CASE("What the grammar generates is read without a syntax error", "[grammar]") {
    const Ebnf grammar(grammar_text());
    const auto conditions = listed_conditions();
    constexpr unsigned sentences = 2500;
    unsigned without_error = 0;
    for (unsigned seed = 1; seed <= sentences; ++seed) {
        std::mt19937 random(seed);
        const auto text = grammar.sentence("Tune", random);
        const auto source = text::read_source("sentence", text);
        REQUIRE(source.value);
        auto outcome = syntax::parse_tune(*source.value);
        REQUIRE(outcome.value);
        const auto said = all_said(*source.value, *outcome.value, std::move(outcome.diagnostics));
        for (const auto& one : said) {
            if (one.severity != Severity::error || conditions.count(std::string(one.code)) > 0) continue;
            const std::vector<text::Source> sources{*source.value};
            FAIL("seed " << seed << ": " << text::render(one, sources));
        }
        without_error += has_errors(said) ? 0 : 1;
        if (!is_sound(*outcome.value, text.size())) FAIL("seed " << seed);
    }
    INFO(without_error);
    CHECK(without_error > sentences / 20);  // the conditions do not swallow everything
}

TEST_CASE("Each kind of row by itself", "[grammar]") {
    const Ebnf grammar(grammar_text());
    for (const auto* symbol : {"ChordRow", "NoteRow", "HitsRow", "LyricsRow", "MarksRow"})
        for (unsigned seed = 1; seed <= 400; ++seed) {
            std::mt19937 random(seed);
            const auto row = grammar.sentence(symbol, random);
            std::string changes = "changes |";
            for (int bar = 0; bar < 40; ++bar) changes += " C |";
            const auto text = "tune \"T\"\nsection A\n" + changes + "\n" + row + "\n";
            const text::Source source("row", text);
            const auto outcome = syntax::parse_tune(source);
            for (const auto& one : outcome.diagnostics)
                if (one.code != "row-missing-cell" && one.code != "tuplet-unreadable")
                    FAIL(symbol << " seed " << seed << ": "
                                << text::render(one, std::vector<text::Source>{source}));
        }
}

TEST_CASE("Broken sentences do no harm and tidy stays the same when read again", "[grammar]") {
    const Ebnf grammar(grammar_text());
    unsigned clean = 0;
    for (unsigned seed = 1; seed <= 3000; ++seed) {
        std::mt19937 random(seed);
        const auto text = changed(grammar.sentence("Tune", random), random);
        const auto source = text::read_source("broken", text);
        if (!source.value) continue;
        const auto outcome = syntax::parse_tune(*source.value);
        REQUIRE(outcome.value);
        if (!is_sound(*outcome.value, text.size())) FAIL("seed " << seed);
        const auto tidied = syntax::tidy(*outcome.value);
        if (has_errors(outcome.diagnostics)) continue;
        ++clean;
        const auto again = syntax::parse_tune(text::Source("tidied", tidied));
        if (syntax::dump(*again.value) != syntax::dump(*outcome.value) ||
            syntax::tidy(*again.value) != tidied)
            FAIL("seed " << seed << "\n" << text << "\n----\n" << tidied);
    }
    CHECK(clean > 20);
}
