#include "pipeline/compare.h"

#include <algorithm>
#include <utility>

#include "base/fmt.h"

namespace relead::pipeline {

namespace {

/// Names as file words; the second of two that come out alike gets a number.
std::vector<std::string> distinct_words(const report::Comparison& comparison) {
    std::vector<std::string> words;
    for (const auto& row : comparison.rows) {
        const auto word = file_word(row.name);
        auto distinct = word;
        for (int number = 2; std::find(words.begin(), words.end(), distinct) != words.end(); ++number)
            distinct = fmt::format("{}-{}", word, number);
        words.push_back(std::move(distinct));
    }
    return words;
}

report::Comparison compare_rows(const Compared& compared) {
    std::vector<report::OtherRow> rows;
    for (const auto& choices : compared.choices) {
        for (const auto& version : choices.versions)
            rows.push_back({version.name, &version.tune, &version, &choices.report});
    }
    for (const auto& other : compared.others) rows.push_back({other.name, &other.tune, nullptr, nullptr});
    return report::compare(compared.tune, rows);
}

}  // namespace

std::string stamp_of(const ComparedTune& row) {
    auto text = row.name;
    if (!row.tune->stamp) return text;
    for (const auto& word : {row.tune->stamp->hash, row.tune->stamp->date}) {
        if (!word.empty()) text += " \u00b7 " + word;
    }
    return text;
}

std::vector<ComparedTune> Compared::rows() const {
    std::vector<ComparedTune> rows;
    for (const auto& one : choices) {
        for (const auto& version : one.versions) rows.push_back({version.name, &version.tune, &version});
    }
    for (const auto& other : others) rows.push_back({other.name, &other.tune, nullptr});
    return rows;
}

Outcome<Compared> compare(tune::Tune tune, const rules::RuleSet& rules,
                          const std::vector<reharm::Wish>& wishes, std::vector<OtherTune> others) {
    Compared compared;
    compared.tune = std::move(tune);
    compared.others = std::move(others);
    Diagnostics diagnostics;
    const auto analysis = analysis::analyse(compared.tune);
    for (const auto& wish : wishes) {
        auto choices = reharm::reharmonise(compared.tune, analysis, rules, wish);
        for (auto& diagnostic : choices.diagnostics) diagnostics.push_back(std::move(diagnostic));
        if (!choices.value || has_errors(diagnostics)) return {std::nullopt, std::move(diagnostics)};
        compared.choices.push_back(std::move(*choices.value));
    }
    compared.comparison = compare_rows(compared);
    compared.words = distinct_words(compared.comparison);
    return {std::move(compared), std::move(diagnostics)};
}

}  // namespace relead::pipeline
