// What a fuzz target does when a promise is broken: say which, and stop so that the input is kept.
#pragma once

#include <cstdio>
#include <cstdlib>

inline void promise(bool kept, const char* what) {
    if (kept) return;
    std::fprintf(stderr, "broken promise: %s\n", what);
    std::abort();
}
