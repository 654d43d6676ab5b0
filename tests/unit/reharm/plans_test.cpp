// compiler/reharm/plan_binding.cpp, takes.cpp: what plans and wishes ask for, what they refuse, and what is
// said of it.
#include "chosen.h"
#include "reharm/reharmonise.h"

using namespace relead;
using testing::choose;
using testing::first_version;
using testing::with_plan;

TEST_CASE("what plans hold, lock, refuse and ask for", "[reharm]") {
    CHECK(first_version(with_plan("  use tritone\n  hold A:4, A:8\n")) == "A:2 A7 > Eb7\n");
    CHECK(first_version(
              with_plan("  use tritone\n  never at A:2\n  never tritone at A:4\n  never related-ii at A:8\n"
                        "  at most 1 changes in each section\n")) == "A:8 G7 > Db7\n");
    CHECK(first_version(with_plan("  use tritone\n  hold A:4\n", "band",
                                  "Cmaj7 | A7! | Dm7 | G7 | Cmaj7 | Cmaj7 | Dm7 | G7!"))
              .empty());
    CHECK(first_version(with_plan("  use tritone, related-ii\n  take related-ii-minor at A:2\n"
                                  "  at most 1 changes in each section\n")) == "A:2 A7 > Em7b5 A7\n");
    reharm::Wish wish;
    wish.hold = {*tune::parse_address("A:2-4")};
    CHECK(first_version(with_plan("  use tritone\n"), wish) == "A:8 G7 > Db7\n");
    wish.avoid = {"tritone"};
    CHECK(first_version(with_plan("  use tritone\n"), wish).empty());
}

TEST_CASE("the ceiling is never passed, and two rules may stand on each other", "[reharm]") {
    CHECK(first_version(with_plan("  use tritone\n  outside 1\n")).empty());
    const auto stacked =
        first_version(with_plan("  use tritone, related-ii-of-substitute\n  take related-ii-of-substitute at "
                                "A:4\n  hold A:2, A:8\n"));
    CHECK(stacked == "A:4 G7 > Abm7 Db7\n");
    CHECK(first_version(with_plan("  depth 1\n  use tritone, related-ii-of-substitute\n"
                                  "  take related-ii-of-substitute at A:4\n  hold A:2, A:8\n")) ==
          "A:4 G7 > Db7\n");
}

TEST_CASE("a wish wins over its plan", "[reharm]") {
    const auto tune = with_plan("  outside 2\n  depth 1\n  use tritone\n");
    reharm::Wish wish;
    CHECK(choose(tune, wish).value->plan.depth == 1);
    wish.depth = 3;
    wish.outside = 4;
    wish.use = {"backdoor"};
    const auto outcome = choose(tune, wish);
    const auto& plan = outcome.value->plan;
    CHECK(plan.depth == 3);
    CHECK(plan.outside == 4);
    REQUIRE(plan.use.size() == 1);
    CHECK(plan.use.front().name == "backdoor");
}

TEST_CASE("what cannot be taken says why", "[reharm]") {
    struct Row {
        std::string lines, changes, sentence;
        std::vector<std::string> rows;
    };
    const std::vector<Row> rows = {
        {"take tritone at A:2",
         "Fm7 | Bb7 | Cmaj7 | Cmaj7",
         "Tritone substitute cannot stand at A:2: After Bb7 it needs a major chord, a minor chord or a "
         "dominant on "
         "Eb; Cmaj7 stands there.",
         {}},
        {"take tritone at A:2",
         "Dm7 | G7 | Cmaj7 | Cmaj7",
         "Tritone substitute cannot stand at A:2: The melody holds C there, the 4 of G.",
         {"melody | w F4 | h C5 h B4 | w B4 | w r |"}},
        {"take tritone at A:2",
         "Dm7 | G7 | Cmaj7 | Cmaj7",
         "Tritone substitute cannot stand at A:2: The melody holds F# there, the 7 of G.",
         {"melody | w F4 | h F#4 h B4 | w B4 | w r |"}},
        {"take tritone at A:4",
         "Cmaj7 | Dm7 | Am7 | D7 | Dm7 | G7",
         "Tritone substitute cannot stand at A:4: After D7 it needs a major chord, a minor chord or a "
         "dominant on G; "
         "Dm7 stands there.",
         {}},
    };
    for (const auto& row : rows) {
        INFO(row.changes);
        const auto tune = testing::small_tune("C major", row.changes, row.rows,
                                              "plan \"p\" for band\n  " + row.lines + "\n");
        const auto outcome = choose(tune);
        REQUIRE(outcome.diagnostics.size() == 1);
        CHECK(outcome.diagnostics.front().code == "take-not-possible");
        CHECK(outcome.diagnostics.front().sentence == row.sentence);
    }
}

