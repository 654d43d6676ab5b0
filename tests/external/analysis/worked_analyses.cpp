#include "external/analysis/worked_analyses.h"

#include <algorithm>
#include <cstdlib>
#include <fstream>
#include <map>
#include <set>
#include <sstream>

#include "support/catch.h"
#include "support/small_tunes.h"

namespace relead::testing {
namespace {

using Cells = std::vector<std::vector<std::string>>;  // words of each bar

std::vector<std::string> words_of(const std::string& text) {
    std::istringstream stream(text);
    std::vector<std::string> words;
    for (std::string word; stream >> word;) words.push_back(word);
    return words;
}

Cells cells_of(const std::string& row) {
    Cells cells;
    std::istringstream stream(row.substr(row.find('|') + 1));
    for (std::string cell; std::getline(stream, cell, '|');)
        if (auto words = words_of(cell); !words.empty()) cells.push_back(std::move(words));
    return cells;
}

/// "Bb" of "Bbmaj7".
std::string root_of(const std::string& symbol) {
    const bool altered = symbol.size() > 1 && (symbol[1] == 'b' || symbol[1] == '#');
    return symbol.substr(0, altered ? 2 : 1);
}

/// One study while it is read: rows may be broken after eight bars.
struct Draft {
    Study study;
    Cells changes, leads, numerals;
};

void append(Cells& cells, const std::string& row) {
    for (auto& cell : cells_of(row)) cells.push_back(std::move(cell));
}

/// "3" or "3.3" -> index of the chord.
std::map<std::string, int> places_of(const Cells& changes) {
    std::map<std::string, int> places;
    int index = 0;
    for (std::size_t bar = 0; bar < changes.size(); ++bar) {
        REQUIRE(changes[bar].size() <= 2);
        for (std::size_t c = 0; c < changes[bar].size(); ++c)
            places[std::to_string(bar + 1) + (c == 0 ? "" : ".3")] = index++;
    }
    return places;
}

Lead read_lead(const std::string& word, const std::map<std::string, int>& places) {
    Lead lead;
    if (word == "end") return lead;
    REQUIRE((word[0] == '>' || word[0] == '='));
    lead.prolongs = word[0] == '=';
    std::istringstream stream(word.substr(1));
    for (std::string place; std::getline(stream, place, '/');) {
        const auto found = places.find(place);
        INFO("place " << place);
        REQUIRE((place == "top" || found != places.end()));
        lead.targets.push_back(place == "top" ? static_cast<int>(places.size()) : found->second);
    }
    REQUIRE_FALSE(lead.targets.empty());
    return lead;
}

/// Of two targets the second is another statement of the first, or what the first leads to itself.
bool may_stand_beside(const Study& study, int first, int other) {
    if (first == study.size() || other == study.size()) return false;
    const auto& lead = study.leads[static_cast<std::size_t>(first)];
    return root_of(study.leads[static_cast<std::size_t>(other)].symbol) == root_of(lead.symbol) ||
           std::find(lead.targets.begin(), lead.targets.end(), other) != lead.targets.end();
}

void check(const Study& study) {
    int ends = 0, to_top = 0;
    std::vector<int> first;
    for (int i = 0; i < study.size(); ++i) {
        const auto& targets = study.leads[static_cast<std::size_t>(i)].targets;
        INFO("chord " << i);
        first.push_back(targets.empty() ? study.size() : targets.front());
        if (targets.empty()) ++ends;
        if (!targets.empty() && targets.front() == study.size()) ++to_top;
        for (std::size_t k = 0; k < targets.size(); ++k) {
            REQUIRE(targets[k] > i);
            REQUIRE((k == 0 || may_stand_beside(study, targets.front(), targets[k])));
        }
    }
    REQUIRE((ends == 1 || (ends == 0 && to_top > 0)));
    REQUIRE(is_projective(first));
}

Study finished(Draft&& draft) {
    auto& study = draft.study;
    INFO("study " << study.name);
    REQUIRE_FALSE(study.source.empty());
    REQUIRE_FALSE(study.key.empty());
    REQUIRE(draft.leads.size() == draft.changes.size());
    REQUIRE((draft.numerals.empty() || draft.numerals.size() == draft.changes.size()));
    const auto places = places_of(draft.changes);
    for (std::size_t bar = 0; bar < draft.changes.size(); ++bar) {
        INFO("bar " << bar + 1);
        REQUIRE(draft.leads[bar].size() == draft.changes[bar].size());
        for (std::size_t c = 0; c < draft.changes[bar].size(); ++c) {
            auto lead = read_lead(draft.leads[bar][c], places);
            lead.symbol = draft.changes[bar][c];
            if (!draft.numerals.empty()) {
                REQUIRE(draft.numerals[bar].size() == draft.changes[bar].size());
                if (draft.numerals[bar][c] != ".") lead.numeral = draft.numerals[bar][c];
            }
            study.leads.push_back(std::move(lead));
        }
    }
    check(study);
    return std::move(study);
}

}  // namespace

tune::Tune Study::tune(bool with_key) const {
    std::string text = "tune \"Study\"\n";
    if (with_key) text += "key " + key + "\n";
    text += "meter 4/4\n\nsection A\n";
    for (const auto& row : changes) text += row + "\n";
    return read_whole(text);
}

theory::Key Study::given_key() const {
    const auto given = tune(true).given_key;
    REQUIRE(given.has_value());
    return *given;
}

std::vector<Study> read_studies() {
    std::ifstream stream(RELEAD_SOURCE_DIR "/tests/external/analysis/worked-analyses.txt");
    REQUIRE(stream.good());
    std::vector<Study> studies;
    std::set<std::string> names;
    Draft draft;
    const auto finish = [&] {
        if (!draft.study.name.empty()) studies.push_back(finished(std::move(draft)));
        draft = {};
    };
    for (std::string line; std::getline(stream, line);) {
        if (line.empty() || line.rfind("--", 0) == 0) continue;
        const auto word = line.substr(0, line.find(' '));
        const auto start = line.find_first_not_of(' ', word.size());
        REQUIRE(start != std::string::npos);
        const auto rest = line.substr(start);
        INFO(line);
        if (word.empty()) {
            draft.study.source += " " + rest;
        } else if (word == "study") {
            finish();
            draft.study.name = rest;
            REQUIRE(names.insert(rest).second);
        } else if (word == "source") {
            draft.study.source = rest;
        } else if (word == "key") {
            draft.study.key = rest;
        } else if (word == "changes") {
            draft.study.changes.push_back(line);
            append(draft.changes, rest);
        } else {
            REQUIRE((word == "leads" || word == "numerals"));
            append(word == "leads" ? draft.leads : draft.numerals, rest);
        }
    }
    finish();
    return studies;
}

bool is_projective(const std::vector<int>& targets) {
    const int count = static_cast<int>(targets.size());
    for (int i = 0; i < count; ++i) {
        const int from = std::min(i, targets[static_cast<std::size_t>(i)]);
        const int to = std::max(i, targets[static_cast<std::size_t>(i)]);
        for (int k = from + 1; k < to && k < count; ++k)
            if (targets[static_cast<std::size_t>(k)] < from || targets[static_cast<std::size_t>(k)] > to)
                return false;
    }
    return true;
}

}  // namespace relead::testing
