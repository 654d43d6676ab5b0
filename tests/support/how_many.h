// How many cases a long property test tries.
#pragma once

#include <cstdlib>
#include <string>

namespace relead::testing {

/// `optimised` cases where the compiler optimises, fewer where it does not (sanitizers, debugging), or as
/// many as the environment variable says.
inline unsigned how_many(const char* variable, unsigned optimised, unsigned otherwise) {
    if (const char* const asked = std::getenv(variable)) {
        const auto count = std::strtoul(asked, nullptr, 10);
        if (count > 0) return static_cast<unsigned>(count);
    }
#ifdef NDEBUG
    static_cast<void>(otherwise);
    return optimised;
#else
    static_cast<void>(optimised);
    return otherwise;
#endif
}

}  // namespace relead::testing
