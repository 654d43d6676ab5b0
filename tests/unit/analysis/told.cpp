#include "unit/analysis/told.h"

#include "support/catch.h"

namespace relead::testing {
namespace {

using analysis::Function;

std::string letter(Function function) {
    switch (function) {
        case Function::tonic:
            return "T";
        case Function::predominant:
            return "P";
        case Function::dominant:
            return "D";
        case Function::substitute_dominant:
            return "S";
        case Function::backdoor:
            return "B";
        case Function::passing_diminished:
            return "pd";
        case Function::auxiliary_diminished:
            return "ad";
        case Function::borrowed:
            return "b";
        case Function::modal:
            return "M";
        case Function::other:
            break;
    }
    return "-";
}

void add(std::string& text, const std::string& word) {
    text += (text.empty() ? "" : " ") + word;
}

}  // namespace

analysis::Analysis analysed(const std::string& key, const std::string& changes) {
    const std::string stated = key.empty() ? "" : "key " + key + "\n";
    return analysis::analyse(
        read_whole("tune \"Small\"\n" + stated + "meter 4/4\n\nsection A\nchanges | " + changes + " |\n"));
}

std::string numerals(const analysis::Analysis& analysis) {
    std::string text;
    for (const auto& fact : analysis.chords) add(text, fact.numeral);
    return text;
}

std::string functions(const analysis::Analysis& analysis) {
    std::string text;
    for (const auto& fact : analysis.chords) add(text, letter(fact.function));
    return text;
}

std::string targets(const analysis::Analysis& analysis) {
    std::string text;
    for (const auto& fact : analysis.chords)
        add(text, !fact.target                                               ? "end"
                  : *fact.target == static_cast<int>(analysis.chords.size()) ? "top"
                                                                             : std::to_string(*fact.target));
    return text;
}

std::string chords_with(const analysis::Analysis& analysis, bool analysis::ChordFact::*flag) {
    std::string text;
    for (std::size_t i = 0; i < analysis.chords.size(); ++i)
        if (analysis.chords[i].*flag) add(text, std::to_string(i));
    return text;
}

std::string local_keys(const analysis::Analysis& analysis) {
    std::string text;
    for (std::size_t i = 0; i < analysis.chords.size();) {
        const auto& key = analysis.chords[i].local_key;
        std::size_t end = i;
        while (end < analysis.chords.size() && analysis.chords[end].local_key == key) ++end;
        text += (text.empty() ? "" : ", ") + theory::to_string(key) + ": " + std::to_string(i) + "-" +
                std::to_string(end - 1);
        i = end;
    }
    return text;
}

}  // namespace relead::testing
