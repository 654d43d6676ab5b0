#include "tune/check.h"
void relead::tune::check_melody(const Tune&, text::Sink&) {}
