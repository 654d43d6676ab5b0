// The command line, read. The only file that includes the option library is arguments.cpp.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "cli/exit_code.h"
#include "cli/options.h"

namespace relead::cli {

/// Either a command, or a text to print (help, version, usage error) with its exit code.
struct Arguments {
    std::optional<Command> command;
    std::string message;
    bool message_is_error = false;
    ExitCode code = ExitCode::clean;
};

/// `words` without the program name.
[[nodiscard]] Arguments read_arguments(std::vector<std::string> words);

}  // namespace relead::cli
