#include "cli/input.h"

#include <utility>

#include "cli/files.h"
#include "cli/print.h"

namespace relead::cli {

Input open_text(const std::string& path, Streams& streams, std::uint32_t index) {
    auto bytes = read_file(path, streams);
    if (!bytes.value) {
        const auto code = exit_code_of(bytes.diagnostics);
        return {std::nullopt, std::nullopt, code, std::move(bytes.diagnostics)};
    }
    const std::string name = path == "-" ? "standard input" : path;
    auto source = text::read_source(name, *bytes.value, {}, index);
    const auto code = source.value ? ExitCode::clean : exit_code_of(source.diagnostics);
    auto shown = source.value;
    if (!shown) shown = text::readable_source(name, std::move(*bytes.value), {}, index);
    return {std::move(source.value), std::move(shown), code, std::move(source.diagnostics)};
}

Input open_text_or_say(const std::string& path, Streams& streams, std::uint32_t index) {
    auto input = open_text(path, streams, index);
    if (input.shown) {
        print_diagnostics(input.diagnostics, {&*input.shown, 1}, streams);
    } else {
        print_diagnostics(input.diagnostics, {}, streams);
    }
    return input;
}

}  // namespace relead::cli
