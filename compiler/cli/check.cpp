// relead check FILES… [--as json] [--dump STAGE]
#include <ostream>
#include <utility>
#include <vector>

#include "base/fmt.h"
#include "cli/commands.h"
#include "cli/input.h"
#include "cli/print.h"
#include "formats/json/write.h"
#include "pipeline/read.h"
#include "pipeline/stages.h"
#include "report/summary.h"

namespace relead::cli {

namespace {

struct Checked {
    std::string name;
    std::optional<text::Source> source;  // what messages show
    std::optional<tune::Tune> tune;
    Diagnostics diagnostics;
};

Checked check_one(const std::string& path, Streams& streams) {
    auto input = open_text(path, streams);
    Checked checked{path, std::move(input.shown), std::nullopt, std::move(input.diagnostics)};
    if (!input.source) return checked;
    auto outcome = pipeline::read_tune(*input.source);
    checked.tune = std::move(outcome.value);
    checked.diagnostics.insert(checked.diagnostics.end(), outcome.diagnostics.begin(),
                               outcome.diagnostics.end());
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
    auto code = ExitCode::clean;
    std::vector<formats::json::CheckedFile> rows;
    for (const auto& file : options.files) {
        auto checked = check_one(file, streams);
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
