#include "theory/scale.h"

#include <algorithm>
#include <iterator>

#include "theory/tables/scales.h"

namespace relead::theory {

std::vector<Scale> scales() {
    std::vector<Scale> out;
    for (const auto& row : tables::scale_rows) out.push_back({row.name, row.degrees});
    return out;
}

std::optional<Scale> find_scale(std::string_view name) {
    for (const auto& row : tables::scale_rows)
        if (row.name == name) return Scale{row.name, row.degrees};
    return std::nullopt;
}

std::optional<Scale> scale_for(const Chord& chord) {
    if (chord.is_none()) return std::nullopt;
    const auto name = quality_name(chord.quality);
    for (const auto& row : tables::scale_rows)
        if (std::find(row.goes_with.begin(), row.goes_with.end(), name) != row.goes_with.end())
            return Scale{row.name, row.degrees};
    return std::nullopt;
}

std::vector<NoteName> notes_of(const Scale& scale, NoteName root) {
    std::vector<NoteName> out;
    for (const Degree d : scale.degrees) out.push_back(root + interval_of_degree(d.number, d.alteration));
    return out;
}

}  // namespace relead::theory
