// The row groups of a section as bars.
#pragma once

#include <vector>

#include "syntax/tune_tree.h"
#include "text/diagnose.h"
#include "tune/tune.h"

namespace relead::tune {

/// What a section starts from: the header's statements.
struct Opening {
    theory::Key key;
    bool open_key = false;
    Meter meter;
    Tempo tempo;
};

[[nodiscard]] Meter lower_meter(const syntax::MeterLine& line);
[[nodiscard]] Tempo lower_tempo(const syntax::TempoLine& line);

/// Where the reader of the text reported errors; sums of those bars are not checked again.
using Reported = std::vector<Span>;

[[nodiscard]] Section lower_section(const syntax::Section& tree, const Opening& opening,
                                    const Reported& reported, text::Sink& sink);

}  // namespace relead::tune
