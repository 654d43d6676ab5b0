#include "arrange/form_blocks.h"

#include <algorithm>
#include <optional>

namespace relead::arrange {

namespace {

constexpr std::size_t longest_ending = 4;  // bars
constexpr std::size_t widest_repeat = 16;  // units

bool same_bars(const FormUnit& a, const FormUnit& b) {
    return a.section == b.section && a.bars == b.bars;
}

/// Number of bars at the start that all passes of the last unit share; every pass keeps one for its
/// ending unless all are equal.
std::size_t common_start(std::span<const FormUnit* const> passes) {
    std::size_t common = passes.front()->bars.size();
    for (const auto* pass : passes) {
        const auto& first = passes.front()->bars;
        const auto differs = std::mismatch(first.begin(), first.end(), pass->bars.begin(), pass->bars.end());
        common = std::min(common, static_cast<std::size_t>(differs.first - first.begin()));
    }
    const bool equal = std::all_of(passes.begin(), passes.end(),
                                   [&](const FormUnit* pass) { return pass->bars == passes.front()->bars; });
    if (equal) return common;
    for (const auto* pass : passes) common = std::min(common, pass->bars.size() - 1);
    return common;
}

std::optional<std::vector<BlockEnding>> endings(std::span<const FormUnit* const> passes, std::size_t common) {
    std::vector<BlockEnding> found;
    int number = 1;
    for (const auto* pass : passes) {
        std::vector<int> rest(pass->bars.begin() + static_cast<std::ptrdiff_t>(common), pass->bars.end());
        if (rest.size() > longest_ending) return std::nullopt;
        if (!found.empty() && found.back().bars == rest) {
            found.back().last_pass = number;
        } else {
            found.push_back({number, number, std::move(rest)});
        }
        ++number;
    }
    if (found.size() == 1 && found.front().bars.empty()) found.clear();
    return found;
}

std::optional<FormBlock> repeat_block(std::span<const FormUnit> units, std::size_t first, std::size_t width,
                                      int passes) {
    FormBlock block{first, width, passes, 0, {}};
    if (first + block.units() > units.size()) return std::nullopt;
    std::vector<const FormUnit*> last_units;
    for (int pass = 0; pass < passes; ++pass) {
        const auto start = first + static_cast<std::size_t>(pass) * width;
        for (std::size_t i = 0; i < width; ++i) {
            const auto& unit = units[start + i];
            if (unit.repeats_inside || unit.section != units[first + i].section) return std::nullopt;
            if (i + 1 < width && !same_bars(unit, units[first + i])) return std::nullopt;
        }
        last_units.push_back(&units[start + width - 1]);
    }
    block.common = common_start(last_units);
    auto brackets = endings(last_units, block.common);
    if (!brackets || (block.common == 0 && width == 1 && !brackets->empty())) return std::nullopt;
    block.endings = std::move(*brackets);
    return block;
}

struct Cost {
    std::size_t bars = 0;
    std::size_t signs = 0;
    friend auto operator<=>(const Cost&, const Cost&) = default;
    friend Cost operator+(Cost a, Cost b) { return {a.bars + b.bars, a.signs + b.signs}; }
};

Cost cost_of(std::span<const FormUnit> units, const FormBlock& block) {
    return {written_bars(units, block), block.passes > 1 ? 1 + block.endings.size() : 0};
}

/// All blocks that may begin at `first`, the plain unit first.
std::vector<FormBlock> candidates(std::span<const FormUnit> units, std::size_t first) {
    std::vector<FormBlock> found{{first, 1, 1, units[first].bars.size(), {}}};
    for (std::size_t width = 1; width <= widest_repeat && first + 2 * width <= units.size(); ++width) {
        for (int passes = 2;; ++passes) {
            auto block = repeat_block(units, first, width, passes);
            if (!block) break;
            found.push_back(std::move(*block));
        }
    }
    return found;
}

}  // namespace

std::size_t written_bars(std::span<const FormUnit> units, const FormBlock& block) {
    std::size_t bars = block.common;
    for (std::size_t i = 0; i + 1 < block.width; ++i) bars += units[block.first + i].bars.size();
    for (const auto& ending : block.endings) bars += ending.bars.size();
    return bars;
}

std::vector<FormBlock> form_blocks(std::span<const FormUnit> units) {
    std::vector<Cost> rest(units.size() + 1);
    std::vector<FormBlock> choice(units.size());
    for (std::size_t first = units.size(); first-- > 0;) {
        bool any = false;
        for (auto& block : candidates(units, first)) {
            const auto cost = cost_of(units, block) + rest[first + block.units()];
            if (any && !(cost < rest[first])) continue;
            any = true;
            rest[first] = cost;
            choice[first] = std::move(block);
        }
    }
    std::vector<FormBlock> blocks;
    for (std::size_t first = 0; first < units.size(); first += blocks.back().units()) {
        blocks.push_back(choice[first]);
    }
    return blocks;
}

}  // namespace relead::arrange
