// Catch2 v2's runner, compiled once for all test binaries (v3 brings its own).
#define CATCH_CONFIG_MAIN
#include <catch2/catch.hpp>
