#include "tune/split.h"

#include <algorithm>

namespace relead::tune {
namespace {

constexpr std::size_t most_readings = 4;

const char* push_sign(syntax::Push push) {
    switch (push) {
        case syntax::Push::eighth_early:
            return "<";
        case syntax::Push::quarter_early:
            return "<<";
        case syntax::Push::eighth_late:
            return ">";
        case syntax::Push::none:
            break;
    }
    return "";
}

}  // namespace

std::optional<std::vector<Beats>> share_evenly(Beats beats, int count, const std::vector<int>& groups) {
    const auto size = static_cast<std::size_t>(count);
    if (groups.size() == size && size > 1) {
        Beats sum = 0;
        for (const int group : groups) sum += group;
        if (sum == beats) return std::vector<Beats>(groups.begin(), groups.end());
    }
    const auto share = beats / Beats(count);
    const bool clear = count == 1 || share.is_whole() || (beats.is_whole() && (Beats(1) / share).is_whole());
    if (!clear) return std::nullopt;
    return std::vector<Beats>(size, share);
}

std::vector<std::vector<Beats>> possible_shares(const Meter& meter, Beats beats, int count) {
    if (count < 1) return {};
    Beats unit = 1;
    if (meter.is_compound() && beats < Beats(count)) unit = Beats(1, 3);
    while (beats / unit < Beats(count)) unit = unit / Beats(2);
    const auto units = beats / unit;
    if (!units.is_whole()) return {};
    const auto size = static_cast<std::size_t>(count);
    const auto longer = static_cast<std::size_t>(units.numerator() % count);
    const auto shorter_share = unit * Beats(units.numerator() / count);
    std::vector<bool> is_longer(size, false);
    std::fill_n(is_longer.begin(), longer, true);
    std::vector<std::vector<Beats>> readings;
    do {
        std::vector<Beats> shares(size, shorter_share);
        for (std::size_t i = 0; i < size; ++i)
            if (is_longer[i]) shares[i] += unit;
        readings.push_back(std::move(shares));
    } while (readings.size() < most_readings && std::prev_permutation(is_longer.begin(), is_longer.end()));
    return readings;
}

std::string write_shares(const std::vector<syntax::ChordWord>& words, const std::vector<Beats>& shares) {
    const bool whole =
        std::all_of(shares.begin(), shares.end(), [](Beats share) { return share.is_whole(); });
    std::string text;
    std::size_t at = 0;
    for (const auto& word : words) {
        if (word.kind != syntax::ChordWord::Kind::chord || at == shares.size()) continue;
        const auto share = shares[at++];
        if (!text.empty()) text += ' ';
        text += push_sign(word.push) + word.symbol;
        if (!whole || share != Beats(1)) text += '*' + share.to_string();
        if (word.locked) text += '!';
    }
    return text;
}

}  // namespace relead::tune
