#include "cli/sheets.h"

#include <algorithm>
#include <filesystem>
#include <ostream>

#include "base/fmt.h"
#include "cli/wish.h"

namespace relead::cli {

namespace {

std::string all_instruments() {
    std::string text;
    const auto all = theory::instruments();
    for (std::size_t i = 0; i < all.size(); ++i)
        text += fmt::format("{}{}", i == 0 ? "" : i + 1 == all.size() ? " and " : ", ", all[i].id);
    return text;
}

}  // namespace

std::optional<std::vector<const theory::Instrument*>> read_instruments(const std::vector<std::string>& words,
                                                                       Streams& streams) {
    std::vector<const theory::Instrument*> instruments;
    for (const auto& word : trimmed(words)) {
        const auto* instrument = theory::find_instrument(word);
        if (instrument == nullptr) {
            const auto nearest = theory::nearest_instrument(word);
            streams.err << fmt::format("relead: no instrument is called {}.{}\n", word,
                                       nearest.empty() ? fmt::format(" There are {}.", all_instruments())
                                                       : fmt::format(" Did you mean {}?", nearest));
            return std::nullopt;
        }
        // Two names of one instrument make one sheet.
        if (std::find(instruments.begin(), instruments.end(), instrument) == instruments.end())
            instruments.push_back(instrument);
    }
    return instruments;
}

std::string stem_of(const std::string& path) {
    if (path == "-") return "tune";
    const auto stem = std::filesystem::path(path).stem().string();
    return stem.empty() ? "tune" : stem;
}

void print_written(const std::vector<Written>& written, Streams& streams) {
    constexpr std::string_view words[] = {"wrote", "wrote again", "unchanged"};
    streams.out << "\n";
    for (const auto& file : written)
        streams.out << words[static_cast<std::size_t>(file.how)] << " " << file.path << "\n";
}

}  // namespace relead::cli
