// Whole versions of random tunes with all built-in rules: nothing that a plan, a lock, a written bass figure
// or the clock forbids is ever done. What sounds is read from the tunes that come out, not from what the
// search says of itself. A build that does not optimise tries fewer tunes; RELEAD_LIMIT_TUNES asks for a
// count.
#include <algorithm>
#include <map>

#include "analysis/analysis.h"
#include "random_tunes.h"
#include "reharm/reharmonise.h"
#include "reharm/unfold_playings.h"
#include "rules/read_rules.h"
#include "support/catch.h"
#include "support/how_many.h"
#include "support/small_tunes.h"
#include "theory/guide_motion.h"

using namespace relead;

namespace {

/// A quarter of the built-in rules: another one for each tune, so that all have their turn.
/// With all that the plans name: a name that is not there would be an error.
rules::RuleSet a_quarter_of_the_rules(std::mt19937& random) {
    rules::RuleSet some;
    for (const auto& rule : rules::built_in_rules().rules) {
        const bool named = rule.name == "tritone" || rule.name == "related-ii" || rule.family == "turnaround";
        if (named || testing::roll(random, 4) == 0) some.rules.push_back(rule);
    }
    return some;
}

/// The chords that sound from one time of a bar to another, with their places.
struct Sounding {
    std::vector<theory::Chord> chords;
    std::vector<Time> at;
    friend bool operator==(const Sounding&, const Sounding&) = default;
};

Sounding sounding(const tune::Bar& bar, Time from, Time to) {
    Sounding heard;
    for (const auto& event : bar.changes) {
        if (event.at + event.length <= from || event.at >= to) continue;
        heard.chords.push_back(event.chord);
        heard.at.push_back(std::max(event.at, from));
    }
    return heard;
}

struct Spot {
    std::string section;
    int bar_number = 0;
    Beats beat;
    bool locked = false, bass_written = false, changed = false;
    theory::Chord old_chord;
    std::vector<theory::Chord> now;
};

/// Every written chord and what sounds in its time in the version.
std::vector<Spot> spots_of(const tune::Tune& written, const tune::Tune& version) {
    REQUIRE(written.sections.size() == version.sections.size());
    std::vector<Spot> spots;
    for (std::size_t s = 0; s < written.sections.size(); ++s) {
        const auto& section = written.sections[s];
        REQUIRE(section.bars.size() == version.sections[s].bars.size());
        for (std::size_t b = 0; b < section.bars.size(); ++b) {
            const auto& bar = section.bars[b];
            for (const auto& event : bar.changes) {
                const auto end = event.at + event.length;
                const auto before = sounding(bar, event.at, end);
                const auto now = sounding(version.sections[s].bars[b], event.at, end);
                spots.push_back({section.name, bar.number, Beats(1) + bar.meter.in_beats(event.at),
                                 event.locked, bar.bass.has_value(), !(before == now), event.chord,
                                 now.chords});
            }
        }
    }
    return spots;
}

bool covers(const tune::Address& address, const Spot& spot) {
    return address.covers(spot.section, spot.bar_number) && (!address.beat || *address.beat == spot.beat);
}

int bass_of(const theory::Chord& chord) {
    return theory::pitch_class(chord.bass.value_or(chord.root));
}

std::string some_limits(std::mt19937& random) {
    static const std::vector<std::string> lines{"  hold A:1\n",
                                                "  hold A:2-3\n",
                                                "  hold B:2, A:3\n",
                                                "  never tritone at A:2\n",
                                                "  never at A:3\n",
                                                "  avoid related-ii, turnaround\n",
                                                "  depth 1\n",
                                                "  chords last at least 1 seconds\n",
                                                "  each time different\n"};
    std::string text;
    for (const auto& line : lines) {
        if (testing::roll(random, 4) == 0) text += line;
    }
    // What is held or never wanted cannot be taken.
    if (text.find("hold") == std::string::npos && text.find("never") == std::string::npos)
        text += "  take tritone at A:2\n";
    return text;
}

/// Keeps to the sections there are.
std::string without_unknown_sections(std::string text) {
    if (text.find("section B") != std::string::npos) return text;
    const auto at = text.find("B:2, ");
    return at == std::string::npos ? text : text.erase(at, 5);
}

/// A written bass figure in one bar of every second section.
std::string with_bass_figures(const std::string& text, std::mt19937& random) {
    std::string more;
    for (std::size_t at = 0; at < text.size();) {
        const auto end = text.find('\n', at) + 1;
        const auto line = text.substr(at, end - at);
        more += line;
        at = end;
        if (line.rfind("changes", 0) != 0 || testing::roll(random, 2) == 0) continue;
        auto cells = static_cast<unsigned>(std::count(line.begin(), line.end(), '|')) - 1;
        if (line.find("] [") != std::string::npos) ++cells;
        const auto chosen = testing::roll(random, cells);
        more += "bass    |";
        for (unsigned i = 0; i < cells; ++i) more += i == chosen ? " h E2 B2 |" : " . |";
        more += "\n";
    }
    return more;
}

struct Tally {
    int versions = 0, changed = 0, locked = 0, held = 0, over_bass = 0, full_budgets = 0, unfolded = 0;
};

void check_spots(const tune::Plan& plan, const std::vector<Spot>& spots, Tally& tally) {
    std::map<std::string, int> spent;
    for (const auto& spot : spots) {
        INFO(spot.section << ":" << spot.bar_number << " " << theory::to_string(spot.old_chord));
        if (spot.changed) ++spent[plan.at_most_per_section ? spot.section : ""];
        tally.changed += spot.changed ? 1 : 0;
        if (spot.locked) {
            ++tally.locked;
            CHECK_FALSE(spot.changed);
        }
        for (const auto& hold : plan.hold) {
            if (!covers(hold, spot)) continue;
            ++tally.held;
            CHECK_FALSE(spot.changed);
        }
        for (const auto& never : plan.never) {
            if (!never.rule && covers(never.at, spot)) CHECK_FALSE(spot.changed);
        }
        tally.over_bass += spot.bass_written ? 1 : 0;
        for (const auto& chord : spot.now) {
            if (spot.bass_written) CHECK(bass_of(chord) == bass_of(spot.old_chord));
        }
    }
    for (const auto& [section, count] : spent) {
        if (!plan.at_most) continue;
        CHECK(count <= *plan.at_most);
        tally.full_budgets += count == *plan.at_most ? 1 : 0;
    }
}

bool called(const reharm::Change& change, const std::string& name) {
    return change.family == name ||
           std::find(change.derivation.begin(), change.derivation.end(), name) != change.derivation.end();
}

void check_change(const tune::Plan& plan, const reharm::Change& change, double seconds_a_beat) {
    INFO(change.rule << " at " << change.place.section << ":" << change.place.bar);
    CHECK(change.outside <= *plan.outside);
    if (plan.depth) CHECK(static_cast<int>(change.derivation.size()) <= *plan.depth);
    for (const auto& avoided : plan.avoid) CHECK_FALSE(called(change, avoided.name));
    // A written chord, over another bass or not, moves as its author wants it.
    const auto& old_chord = change.old_chords.back();
    const auto& new_chord = change.new_chords.back();
    const bool kept = old_chord.root == new_chord.root && old_chord.quality == new_chord.quality;
    for (const auto& motion : change.new_motion) {
        CHECK((kept || motion.kind == theory::Move::held || motion.kind == theory::Move::step));
    }
    const double shortest = plan.shortest_seconds ? plan.shortest_seconds->to_double() : 0.5;
    for (const auto& beats : change.new_beats) {
        // All bars here hold one chord or two: no chord of half a bar is shorter than what the author writes.
        CHECK((beats >= 2 || beats.to_double() * seconds_a_beat + 1e-9 >= shortest));
    }
    int sum = 0;
    for (const auto& term : change.terms) sum += term.value;
    CHECK(sum == change.cost);
}

}  // namespace

