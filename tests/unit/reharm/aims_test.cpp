// grammar/aims.txt, compiler/reharm/aims.cpp: what versions aim at.
#include "reharm/aims.h"

#include <filesystem>
#include <fstream>
#include <iterator>
#include <regex>
#include <set>
#include <string>

#include "support/catch.h"

using namespace relead;

namespace {

/// The aims that the code of the layer asks for.
std::set<std::string> names_in_code() {
    std::set<std::string> found;
    const std::regex wanted(R"re(\baim\("([a-z-]+)"\))re");
    for (const auto& entry : std::filesystem::directory_iterator(RELEAD_SOURCE_DIR "/compiler/reharm")) {
        if (entry.path().extension() != ".cpp") continue;
        std::ifstream file(entry.path());
        const std::string code{std::istreambuf_iterator<char>(file), {}};
        for (auto at = std::sregex_iterator(code.begin(), code.end(), wanted); at != std::sregex_iterator();
             ++at)
            found.insert((*at)[1].str());
    }
    return found;
}

}  // namespace

TEST_CASE("every aim is used, and every one that is used is in the table", "[reharm]") {
    std::set<std::string> names;
    for (const auto& info : reharm::aims()) names.insert(std::string(info.name));
    CHECK(names_in_code() == names);
}

TEST_CASE("doses grow from version to version and leave no gap", "[reharm]") {
    CHECK(reharm::aim("first-least") > 0);
    CHECK(reharm::aim("first-least") < reharm::aim("first-most"));
    CHECK(reharm::aim("first-most") == reharm::aim("second-least"));
    CHECK(reharm::aim("second-least") < reharm::aim("second-most"));
    CHECK(reharm::aim("second-most") == reharm::aim("third-least"));
    CHECK(reharm::aim("third-least") < reharm::aim("third-most"));
    CHECK(reharm::aim("third-most") <= 100);
}

TEST_CASE("saying the same again is worse than a mixture", "[reharm]") {
    CHECK(reharm::aim("no-idea") > 0);
    CHECK(reharm::aim("no-idea") < reharm::aim("same-idea"));
}
