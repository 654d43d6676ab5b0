#include "bench/trial.h"

#include <algorithm>
#include <map>

#include "reharm/plan_binding.h"
#include "reharm/pool.h"
#include "rules/read_rules.h"

namespace relead::bench {
namespace {

reharm::Wish wish_for(int outside, int versions) {
    reharm::Wish wish;
    wish.outside = outside;
    wish.versions = versions;
    return wish;
}

bool is_dense(const Chorus& chorus) {
    return chorus.chords.size() * 2 >= chorus.bars.size() * 3;
}

double room_of(const Piece& piece, const analysis::Analysis& analysis, int outside) {
    const auto& rules = rules::built_in_rules();
    const auto chart = rules::make_chart(piece.tune, analysis);
    const auto plan = reharm::bind_plan(piece.tune, rules, wish_for(outside, 1));
    const auto pool = reharm::build_pool({piece.tune, chart, rules, *plan.value}, {});
    std::vector<bool> covered(static_cast<std::size_t>(chart.size()), false);
    for (const auto& judged : pool.placements) {
        for (int i = judged.placement.begin; i < judged.placement.end; ++i)
            covered[static_cast<std::size_t>(i)] = true;
    }
    Fraction all = 0, some = 0;
    for (int i = 0; i < chart.size(); ++i) {
        const auto time = chart.at(i).length * Fraction(chart.at(i).playings);
        all += time;
        if (covered[static_cast<std::size_t>(i)]) some += time;
    }
    return all > 0 ? (some / all).to_double() : 0;
}

double largest_rule(const reharm::Version& version) {
    if (version.changes.size() < 3) return 0;
    std::map<std::string, int> uses;
    int most = 0;
    for (const auto& change : version.changes) most = std::max(most, ++uses[change.rule]);
    return static_cast<double>(most) / static_cast<double>(version.changes.size());
}

}  // namespace

Trial try_piece(const Piece& piece, int outside, int versions) {
    const auto analysis = analysis::analyse(piece.tune);
    const auto choices =
        reharm::reharmonise(piece.tune, analysis, rules::built_in_rules(), wish_for(outside, versions));
    Trial trial;
    trial.piece = piece.name;
    trial.outside = outside;
    trial.dense = is_dense(play(piece.tune, piece.tune));
    trial.room = room_of(piece, analysis, outside);
    constexpr double doses[][2] = {{0.15, 0.25}, {0.25, 0.40}, {0.40, 0.60}};
    for (const auto& version : choices.value->versions) {
        VersionTrial one;
        one.version = version;
        one.chorus = play(piece.tune, version.tune);
        one.measures = measure(piece.tune, analysis, version.tune);
        one.largest_rule = largest_rule(version);
        for (const auto& earlier : trial.versions)
            one.nearest = std::min(one.nearest, difference(earlier.chorus, one.chorus));
        const auto& dose = doses[std::min<std::size_t>(trial.versions.size(), 2)];
        one.least_dose = dose[0] / (trial.dense ? 2 : 1);
        one.most_dose = dose[1] / (trial.dense ? 2 : 1);
        trial.versions.push_back(std::move(one));
    }
    return trial;
}

}  // namespace relead::bench
