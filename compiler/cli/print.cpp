#include "cli/print.h"

#include <ostream>

#include "text/render.h"

namespace relead::cli {

ExitCode exit_code_of(const Diagnostics& diagnostics) {
    auto code = ExitCode::clean;
    for (const auto& diagnostic : diagnostics) {
        if (diagnostic.severity != Severity::error) continue;
        const bool is_io = diagnostic.code.substr(0, 3) == "io-";
        // What stands in no text was said on the command line.
        const bool is_wish = diagnostic.span.source == nowhere.source;
        code = worse(code, is_io ? ExitCode::io : is_wish ? ExitCode::usage : ExitCode::input);
    }
    return code;
}

ExitCode print_diagnostics(const Diagnostics& diagnostics, std::span<const text::Source> sources,
                           Streams& streams) {
    if (!diagnostics.empty()) {
        streams.out.flush();
        streams.err << text::render_all(diagnostics, sources, {streams.colour, streams.width});
    }
    return exit_code_of(diagnostics);
}

}  // namespace relead::cli
