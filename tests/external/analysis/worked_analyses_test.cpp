// The analysis against published ones (worked-analyses.txt): what each chord leads to, keys and labels.
#include "external/analysis/worked_analyses.h"

#include <algorithm>
#include <cstdio>
#include <iostream>

#include "analysis/analysis.h"
#include "support/catch.h"
#include "tune/transpose.h"

using namespace relead;
using testing::Lead;
using testing::Study;

namespace {

/// Right answers out of all.
struct Share {
    int right = 0;
    int all = 0;
    std::string wrong;

    void count(bool is_right, const std::string& what) {
        ++all;
        if (is_right) ++right;
        if (!is_right) wrong += "  " + what + "\n";
    }
    double value() const { return all == 0 ? 0 : static_cast<double>(right) / all; }
    std::string told(const std::string& title) const {
        char figure[32];
        std::snprintf(figure, sizeof figure, "%d of %d, %.3f", right, all, value());
        return title + ": " + figure + "\n";
    }
};

bool holds(const Lead& lead, int target) {
    return std::find(lead.targets.begin(), lead.targets.end(), target) != lead.targets.end();
}

std::string place(const Study& study, int index) {
    if (index < 0) return "nothing";
    if (index >= study.size()) return "the top";
    return study.leads[static_cast<std::size_t>(index)].symbol + " (" + std::to_string(index) + ")";
}

std::string difference(const Study& study, int i, int got) {
    const auto& lead = study.leads[static_cast<std::size_t>(i)];
    return study.name + ": " + place(study, i) + " leads to " +
           place(study, lead.targets.empty() ? -1 : lead.targets.front()) + ", here to " + place(study, got);
}

struct Figures {
    Share arcs, ends, first_named, next_chord, relations;
};

Figures count_arcs(const std::vector<Study>& studies) {
    Figures figures;
    for (const auto& study : studies) {
        const auto facts = analysis::analyse(study.tune(false)).chords;
        REQUIRE(facts.size() == study.leads.size());
        for (int i = 0; i < study.size(); ++i) {
            const auto& lead = study.leads[static_cast<std::size_t>(i)];
            const auto& fact = facts[static_cast<std::size_t>(i)];
            const int got = fact.target.value_or(-1);
            if (lead.targets.empty()) {
                figures.ends.count(got < 0, difference(study, i, got));
                continue;
            }
            figures.arcs.count(holds(lead, got), difference(study, i, got));
            figures.first_named.count(lead.targets.front() == got, "");
            figures.next_chord.count(holds(lead, i + 1), "");
            figures.relations.count((fact.relation == analysis::Relation::prolongs) == lead.prolongs,
                                    study.name + ": " + place(study, i));
        }
    }
    return figures;
}

std::vector<int> targets_of(const analysis::Analysis& analysis) {
    std::vector<int> targets;
    for (const auto& fact : analysis.chords)
        targets.push_back(fact.target.value_or(static_cast<int>(analysis.chords.size())));
    return targets;
}

}  // namespace

TEST_CASE("the worked analyses are enough, and leave little open", "[external]") {
    const auto studies = testing::read_studies();
    CHECK(studies.size() >= 30);
    int arcs = 0, open = 0;
    for (const auto& study : studies)
        for (const auto& lead : study.leads) {
            arcs += lead.targets.empty() ? 0 : 1;
            open += lead.targets.size() > 1 ? 1 : 0;
        }
    CHECK(arcs >= 300);
    CHECK(open * 10 <= arcs);
}

TEST_CASE("chords lead where published analyses say", "[external]") {
    const auto figures = count_arcs(testing::read_studies());
    const auto told = figures.arcs.told("arcs right") + figures.arcs.wrong +
                      figures.first_named.told("by the first target alone") +
                      figures.next_chord.told("guess of the next chord") + figures.ends.told("last tonics") +
                      figures.ends.wrong + figures.relations.told("relations") + figures.relations.wrong;
    std::cout << told;
    INFO(told);
    CHECK(figures.arcs.value() >= 0.9);
    CHECK(figures.arcs.value() >= figures.next_chord.value() + 0.2);
    CHECK(figures.ends.value() >= 0.9);
    CHECK(figures.relations.value() >= 0.9);
}

TEST_CASE("published keys are heard without being told", "[external]") {
    Share keys;
    for (const auto& study : testing::read_studies()) {
        const auto estimated = analysis::estimate_key(study.tune(false));
        const auto given = study.given_key();
        keys.count(theory::pitch_class(estimated.tonic) == theory::pitch_class(given.tonic) &&
                       theory::is_minor_like(estimated) == theory::is_minor_like(given),
                   study.name + ": " + theory::to_string(estimated));
    }
    std::cout << keys.told("keys") + keys.wrong;
    INFO(keys.wrong);
    CHECK(keys.value() >= 0.9);
}

TEST_CASE("chords are labelled as published", "[external]") {
    Share numerals;
    for (const auto& study : testing::read_studies()) {
        const auto facts = analysis::analyse(study.tune(true)).chords;
        REQUIRE(facts.size() == study.leads.size());
        for (int i = 0; i < study.size(); ++i) {
            const auto& lead = study.leads[static_cast<std::size_t>(i)];
            if (lead.numeral.empty()) continue;
            const auto& numeral = facts[static_cast<std::size_t>(i)].numeral;
            numerals.count(numeral == lead.numeral,
                           study.name + ": " + place(study, i) + " is " + lead.numeral + ", here " + numeral);
        }
    }
    CHECK(numerals.all >= 150);
    std::cout << numerals.told("numerals") + numerals.wrong;
    INFO(numerals.wrong);
    CHECK(numerals.all - numerals.right <= 1);
}

TEST_CASE("worked analyses cross nowhere and are the same in twelve keys", "[external]") {
    for (const auto& study : testing::read_studies()) {
        INFO(study.name);
        const auto tune = study.tune(false);
        const auto here = analysis::analyse(tune);
        CHECK(testing::is_projective(targets_of(here)));
        for (int fifths = -5; fifths <= 6; ++fifths) {
            INFO("fifths " << fifths);
            const auto there = analysis::analyse(tune::transpose_to(tune, theory::NoteName{fifths}));
            CHECK(targets_of(there) == targets_of(here));
            for (std::size_t i = 0; i < here.chords.size(); ++i) {
                CHECK(there.chords[i].relation == here.chords[i].relation);
                CHECK(there.chords[i].function == here.chords[i].function);
                CHECK(there.chords[i].numeral == here.chords[i].numeral);
            }
        }
    }
}
