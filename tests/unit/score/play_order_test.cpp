// compiler/score/play_order.h
#include "score/play_order.h"

#include <sstream>

#include "support/catch.h"

namespace {

using namespace relead;
using Kind = score::Direction::Kind;

score::Direction sign(Kind kind) {
    score::Direction direction;
    direction.kind = kind;
    direction.target = kind == Kind::segno || kind == Kind::dal_segno ? "s" : "c";
    return direction;
}

/// Words of a part: a name is a measure ("0" a pickup), |: [1 [2,3 segno coda stand before their measure,
/// :| :|3 ] tocoda fine DC DS after it; "]" closes an ending, ")" leaves the last one open.
score::Part part_of(const std::string& text) {
    score::Part part;
    score::Measure next;
    std::istringstream words(text);
    for (std::string word; words >> word;) {
        auto* last = part.measures.empty() ? nullptr : &part.measures.back();
        if (word == "|:") {
            next.repeat_begins = true;
        } else if (word[0] == '[') {
            score::Ending ending;
            for (const char c : word) {
                if (c >= '0' && c <= '9') ending.passes.push_back(c - '0');
            }
            next.ending = ending;
        } else if (word == "segno") {
            next.directions.push_back(sign(Kind::segno));
        } else if (word == "coda") {
            next.directions.push_back(sign(Kind::coda));
        } else if (word.rfind(":|", 0) == 0) {
            last->repeat_ends = word.size() > 2 ? word[2] - '0' : 2;
        } else if (word == "]" || word == ")") {
            last->ending_stop = word == "]" ? score::EndingStop::closed : score::EndingStop::open;
        } else if (word == "tocoda") {
            last->directions.push_back(sign(Kind::to_coda));
        } else if (word == "fine") {
            last->directions.push_back(sign(Kind::fine));
        } else if (word == "DC" || word == "DS") {
            last->directions.push_back(sign(word == "DC" ? Kind::da_capo : Kind::dal_segno));
        } else {
            next.number = word;
            next.implicit = word == "0";
            part.measures.push_back(next);
            next = {};
        }
    }
    return part;
}

std::string played(const std::string& text) {
    const auto part = part_of(text);
    std::string order;
    for (const int i : score::play_order(part)) {
        order += (order.empty() ? "" : " ") + part.measures[static_cast<std::size_t>(i)].number;
    }
    return order;
}

}  // namespace

TEST_CASE("signs are read as a player reads them") {
    struct Row {
        const char* sheet;
        const char* order;
    };
    const Row rows[] = {
        {"a b", "a b"},
        {"|: a b :| c", "a b a b c"},
        {"a b :| c", "a b a b c"},
        {"a |: b :| c :|", "a b b c c"},
        {"|: a :|3 b", "a a a b"},
        {"0 a b :| c", "0 a b a b c"},
        {"|: a [1 b ] :| [2 c ) d", "a b a c d"},
        {"|: a [1,2 b ] :| [3 c ) d", "a b a b a c d"},
        {"|: a [1 b ] :| [2 c ] :| [3 d ) e", "a b a c a d e"},
        {"|: a [1 b x ] :| [2 c y ) |: d :| e", "a b x a c y d d e"},
        {"a b fine c DC", "a b c a b"},
        {"0 a b fine c DC", "0 a b c a b"},
        {"a segno b fine c DS", "a b c b"},
        {"|: a [1 b ] :| [2 c ) fine d DC", "a b a c d a c"},
        {"|: a :| b fine c DC", "a a b c a b"},
        {"a segno b tocoda c DS coda d", "a b c b d"},
        {"a segno b tocoda c DS coda |: d :| e", "a b c b d d e"},
        {"a segno |: b :| tocoda c DS coda d", "a b b c b d"},
        // A coda that no jump leads to ends the last time through only.
        {"a b tocoda c coda d", "a b c"},
        // A jump without its sign is passed over.
        {"a b DS c", "a b c"},
    };
    for (const auto& row : rows) {
        INFO(row.sheet);
        CHECK(played(row.sheet) == row.order);
    }
}

TEST_CASE("reading stops at the limit") {
    CHECK(score::play_order(part_of("|: a :|9 b"), 4).size() == 4);
    CHECK(score::play_order(score::Part{}).empty());
}
