// relead rules [NAME] [--in KEY] [--rules FILE] [--as text|json]
#include <algorithm>
#include <ostream>
#include <sstream>

#include "base/fmt.h"
#include "cli/commands.h"
#include "cli/print.h"
#include "cli/wish.h"
#include "formats/json/write.h"
#include "formats/text/columns.h"
#include "formats/text/tables.h"
#include "pipeline/rule_example.h"
#include "report/rule_table.h"
#include "rules/lint.h"
#include "rules/read_rules.h"
#include "tune/spot.h"

namespace relead::cli {

namespace {

/// "Eb", "Eb minor".
struct ExampleKey {
    theory::NoteName tonic;
    std::optional<theory::Mode> mode;
};

std::optional<ExampleKey> read_key(const std::string& text) {
    if (text.empty()) return ExampleKey{};
    const auto blank = text.find(' ');
    const auto tonic = theory::parse_note_name(text.substr(0, blank));
    if (!tonic || std::abs(theory::alteration(*tonic)) > 1) return std::nullopt;
    if (blank == std::string::npos) return ExampleKey{*tonic, std::nullopt};
    const auto mode = theory::parse_mode(text.substr(blank + 1));
    if (!mode) return std::nullopt;
    return ExampleKey{*tonic, mode};
}

std::vector<report::RuleRow> rows_of(const rules::RuleSet& set, const std::string& family) {
    auto rows = report::rule_table(set);
    if (!family.empty()) std::erase_if(rows, [&](const auto& row) { return row.family != family; });
    return rows;
}

void print_list(const std::vector<report::RuleRow>& rows, const RulesOptions& options, Streams& streams) {
    streams.out << (options.as == As::json
                        ? formats::json::rules_document(rows)
                        : formats::text::print_rules(rows, {streams.colour, streams.width}));
}

void show(const rules::Rule& rule, const ExampleKey& key, const RulesOptions& options, Streams& streams) {
    const auto row = report::rule_row(rule);
    auto example = pipeline::rule_example(rule, key.tonic, key.mode);
    const bool elsewhere = !example && key.mode;
    if (elsewhere) example = pipeline::rule_example(rule, key.tonic);
    if (options.as == As::json) {
        streams.out << formats::json::rule_document(row, example);
        return;
    }
    streams.out << formats::text::print_rule(row, example, {streams.colour, streams.width});
    if (elsewhere && example) streams.out << fmt::format("\nIt fires nowhere in {}.\n", options.key);
}

/// A rule hides the family of its name: the family's other rules are named below it.
void name_family(const rules::RuleSet& set, const std::string& name, Streams& streams) {
    std::vector<std::string> others;
    for (const auto& rule : set.rules) {
        if (rule.family == name && rule.name != name) others.push_back(rule.name);
    }
    if (others.empty()) return;
    const auto sentence =
        fmt::format("{} is a family too, and --use {} takes all of it. Its other {}: {}.", name, name,
                    others.size() == 1 ? "rule is" : "rules are", tune::listed(others));
    streams.out << "\n" << formats::text::wrap(sentence, 0, streams.width);
}

ExitCode answer(const rules::RuleSet& set, const RulesOptions& options, Streams& streams) {
    const auto* rule = set.find(options.name);
    if (!options.name.empty() && rule == nullptr && !set.knows(options.name)) {
        const auto nearest = rules::nearest_rule(set, options.name);
        streams.err << fmt::format(
            "relead: no rule and no family is called {}.{}\n", options.name,
            nearest.empty() ? " relead rules lists them all." : fmt::format(" Did you mean {}?", nearest));
        return ExitCode::usage;
    }
    if (rule == nullptr && !options.key.empty()) {
        streams.err << "relead: --in goes with the name of one rule.\n";
        return ExitCode::usage;
    }
    const auto key = read_key(options.key);
    if (!key) {
        streams.err << fmt::format("relead: --in takes a key such as Eb or \"Eb minor\", not {}.\n",
                                   options.key);
        return ExitCode::usage;
    }
    if (rule != nullptr) {
        show(*rule, *key, options, streams);
        if (options.as == As::text) name_family(set, options.name, streams);
    } else {
        print_list(rows_of(set, options.name), options, streams);
    }
    return ExitCode::clean;
}

}  // namespace

ExitCode run(const RulesOptions& options, Streams& streams) {
    // What is wrong with a file is said below the list, where it can be seen.
    std::ostringstream said;
    Streams quiet{streams.in, streams.out, said, streams.colour, streams.width};
    const auto loaded = load_rules(options.rule_files, quiet);
    auto code = loaded.code;
    if (loaded.rules) {
        code = worse(code, answer(*loaded.rules, options, streams));
        print_diagnostics(rules::lint_rules(*loaded.rules), loaded.sources, quiet);
        print_diagnostics(pipeline::refused_examples(*loaded.rules), loaded.sources, quiet);
    }
    streams.out.flush();
    streams.err << said.str();
    return code;
}

}  // namespace relead::cli
