// The written changes and a version's changes over the same bars, as neutral rows for any output.
#pragma once

#include <string>
#include <vector>

#include "tune/tune.h"

namespace relead::report {

/// One bar of both. `now` is empty where nothing changed.
struct BarPair {
    int number = 1;   ///< printed number within its section; 0 for a pickup
    std::string was;  ///< "Gm7 C7", with beats where they are uneven: "Gm7*3 C7"
    std::string now;
    std::string ending;  ///< "1", "2,3", "last" on the first bar of an ending
};

struct SectionPair {
    std::string name;
    int playing = 0;  ///< 1-based when the version plays this section differently each time, else 0
    std::vector<BarPair> bars;
};

enum class Reader { band, soloist };

/// Aligned by section and bar where the version keeps the tune's sections, else by playing order.
/// For a soloist's version `now` is the soloist's row, also where the author wrote it.
[[nodiscard]] std::vector<SectionPair> side_by_side(const tune::Tune& written, const tune::Tune& version,
                                                    Reader reader = Reader::band);

/// Some bar has something in its lower row.
[[nodiscard]] bool has_second_row(const std::vector<SectionPair>& sections);

/// The chords of a bar as a musician writes them in one cell.
[[nodiscard]] std::string cell_text(const std::vector<tune::ChordEvent>& chords, const tune::Meter& meter);

}  // namespace relead::report
