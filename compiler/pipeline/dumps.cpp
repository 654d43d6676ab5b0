#include "pipeline/dumps.h"

#include <cstddef>

#include "base/fmt.h"
#include "rules/chart.h"
#include "rules/match.h"
#include "text/render.h"

namespace relead::pipeline {

namespace {

std::string target_text(const tune::Tune& tune, const analysis::Analysis& analysis,
                        const analysis::ChordFact& fact) {
    if (!fact.target) return "the end";
    const auto target = static_cast<std::size_t>(*fact.target);
    if (target >= analysis.chords.size()) return "next chorus";
    return text::to_string(tune::place_of(tune, analysis.chords[target].ref));
}

}  // namespace

std::string dump_analysis(const tune::Tune& tune, const analysis::Analysis& analysis) {
    std::string text = fmt::format("given {}\nestimated {}\nhome {}\n",
                                   analysis.given ? theory::to_string(*analysis.given) : "none",
                                   theory::to_string(analysis.estimated), theory::to_string(analysis.home));
    for (const auto& fact : analysis.chords) {
        text +=
            fmt::format("{} {} in {}: {} {} {} {}\n", text::to_string(tune::place_of(tune, fact.ref)),
                        theory::to_string(tune::chord_at(tune, fact.ref).chord),
                        theory::to_string(fact.local_key), fact.numeral, analysis::to_string(fact.function),
                        analysis::to_string(fact.relation), target_text(tune, analysis, fact));
    }
    return text;
}

std::string dump_candidates(const tune::Tune& tune, const analysis::Analysis& analysis,
                            const rules::RuleSet& rules) {
    const auto chart = rules::make_chart(tune, analysis);
    std::string text;
    for (const auto& match : rules::match_all(rules, chart)) {
        const auto& candidate = match.candidate;
        text += rules::place_name(chart, candidate.begin);
        for (int i = candidate.begin; i < candidate.end; ++i)
            text += " " + theory::to_string(chart.at(i).chord);
        text += " ->";
        for (const auto& chord : candidate.chords) text += " " + theory::to_string(chord.chord);
        text += fmt::format(" ({})\n", rules.rules[static_cast<std::size_t>(candidate.rule)].name);
    }
    return text;
}

}  // namespace relead::pipeline
