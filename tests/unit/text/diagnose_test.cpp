// compiler/text/diagnose.cpp
#include "text/diagnose.h"

#include <set>

#include "support/catch.h"

using namespace relead;
using namespace relead::text;

TEST_CASE("every code has a slug of its own, of lower-case words, and a meaning") {
    std::set<std::string_view> slugs;
    for (const auto code : all_codes()) {
        const auto& row = info(code);
        INFO(row.slug);
        CHECK(slugs.insert(row.slug).second);
        CHECK(row.slug.find_first_not_of("abcdefghijklmnopqrstuvwxyz0123456789-") == std::string_view::npos);
        CHECK_FALSE(row.meaning.empty());
    }
    CHECK(slugs.count("text-not-utf8") == 1);
    CHECK(info(Code::text_has_nul).severity == Severity::error);
}

TEST_CASE("a sink keeps places and fixes and sorts by place in the text") {
    Sink sink;
    auto late = sink.emit(Code::text_has_nul, {0, 9, 10}, "Late.");
    sink.emit(Code::text_has_nul, {0, 4, 5}, "Early, first.");
    sink.emit(Code::text_has_nul, {0, 4, 6}, "Early, second.");
    sink.emit(Code::text_has_nul, {1, 0, 0}, "Next text.");
    late.at({"A", 7, 3, 0, 0}).fix({0, 9, 10}, "x", "Write x.");
    CHECK(sink.has_errors());
    const auto said = sink.take();
    REQUIRE(said.size() == 4);
    CHECK(said[0].sentence == "Early, first.");
    CHECK(said[1].sentence == "Early, second.");
    CHECK(said[2].sentence == "Late.");
    CHECK(said[2].place.bar == 7);
    REQUIRE(said[2].fixes.size() == 1);
    CHECK(said[2].fixes[0].label == "Write x.");
    CHECK(said[3].sentence == "Next text.");
    CHECK_FALSE(sink.has_errors());
    CHECK(sink.take().empty());
}

TEST_CASE("above the limit a sink counts on and says how many it left out") {
    Limits limits;
    limits.diagnostics = 2;
    Sink sink(limits);
    Diagnostics remarks(4);
    for (auto& remark : remarks) remark.severity = Severity::remark;
    sink.append(remarks);
    CHECK_FALSE(sink.has_errors());
    sink.emit(Code::text_has_nul, {0, 1, 2}, "Dropped.").fix({}, "x", "y").at({});
    CHECK(sink.has_errors());
    const auto said = sink.take();
    REQUIRE(said.size() == 3);
    CHECK(said[2].code == "too-many-diagnostics");
    CHECK(said[2].severity == Severity::error);
    CHECK(said[2].sentence == "There is more to say: 3 further remarks were left out after the first 2.");
    sink.append(Diagnostics(3));
    CHECK(sink.take().back().sentence ==
          "There is more to say: 1 further remark was left out after the first 2.");
}

TEST_CASE("remarks left out do not turn into an error") {
    Limits limits;
    limits.diagnostics = 1;
    Sink sink(limits);
    Diagnostics remarks(2);
    for (auto& remark : remarks) remark.severity = Severity::remark;
    sink.append(remarks);
    CHECK(sink.take().back().severity == Severity::remark);
}
