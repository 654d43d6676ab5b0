#include "cli/wish.h"

#include <algorithm>
#include <ostream>
#include <utility>

#include "base/fmt.h"
#include "cli/input.h"
#include "cli/print.h"
#include "rules/read_rules.h"
#include "text/diagnose.h"

namespace relead::cli {

namespace {

/// "A:7" for "A7", "A.7" and "A-7", "A:1-4" for "A:4-1", "A:1" for "A"; empty where nothing comes of it.
std::string address_meant(const std::string& word) {
    const auto digit = std::find_if(word.begin(), word.end(), [](char c) { return c >= '0' && c <= '9'; });
    auto section = std::string(word.begin(), digit);
    while (!section.empty() && std::string_view(":.-, ").find(section.back()) != std::string_view::npos)
        section.pop_back();
    if (section.empty()) return {};
    auto bars = std::string(digit, word.end());
    if (bars.empty() || bars == "0") bars = "1";
    if (const auto dash = bars.find('-');
        dash != std::string::npos && dash > 0 && !tune::parse_address(section + ":" + bars))
        bars = bars.substr(dash + 1) + "-" + bars.substr(0, dash);
    const auto meant = tune::parse_address(section + ":" + bars);
    return meant ? tune::to_string(*meant) : std::string();
}

}  // namespace

std::vector<std::string> trimmed(std::vector<std::string> words) {
    for (auto& word : words) {
        constexpr std::string_view blanks = " \t";
        word.erase(0, word.find_first_not_of(blanks));
        while (!word.empty() && blanks.find(word.back()) != std::string_view::npos) word.pop_back();
    }
    return words;
}

Diagnostics without_plan_question(Diagnostics diagnostics) {
    const auto question = text::info(text::Code::plans_overlap).slug;
    std::erase_if(diagnostics, [&](const Diagnostic& one) { return one.code == question; });
    return diagnostics;
}

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
    wish.use = trimmed(options.use);
    wish.avoid = trimmed(options.avoid);
    wish.depth = options.depth;
    wish.by_cost = options.by_cost;
    for (const auto& word : trimmed(options.hold)) {
        auto address = read_address("--hold", "bars such as A:1-4", word, streams);
        if (!address) return std::nullopt;
        wish.hold.push_back(std::move(*address));
    }
    return wish;
}

std::optional<tune::Address> read_address(std::string_view option, std::string_view shape,
                                          const std::string& word, Streams& streams) {
    auto address = tune::parse_address(word);
    if (address) return address;
    const auto meant = address_meant(word);
    std::string hint = meant.empty() ? "" : fmt::format(" Did you mean {}?", meant);
    const auto is_digit = [](char c) { return c >= '0' && c <= '9'; };
    if (!word.empty() && is_digit(word.front())) hint = " Name the section too.";
    streams.err << fmt::format("relead: {} takes {}, not {}.{}\n", option, shape, word, hint);
    return std::nullopt;
}

}  // namespace relead::cli
