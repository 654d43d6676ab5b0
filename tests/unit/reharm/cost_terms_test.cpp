// grammar/cost-terms.txt, compiler/reharm/cost_terms.cpp: every weight that the code asks for stands in the
// table, every row is asked for, and a change's cost is the sum of rows.
#include "reharm/cost_terms.h"

#include <filesystem>
#include <fstream>
#include <map>
#include <regex>
#include <set>
#include <sstream>

#include "analysis/analysis.h"
#include "reharm/reharmonise.h"
#include "rules/read_rules.h"
#include "support/catch.h"
#include "support/small_tunes.h"

using namespace relead;

namespace {

std::string bytes_of(const std::filesystem::path& path) {
    std::ifstream stream(path);
    std::stringstream bytes;
    bytes << stream.rdbuf();
    return bytes.str();
}

/// Names between quotation marks after weight(, charge(… and put(….
std::set<std::string> names_in_the_code() {
    std::set<std::string> names;
    const std::regex asked(R"re(\b(?:weight\(|charge\(\w+,\s*|put\([\w.]+,\s*)"([a-z-]+)")re");
    for (const auto& file : std::filesystem::directory_iterator(RELEAD_SOURCE_DIR "/compiler/reharm")) {
        if (file.path().extension() != ".cpp") continue;
        const auto code = bytes_of(file.path());
        for (std::sregex_iterator at(code.begin(), code.end(), asked), end; at != end; ++at)
            names.insert((*at)[1]);
    }
    return names;
}

std::map<std::string, int> table() {
    std::map<std::string, int> rows;
    for (const auto& row : reharm::cost_terms()) rows[std::string(row.name)] = row.value;
    return rows;
}

}  // namespace

TEST_CASE("the code asks for the rows of the table, for each of them and for no other", "[reharm]") {
    std::set<std::string> rows;
    for (const auto& [name, value] : table()) {
        INFO(name);
        CHECK(value != 0);
        CHECK(reharm::weight(name) == value);
        rows.insert(name);
    }
    CHECK(names_in_the_code() == rows);
}

TEST_CASE("a change costs what its terms add up to, each some times a row of the table", "[reharm]") {
    const auto rows = table();
    int terms = 0;
    for (const auto* name : {"ferry-at-first-light", "ropewalk-minor", "herring-shift"}) {
        const auto tune =
            testing::read_whole(bytes_of(std::string(RELEAD_SOURCE_DIR "/samples/tunes/") + name + ".tune"));
        const auto options = reharm::options(tune, analysis::analyse(tune), rules::built_in_rules(),
                                             *tune::parse_address("A:1-4"));
        REQUIRE(options.value.has_value());
        for (const auto& option : *options.value) {
            INFO(name << ": " << option.rule);
            int sum = 0;
            for (const auto& term : option.verdict.terms) {
                INFO(term.name << " " << term.value);
                REQUIRE(rows.count(term.name) == 1);
                CHECK(term.value % rows.at(term.name) == 0);
                CHECK((term.value > 0) == (rows.at(term.name) > 0));
                sum += term.value;
                ++terms;
            }
            CHECK(sum == option.verdict.cost);
        }
    }
    CHECK(terms > 100);
}
