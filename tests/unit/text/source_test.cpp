// compiler/text/source.cpp
#include "text/source.h"

#include "support/catch.h"

using namespace relead;
using namespace relead::text;

TEST_CASE("lines end at LF, CRLF and CR alike") {
    struct Row {
        std::string text;
        std::vector<std::string> lines;
    };
    const Row rows[] = {
        {"", {""}},
        {"a", {"a"}},
        {"a\n", {"a"}},
        {"a\nb", {"a", "b"}},
        {"a\r\nb\r\n", {"a", "b"}},
        {"a\rb\r", {"a", "b"}},
        {"a\n\rb", {"a", "", "b"}},
        {"a\r\r\nb", {"a", "", "b"}},
        {"\n\n", {"", ""}},
        {"a\xC2\x85"
         "b\xE2\x80\xA8"
         "c",
         {"a\xC2\x85"
          "b\xE2\x80\xA8"
          "c"}},
    };
    for (const auto& row : rows) {
        const Source source("x", row.text);
        std::vector<std::string> lines;
        for (int i = 1; i <= source.line_count(); ++i) lines.emplace_back(source.line(i));
        CHECK(lines == row.lines);
    }
}

TEST_CASE("a byte order mark belongs to no line and moves no column") {
    const Source source("x", "\xEF\xBB\xBFkey F\nmeter");
    CHECK(source.line(1) == "key F");
    CHECK(source.line_begin(1) == 3);
    CHECK(source.bytes().size() == 14);
    CHECK(source.locate(0).column == 1);
    CHECK(source.locate(3).column == 1);
    CHECK(source.locate(4).column == 2);
    CHECK(source.locate(9).line == 2);
    const Source only("x", "\xEF\xBB\xBF");
    CHECK(only.line_count() == 1);
    CHECK(only.line(1).empty());
}

TEST_CASE("offsets become lines and columns of user-perceived characters") {
    //                     0123 4 5    6          8
    const Source source("x", "ab\r\n\te\xCC\x81\xE2\x99\xAD!\n");
    struct Row {
        std::uint32_t offset;
        int line, column;
    };
    const Row rows[] = {{0, 1, 1}, {1, 1, 2}, {2, 1, 3}, {3, 1, 3},  {4, 2, 1},  {5, 2, 2},  {6, 2, 2},
                        {7, 2, 2}, {8, 2, 3}, {9, 2, 3}, {11, 2, 4}, {12, 2, 5}, {13, 2, 5}, {999, 2, 5}};
    for (const auto& row : rows) {
        const auto where = source.locate(row.offset);
        INFO("offset " << row.offset);
        CHECK(where.line == row.line);
        CHECK(where.column == row.column);
    }
}

TEST_CASE("slices are clipped to the text") {
    const Source source("x", "tune", 3);
    CHECK(source.index() == 3);
    CHECK(source.slice({3, 1, 3}) == "un");
    CHECK(source.slice({3, 2, 99}) == "ne");
    CHECK(source.slice({3, 50, 99}).empty());
    CHECK(source.slice({3, 3, 1}).empty());
}

TEST_CASE("sources are found by their index wherever they stand") {
    const std::vector<Source> sources = {Source("b", "", 1), Source("a", "", 0), Source("c", "", 7)};
    CHECK(find_source(sources, 0)->name() == "a");
    CHECK(find_source(sources, 1)->name() == "b");
    CHECK(find_source(sources, 7)->name() == "c");
    CHECK(find_source(sources, 2) == nullptr);
}

TEST_CASE("places learn their line and column from the span") {
    const std::vector<Source> sources = {Source("a", "one\ntwo\n")};
    Diagnostics said(1);
    said[0].span = {0, 5, 6};
    said[0].place.section = "A";
    fill_lines(said, sources);
    CHECK(said[0].place.line == 2);
    CHECK(said[0].place.column == 2);
    CHECK(said[0].place.section == "A");
}

TEST_CASE("columns at checkpoints agree with a walk from the line's start") {
    std::string line;
    const std::string pieces[] = {"| Dm7 ", "e\xCC\x81", "\xE2\x99\xAD", "\xF0\x9F\x87\xAB\xF0\x9F\x87\xB7",
                                  "\t"};
    for (std::size_t i = 0; line.size() < 40'000; ++i) line += pieces[i * i % 5];
    const Source source("x", line);
    for (const std::uint32_t offset : {5U, 4093U, 4096U, 4099U, 8192U, 20'001U, 39'990U}) {
        auto at = offset;
        while ((static_cast<unsigned char>(line[at]) & 0xC0U) == 0x80U) --at;
        // a short line takes the direct way: count the clusters in front of the character
        const auto whole = line.substr(0, at);
        const int direct = grapheme_count(whole);
        const int column = source.locate(at).column;
        CHECK((column == direct || column == direct + 1));  // + 1 unless the offset lies inside a cluster
        CHECK(column == source.locate(offset).column);
    }
}

TEST_CASE("columns of one 10 MB line grow from left to right") {
    std::string line;
    while (line.size() < 10'000'000)
        line +=
            "| Dm7 G\xE2\x99\xAD"
            "e\xCC\x81 ";
    const auto read = read_source("x", line);
    REQUIRE(read.clean());
    int last = 0;
    for (std::uint32_t i = 1; i <= 2'000; ++i) {
        const int column = read.value->locate(i * 5'000).column;
        CHECK(column > last);
        last = column;
    }
}
