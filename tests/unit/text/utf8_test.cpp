// compiler/text/utf8.cpp and read_source.cpp
// Byte sequences: Unicode Standard 15.0, table 3-7 (well-formed UTF-8) and section 3.9 (D92, D93).
#include "text/utf8.h"

#include "support/catch.h"
#include "text/source.h"

using namespace relead;
using namespace relead::text;

namespace {

std::string bytes(std::initializer_list<int> values) {
    std::string out;
    for (const int value : values) out += static_cast<char>(value);
    return out;
}

}  // namespace

TEST_CASE("well-formed UTF-8 is accepted up to the last code point of each length") {
    const std::string rows[] = {"",
                                "plain",
                                bytes({0x7F}),
                                bytes({0xC2, 0x80}),
                                bytes({0xDF, 0xBF}),
                                bytes({0xE0, 0xA0, 0x80}),
                                bytes({0xED, 0x9F, 0xBF}),
                                bytes({0xEE, 0x80, 0x80}),
                                bytes({0xEF, 0xBF, 0xBF}),
                                bytes({0xF0, 0x90, 0x80, 0x80}),
                                bytes({0xF4, 0x8F, 0xBF, 0xBF})};
    for (const auto& row : rows) CHECK_FALSE(first_bad_utf8(row).has_value());
}

TEST_CASE("every broken sequence is found at its first bad byte") {
    struct Row {
        std::string text;
        std::size_t begin, end;
        Utf8Fault fault;
    };
    const Row rows[] = {
        {bytes({'a', 0x80}), 1, 2, Utf8Fault::stray_continuation},
        {bytes({'a', 'b', 0xBF, 'c'}), 2, 3, Utf8Fault::stray_continuation},
        {bytes({0xC0, 0x80}), 0, 1, Utf8Fault::overlong},
        {bytes({0xC1, 0xBF}), 0, 1, Utf8Fault::overlong},
        {bytes({0xE0, 0x80, 0x80}), 0, 1, Utf8Fault::overlong},
        {bytes({0xE0, 0x9F, 0xBF}), 0, 1, Utf8Fault::overlong},
        {bytes({0xF0, 0x8F, 0xBF, 0xBF}), 0, 1, Utf8Fault::overlong},
        {bytes({0xED, 0xA0, 0x80}), 0, 1, Utf8Fault::surrogate},
        {bytes({0xED, 0xBF, 0xBF}), 0, 1, Utf8Fault::surrogate},
        {bytes({0xF4, 0x90, 0x80, 0x80}), 0, 1, Utf8Fault::too_large},
        {bytes({0xF5, 0x80, 0x80, 0x80}), 0, 1, Utf8Fault::too_large},
        {bytes({0xF8, 0x88, 0x80, 0x80, 0x80}), 0, 1, Utf8Fault::bad_lead},
        {bytes({0xFE}), 0, 1, Utf8Fault::bad_lead},
        {bytes({0xFF}), 0, 1, Utf8Fault::bad_lead},
        {bytes({'x', 0xC3}), 1, 2, Utf8Fault::cut_off},
        {bytes({0xE2, 0x99}), 0, 2, Utf8Fault::cut_off},
        {bytes({0xE2, 0x99, 'b'}), 0, 2, Utf8Fault::cut_off},
        {bytes({0xF0, 0x9D, 0x84}), 0, 3, Utf8Fault::cut_off},
        {bytes({0xE2, 'b', 0x99}), 0, 1, Utf8Fault::cut_off},
        {"12345678" + bytes({0xE9}) + "90123456", 8, 9, Utf8Fault::cut_off},
    };
    for (const auto& row : rows) {
        const auto bad = first_bad_utf8(row.text);
        REQUIRE(bad.has_value());
        CHECK(bad->begin == row.begin);
        CHECK(bad->end == row.end);
        CHECK(bad->fault == row.fault);
    }
}

