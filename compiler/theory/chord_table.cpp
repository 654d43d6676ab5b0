#include "theory/chord_table.h"

#include <algorithm>
#include <array>
#include <iterator>

namespace relead::theory {

// Word of the folding table.
enum class Notice { none, remark };

}  // namespace relead::theory

#include "theory/tables/chord_folding.h"
#include "theory/tables/chord_remarks.h"
#include "theory/tables/chord_table.h"

namespace relead::theory {

QualityRow quality_row(QualityId quality) {
    const auto& row = tables::chord_rows[quality.row < std::size(tables::chord_rows) ? quality.row : 0];
    return {row.name,  row.spellings, row.degrees, row.guides,  row.chord_class, row.tensions,
            row.avoid, row.kind,      row.text,    row.harmony, row.line};
}

std::size_t quality_count() {
    return std::size(tables::chord_rows);
}

std::vector<Spelling> all_spellings() {
    std::vector<Spelling> out;
    out.reserve(std::size(tables::chord_by_spelling));
    for (const auto& entry : tables::chord_by_spelling) out.push_back({entry.text, {entry.row}});
    return out;
}

std::optional<QualityId> find_spelling(std::string_view folded) {
    const auto* const found =
        std::lower_bound(std::begin(tables::chord_by_spelling), std::end(tables::chord_by_spelling), folded,
                         [](const auto& entry, std::string_view text) { return entry.text < text; });
    if (found == std::end(tables::chord_by_spelling) || found->text != folded) return std::nullopt;
    return QualityId{found->row};
}

std::optional<QualityId> find_quality(std::string_view spelling) {
    return find_spelling(fold_chord_signs(spelling).text);
}

FoldedWord fold_chord_signs(std::string_view word) {
    FoldedWord out;
    std::size_t at = 0;
    while (at < word.size()) {
        if (static_cast<unsigned char>(word[at]) < 0x80) {  // every sign of the table is outside ASCII
            out.text += word[at];
            out.origin.push_back(at++);
            continue;
        }
        const auto* const sign =
            std::find_if(std::begin(tables::chord_folding_rows), std::end(tables::chord_folding_rows),
                         [&](const auto& row) { return word.substr(at, row.sign.size()) == row.sign; });
        const bool known = sign != std::end(tables::chord_folding_rows);
        const std::string_view read_as = known ? sign->read_as : word.substr(at, 1);
        if (known && sign->notice == Notice::remark) out.noticed.push_back(sign->sign);
        out.text += read_as;
        out.origin.insert(out.origin.end(), read_as.size(), at);
        at += known ? sign->sign.size() : 1;
    }
    out.origin.push_back(word.size());
    return out;
}

std::string_view remark_for(std::string_view folded_spelling) {
    for (const auto& row : tables::chord_remarks_rows)
        if (row.spelling == folded_spelling) return row.sentence;
    return {};
}

int semitones_above_root(Degree degree) {
    const int semitones = interval_of_degree(degree.number, degree.alteration).semitones() % 12;
    return semitones < 0 ? semitones + 12 : semitones;
}

Degree tension_degree(int semitones) {
    constexpr std::array<Degree, 12> names = {{{1, 0},
                                               {9, -1},
                                               {9, 0},
                                               {9, 1},
                                               {3, 0},
                                               {11, 0},
                                               {11, 1},
                                               {5, 0},
                                               {13, -1},
                                               {13, 0},
                                               {7, -1},
                                               {7, 0}}};
    return names[static_cast<std::size_t>(((semitones % 12) + 12) % 12)];
}

}  // namespace relead::theory
