// From the words of the command line to what the engine understands: plans, rules, addresses.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "cli/exit_code.h"
#include "cli/options.h"
#include "cli/streams.h"
#include "reharm/reharmonise.h"
#include "rules/rule.h"
#include "text/source.h"
#include "tune/plan.h"

namespace relead::cli {

/// The built-in rules and those of the user's files; problems are printed.
struct LoadedRules {
    std::optional<rules::RuleSet> rules;
    ExitCode code = ExitCode::clean;
    std::vector<text::Source> sources;  ///< of the user's files, for what is said of them later
};
[[nodiscard]] LoadedRules load_rules(const std::vector<std::string>& files, Streams& streams);

/// The words of a list without blanks around them: "tritone, backdoor" and "A:1, B:2" in quotes leave one
/// before the second. Every option that takes a list reads it so.
[[nodiscard]] std::vector<std::string> trimmed(std::vector<std::string> words);

/// What is said of a tune, without the question which of its plans counts (`plans-overlap`): for a command
/// that names its plan, or follows none.
[[nodiscard]] Diagnostics without_plan_question(Diagnostics diagnostics);

/// Nothing (and a usage message printed) when an address cannot be read.
[[nodiscard]] std::optional<reharm::Wish> read_wish(const WishOptions& options, Streams& streams);

/// The value of an option that takes an address; `shape` is what it should look like. Nothing (and a usage
/// message printed, with what may be meant) when it cannot be read.
[[nodiscard]] std::optional<tune::Address> read_address(std::string_view option, std::string_view shape,
                                                        const std::string& word, Streams& streams);

}  // namespace relead::cli
