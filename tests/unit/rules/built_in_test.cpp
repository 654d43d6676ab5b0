// compiler/rules/built_in_rules.cpp: every text of grammar/rules/ reads, and all of them are embedded.
#include <filesystem>
#include <fstream>
#include <sstream>

#include "rules/embedded_rules.h"
#include "rules/read_rules.h"
#include "support/catch.h"
#include "text/render.h"

using namespace relead;

TEST_CASE("the texts of the built-in rules read without a word", "[rules]") {
    rules::RuleSet set;
    for (const auto& file : rules::embedded_rules()) {
        const text::Source source(std::string(file.name), std::string(file.text));
        const auto outcome = rules::read_rules(source, set);
        INFO(text::render_all(outcome.diagnostics, {&source, 1}));
        REQUIRE(outcome.value.has_value());
        CHECK(outcome.diagnostics.empty());
        set = *outcome.value;
    }
    CHECK(set.rules.size() == rules::built_in_rules().rules.size());
}

TEST_CASE("every text of grammar/rules is embedded as it stands", "[rules]") {
    std::size_t files = 0;
    for (const auto& entry : std::filesystem::directory_iterator(RELEAD_SOURCE_DIR "/grammar/rules")) {
        if (entry.path().extension() != ".rules") continue;
        ++files;
        std::ifstream stream(entry.path());
        std::stringstream bytes;
        bytes << stream.rdbuf();
        const auto name = "grammar/rules/" + entry.path().filename().string();
        INFO(name);
        bool found = false;
        for (const auto& file : rules::embedded_rules())
            found = found || (file.name == name && file.text == bytes.str());
        CHECK(found);
    }
    CHECK(files == rules::embedded_rules().size());
}

TEST_CASE("each built-in rule has a title, a source, an example and a family", "[rules]") {
    for (const auto& rule : rules::built_in_rules().rules) {
        INFO(rule.name);
        CHECK(rule.built_in);
        CHECK_FALSE(rule.title.empty());
        CHECK_FALSE(rule.family.empty());
        CHECK_FALSE(rule.source.empty());
        CHECK_FALSE(rule.example.empty());
    }
}
