// Every sample tune reads without an error or warning, and comes back from its written text unchanged.
#include <filesystem>
#include <fstream>
#include <sstream>

#include "syntax/parse_tune.h"
#include "syntax/tidy.h"
#include "tune/write.h"
#include "unit/tune/reading.h"

using namespace relead;
using namespace relead::tune;
using namespace relead::tune::testing;

namespace {

std::vector<text::Source> samples() {
    std::vector<text::Source> sources;
    for (const auto& entry : std::filesystem::directory_iterator(RELEAD_SOURCE_DIR "/samples/tunes")) {
        if (entry.path().extension() != ".tune") continue;
        std::ifstream file(entry.path(), std::ios::binary);
        std::stringstream bytes;
        bytes << file.rdbuf();
        auto source = text::read_source(entry.path().filename().string(), bytes.str());
        REQUIRE(source.value);
        sources.push_back(*source.value);
    }
    return sources;
}

}  // namespace

TEST_CASE("All sample tunes read clean", "[tune][samples]") {
    const auto sources = samples();
    CHECK(sources.size() >= 12);
    for (const auto& source : sources) {
        const auto outcome = read_tune(source);
        INFO(text::render_all(outcome.diagnostics, {&source, 1}));
        REQUIRE(outcome.clean());
        CHECK(std::none_of(outcome.diagnostics.begin(), outcome.diagnostics.end(),
                           [](const Diagnostic& said) { return said.severity == Severity::warning; }));
        CHECK(!one_chorus(*outcome.value).empty());
    }
}

TEST_CASE("All sample tunes come back from their written text", "[tune][samples]") {
    for (const auto& source : samples()) {
        const auto tune = read_tune(source).value;
        REQUIRE(tune);
        const auto written = write_tune(*tune);
        INFO(written);
        const auto again = read(written).value;
        REQUIRE(again);
        CHECK(dump(*again) == dump(*tune));
        CHECK(syntax::tidy(*syntax::parse_tune(text::Source("w", written)).value) == written);
    }
}
