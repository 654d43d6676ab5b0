// compiler/report/side_by_side.cpp: what a version shows under the written changes, bar by bar.
#include "report/side_by_side.h"

#include "support/catch.h"
#include "support/small_tunes.h"

using namespace relead;

namespace {

/// The new row of every bar, "." where it is as written.
std::string now_of(const tune::Tune& written, const tune::Tune& version) {
    std::string text;
    for (const auto& section : report::side_by_side(written, version)) {
        for (const auto& bar : section.bars)
            text += (text.empty() ? "" : " | ") + (bar.now.empty() ? "." : bar.now);
    }
    return text;
}

std::vector<tune::ChordEvent> changes_of(const std::string& bar) {
    return testing::small_tune("C major", bar).sections.front().bars.front().changes;
}

}  // namespace

TEST_CASE("a band's version shows its changes, not the soloist's row that the author wrote", "[report]") {
    const auto written = testing::small_tune("C major", "Dm7 | G7 | Cmaj7", {"soloist | . | Abm7 Db7 | . |"});
    CHECK(now_of(written, written) == ". | . | .");
    auto version = written;
    version.sections[0].bars[1].changes = changes_of("Db7");
    CHECK(now_of(written, version) == ". | Db7 | .");
}

TEST_CASE("a soloist's version shows the soloist's row where it is new", "[report]") {
    const auto written = testing::small_tune("C major", "Dm7 | G7 | Cmaj7", {"soloist | . | Abm7 Db7 | . |"});
    auto version = written;
    version.sections[0].bars[0].soloist = changes_of("Abm7");
    CHECK(now_of(written, version) == "Abm7 | . | .");
    version.sections[0].bars[1].soloist = changes_of("Bb7");
    CHECK(now_of(written, version) == "Abm7 | Bb7 | .");
}

TEST_CASE("a soloist reads the row that the author wrote too", "[report]") {
    const auto written = testing::small_tune("C major", "Dm7 | G7 | Cmaj7", {"soloist | . | Abm7 Db7 | . |"});
    const auto sections = report::side_by_side(written, written, report::Reader::soloist);
    const auto& bars = sections.front().bars;
    CHECK(bars[0].now.empty());
    CHECK(bars[1].now == "Abm7 Db7");
    CHECK(bars[2].now.empty());
}

TEST_CASE("uneven chords say their beats", "[report]") {
    const auto written = testing::small_tune("C major", "Dm7*3 G7*1 | Cmaj7");
    auto version = written;
    version.sections[0].bars[0].changes = changes_of("Dm7*3 Db7*1");
    CHECK(now_of(written, version) == "Dm7*3 Db7*1 | .");
}
