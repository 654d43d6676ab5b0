// compiler/syntax/parse_head.cpp, parse_running.cpp, line_feed.cpp, cursor.cpp: broken heads.
#include "unit/syntax/reading.h"

using namespace relead;
using namespace relead::syntax::testing;

namespace {
std::string with(const std::string& line) {
    return head() + line + "\nsection A\nchanges | C |\n";
}
}  // namespace

TEST_CASE("Broken words and lines of a head", "[syntax]") {
    const Broken rows[] = {
        {with("# by hand"), "comment-sign", "", "#", "--"},
        {with("// by hand"), "comment-sign", "", "//", "--"},
        {with("//by hand"), "comment-sign", "", "//", "-- "},
        {with("--by hand"), "comment-sign", "", "--", "-- "},
        {with("— by hand"), "comment-sign", "", "—", "--"},
        {with("key C major # or minor"), "comment-sign", "", "#", "--"},
        {with("by \"M. Okafor"), "quote-unclosed", "", "\"M. Okafor", "\""},
        {with("by M. Okafor"), "quote-missing", "", "M. Okafor", "\"M. Okafor\""},
        {with("by “M. Okafor”"), "quote-curly", "", "“M. Okafor”", "\"M. Okafor\""},
        {with("by \"a\\nb\""), "escape-unknown", "", "\\", "\\\\"},
        {with("by"), "text-missing", "", "", "none"},
        {with("wrods \"x\""), "line-unknown", "", "wrods", "words"},
        {with("subtitle \"x\""), "line-unknown", "", "subtitle", "none"},
        {with("by \"x\" \"y\" z"), "word-unexpected", "", "\"y\" z", "none"},
        {"section A\nchanges | C |\n", "tune-missing", "", "", "tune \"Untitled\"\n"},
        {"key C major\ntune \"T\"\nsection A\nchanges | C |\n", "tune-not-first", "", "tune", "none"},
        {with("by \"x\"\nby \"y\""), "header-twice", "", "by", "none"},
        {in_section("changes | C |\nform A"), "header-late", "", "form", "none"},
        {with("form"), "form-unreadable", "", "", "none"},
        {with("form A:2"), "name-unreadable", "", "A:2", "none"},
    };
    for (const auto& row : rows) check(row);
}

TEST_CASE("Broken keys, meters and tempi", "[syntax]") {
    const Broken rows[] = {
        {with("key f major"), "key-unreadable", "", "f", "F"},
        {with("key Fm"), "key-unreadable", "", "Fm", "F minor"},
        {with("key H minor"), "key-unreadable", "", "H", "B"},
        {with("key"), "key-unreadable", "", "", "none"},
        {with("key F"), "key-unreadable", "", "", " major"},
        {with("key F majr"), "key-unreadable", "", "majr", "major"},
        {with("key D dorien"), "key-unreadable", "", "dorien", "dorian"},
        {with("key G# major"), "key-too-many-accidentals", "", "G#", "Ab"},
        {with("key Fb minor"), "key-too-many-accidentals", "", "Fb", "E"},
        {with("meter"), "meter-unreadable", "", "", "none"},
        {with("meter C"), "meter-unreadable", "", "C", "4/4"},
        {with("meter 4/5"), "meter-unreadable", "", "4/5", "none"},
        {with("meter 0/4"), "meter-unreadable", "", "0/4", "none"},
        {with("meter 7/8 2+2+2"), "meter-groups", "", "2+2+2", "none"},
        {with("meter 7/8 two"), "meter-groups", "", "two", "none"},
        {with("tempo swing"), "tempo-unreadable", "", "swing", "none"},
        {with("tempo 4000"), "tempo-unreadable", "", "4000", "none"},
        {with("tempo 140 swnig"), "feel-unknown", "", "swnig", "swing"},
        {with("tempo 140 merengue"), "feel-unknown", "", "merengue", "\"merengue\""},
    };
    for (const auto& row : rows) check(row);
}

TEST_CASE("Broken running lines", "[syntax]") {
    const Broken rows[] = {
        {with("running Head | | Head last"), "running-unreadable", "", "|", "none"},
        {with("running Head, loud"), "running-unreadable", "", "loud", "none"},
        {with("running Head, opne"), "running-unreadable", "", "opne", "open"},
        {with("running Head, vamp"), "running-unreadable", "", "vamp", "none"},
        {with("running Head, tag A"), "running-unreadable", "", "tag", "none"},
        {with("running Head, solo Ida"), "running-unreadable", "", "solo", "none"},
        {with("running Head, plan mild"), "running-unreadable", "", "plan", "none"},
        {with("running Solos open each soloist"), "running-unreadable", "", "each", ", "},
        {with("running Head 0 times"), "number-out-of-range", "", "0", "none"},
        {with("running Head, tag A:x 2 times"), "address-unreadable", "", "A:x", "none"},
        {with("running Head, tag A:4-2"), "address-unreadable", "", "A:4-2", "none"},
    };
    for (const auto& row : rows) check(row);
}
