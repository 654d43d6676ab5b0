#include "tune/check.h"
void relead::tune::check_repeats(const Tune&, const Limits&, text::Sink&) {}
void relead::tune::check_order(const Tune&, const Limits&, text::Sink&) {}
void relead::tune::check_melody(const Tune&, text::Sink&) {}