TEST_CASE("unknown names have their nearest", "[reharm]") {
    const auto outcome = choose(with_plan("  use tritones\n"));
    REQUIRE(outcome.diagnostics.size() == 1);
    CHECK(outcome.diagnostics.front().code == "unknown-rule");
    CHECK(outcome.diagnostics.front().fixes.front().text == "tritone");
    reharm::Wish wish;
    wish.plan = "q";
    const auto none = choose(with_plan("  use tritone\n"), wish);
    CHECK_FALSE(none.value.has_value());
    CHECK(none.diagnostics.front().code == "unknown-plan");
    CHECK(none.diagnostics.front().sentence == "The tune has no plan \"q\". Its only plan is \"p\".");
}

TEST_CASE("a wish for changes further outside than any that fits is told so", "[reharm]") {
    const auto said = [](const std::string& lines) {
        const auto outcome = choose(with_plan(lines));
        REQUIRE(outcome.value.has_value());
        CHECK_FALSE(outcome.value->versions.front().changes.empty());
        return outcome.diagnostics.empty() ? std::string() : outcome.diagnostics.front().sentence;
    };
    CHECK(said("  use tritone\n  around 1\n").empty());
    CHECK(said("  use tritone\n  around 2\n").empty());
    CHECK(said("  use tritone\n  around 5\n") ==
          "Around 5 was asked for; no version here goes further outside than 2.");
    const auto outcome = choose(with_plan("  use tritone\n  around 3\n"));
    REQUIRE(outcome.diagnostics.size() == 1);
    CHECK(outcome.diagnostics.front().code == "around-not-reached");
    CHECK(outcome.diagnostics.front().severity == Severity::remark);
    // Abm7 Db7 may stand for G7, and the count leaves no room for it beside what the plan takes.
    CHECK(said("  use tritone, related-ii-of-substitute\n  take tritone at A:2\n"
               "  at most 1 change in the tune\n  around 4\n") ==
          "Around 4 was asked for; no version here goes further outside than 2: related-ii-of-substitute at "
          "A:2 leads to 3, and a take line asks for it.");
    // What the command line asks for stands nowhere in the tune.
    reharm::Wish wish;
    wish.around = 4;
    const auto asked = choose(with_plan("  use tritone\n  around 2\n"), wish);
    REQUIRE(asked.diagnostics.size() == 1);
    CHECK(asked.diagnostics.front().span == nowhere);
}

TEST_CASE("wishes that contradict each other, and plans that leave nothing to choose", "[reharm]") {
    const auto said = [](const std::string& lines, const reharm::Wish& wish) {
        const auto outcome = choose(with_plan(lines), wish);
        return outcome.diagnostics.empty() ? "" : outcome.diagnostics.front().sentence;
    };
    reharm::Wish both;
    both.use = both.avoid = {"tritone"};
    CHECK(said("", both) == "What is to be avoided leaves no rule to use: the changes stay as they are.");
    reharm::Wish beyond;
    beyond.around = 4;
    CHECK(said("  outside 2\n", beyond) ==
          "Around 4 lies beyond the ceiling, outside 2: raise the ceiling or wish for less.");
    CHECK(said("", beyond) == "Around 4 was asked for; no version here goes further outside than 3.");
    reharm::Wish without;
    without.avoid = {"tritone"};
    CHECK(said("  use tritone\n", without) ==
          "What is to be avoided leaves no rule to use: the changes stay as they are.");
    CHECK(said("  use tritone, backdoor\n", without).empty());
    CHECK(
        said("  use tritone\n  outside 1\n", {}) ==
        "All rules that the plan \"p\" uses lead further outside (2) than the ceiling (1): the changes stay "
        "as they are.");
    reharm::Wish asked;
    asked.use = {"tritone"};
    CHECK(said("  outside 1\n", asked) ==
          "All rules asked for lead further outside (2) than the ceiling (1): the changes stay as they are.");
}
