// The one way to include {fmt}: header-only, so that no object of it is linked.
#pragma once

#ifndef FMT_HEADER_ONLY
#define FMT_HEADER_ONLY
#endif
#include <fmt/format.h>
