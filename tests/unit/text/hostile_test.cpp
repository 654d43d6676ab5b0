// compiler/text: whatever the bytes, reading and rendering stay within their promises.
#include <random>

#include "support/catch.h"
#include "text/diagnose.h"
#include "text/render.h"
#include "text/render_line.h"
#include "text/source.h"
#include "text/utf8.h"

using namespace relead;
using namespace relead::text;

namespace {

/// Pieces that are awkward on their own and worse together.
const std::string pieces[] = {"a",
                              "| Dm7 ",
                              "\n",
                              "\r\n",
                              "\r",
                              "\t",
                              "\xEF\xBB\xBF",
                              "e\u0301",
                              "\u0301",
                              "\u0323",
                              "\u6e2f",
                              "\u05d0\u05d1",
                              "\u202E",
                              "\u200D",
                              "\U0001F3B7",
                              "\U0001F1EB",
                              "\uFE0F",
                              "\u0600",
                              "\x1b[31m",
                              "\u1112\u1161",
                              std::string("\0", 1),
                              "\xFF",
                              "\xE2\x99",
                              "\xC3",
                              "\xED\xA0\x80",
                              "\u0085",
                              "\u2028",
                              "\"",
                              "--",
                              "\u266d"};

std::string random_text(std::mt19937& random, bool valid) {
    std::string out;
    const auto count = random() % 40;
    for (unsigned i = 0; i < count; ++i) {
        const auto& piece = pieces[random() % std::size(pieces)];
        if (!valid || (!first_bad_utf8(piece) && piece[0] != '\0')) out += piece;
    }
    return out;
}

bool disturbs_terminal(std::string_view shown) {
    for (const char c : shown)
        if (static_cast<unsigned char>(c) < 0x20 && c != '\n') return true;
    return shown.find("\u202E") != std::string_view::npos || first_bad_utf8(shown).has_value();
}

}  // namespace

TEST_CASE("valid texts read clean and every offset has a line and a growing column") {
    std::mt19937 random(7);  // NOLINT: the same texts every time
    for (int round = 0; round < 1500; ++round) {
        const auto bytes = random_text(random, true);
        const auto read = read_source("x", bytes);
        REQUIRE(read.clean());
        const auto& source = *read.value;
        LineColumn last{1, 1};
        for (std::uint32_t offset = 0; offset <= bytes.size(); ++offset) {
            const auto here = source.locate(offset);
            REQUIRE((here.line > last.line || (here.line == last.line && here.column >= last.column)));
            REQUIRE(here.line <= source.line_count());
            last = here;
        }
    }
}

TEST_CASE("invalid texts are refused with a span inside the text, and can be shown") {
    std::mt19937 random(11);  // NOLINT: the same texts every time
    for (int round = 0; round < 1500; ++round) {
        const auto bytes = random_text(random, false);
        const auto read = read_source("x", bytes);
        const bool bad = first_bad_utf8(bytes).has_value() || bytes.find('\0') != std::string::npos;
        REQUIRE(read.clean() != bad);
        const std::vector<Source> sources = {readable_source("x", bytes)};
        REQUIRE(sources[0].bytes().size() == bytes.size());
        for (const auto& said : read.diagnostics) REQUIRE(said.span.end <= bytes.size());
        REQUIRE_FALSE(disturbs_terminal(render_all(read.diagnostics, sources)));
    }
}

TEST_CASE("any span of any text is shown within the width, carets below the text") {
    std::mt19937 random(13);  // NOLINT: the same texts every time
    for (int round = 0; round < 3000; ++round) {
        const auto line = random_text(random, true);
        const auto begin = random() % (line.size() + 3);
        const auto end = begin + random() % 20;
        const int width = 20 + static_cast<int>(random() % 60);
        const auto at = char_start(line, begin);
        const auto shown = show_line(line, at, std::max(at, char_start(line, end)), width);
        REQUIRE_FALSE(disturbs_terminal(shown.text));
        REQUIRE(display_width(shown.text) <= width);
        REQUIRE(shown.before + shown.carets <= std::max(width, display_width(shown.text) + 1));
    }
}

TEST_CASE("normal form is idempotent") {
    std::mt19937 random(17);  // NOLINT: the same texts every time
    for (int round = 0; round < 1500; ++round) {
        const auto once = nfc(random_text(random, true));
        REQUIRE(nfc(once) == once);
    }
}
