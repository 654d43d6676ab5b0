// relead check FILES… [--rules FILE] [--as json] [--dump STAGE]
#include <iterator>
#include <ostream>
#include <utility>
#include <vector>

#include "base/fmt.h"
#include "cli/commands.h"
#include "cli/input.h"
#include "cli/print.h"
#include "cli/wish.h"
#include "formats/json/write.h"
#include "pipeline/read.h"
#include "pipeline/stages.h"
#include "reharm/rule_names.h"
#include "reharm/takes.h"
#include "report/summary.h"

namespace relead::cli {

namespace {

struct Checked {
    std::string name;
    std::optional<text::Source> source;  // what messages show
    std::optional<tune::Tune> tune;
    Diagnostics diagnostics;
};

/// The rules that plans may name.
struct Known {
    rules::RuleSet rules;
    text::Code code;  ///< of a name that is not among them: without files of the user's it may be in one
};

void append(Diagnostics& all, Diagnostics more) {
    all.insert(all.end(), std::make_move_iterator(more.begin()), std::make_move_iterator(more.end()));
}

Checked check_one(const std::string& path, const Known& known, Streams& streams) {
    auto input = open_text(path, streams);
    Checked checked{path, std::move(input.shown), std::nullopt, std::move(input.diagnostics)};
    if (!input.source) return checked;
    auto outcome = pipeline::read_tune(*input.source);
    checked.tune = std::move(outcome.value);
    append(checked.diagnostics, std::move(outcome.diagnostics));
    if (!checked.tune) return checked;
    auto unknown = reharm::unknown_rule_names(*checked.tune, known.rules, known.code);
    const bool all_known = unknown.empty() && !has_errors(checked.diagnostics);
    append(checked.diagnostics, std::move(unknown));
    if (all_known)
        append(checked.diagnostics,
               reharm::denied_takes(*checked.tune, analysis::analyse(*checked.tune), known.rules));
    return checked;
}

void print_text(const Checked& checked, Streams& streams) {
    if (checked.source) {
        print_diagnostics(checked.diagnostics, {&*checked.source, 1}, streams);
    } else {
        print_diagnostics(checked.diagnostics, {}, streams);
    }
    if (checked.tune && !has_errors(checked.diagnostics)) {
        streams.out << fmt::format("{}: {}\n", checked.name, report::summary(*checked.tune));
    }
}

ExitCode dump(const CheckOptions& options, Streams& streams) {
    const auto* stage = pipeline::find_stage(options.dump);
    auto code = ExitCode::clean;
    for (const auto& file : options.files) {
        const auto input = open_text_or_say(file, streams);
        code = worse(code, input.code);
        if (!input.source) continue;
        const auto made = stage->dump(*input.source, {});
        if (made.value) streams.out << *made.value;
        code = worse(code, print_diagnostics(made.diagnostics, {&*input.source, 1}, streams));
    }
    return code;
}

}  // namespace

ExitCode run(const CheckOptions& options, Streams& streams) {
    if (!options.dump.empty()) return dump(options, streams);
    auto loaded = load_rules(options.rule_files, streams);
    if (!loaded.rules) return loaded.code;
    const Known known{std::move(*loaded.rules),
                      options.rule_files.empty() ? text::Code::rule_not_built_in : text::Code::unknown_rule};
    auto code = loaded.code;
    std::vector<formats::json::CheckedFile> rows;
    for (const auto& file : options.files) {
        auto checked = check_one(file, known, streams);
        code = worse(code, exit_code_of(checked.diagnostics));
        if (options.as == As::text) {
            print_text(checked, streams);
        } else {
            rows.push_back({checked.name, std::move(checked.source), std::move(checked.diagnostics)});
        }
    }
    if (options.as == As::json) streams.out << formats::json::check_document(rows);
    return code;
}

}  // namespace relead::cli
