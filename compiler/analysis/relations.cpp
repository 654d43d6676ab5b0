#include "analysis/relations.h"

#include <array>
#include <span>

#include "analysis/tables/chord_relations.h"

namespace relead::analysis {
namespace {

constexpr int any = 0xffff;

constexpr int sound_bit(std::string_view word) {
    constexpr std::string_view words[] = {"maj", "min7", "hdim", "min", "dom", "sus", "dim"};
    if (word == "any") return any;
    for (int i = 0; i < 7; ++i)
        if (words[i] == word) return 1 << i;
    return 0;
}

constexpr int step_bit(std::string_view word) {
    if (word == "any") return any;
    int value = 0;
    for (const char c : word) value = 10 * value + (c - '0');
    return 1 << value;
}

struct Pattern {
    int from = 0;
    int up = 0;
    int to = 0;
};

constexpr std::size_t rows = std::size(tables::chord_relation_rows);

constexpr std::array<Pattern, rows> make_patterns() {
    std::array<Pattern, rows> patterns{};
    for (std::size_t i = 0; i < rows; ++i) {
        const auto& row = tables::chord_relation_rows[i];
        for (const auto word : row.from) patterns[i].from |= sound_bit(word);
        for (const auto word : row.up) patterns[i].up |= step_bit(word);
        for (const auto word : row.to) patterns[i].to |= sound_bit(word);
    }
    return patterns;
}

constexpr auto patterns = make_patterns();

constexpr bool all_words_known() {
    for (const auto& pattern : patterns)
        if (pattern.from == 0 || pattern.up == 0 || pattern.to == 0) return false;
    return patterns[rows - 1].from == any && patterns[rows - 1].up == any && patterns[rows - 1].to == any;
}
static_assert(all_words_known(), "chord-relations.txt: an unknown sound, or no last row for everything");

}  // namespace

Step step_between(const Heard& from, const Heard& to) {
    const int interval = semitones_up(from, to);
    const int from_bit = 1 << static_cast<int>(from.sound);
    const int to_bit = 1 << static_cast<int>(to.sound);
    if (interval == 0 && from.sound == to.sound) return {-1, false, true};
    for (std::size_t i = 0; i < rows; ++i) {
        const auto& pattern = patterns[i];
        if ((pattern.from & from_bit) && (pattern.up & (1 << interval)) && (pattern.to & to_bit)) {
            const auto& row = tables::chord_relation_rows[i];
            return {static_cast<int>(i), row.resolves != 0, row.relation == "same chord"};
        }
    }
    return {static_cast<int>(rows) - 1, false, false};
}

std::string_view step_name(int row) {
    return row < 0 ? "same chord" : tables::chord_relation_rows[static_cast<std::size_t>(row)].relation;
}

std::string_view step_name(const Step& step) {
    return step_name(step.row);
}

int step_count() {
    return static_cast<int>(rows);
}

}  // namespace relead::analysis
