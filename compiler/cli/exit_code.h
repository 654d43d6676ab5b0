// What a command's exit status means.
#pragma once

namespace relead::cli {

enum class ExitCode : int {
    clean = 0,
    input = 1,  ///< something is wrong in a text that was read
    usage = 2,  ///< the command line cannot be understood, or asks for what the tune or the rules do not have
    io = 3,     ///< a file cannot be read or written
    book_partly_built = 4,
};

/// The worse of two: io over usage over input over clean.
[[nodiscard]] constexpr ExitCode worse(ExitCode a, ExitCode b) {
    return static_cast<int>(a) > static_cast<int>(b) ? a : b;
}

}  // namespace relead::cli
