#include "formats/text/guide_line.h"

namespace relead::formats::text {

std::string print_guide_counts(const report::GuidePairOfCounts& counts) {
    std::string text = "guide tones over one chorus\n";
    text += "  as written    " + report::guide_sentence(counts.written) + "\n";
    text += "  this version  " + report::guide_sentence(counts.version) + "\n";
    return text;
}

}  // namespace relead::formats::text
