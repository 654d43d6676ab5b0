#include "report/rule_table.h"

#include <algorithm>
#include <cstddef>
#include <map>
#include <string_view>
#include <tuple>
#include <utility>

namespace relead::report {

namespace {

constexpr std::string_view degree_words[] = {"",      "root",     "second",  "third",     "fourth",
                                             "fifth", "sixth",    "seventh", "octave",    "ninth",
                                             "tenth", "eleventh", "twelfth", "thirteenth"};
constexpr std::string_view counting_words[] = {"first", "second", "third", "fourth"};

std::string landing(const theory::Thread& thread) {
    std::string text = "the " + std::string(degree_words[static_cast<std::size_t>(thread.from)]) + " to the ";
    for (std::size_t i = 0; i < thread.to.size(); ++i) {
        if (i > 0) text += i + 1 == thread.to.size() ? " or " : ", ";
        text += degree_words[static_cast<std::size_t>(thread.to[i])];
    }
    return text;
}

/// "Of the first new chord the third goes to the third, the seventh to the seventh or the fifth."
std::string threads_sentence(const rules::Rule& rule, const rules::ThreadSet& set) {
    std::string text;
    for (const auto& thread : set.threads) {
        auto words = landing(thread);
        if (text.empty()) words.insert(words.find(" to the "), " goes");
        text += (text.empty() ? "" : ", ") + words;
    }
    if (rule.write.size() == 1) return "T" + text.substr(1) + ".";
    const auto index = static_cast<std::size_t>(set.chord.value_or(static_cast<int>(rule.write.size()) - 1));
    const bool last = index + 1 == rule.write.size();
    const auto which = last ? "last" : index < 4 ? counting_words[index] : "later";
    return "Of the " + std::string(which) + " new chord " + text + ".";
}

}  // namespace

RuleRow rule_row(const rules::Rule& rule) {
    constexpr std::string_view audiences[] = {"everybody", "band", "soloist"};
    std::vector<std::string> threads;
    for (const auto& set : rule.threads) threads.push_back(threads_sentence(rule, set));
    return {rule.name,
            rule.title,
            rule.family,
            rule.outside,
            std::string(audiences[static_cast<std::size_t>(rule.audience)]),
            rule.why,
            rule.source,
            rule.example,
            rule.built_in,
            std::move(threads),
            rule.text,
            rule.file,
            rule.line};
}

std::vector<RuleRow> rule_table(const rules::RuleSet& rules) {
    std::map<std::string, std::size_t> family_order;
    std::vector<RuleRow> rows;
    for (const auto& rule : rules.rules) {
        family_order.emplace(rule.family, family_order.size());
        rows.push_back(rule_row(rule));
    }
    std::stable_sort(rows.begin(), rows.end(), [&](const RuleRow& a, const RuleRow& b) {
        return std::tuple(family_order.at(a.family), a.outside, std::string_view(a.name)) <
               std::tuple(family_order.at(b.family), b.outside, std::string_view(b.name));
    });
    return rows;
}

}  // namespace relead::report
