#include <cstdlib>
#include <iostream>
#include <string_view>
#include <sys/ioctl.h>
#include <unistd.h>
#include <variant>
#include <vector>

#include "cli/arguments.h"
#include "cli/commands.h"

namespace {

bool wants_colour() {
    const char* no_colour = std::getenv("NO_COLOR");
    const char* terminal = std::getenv("TERM");
    return isatty(STDOUT_FILENO) != 0 && isatty(STDERR_FILENO) != 0 &&
           (no_colour == nullptr || *no_colour == '\0') &&
           std::string_view(terminal != nullptr ? terminal : "dumb") != "dumb";
}

int terminal_width() {
    winsize size{};
    if (ioctl(STDOUT_FILENO, TIOCGWINSZ, &size) == 0 && size.ws_col >= 40) return size.ws_col;
    return 100;
}

}  // namespace

int main(int argc, char** argv) {
    std::ios::sync_with_stdio(false);
    const auto arguments = relead::cli::read_arguments({argv + 1, argv + argc});
    if (!arguments.command) {
        (arguments.message_is_error ? std::cerr : std::cout) << arguments.message;
        return static_cast<int>(arguments.code);
    }
    relead::cli::Streams streams{std::cin, std::cout, std::cerr, wants_colour(), terminal_width()};
    const auto code = std::visit([&](const auto& options) { return relead::cli::run(options, streams); },
                                 *arguments.command);
    std::cout.flush();
    if (!std::cout) {
        std::cerr << "relead: the output could not be written.\n";
        return static_cast<int>(relead::cli::ExitCode::io);
    }
    return static_cast<int>(code);
}