TEST_CASE("every code point survives being decoded, and no surrogate does") {
    const auto encode = [](char32_t c) {
        if (c < 0x80) return bytes({static_cast<int>(c)});
        const auto tail = [c](int shift) { return static_cast<int>(0x80U | ((c >> shift) & 0x3FU)); };
        if (c < 0x800) return bytes({static_cast<int>(0xC0U | (c >> 6U)), tail(0)});
        if (c < 0x10000) return bytes({static_cast<int>(0xE0U | (c >> 12U)), tail(6), tail(0)});
        return bytes({static_cast<int>(0xF0U | (c >> 18U)), tail(12), tail(6), tail(0)});
    };
    int wrong = 0;
    for (char32_t c = 0; c <= 0x10FFFF; ++c) {
        const bool surrogate = c >= 0xD800 && c <= 0xDFFF;
        const auto text = encode(c);
        const auto decoded = decode_utf8(text, 0);
        const bool right = surrogate ? decoded.length == 0 && first_bad_utf8(text).has_value()
                                     : decoded.point == c && decoded.length == text.size();
        wrong += right ? 0 : 1;
    }
    CHECK(wrong == 0);
}

TEST_CASE("a text that is not UTF-8 is refused with the place and a way out") {
    const auto read = read_source("old.tune", "tune \"Nine\"\nby \"Ren\xE9 \"\n");
    REQUIRE_FALSE(read.value.has_value());
    REQUIRE(read.diagnostics.size() == 1);
    const auto& said = read.diagnostics[0];
    CHECK(said.code == "text-not-utf8");
    CHECK(said.span == Span{0, 19, 20});
    CHECK(said.sentence ==
          "Line 2 is not UTF-8: byte E9 cannot stand here; in the old Latin-1 it is é. Save the text as "
          "UTF-8.");
}

TEST_CASE("the line of a bad byte is counted over every kind of line end") {
    const std::pair<std::string, std::string> rows[] = {
        {"\xFF", "Line 1 "},       {"a\n\xFF", "Line 2 "},        {"a\r\n\xFF", "Line 2 "},
        {"a\rb\r\xFF", "Line 3 "}, {"a\n\nb\xFF c\n", "Line 3 "}, {"a\n\n\n\xFF", "Line 4 "}};
    for (const auto& [text, start] : rows) {
        const auto read = read_source("x", text);
        REQUIRE(read.diagnostics.size() == 1);
        CHECK(read.diagnostics[0].sentence.substr(0, start.size()) == start);
    }
}

TEST_CASE("UTF-16 is recognised by its mark") {
    const auto read = read_source("x", std::string("\xFF\xFEt\0u\0", 6));
    REQUIRE(read.diagnostics.size() == 1);
    CHECK(read.diagnostics[0].code == "text-not-utf8");
    CHECK(read.diagnostics[0].sentence == "The text is UTF-16; save it as UTF-8.");
}

TEST_CASE("a NUL byte is refused and located") {
    const auto read = read_source("x", std::string("key F\nme\0ter", 12));
    REQUIRE_FALSE(read.value.has_value());
    REQUIRE(read.diagnostics.size() == 1);
    CHECK(read.diagnostics[0].code == "text-has-nul");
    CHECK(read.diagnostics[0].span == Span{0, 8, 9});
    CHECK(read.diagnostics[0].sentence == "Line 2 holds a NUL byte; is this a text?");
}

TEST_CASE("texts and lines above the limits are refused, at the limit accepted") {
    Limits limits;
    limits.source_bytes = 20;
    limits.line_bytes = 10;
    CHECK(read_source("x", "0123456789\n012345678", limits).clean());
    const auto long_text = read_source("x", std::string(21, 'a'), limits);
    REQUIRE(long_text.diagnostics.size() == 1);
    CHECK(long_text.diagnostics[0].code == "text-too-long");
    const auto long_line = read_source("x", "a\n01234567890\n", limits);
    REQUIRE(long_line.diagnostics.size() == 1);
    CHECK(long_line.diagnostics[0].code == "line-too-long");
    CHECK(long_line.diagnostics[0].span.begin == 2);
}

TEST_CASE("a refused text can still be shown, byte for byte in place") {
    const auto source = readable_source("x", "a\xFF\xE2\x99 b\xC3\xA9\xED\xA0\x80");
    CHECK(source.bytes() == "a??? b\xC3\xA9???");
}
