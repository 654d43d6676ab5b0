#include "cli/wish.h"

#include <ostream>
#include <utility>

#include "base/fmt.h"
#include "cli/input.h"
#include "cli/print.h"
#include "rules/read_rules.h"

namespace relead::cli {

LoadedRules load_rules(const std::vector<std::string>& files, Streams& streams) {
    LoadedRules loaded{rules::built_in_rules(), ExitCode::clean, {}};
    std::uint32_t index = 1;  // 0 is the tune
    for (const auto& file : files) {
        const auto input = open_text_or_say(file, streams, index);
        if (!input.source) return {std::nullopt, input.code, {}};
        auto read = rules::read_rules(*input.source, *loaded.rules);
        loaded.code = worse(loaded.code, print_diagnostics(read.diagnostics, {&*input.source, 1}, streams));
        if (!read.value) return {std::nullopt, worse(loaded.code, ExitCode::input), {}};
        loaded.rules = std::move(read.value);
        loaded.sources.push_back(*input.source);
        ++index;
    }
    return loaded;
}

std::optional<reharm::Wish> read_wish(const WishOptions& options, Streams& streams) {
    reharm::Wish wish;
    if (!options.plan.empty()) wish.plan = options.plan;
    wish.outside = options.outside;
    wish.around = options.around;
    wish.use = options.use;
    wish.avoid = options.avoid;
    wish.depth = options.depth;
    for (const auto& word : options.hold) {
        auto address = tune::parse_address(word);
        if (!address) {
            streams.err << fmt::format("relead: --hold takes bars such as A:1-4, not {}.\n", word);
            return std::nullopt;
        }
        wish.hold.push_back(std::move(*address));
    }
    return wish;
}

}  // namespace relead::cli
