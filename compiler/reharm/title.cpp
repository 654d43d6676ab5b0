#include "reharm/title.h"

#include <cctype>

namespace relead::reharm {

std::string title_inside(std::string title) {
    const bool word = title.size() > 1 && std::islower(static_cast<unsigned char>(title[1])) != 0;
    if (word) title.front() = static_cast<char>(std::tolower(static_cast<unsigned char>(title.front())));
    return title;
}

}  // namespace relead::reharm
