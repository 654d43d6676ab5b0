// compiler/syntax/parse_plan.cpp: broken plans.
#include "unit/syntax/reading.h"

using namespace relead;
using namespace relead::syntax::testing;

TEST_CASE("Broken plans", "[syntax]") {
    const auto plan = [](const std::string& line) { return in_section("changes | C |") + line + "\n"; };
    const Broken rows[] = {
        {plan("plan for band"), "plan-unreadable", "", "for", "none"},
        {plan("plan"), "plan-unreadable", "", "", "none"},
        {plan("plan \"p\" for drummer"), "plan-unreadable", "", "drummer", "none"},
        {plan("plan \"p\" for band on intro"), "plan-unreadable", "", "intro", "none"},
        {plan("plan \"p\" for band loud"), "word-unexpected", "", "loud", "none"},
        {in_plan("usee tritone"), "line-unknown", "", "usee", "use"},
        {in_plan("use"), "plan-line-unreadable", "", "", "none"},
        {in_plan("use tritone related-ii"), "plan-line-unreadable", "", "related-ii", ","},
        {in_plan("hold A:1 A:1"), "plan-line-unreadable", "", "A:1", ","},
        {in_plan("each time diferent"), "line-unknown", "", "each", "each time different"},
        {in_plan("each"), "line-unknown", "", "each", "none"},
        {in_plan("chords laast at leest 2 s"), "line-unknown", "", "chords", "chords last at least"},
        {in_plan("at most 0 changes in the tune"), "number-out-of-range", "", "0", "none"},
        {in_plan("at most 100 changes in the tune"), "number-out-of-range", "", "100", "none"},
        {in_plan("use tritone,"), "plan-line-unreadable", "", "", "none"},
        {in_plan("hold A7"), "address-unreadable", "", "A7", "none"},
        {in_plan("hold"), "address-unreadable", "", "", "none"},
        {in_plan("hold A:0"), "address-unreadable", "", "A:0", "none"},
        {in_plan("hold A:1.0"), "address-unreadable", "", "A:1.0", "none"},
        {in_plan("hold A:1.4+1/5"), "address-unreadable", "", "A:1.4+1/5", "none"},
        {in_plan("hold A:1.1+7/2"), "address-unreadable", "", "A:1.1+7/2", "none"},
        {in_plan("hold A:1.3/2+1/2"), "address-unreadable", "", "A:1.3/2+1/2", "none"},
        {in_plan("at most three changes in each section"), "number-out-of-range", "", "three", "none"},
        {in_plan("at most 3 in each section"), "plan-line-unreadable", "", "in", "none"},
        {in_plan("at most 3 changes"), "plan-line-unreadable", "", "", " in each section"},
        {in_plan("outside 9"), "number-out-of-range", "", "9", "none"},
        {in_plan("depth 0"), "number-out-of-range", "", "0", "none"},
        {in_plan("depth 5"), "number-out-of-range", "", "5", "none"},
        {in_plan("around 6"), "number-out-of-range", "", "6", "none"},
        {in_plan("take tritone"), "plan-line-unreadable", "", "", "none"},
        {in_plan("take at A:1"), "plan-line-unreadable", "", "A:1", "none"},
        {in_plan("never tritone"), "plan-line-unreadable", "", "", "none"},
        {in_plan("never"), "plan-line-unreadable", "", "", "none"},
        {in_plan("melody maybe"), "plan-line-unreadable", "", "maybe", "none"},
        {in_plan("chords last at least 0.5"), "plan-line-unreadable", "", "", "none"},
        {in_plan("outside 2\noutside 3"), "plan-line-twice", "", "outside 3", "none"},
        {in_plan("each time different please"), "word-unexpected", "", "please", "none"},
        {in_plan("form A"), "header-late", "", "form", "none"},
    };
    for (const auto& row : rows) check(row);
}
