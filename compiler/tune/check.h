// The checks of a whole tune, one function a subject. Each only reports; none changes the tune.
#pragma once

#include "syntax/tune_tree.h"
#include "text/diagnose.h"
#include "text/limits.h"
#include "tune/tune.h"

namespace relead::tune {

/// Repeats and endings of each section, and endings against how often the section is played.
void check_repeats(const Tune& tune, const Limits& limits, text::Sink& sink);
/// Segno, coda, fine, D.C. and D.S.; a `form` beside them; sections that are never played; the length
/// in playing order.
void check_order(const Tune& tune, const Limits& limits, text::Sink& sink);
/// Ties, and notes that no instrument has.
void check_melody(const Tune& tune, text::Sink& sink);
/// Plans and what the running line names.
void check_plans(const Tune& tune, text::Sink& sink);
/// Says when an address is not in the tune; true when it is.
bool check_address(const Tune& tune, const Address& address, text::Sink& sink);

}  // namespace relead::tune
