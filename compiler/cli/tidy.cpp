// relead tidy FILE [--write] [--to KEY]
#include "pipeline/tidy.h"

#include <optional>
#include <ostream>
#include <utility>

#include "base/fmt.h"
#include "cli/commands.h"
#include "cli/files.h"
#include "cli/input.h"
#include "cli/print.h"

namespace relead::cli {

ExitCode run(const TidyOptions& options, Streams& streams) {
    if (options.write && options.file == "-") {
        streams.err << "relead: --write needs a file; standard input cannot be rewritten.\n";
        return ExitCode::usage;
    }
    const auto input = open_text_or_say(options.file, streams);
    if (!input.source) return input.code;
    const auto tidied = pipeline::tidy(*input.source, options.to_key);
    const auto code = print_diagnostics(tidied.diagnostics, {&*input.source, 1}, streams);
    // A text that was not wholly understood is never rewritten: what was skipped would be lost.
    if (!tidied.clean()) {
        if (options.write) streams.err << fmt::format("{} was left as it is.\n", options.file);
        return code;
    }
    if (!options.write) {
        streams.out << *tidied.value;
        return code;
    }
    const auto written = replace_file(options.file, *tidied.value);
    if (!written.value) return print_diagnostics(written.diagnostics, {}, streams);
    const bool same = written.value->how == Written::How::unchanged;
    streams.out << fmt::format("{} {}.\n", options.file, same ? "is tidy already" : "is tidy now");
    return code;
}

}  // namespace relead::cli
