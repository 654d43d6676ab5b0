// The one table of limits is part of the public API.
#pragma once

#include <relead/limits.h>
