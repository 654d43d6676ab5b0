// How good versions are: a report over the samples and made tunes. `bench_taste [--tunes] [--outside N]
// [--random N [--control] [--whole]] [NAME]`: the control with all costs, or without those that it measures.
#include <cstdlib>
#include <functional>
#include <iostream>
#include <string>

#include "base/fmt.h"
#include "bench/trial.h"

using namespace relead;
using namespace relead::bench;

namespace {

struct Row {
    std::string name;
    std::string asked;
    std::function<double(const Trial&, const VersionTrial&)> value;
    std::function<bool(const Trial&, const VersionTrial&)> good;
};

const std::vector<Row>& rows() {
    using T = const Trial&;
    using V = const VersionTrial&;
    static const std::vector<Row> all = {
        {"section starts keep function", "100 %, 75 % above level 3",
         [](T, V v) { return v.measures.starts.value(); },
         [](T t, V v) { return v.measures.starts.value() >= (t.outside <= 3 ? 1.0 : 0.75); }},
        {"final cadences keep function", "100 %, 75 % above level 3",
         [](T, V v) { return v.measures.cadence.value(); },
         [](T t, V v) { return v.measures.cadence.value() >= (t.outside <= 3 ? 1.0 : 0.75); }},
        {"guide tones hold or step", "90 %", [](T, V v) { return v.measures.guides.value(); },
         [](T, V v) { return v.measures.guides.value() >= 0.9; }},
        {"outer voices not together", "60 %, or as written", [](T, V v) { return v.measures.outer.value(); },
         [](T, V v) { return v.measures.outer.value() >= std::min(0.6, v.measures.outer_written.value()); }},
        {"outer voices as written", "", [](T, V v) { return v.measures.outer_written.value(); },
         [](T, V) { return true; }},
        {"three parallels", "none", [](T, V v) { return double(v.measures.parallels); },
         [](T, V v) { return v.measures.parallels == 0; }},
        {"new roots: fifth down or step", "70 %", [](T, V v) { return v.measures.roots.value(); },
         [](T, V v) { return v.measures.roots.value() >= 0.7; }},
        {"new clashes", "none", [](T, V v) { return double(v.measures.clashes); },
         [](T, V v) { return v.measures.clashes == 0; }},
        {"dose", "in its range, with room", [](T, V v) { return v.measures.dose; },
         [](T, V v) {
             constexpr double slack = 0.02;
             const bool enough = v.measures.dose >= std::min(v.least_dose - slack, v.room - slack);
             return enough && v.measures.dose <= v.most_dose + slack;
         }},
        {"difference to earlier versions", "25 %, half where dense", [](T, V v) { return v.nearest; },
         [](T t, V v) { return v.nearest >= (t.dense ? 0.125 : 0.25); }},
        {"share of one rule", "at most half", [](T, V v) { return v.largest_rule; },
         [](T, V v) { return v.largest_rule <= 0.5; }},
        {"median symbol", "4", [](T, V v) { return v.measures.median_symbol; },
         [](T, V v) { return v.measures.median_symbol <= 4; }},
        {"median symbol, roots of one letter", "4", [](T, V v) { return v.measures.median_on_c; },
         [](T, V v) { return v.measures.median_on_c <= 4; }},
        {"crowded bars above tempo 200", "none", [](T, V v) { return double(v.measures.crowded); },
         [](T, V v) { return v.measures.crowded == 0; }},
    };
    return all;
}

struct Options {
    bool tunes = false;
    bool control = false;  ///< nothing but the control
    Hearing hearing = Hearing::deaf;
    int random = 0;
    int outside = 0;  ///< 0 = all levels
    std::string name;
};

void print_table(const std::vector<Trial>& trials, int outside) {
    std::cout << fmt::format("\nOutside {}: mean, then how many versions pass\n", outside);
    for (const auto& row : rows()) {
        std::cout << fmt::format("  {:36}", row.name);
        for (std::size_t v = 0; v < 3; ++v) {
            double sum = 0;
            int good = 0, all = 0;
            for (const auto& trial : trials) {
                if (trial.outside != outside || trial.versions.size() <= v) continue;
                sum += row.value(trial, trial.versions[v]);
                good += row.good(trial, trial.versions[v]) ? 1 : 0;
                ++all;
            }
            std::cout << fmt::format("  {:6.2f} {:3}/{:3}", all == 0 ? 0.0 : sum / all, good, all);
        }
        std::cout << "  " << row.asked << "\n";
    }
}

void print_tunes(const std::vector<Trial>& trials) {
    for (const auto& trial : trials) {
        for (std::size_t v = 0; v < trial.versions.size(); ++v) {
            const auto& one = trial.versions[v];
            std::cout << fmt::format("{} outside {} version {} dose {:.2f} room {:.2f}{}: {}\n", trial.piece,
                                     trial.outside, v + 1, one.measures.dose, one.room,
                                     trial.dense ? " dense" : "", one.version.idea);
            for (const auto& row : rows()) {
                if (row.good(trial, one)) continue;
                std::cout << fmt::format("    {}: {:.2f}\n", row.name, row.value(trial, one));
            }
        }
    }
}

void print_control(const std::vector<Piece>& pieces, const Options& options) {
    std::cout << fmt::format(
        "\nAgainst {} random legal versions of the same dose, {}:\n"
        "share beaten in guide tones, outer voices, both together\n",
        options.random,
        options.hearing == Hearing::whole ? "all terms and aims in the choice"
                                          : "those of what is measured left out of the choice");
    const int outside = options.outside == 0 ? 3 : options.outside;
    int versions = 0, good = 0;
    Control mean;
    for (const auto& piece : pieces) {
        if (piece.name.find(options.name) == std::string::npos) continue;
        std::cout << fmt::format("  {:28}", piece.name);
        for (const auto& control : hold_against_random(piece, outside, options.random, 1, options.hearing)) {
            std::cout << fmt::format("  {:.2f} {:.2f} {:.2f}", control.guides, control.outer, control.both);
            mean.guides += control.guides;
            mean.outer += control.outer;
            mean.both += control.both;
            good += control.both >= 0.95 ? 1 : 0;
            ++versions;
        }
        std::cout << std::endl;
    }
    if (versions == 0) return;
    std::cout << fmt::format("  mean {:.2f} {:.2f} {:.2f}; {} of {} versions beat 95 %\n",
                             mean.guides / versions, mean.outer / versions, mean.both / versions, good,
                             versions);
}

Options read_options(int count, char** words) {
    Options options;
    for (int i = 1; i < count; ++i) {
        const std::string word = words[i];
        if (word == "--tunes") {
            options.tunes = true;
        } else if (word == "--control") {
            options.control = true;
        } else if (word == "--whole") {
            options.hearing = Hearing::whole;
        } else if (word == "--outside" && i + 1 < count) {
            options.outside = std::atoi(words[++i]);
        } else if (word == "--random" && i + 1 < count) {
            options.random = std::atoi(words[++i]);
        } else {
            options.name = word;
        }
    }
    return options;
}

}  // namespace

int main(int count, char** words) {
    const auto options = read_options(count, words);
    auto pieces = sample_pieces();
    for (auto& piece : made_pieces(3)) pieces.push_back(std::move(piece));
    std::vector<Trial> trials;
    for (int outside = 1; outside <= 5 && !options.control; ++outside) {
        if (options.outside != 0 && outside != options.outside) continue;
        for (const auto& piece : pieces) {
            if (piece.name.find(options.name) != std::string::npos)
                trials.push_back(try_piece(piece, outside));
        }
        print_table(trials, outside);
    }
    if (options.tunes) print_tunes(trials);
    if (options.random > 0) print_control(pieces, options);
}