TEST_CASE("hard limits are never broken and locked chords never touched", "[reharm]") {
    const auto tunes = static_cast<int>(testing::how_many("RELEAD_LIMIT_TUNES", 300, 80));
    Tally tally;
    for (int seed = 1; seed <= tunes; ++seed) {
        std::mt19937 random(static_cast<unsigned>(seed));
        auto text = testing::random_tune(random);
        text = with_bass_figures(without_unknown_sections(text + some_limits(random)), random);
        INFO("seed " << seed << "\n" << text);
        const auto tune = testing::read_whole(text);
        const auto reading = analysis::analyse(tune);
        reharm::Wish wish;
        wish.versions = 2;
        const auto outcome = reharm::reharmonise(tune, reading, a_quarter_of_the_rules(random), wish);
        REQUIRE(outcome.value.has_value());
        REQUIRE_FALSE(outcome.value->versions.empty());
        for (const auto& version : outcome.value->versions) {
            ++tally.versions;
            for (const auto& change : version.changes)
                check_change(outcome.value->plan, change, 60.0 / 120.0);
            const bool unfolded = outcome.value->plan.each_time_different;
            const auto written = unfolded ? reharm::unfold_playings(tune, reading).tune : tune;
            check_spots(outcome.value->plan, spots_of(written, version.tune), tally);
            tally.unfolded += unfolded ? 1 : 0;
        }
    }
    INFO(tally.versions << " versions, " << tally.changed << " chords changed, " << tally.locked
                        << " locked, " << tally.held << " held, " << tally.over_bass
                        << " over a written bass, " << tally.full_budgets << " budgets used up");
    CHECK(tally.changed > 2 * tunes);
    CHECK(tally.locked > tunes / 3);
    CHECK(tally.held > tunes / 2);
    CHECK(tally.over_bass > tunes / 2);
    CHECK(tally.full_budgets > tunes / 3);
    CHECK(tally.unfolded > tunes / 5);
}
