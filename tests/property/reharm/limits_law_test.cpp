// Whole versions of random tunes with all built-in rules: nothing that a plan, a lock, a written bass figure
// or the clock forbids is ever done, for a band and for a soloist. What sounds is read from the two tunes
// (heard_tune.h), not from what the search says of itself; only which rules made a change nobody but the
// result can say (`avoid`, `depth`; how far outside they lead stands in the rules). A build that does not
// optimise tries fewer tunes; RELEAD_LIMIT_TUNES asks for a count.
#include <algorithm>
#include <map>

#include "analysis/analysis.h"
#include "heard_tune.h"
#include "random_tunes.h"
#include "reharm/reharmonise.h"
#include "reharm/unfold_playings.h"
#include "rules/read_rules.h"
#include "support/catch.h"
#include "support/how_many.h"
#include "support/small_tunes.h"

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

/// The band plays the bass: another one is no change for a soloist.
Sounding without_bass(Sounding heard) {
    for (auto& chord : heard.chords) chord.bass.reset();
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
std::vector<Spot> spots_of(const tune::Tune& written, const tune::Tune& version, bool soloist) {
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
                                 event.locked, bar.bass.has_value(),
                                 soloist ? !(without_bass(before) == without_bass(now)) : !(before == now),
                                 event.chord, now.chords});
            }
        }
    }
    return spots;
}

bool covers(const tune::Address& address, const Spot& spot) {
    return address.covers(spot.section, spot.bar_number) && (!address.beat || *address.beat == spot.beat);
}

