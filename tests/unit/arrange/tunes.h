// Tunes for the tests of arrange: the samples, and short ones written in the test.
#pragma once

#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <utility>
#include <vector>

#include "support/catch.h"
#include "text/source.h"
#include "tune/lower.h"

inline relead::tune::Tune tune_of(const std::string& bytes) {
    const auto source = relead::text::read_source("test.tune", bytes);
    REQUIRE(source.value);
    const auto tune = relead::tune::read_tune(*source.value);
    for (const auto& diagnostic : tune.diagnostics) {
        if (diagnostic.severity == relead::Severity::error) UNSCOPED_INFO(diagnostic.sentence);
    }
    REQUIRE(tune.clean());
    return *tune.value;
}

/// Bars of four chords each section: a head and sections written by the test.
inline relead::tune::Tune short_tune(const std::string& rest, const std::string& key = "C major",
                                     const std::string& meter = "4/4") {
    return tune_of("tune \"Test\"\nby \"Nobody\"\nkey " + key + "\nmeter " + meter + "\n" + rest);
}

inline std::vector<std::pair<std::string, relead::tune::Tune>> sample_tunes() {
    namespace fs = std::filesystem;
    std::vector<std::pair<std::string, relead::tune::Tune>> tunes;
    for (const auto& entry : fs::directory_iterator(fs::path(RELEAD_SOURCE_DIR) / "samples" / "tunes")) {
        if (entry.path().extension() != ".tune") continue;
        std::ifstream file(entry.path(), std::ios::binary);
        tunes.emplace_back(entry.path().stem().string(), tune_of({std::istreambuf_iterator<char>(file), {}}));
    }
    return tunes;
}
