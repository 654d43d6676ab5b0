// compiler/tune: laws over many made-up tunes.
#include <map>
#include <set>

#include "property/tune/made_tune.h"
#include "support/catch.h"
#include "syntax/parse_tune.h"
#include "syntax/tidy.h"
#include "text/render.h"
#include "tune/dump.h"
#include "tune/lower.h"
#include "tune/signs.h"
#include "tune/transpose.h"
#include "tune/unfold.h"
#include "tune/write.h"

using namespace relead;
using namespace relead::tune;
using relead::tune::testing::make_tune;

namespace {

constexpr std::uint64_t many = 400;

/// At most a tritone, found by trying.
theory::Interval smaller_way(int fifths) {
    for (int octaves = -20; octaves <= 20; ++octaves)
        if (const theory::Interval by{fifths, octaves}; by.semitones() > -6 && by.semitones() <= 6) return by;
    return {};
}

Time bar_sum(const Tune& tune, const std::vector<PlayedBar>& bars) {
    Time sum = 0;
    for (const auto& bar : bars) sum += bar_at(tune, {bar.section, bar.bar}).length;
    return sum;
}

}  // namespace

TEST_CASE("A tune that is written reads as the same tune", "[property][tune]") {
    for (std::uint64_t seed = 0; seed < many; ++seed) {
        const auto tune = make_tune(seed);
        const auto written = write_tune(tune);
        const text::Source source("made.tune", written);
        const auto again = read_tune(source);
        INFO("seed " << seed << "\n" << written);
        INFO(text::render_all(again.diagnostics, {&source, 1}));
        REQUIRE(again.clean());
        REQUIRE(dump(*again.value) == dump(tune));
        REQUIRE(syntax::tidy(*syntax::parse_tune(source).value) == written);
    }
}

TEST_CASE("Up and down again by any interval is where it was", "[property][tune]") {
    for (std::uint64_t seed = 0; seed < many; seed += 20) {
        const auto tune = make_tune(seed);
        const auto before = dump(tune);
        for (int fifths = -12; fifths <= 12; ++fifths)
            for (int octaves = -1; octaves <= 1; ++octaves) {
                const theory::Interval by{fifths, octaves};
                REQUIRE(dump(transpose(transpose(tune, by), -by)) == before);
            }
        for (int fifths = -12; fifths <= 12; ++fifths) {
            const auto moved = transpose_to(tune, {fifths});
            REQUIRE(moved.key.tonic.fifths == fifths);
            const auto way = moved.key.tonic - tune.key.tonic;
            REQUIRE(dump(moved) == dump(transpose(tune, smaller_way(way))));
            REQUIRE(one_chorus(moved).size() == one_chorus(tune).size());
        }
    }
}

TEST_CASE("Every written bar of the tune is played, and nothing else", "[property][tune]") {
    for (std::uint64_t seed = 0; seed < many; ++seed) {
        const auto tune = make_tune(seed);
        INFO("seed " << seed << "\n" << write_tune(tune));
        std::set<BarRef> played;
        for (const auto& chorus : performance(tune))
            for (const auto& bar : chorus.bars) {
                played.insert({bar.section, bar.bar});
                REQUIRE(bar.section < static_cast<int>(tune.sections.size()));
                REQUIRE(bar.bar <
                        static_cast<int>(tune.sections[static_cast<std::size_t>(bar.section)].bars.size()));
            }
        std::size_t written = 0;
        for (const auto& section : tune.sections) written += section.bars.size();
        REQUIRE(played.size() == written);
    }
}

TEST_CASE("Times in playing order add up", "[property][tune]") {
    for (std::uint64_t seed = 0; seed < many; ++seed) {
        const auto tune = make_tune(seed);
        const auto bars = one_chorus(tune);
        REQUIRE(!bars.empty());
        Time now = 0;
        for (const auto& bar : bars) {
            REQUIRE(bar.start == now);
            now += bar_at(tune, {bar.section, bar.bar}).length;
        }
        Time chords = 0;
        for (const auto& chord : played_chords(tune)) {
            REQUIRE(chord.start == chords);
            chords += chord.length;
        }
        REQUIRE(chords == now);
        REQUIRE(bar_sum(tune, bars) == now);
    }
}

TEST_CASE("The playings of a section count up from nought", "[property][tune]") {
    for (std::uint64_t seed = 0; seed < many; ++seed) {
        const auto tune = make_tune(seed);
        std::map<int, int> highest;
        for (const auto& bar : one_chorus(tune)) {
            const auto found = highest.find(bar.section);
            if (found == highest.end())
                REQUIRE(bar.playing == 0);
            else
                REQUIRE((bar.playing == found->second || bar.playing == found->second + 1));
            highest[bar.section] = bar.playing;
        }
    }
}

TEST_CASE("A chorus that is cut is the beginning of the whole", "[property][tune]") {
    for (std::uint64_t seed = 0; seed < many; seed += 5) {
        const auto tune = make_tune(seed);
        const auto whole = play_chorus(tune, {});
        for (int limit = 1; limit <= static_cast<int>(whole.bars.size()); limit += 3) {
            Limits limits;
            limits.unfolded_bars = limit;
            // The last playing of a section is not known in a cut chorus: `last` endings may differ.
            const auto cut = play_chorus(tune, {}, limits);
            REQUIRE(cut.bars.size() == static_cast<std::size_t>(limit));
            REQUIRE(cut.cut == (limit < static_cast<int>(whole.bars.size())));
        }
    }
}

TEST_CASE("Chords and notes fill their bars after reading", "[property][tune]") {
    for (std::uint64_t seed = 0; seed < many; seed += 4) {
        const auto tune = *read_tune(text::Source("made.tune", write_tune(make_tune(seed)))).value;
        for (const auto& section : tune.sections)
            for (const auto& bar : section.bars) {
                Time sum = 0;
                for (const auto& event : bar.changes) {
                    REQUIRE(event.at == sum);
                    sum += event.length;
                }
                REQUIRE(sum == bar.length);
                if (!bar.melody) continue;
                sum = 0;
                for (const auto& event : *bar.melody) {
                    REQUIRE(event.at == sum);
                    sum += event.length;
                }
                REQUIRE(sum == bar.length);
            }
    }
}
