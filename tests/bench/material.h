// Tunes to measure: the samples, and tunes made from phrases that every player knows, in several styles.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "tune/tune.h"

namespace relead::bench {

struct Piece {
    std::string name;
    tune::Tune tune;  ///< without its plans: what is measured is the free choice
};

/// samples/tunes/*.tune in the order of their names.
[[nodiscard]] std::vector<Piece> sample_pieces();

enum class Style { major, minor, waltz, fast, dense, blues, vamp, bare };
[[nodiscard]] std::string_view to_string(Style style);

/// A tune of a style; the same for the same seed. `bare` has no melody, `dense` two chords in every bar.
[[nodiscard]] Piece made_piece(Style style, std::uint32_t seed);
/// `each` tunes of every style.
[[nodiscard]] std::vector<Piece> made_pieces(int each);
/// One section of `bars` bars (a multiple of 8), played once.
[[nodiscard]] tune::Tune long_tune(int bars, std::uint32_t seed);

}  // namespace relead::bench
