// Versions of small tunes that a few rules make, and what they change, for tests of whole versions.
#pragma once

#include <fstream>
#include <sstream>
#include <string>

#include "analysis/analysis.h"
#include "reharm/reharmonise.h"
#include "report/change_table.h"
#include "rules/read_rules.h"
#include "support/catch.h"
#include "support/small_tunes.h"

namespace relead::testing {

/// The first rules alone, so that these tests do not move when the others grow.
inline const rules::RuleSet& few_rules() {
    static const rules::RuleSet set = [] {
        rules::RuleSet few;
        for (const auto& rule : rules::built_in_rules().rules) {
            if (rule.name == "tritone" || rule.name == "backdoor" || rule.name == "backdoor-dominant" ||
                rule.name.rfind("related-ii", 0) == 0)
                few.rules.push_back(rule);
        }
        return few;
    }();
    return set;
}

inline Outcome<reharm::Choices> choose(const tune::Tune& tune, const reharm::Wish& wish = {}) {
    const auto reading = plain_reading(tune);
    return reharm::reharmonise(tune, reading, few_rules(), wish);
}

inline std::string changes_of(const reharm::Version& version) {
    std::string text;
    for (const auto& row : report::change_table(version))
        text += row.place + " " + row.old_changes + " > " + row.new_changes + "\n";
    return text;
}

inline std::string first_version(const tune::Tune& tune, const reharm::Wish& wish = {}) {
    const auto outcome = choose(tune, wish);
    REQUIRE(outcome.value.has_value());
    return changes_of(outcome.value->versions.front());
}

inline tune::Tune with_plan(const std::string& lines, const std::string& who = "band",
                            const std::string& changes = "Cmaj7 | A7 | Dm7 | G7 | Cmaj7 | Cmaj7 | Dm7 | G7") {
    return small_tune("C major", changes, {}, "plan \"p\" for " + who + "\n" + lines);
}

inline tune::Tune sample(const std::string& name) {
    std::ifstream file(RELEAD_SOURCE_DIR "/samples/tunes/" + name + ".tune");
    std::stringstream bytes;
    bytes << file.rdbuf();
    return read_whole(bytes.str());
}

}  // namespace relead::testing
