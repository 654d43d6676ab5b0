// compiler/tune/check_plans.cpp: plans and running lines that cannot be followed.
#include "unit/tune/reading.h"

using namespace relead;
using namespace relead::tune::testing;

TEST_CASE("Addresses that are not in the tune", "[tune]") {
    const Broken rows[] = {
        {in_plan("hold B:1"), "section-unknown", "", "B:1",
         "B:1 is in no section of this tune: it has only A.", "A:1"},
        {in_plan("hold A:3-5"), "bar-unknown", "", "A:3-5", "A:3-5 does not exist: the section A has 4 bars.",
         "none"},
        {in_plan("never at A:9"), "bar-unknown", "", "A:9", "A:9 does not exist: the section A has 4 bars.",
         "none"},
        {in_plan("take tritone at A:2.5"), "bar-unknown", "", "A:2.5",
         "A:2.5 does not exist: the bar has 4 beats.", "none"},
        {in_plan("take tritone at A:2.2"), "spot-without-chord", "A:2.2", "A:2.2",
         "No chord begins at A:2.2; in that bar chords begin at beats 1 and 3.", "none"},
    };
    for (const auto& row : rows) check(row);
    CHECK(codes(read(in_plan("take tritone at A:2.3\nhold A:1, A:4")).diagnostics) == "");
}

TEST_CASE("Plans that contradict themselves", "[tune]") {
    const Broken rows[] = {
        {in_plan("hold A:1-2\ntake tritone at A:2"), "plan-contradiction", "A:2", "A:2",
         "The plan \"p\" holds A:1-2 as written and takes tritone at A:2.", "none"},
        {in_plan("take tritone at A:2.3\nnever at A:2"), "plan-contradiction", "A:2.3", "A:2.3",
         "The plan \"p\" says both take and never for tritone at A:2.3.", "none"},
        {in_plan("take tritone at A:2\nnever tritone at A:2.1"), "plan-contradiction", "A:2", "A:2",
         "The plan \"p\" says both take and never for tritone at A:2.", "none"},
        {in_plan("take tritone at A:2\ntake backdoor at A:2"), "plan-contradiction", "A:2", "A:2",
         "The plan \"p\" takes both tritone and backdoor at A:2.", "none"},
        {in_plan("take tritone at A:3"), "plan-contradiction", "A:3", "A:3",
         "A:3 is locked with !, so tritone cannot be taken there.", "none"},
        {in_plan("use tritone, backdoor\navoid backdoor"), "plan-contradiction", "", "backdoor",
         "The plan \"p\" both uses and avoids backdoor.", "none"},
        {in_plan("avoid backdoor\ntake backdoor at A:1"), "plan-contradiction", "", "backdoor",
         "The plan \"p\" avoids backdoor and takes it at A:1.", "none"},
        {in_plan("outside 2\naround 3"), "plan-contradiction", "", "3",
         "The plan \"p\" wishes for around 3, but outside 2 is its ceiling.", "none"},
    };
    for (const auto& row : rows) check(row);
    CHECK(
        codes(read(in_plan("never backdoor at A:2\ntake tritone at A:2\naround 2\noutside 2")).diagnostics) ==
        "");
}

TEST_CASE("Plans that get into each other's way", "[tune]") {
    const auto with_plans = [](const std::string& first, const std::string& second,
                               const std::string& running = "") {
        return head("form A\n" + running) + "section A\nchanges | C |\nplan " + first +
               "\n  outside 2\nplan " + second + "\n  outside 3\n";
    };
    const Broken rows[] = {
        {with_plans("\"a\" for band on head", "\"a\" for soloist"), "plan-twice", "",
         "plan \"a\" for soloist", "There are two plans \"a\"; give one of them another name.", "none"},
        {with_plans("\"a\" for band", "\"b\" for band on solos"), "plans-overlap", "",
         "plan \"b\" for band on solos",
         "The plans \"a\" and \"b\" are both for the band on the solos; the first counts unless the running "
         "line or "
         "the command names one.",
         "none"},
        {with_plans("\"a\" for soloist on head", "\"b\" for soloist on head"), "plans-overlap", "",
         "plan \"b\" for soloist on head",
         "The plans \"a\" and \"b\" are both for the soloist on the head; the first counts unless the "
         "running line "
         "or the command names one.",
         "none"},
    };
    for (const auto& row : rows) check(row);
    CHECK(codes(read(with_plans("\"a\" for band on head", "\"b\" for band on solos")).diagnostics) == "");
    // However many there are, it is said once for the same players.
    auto many = with_plans("\"a\" for band on head", "\"b\" for band");
    for (const auto* more : {"\"c\" for band on head", "\"d\" for soloist", "\"e\" for soloist on solos"})
        many += std::string("plan ") + more + "\n  outside 1\n";
    const auto said = read(many).diagnostics;
    REQUIRE(codes(said) == "plans-overlap plans-overlap");
    CHECK(said[0].sentence ==
          "The plans \"a\", \"b\" and \"c\" are all for the band on the head; the first counts unless the "
          "running line or the command names one.");
    CHECK(said[1].sentence.find("The plans \"d\" and \"e\" are both for the soloist on the solos;") == 0);
    many += "plan \"f\" for band\n  outside 1\n";
    CHECK(
        read(many).diagnostics[0].sentence ==
        "The plans \"a\" on the head, \"b\" on the whole tune, \"c\" on the head and \"f\" on the whole tune "
        "are for the band and overlap; the first counts unless the running line or the command names one.");
    const auto apart = read(with_plans("\"a\" for band on head", "\"b\" for band on solos") +
                            "plan \"c\" for band\n  outside 1\n");
    REQUIRE(codes(apart.diagnostics) == "plans-overlap");
    CHECK(apart.diagnostics[0].sentence ==
          "The plans \"a\" on the head, \"b\" on the solos and \"c\" on the whole tune are for the band and "
          "overlap; the first counts unless the running line or the command names one.");
    CHECK(codes(read(with_plans("\"a\" for band", "\"b\" for soloist")).diagnostics) == "");
    CHECK(codes(read(with_plans("\"a\" for band", "\"b\" for band", "running Head | Solos, plan \"b\"\n"))
                    .diagnostics) == "");
}

TEST_CASE("Running lines that cannot be followed", "[tune]") {
    const auto running = [](const std::string& line) {
        return in_form("form A B\nrunning " + line + "\n") + "plan \"mild\" for band\n  outside 2\n";
    };
    const Broken rows[] = {
        {running("Head | Solos, plan \"mill\""), "unknown-plan", "", "\"mill\"",
         "The tune has no plan \"mill\".", "\"mild\""},
        {running("Head | Solos, written changes, plan \"mild\""), "running-contradiction", "",
         "Solos, written changes, plan \"mild\"",
         "Solos is to be played with the written changes and by a plan; keep one of them.", "none"},
        {running("Solos, each soloist, solo \"alto\""), "running-contradiction", "",
         "Solos, each soloist, solo \"alto\"",
         "Solos is to be played by each soloist and by one soloist; keep one of them.", "none"},
        {running("Solos 3 times, open"), "running-contradiction", "", "Solos 3 times, open",
         "Solos is to be played open and 3 times; keep one of them.", "none"},
        {running("Head, vamp D"), "section-unknown", "", "D",
         "The vamp plays a section D, which the tune does not have.", "A"},
        {running("Head last, tag B:1-3 2 times"), "bar-unknown", "", "B:1-3",
         "B:1-3 does not exist: the section B has 2 bars.", "none"},
    };
    for (const auto& row : rows) check(row);
}
