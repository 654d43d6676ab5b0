// The edges of a command: where it reads and prints. Tests pass string streams.
#pragma once

#include <iosfwd>

namespace relead::cli {

struct Streams {
    std::istream& in;
    std::ostream& out;
    std::ostream& err;
    bool colour = false;  ///< out and err are terminals and NO_COLOR is not set
    int width = 100;      ///< columns of the terminal
};

}  // namespace relead::cli
