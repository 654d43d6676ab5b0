// Every JSON document that Relead writes. The schemas are in schemas/; member order is fixed, so
// the same input gives the same bytes.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include <relead/outcome.h>

#include "report/change_table.h"
#include "report/explanation.h"
#include "report/guide_line.h"
#include "report/option_table.h"
#include "report/rule_example.h"
#include "report/rule_table.h"
#include "text/source.h"

namespace relead::formats::json {

/// One file that `relead check` looked at.
struct CheckedFile {
    std::string name;
    std::optional<text::Source> source;  ///< absent when the file could not be read
    Diagnostics diagnostics;
};

/// schemas/check.schema.json: per file its diagnostics with places, byte spans, lines and columns
/// (1-based, in user-perceived characters) and fixes.
[[nodiscard]] std::string check_document(const std::vector<CheckedFile>& files);

/// One version that `relead reharm` made.
struct VersionRow {
    std::string name;
    std::string hash;
    std::string headline;
    int cost = 0;  ///< of all changes and boundaries, over one chorus
    std::vector<report::ChangeRow> changes;
    report::GuidePairOfCounts guide_line = {};
};

/// schemas/reharm.schema.json: the versions with their changes, what the search says of itself, and the files
/// written.
[[nodiscard]] std::string reharm_document(const std::vector<VersionRow>& versions,
                                          const report::SearchRow& search,
                                          const std::vector<std::string>& files);

/// schemas/options.schema.json: what could stand at a spot.
[[nodiscard]] std::string options_document(const std::string& at, const std::vector<report::OptionRow>& rows);

/// schemas/explain.schema.json: key and, chord by chord, numeral, function and target.
[[nodiscard]] std::string explain_document(const report::Explanation& explanation);

/// schemas/rules.schema.json: the rules, by family and outside level.
[[nodiscard]] std::string rules_document(const std::vector<report::RuleRow>& rows);
/// The same with one rule, and the rule at work (null where it fires nowhere).
[[nodiscard]] std::string rule_document(const report::RuleRow& row,
                                        const std::optional<report::RuleExample>& example);

}  // namespace relead::formats::json
