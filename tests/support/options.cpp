#include "support/options.h"

#include <algorithm>
#include <utility>

#include "analysis/analysis.h"
#include "rules/read_rules.h"
#include "support/catch.h"

namespace relead::testing {

std::vector<reharm::Option> options_at(const tune::Tune& tune, const std::string& place,
                                       const reharm::Wish& wish) {
    auto outcome = reharm::options(tune, analysis::analyse(tune), rules::built_in_rules(),
                                   *tune::parse_address(place), wish);
    REQUIRE(outcome.value.has_value());
    return std::move(*outcome.value);
}

reharm::Option option_by(const tune::Tune& tune, const std::string& place, const std::string& rule,
                         const reharm::Wish& wish) {
    const auto options = options_at(tune, place, wish);
    const auto found = std::find_if(options.begin(), options.end(),
                                    [&](const reharm::Option& one) { return one.rule == rule; });
    INFO("no option by " << rule << " at " << place);
    REQUIRE(found != options.end());
    return *found;
}

}  // namespace relead::testing
