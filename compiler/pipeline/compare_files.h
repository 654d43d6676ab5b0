// The files of a comparison.
#pragma once

#include <string>
#include <vector>

#include "pipeline/compare.h"

namespace relead::pipeline {

struct CompareSheets {
    std::vector<const theory::Instrument*> instruments;  ///< besides concert pitch; each gets its own slip
    bool guide_tones = false;                            ///< guide-tone lines on small staves
    bool compressed = false;                             ///< .mxl instead of .musicxml
};

/// stem.compare.musicxml, stem.slip.musicxml, stem.slip.alto-sax.musicxml, stem.compare.html,
/// stem.written.mid, stem.mild.mid.
[[nodiscard]] Outcome<std::vector<File>> compare_files(const Compared& compared, const std::string& stem,
                                                       const CompareSheets& sheets);

}  // namespace relead::pipeline