int low_tone(const theory::Chord& chord) {
    return theory::pitch_class(theory::bass_of(chord));
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
                                                "  each time different\n",
                                                "  melody warn\n",
                                                "  melody refuse\n"};
    std::string text;
    for (const auto& line : lines) {
        // One of the two at most.
        const bool second =
            line.find("melody") != std::string::npos && text.find("melody") != std::string::npos;
        if (testing::roll(random, 4) == 0 && !second) text += line;
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

/// A bar of melody: mostly steps in C, at times a leap or a tone of another key.
std::string melody_bar(std::mt19937& random, unsigned& step) {
    static const std::vector<std::string> rhythms[] = {
        {"w"}, {"h", "h"}, {"h", "q", "q"}, {"q.", "e", "h"}, {"q", "e", "e", "q", "q"}};
    static const std::string scale[] = {"A4", "B4", "C5", "D5", "E5", "F5", "G5", "A5"};
    constexpr unsigned tones = 8;
    std::string bar;
    for (const auto& value : rhythms[testing::roll(random, 5)]) {
        const auto way = testing::roll(random, 5);
        step = way == 0   ? testing::roll(random, tones)
               : way <= 2 ? std::min(step + 1, tones - 1)
                          : (step > 0 ? step - 1 : 0);
        auto pitch = scale[step];
        if (testing::roll(random, 8) == 0) pitch.insert(1, testing::roll(random, 2) == 0 ? "b" : "#");
        bar += " " + value + " " + (testing::roll(random, 12) == 0 ? "r" : pitch);
    }
    return bar;
}

/// Rows below the changes: a melody in most tunes, a written bass figure in one bar of every second section.
std::string with_rows(const std::string& text, std::mt19937& random) {
    std::string more;
    const bool sung = testing::roll(random, 4) > 0;
    unsigned step = 3;
    for (std::size_t at = 0; at < text.size();) {
        const auto end = text.find('\n', at) + 1;
        const auto line = text.substr(at, end - at);
        more += line;
        at = end;
        if (line.rfind("changes", 0) != 0) continue;
        auto cells = static_cast<unsigned>(std::count(line.begin(), line.end(), '|')) - 1;
        if (line.find("] [") != std::string::npos) ++cells;
        if (sung) {
            more += "melody  |";
            for (unsigned i = 0; i < cells; ++i)
                more += (testing::roll(random, 12) == 0 ? " ." : melody_bar(random, step)) + " |";
            more += "\n";
        }
        if (testing::roll(random, 2) == 0) continue;
        const auto chosen = testing::roll(random, cells);
        more += "bass    |";
        for (unsigned i = 0; i < cells; ++i) more += i == chosen ? " h E2 B2 |" : " . |";
        more += "\n";
    }
    return more;
}

/// Another tempo, another ceiling, a third of the plans for a soloist, some on the solos only.
std::string with_another_frame(std::string text, std::mt19937& random) {
    const auto replace = [&](const std::string& what, const std::string& by) {
        text.replace(text.find(what), what.size(), by);
    };
    static const std::string tempos[] = {"120", "152", "208", "250"};
    static const std::string parts[] = {"", "", " on head", " on solos"};
    replace("tempo 120", "tempo " + tempos[testing::roll(random, 4)]);
    const std::string who = testing::roll(random, 3) == 0 ? "soloist" : "band";
    replace("for band", "for " + who + parts[testing::roll(random, 4)]);
    replace("outside 4", "outside " + std::to_string(2 + testing::roll(random, 4)));
    return text;
}

struct Tally {
    int versions = 0, changed = 0, locked = 0, held = 0, over_bass = 0, full_budgets = 0, unfolded = 0;
    int for_soloist = 0, let_through = 0;  ///< let_through: clashes where the plan allows them
    testing::LimitTally limits, unguarded;
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
            if (spot.bass_written) CHECK(low_tone(chord) == low_tone(spot.old_chord));
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

/// What the result alone can say: by which rules a change came about.
void check_change(const tune::Plan& plan, const reharm::Change& change, const rules::RuleSet& rules) {
    INFO(change.rule << " at " << change.place.section << ":" << change.place.bar);
    for (const auto& name : change.derivation) {
        const auto* rule = rules.find(name);
        REQUIRE(rule != nullptr);
        CHECK(rule->outside <= *plan.outside);
    }
    if (plan.depth) CHECK(static_cast<int>(change.derivation.size()) <= *plan.depth);
    for (const auto& avoided : plan.avoid) CHECK_FALSE(called(change, avoided.name));
    int sum = 0;
    for (const auto& term : change.terms) sum += term.value;
    CHECK(sum == change.cost);
}

void check_none(const std::vector<testing::Breach>& breaches) {
    for (const auto& breach : breaches) FAIL_CHECK(breach.what);
}

/// The changes of a version, for whoever reads the failing test.
std::string told(const reharm::Version& version) {
    std::string text;
    for (const auto& change : version.changes) {
        text += change.place.section + ":" + std::to_string(change.place.bar);
        for (const auto& chord : change.old_chords) text += " " + theory::to_string(chord);
        text += " >";
        for (const auto& chord : change.new_chords) text += " " + theory::to_string(chord);
        text += " (" + change.rule + ")\n";
    }
    return text;
}

/// Guide tones, melody, clock and bass, from the two tunes.
void check_sound(const tune::Plan& plan, const testing::SideBySide& tunes,
                 const std::vector<const rules::Rule*>& makers, Tally& tally) {
    const bool soloist = plan.who == tune::Plan::Who::soloist;
    check_none(testing::far_arrivals(tunes, makers, tally.limits));
    const double usual = soloist ? 0.8 : 0.5;
    const double shortest = plan.shortest_seconds ? plan.shortest_seconds->to_double() : usual;
    check_none(testing::too_short(tunes, shortest, tally.limits));
    if (soloist) check_none(testing::too_far_from_the_bass(tunes, *plan.outside, tally.limits));
    if (plan.melody == tune::Plan::MelodyPolicy::warn || plan.where == tune::Plan::Where::solos) {
        tally.let_through += static_cast<int>(testing::new_clashes(tunes, tally.unguarded).size());
    } else {
        check_none(testing::new_clashes(tunes, tally.limits));
    }
}

/// The band stays on what is written, whatever a soloist plays over it.
void check_band_stays(const tune::Tune& written, const tune::Tune& version) {
    for (std::size_t s = 0; s < written.sections.size(); ++s) {
        for (std::size_t b = 0; b < written.sections[s].bars.size(); ++b) {
            const auto& bar = written.sections[s].bars[b];
            CHECK(sounding(bar, 0, bar.length) == sounding(version.sections[s].bars[b], 0, bar.length));
        }
    }
}

void check_version(const tune::Plan& plan, const tune::Tune& written, const reharm::Version& version,
                   const rules::RuleSet& rules, Tally& tally) {
    const bool soloist = plan.who == tune::Plan::Who::soloist;
    INFO(told(version));
    std::vector<const rules::Rule*> makers;
    for (const auto& change : version.changes) {
        check_change(plan, change, rules);
        for (const auto& name : change.derivation) makers.push_back(rules.find(name));
    }
    if (soloist) check_band_stays(written, version.tune);
    const auto played = testing::as_played(version.tune, soloist);
    check_spots(plan, spots_of(written, played, soloist), tally);
    check_sound(plan, {written, played}, makers, tally);
    tally.for_soloist += soloist ? 1 : 0;
}

}  // namespace

TEST_CASE("hard limits are never broken and locked chords never touched", "[reharm]") {
    const auto tunes = static_cast<int>(testing::how_many("RELEAD_LIMIT_TUNES", 300, 80));
    Tally tally;
    for (int seed = 1; seed <= tunes; ++seed) {
        std::mt19937 random(static_cast<unsigned>(seed));
        auto text = with_another_frame(testing::random_tune(random), random);
        text = with_rows(without_unknown_sections(text + some_limits(random)), random);
        INFO("seed " << seed << "\n" << text);
        const auto tune = testing::read_whole(text);
        const auto reading = analysis::analyse(tune);
        const auto rules = a_quarter_of_the_rules(random);
        reharm::Wish wish;
        wish.versions = 2;
        const auto outcome = reharm::reharmonise(tune, reading, rules, wish);
        REQUIRE(outcome.value.has_value());
        REQUIRE_FALSE(outcome.value->versions.empty());
        const auto& plan = outcome.value->plan;
        const auto written = plan.each_time_different ? reharm::unfold_playings(tune, reading).tune : tune;
        for (const auto& version : outcome.value->versions) {
            ++tally.versions;
            tally.unfolded += plan.each_time_different ? 1 : 0;
            check_version(plan, written, version, rules, tally);
        }
    }
    INFO(tally.versions << " versions, " << tally.changed << " chords changed, " << tally.locked
                        << " locked, " << tally.held << " held, " << tally.over_bass
                        << " over a written bass, " << tally.full_budgets << " budgets used up, "
                        << tally.unfolded << " unfolded, " << tally.for_soloist << " for a soloist");
    const auto& limits = tally.limits;
    INFO(limits.arrivals << " arrivals, " << limits.by_threads << " by threads alone, " << limits.notes
                         << " notes guarded, " << tally.let_through << " of " << tally.unguarded.notes
                         << " clashes let through, " << limits.clocked << " short chords, " << limits.rubbing
                         << " of " << limits.superimposed << " rub");
    CHECK(tally.changed > 2 * tunes);
    CHECK(tally.locked > tunes / 3);
    CHECK(tally.held > tunes / 2);
    CHECK(tally.over_bass > tunes / 2);
    CHECK(tally.full_budgets > tunes / 3);
    CHECK(tally.unfolded > tunes / 5);
    CHECK(tally.for_soloist > tunes / 3);
    CHECK(limits.arrivals > tunes);
    CHECK(limits.by_threads > 0);
    CHECK(limits.notes > tunes);
    CHECK(tally.let_through > 0);  // what is guarded does happen where nothing guards it
    CHECK(limits.clocked > tunes / 20);
    CHECK(limits.rubbing > 0);
}
