// compiler/rules/example_chart.cpp: in which key an example is shown first.
#include "rules/example_chart.h"

#include "support/catch.h"

using namespace relead;

namespace {

/// The mode in which these changes are tried first.
theory::Mode mode_of(const std::string& example) {
    rules::Rule rule;
    rule.example = example;
    auto mode = theory::Mode::locrian;
    rules::own_charts(rule, theory::NoteName{}, [&](const rules::ExampleChart& chart) {
        mode = chart.home.mode;
        return true;
    });
    return mode;
}

}  // namespace

TEST_CASE("twelve bars are a blues when I and IV are sevenths", "[rules]") {
    using theory::Mode;
    CHECK(mode_of("I7 | IV7 | I7 | I7 | IV7 | IV7 | I7 | I7 | V7 | IV7 | I7 | V7") == Mode::blues);
    CHECK(mode_of("I13 | IV9 | I13 | I13 | IV9 | IV9 | I13 | VI7 | ii7 | V7 | I13 | I13") == Mode::blues);
    // A dominant on VI, II or III is no tonic.
    CHECK(mode_of("Imaj7 | VI7 | ii7 | V7 | Imaj7 | VI7 | ii7 | V7 | IVmaj7 | IV7 | III7 VI7 | II7 V7") ==
          Mode::major);
    CHECK(mode_of("I6 | I6 | VII7 | III7 | VI7 | VI7 | II7 | II7 | ii7 | V7 | I6 | V7") == Mode::major);
    CHECK(mode_of("i6 | iv7 | i6 | i6 | iv7 | iv7 | i6 | VI7 | ii\u00f87 | V7 | i6 | V7") == Mode::minor);
    CHECK(mode_of("ii\u00f87 | V7 | i(maj7) | i6/9") == Mode::minor);
    CHECK(mode_of("ii7 | V7 | Imaj7 | Imaj7") == Mode::major);
}
