#include "bench/trial.h"

#include <algorithm>
#include <map>

#include "bench/room.h"
#include "reharm/ideas.h"
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

double largest_rule(const reharm::Version& version) {
    if (version.changes.size() < 3) return 0;
    std::map<std::string, int> uses;
    int most = 0;
    for (const auto& change : version.changes) most = std::max(most, ++uses[change.rule]);
    return static_cast<double>(most) / static_cast<double>(version.changes.size());
}

/// The idea that its sentence tells.
reharm::IdeaShare lead_of(const reharm::Version& version, const std::vector<std::size_t>& stated) {
    const auto& rules = rules::built_in_rules();
    std::vector<int> uses(rules.rules.size(), 0);
    for (const auto& change : version.changes)
        ++uses[static_cast<std::size_t>(rules.find(change.rule) - rules.rules.data())];
    return reharm::leading_idea(reharm::ideas_for(rules), uses, stated);
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
    const Room room(piece, analysis, outside);
    trial.room = room.of_all();
    std::vector<std::size_t> stated;
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
        one.room = room.of_one_idea(stated);
        if (const auto lead = lead_of(version, stated); lead.stated()) stated.push_back(lead.idea);
        trial.versions.push_back(std::move(one));
    }
    return trial;
}

}  // namespace relead::bench
