#include "tune/check.h"
void relead::tune::check_plans(const Tune&, text::Sink&) {}
