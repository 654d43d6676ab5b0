// relead explain TUNE [--as text|json]
#include <ostream>
#include <utility>

#include "cli/commands.h"
#include "cli/input.h"
#include "cli/print.h"
#include "cli/wish.h"
#include "formats/json/write.h"
#include "formats/text/explanation.h"
#include "pipeline/read.h"
#include "report/explanation.h"

namespace relead::cli {

ExitCode run(const ExplainOptions& options, Streams& streams) {
    const auto input = open_text_or_say(options.file, streams);
    if (!input.source) return input.code;
    auto tune = pipeline::read_tune(*input.source);
    tune.diagnostics = without_plan_question(std::move(tune.diagnostics));
    const auto code = print_diagnostics(tune.diagnostics, {&*input.source, 1}, streams);
    // A bar that does not add up takes nothing from the others: what could be read is explained.
    if (!tune.value) return worse(code, ExitCode::input);
    const auto explanation = report::explain(*tune.value, analysis::analyse(*tune.value));
    streams.out << (options.as == As::json
                        ? formats::json::explain_document(explanation)
                        : formats::text::print_explanation(explanation, {streams.colour, streams.width}));
    return tune.clean() ? code : worse(code, ExitCode::input);
}

}  // namespace relead::cli
