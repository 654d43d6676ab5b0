// The form on paper: which written bars stand on the sheet, in which order, with which repeats,
// endings and jumps. Read with its signs (score/play_order.h) the sheet gives what the tune plays.
//
// - A tune by signs is printed as it is written.
// - A tune with `form` is worked out: equal neighbours become a repeat, with endings where only their
//   last bars differ (at most four bars an ending); everything else is written out. Where the last
//   chorus ends differently, the sheet holds both: the whole form is repeated with a last ending.
// - D.S. and D.C. replace music that would be written out again only as the wish says.
// - Vamps and intros that only the running order names stand where it plays them.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "arrange/lead_sheet.h"
#include "score/measure.h"
#include "tune/tune.h"

namespace relead::arrange {

/// A written bar on the sheet with the signs around it.
struct SheetBar {
    int section = 0;
    int bar = 0;  ///< index into Section::bars
    bool opens_section = false;
    std::string mark;  ///< rehearsal mark, where a section opens
    bool repeat_begins = false;
    int repeat_ends = 0;  ///< playings in all; 0 = no sign
    std::optional<score::Ending> ending;
    score::EndingStop ending_stop = score::EndingStop::none;
    bool closes_section = false;
    std::vector<score::Direction> signs;  ///< segno, coda, jumps: kind, words and target; no time yet
};

/// A bar as it is played.
struct FormBar {
    int section = 0;
    int bar = 0;
    friend bool operator==(const FormBar&, const FormBar&) = default;
};

struct SheetForm {
    std::vector<SheetBar> bars;
    /// What the signs must unfold to: vamps and intros, one chorus, and the last chorus if it differs.
    std::vector<FormBar> playing;
};

[[nodiscard]] SheetForm work_out_form(const tune::Tune& tune, Jumps jumps);

/// The bars of a form as measures that carry nothing but number and signs.
[[nodiscard]] std::vector<score::Measure> sign_measures(const tune::Tune& tune, const SheetForm& form);

}  // namespace relead::arrange
