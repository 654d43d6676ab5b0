#include "reharm/search.h"

#include <algorithm>

#include "reharm/cost_terms.h"
#include "reharm/dose.h"
#include "reharm/lattice.h"
#include "reharm/takes.h"
#include "text/diagnose.h"

namespace relead::reharm {

Dose dose_of(int number, const rules::Chart& chart) {
    Dose dose = number <= 0 ? Dose{15, 25} : number == 1 ? Dose{25, 40} : Dose{40, 60};
    Fraction bars = 0;
    for (const auto& spot : chart.spots) bars += spot.beats() / Fraction(std::max(1, spot.beats_in_bar));
    // Three chords in two bars and more: whoever reads it has enough to do.
    if (Fraction(chart.size()) * 2 >= bars * 3) dose = {dose.least / 2, dose.most / 2};
    return dose;
}

namespace {

/// What each choice adds to the changed beats, in half beats over all playings.
std::vector<int> changed_half_beats(const TuneLattice& lattice, const LatticeGraph& graph,
                                    const std::vector<Judged>& placements) {
    std::vector<int> beats;
    for (const auto& choice : graph.choices) {
        const int placement = lattice.meaning(choice).placement;
        const auto halves =
            placement < 0
                ? 0
                : (placements[static_cast<std::size_t>(placement)].touched_beats * Fraction(2)).floor();
        beats.push_back(static_cast<int>(halves) * lattice.plays(choice));
    }
    return beats;
}

class Search {
public:
    Search(const Situation& situation, const Pool& pool, const SearchWish& wish)
        : situation_(situation), pool_(pool), wish_(wish), lattice_(situation, pool.placements) {}

    SearchResult run() {
        report_pool();
        take_demands(situation_, pool_, lattice_, wish_.nodes, result_.diagnostics);
        graph_ = unroll(lattice_.lattice(), wish_.nodes);
        if (!graph_.pinned.empty()) {
            result_.report.exact = false;
            result_.report.stop = SearchReport::Stop::joint;
            result_.report.notes.push_back("some joints of the form kept as written");
        }
        half_beats_ = changed_half_beats(lattice_, graph_, pool_.placements);
        for (int v = 0; v < wish_.versions && find_version(v); ++v) {
        }
        return std::move(result_);
    }

private:
    void report_pool() {
        auto& report = result_.report;
        report.exact = true;
        report.built = pool_.built;
        report.dropped = pool_.dropped;
        report.stop = pool_.dropped > 0     ? SearchReport::Stop::alternatives
                      : pool_.depth_reached ? SearchReport::Stop::depth
                                            : SearchReport::Stop::complete;
        report.notes = pool_.dropped_at;
    }
    /// What choices cost in this version beyond their own: weight per half beat, and what rules that are used
    /// too often pay.
    Surcharge surcharge(int weight_of_change, const std::vector<int>& rule_penalty) const {
        Surcharge extra;
        for (std::size_t i = 0; i < graph_.choices.size(); ++i) {
            extra.push_back(std::int64_t{weight_of_change} * half_beats_[i]);
            const int placement = lattice_.meaning(graph_.choices[i]).placement;
            if (placement < 0) continue;
            for (const auto& applied :
                 pool_.placements[static_cast<std::size_t>(placement)].placement.derivation)
                extra.back() += std::int64_t{cost_scale} *
                                rule_penalty[static_cast<std::size_t>(applied.rule)] *
                                lattice_.plays(graph_.choices[i]);
        }
        return extra;
    }
    int changed(const GraphPath& path) const {
        int sum = 0;
        for (const auto arc : path.arcs) {
            const int label = graph_.graph.arcs[arc].label;
            if (label >= 0) sum += half_beats_[static_cast<std::size_t>(label)];
        }
        return sum;
    }
    int all_half_beats() const {
        Fraction sum = 0;
        for (const auto& spot : situation_.chart.spots) sum += spot.beats() * Fraction(2 * spot.playings);
        return static_cast<int>(sum.floor());
    }
    /// The least weight that keeps the dose below its most; the more weight, the less changes.
    int weight_for(int version, const std::vector<int>& rule_penalty) const {
        if (!wish_.dose || situation_.plan.plan.at_most) return 0;
        const auto dose = dose_of(version, situation_.chart);
        const int most = all_half_beats() * dose.most / 100;
        int low = -12 * cost_scale, high = 24 * cost_scale;
        while (low < high) {
            const int middle = low + (high - low) / 2;
            const auto path = best_path(graph_.graph, surcharge(middle, rule_penalty));
            if (path && changed(*path) > most) {
                low = middle + 1;
            } else {
                high = middle;
            }
        }
        return low;
    }
    bool find_version(int number) {
        std::vector<int> penalty(situation_.rules.rules.size(), 0);
        std::optional<Found> best;
        constexpr int tries = 6;
        for (int t = 0; t < tries; ++t) {
            const auto path = path_for(surcharge(weight_for(number, penalty), penalty), number);
            if (!path) break;
            auto found = read(*path);
            const int often = used_too_often(found);
            if (!best || often < 0) best = std::move(found);
            if (often < 0 || !wish_.dose) break;
            penalty[static_cast<std::size_t>(often)] += weight("repeated");
        }
        if (!best) return false;
        sound_.push_back(sound_of(*best));
        result_.versions.push_back(std::move(*best));
        return true;
    }
    std::optional<GraphPath> path_for(const Surcharge& extra, int number) {
        if (number == 0) return best_path(graph_.graph, extra);
        const int quarter = std::max(1, (situation_.chart.size() + 3) / 4);
        for (int wanted = wish_.least_difference > 0 ? wish_.least_difference : quarter; wanted > 0;
             wanted /= 2) {
            const auto found = best_path_counting(graph_.graph, differences(wanted), wish_.labels, extra);
            if (found.path) return found.path;
            if (found.limit_met) {
                result_.report.exact = false;
                result_.report.stop = SearchReport::Stop::labels;
            }
            if (wish_.least_difference > 0) return std::nullopt;
        }
        return std::nullopt;
    }
    /// A rule with more than half of a version's changes (of three and more); -1 = none.
    int used_too_often(const Found& found) const {
        std::vector<int> uses(situation_.rules.rules.size(), 0);
        for (const auto& judged : found.placements)
            ++uses[static_cast<std::size_t>(judged.placement.derivation.back().rule)];
        for (std::size_t rule = 0; rule < uses.size(); ++rule) {
            if (uses[rule] > 1 && uses[rule] * 2 > static_cast<int>(found.placements.size()) &&
                found.placements.size() > 2)
                return static_cast<int>(rule);
        }
        return -1;
    }
    Found read(const GraphPath& path) const {
        Found found;
        found.cost = 0;
        for (const auto& arc : path.arcs) found.cost += graph_.graph.arcs[arc].cost.cost;
        found.cost /= cost_scale;
        for (const auto& choice : choices_of(graph_, path)) {
            const int placement = lattice_.meaning(choice).placement;
            if (placement >= 0)
                found.placements.push_back(pool_.placements[static_cast<std::size_t>(placement)]);
        }
        return found;
    }

    // ---- differences: how each written chord's time sounds ----

    /// Per written spot: the chords that sound in its time, with their places.
    using Sound = std::vector<std::string>;
    std::string chord_sound(const theory::Chord& chord, Time at) const {
        return std::to_string(chord.root.fifths) + "/" +
               theory::to_string(chord, theory::SymbolStyle::plain) + "@" + at.to_string() + " ";
    }
    /// What sounds in the time of written spot `i` of a placement.
    std::string sound_at(const rules::Placement& placement, int i) const {
        const auto start = situation_.chart.at(placement.begin).start;
        const auto& spot = situation_.chart.at(i);
        std::string text;
        for (const auto& chord : placement.chords) {
            const auto from = std::max(start + chord.at, spot.start);
            if (from < spot.end() && start + chord.at + chord.length > spot.start)
                text += chord_sound(chord.chord, from - spot.start);
        }
        return text;
    }
    Sound sound_of(const Found& found) const {
        Sound sound;
        for (const auto& spot : situation_.chart.spots) sound.push_back(chord_sound(spot.chord, 0));
        for (const auto& judged : found.placements) {
            for (int i = judged.placement.begin; i < judged.placement.end; ++i)
                sound[static_cast<std::size_t>(i)] = sound_at(judged.placement, i);
        }
        return sound;
    }
    Counters differences(int wanted) const {
        Counters counters;
        counters.wanted = wanted;
        const auto written = sound_of(Found{});
        for (const auto& earlier : sound_) {
            auto& gains = counters.gains.emplace_back();
            for (const auto& choice : graph_.choices) {
                const auto& meaning = lattice_.meaning(choice);
                int differing = 0;
                if (meaning.placement < 0) {
                    const auto spot = static_cast<std::size_t>(meaning.spot);
                    differing = written[spot] != earlier[spot] ? 1 : 0;
                } else {
                    const auto& placement =
                        pool_.placements[static_cast<std::size_t>(meaning.placement)].placement;
                    for (int i = placement.begin; i < placement.end; ++i)
                        differing += sound_at(placement, i) != earlier[static_cast<std::size_t>(i)] ? 1 : 0;
                }
                gains.push_back(differing);
            }
        }
        return counters;
    }

    const Situation& situation_;
    const Pool& pool_;
    SearchWish wish_;
    TuneLattice lattice_;
    LatticeGraph graph_;
    std::vector<int> half_beats_;
    std::vector<Sound> sound_;
    SearchResult result_;
};

}  // namespace

SearchResult search(const Situation& situation, const Pool& pool, const SearchWish& wish) {
    return Search(situation, pool, wish).run();
}

}  // namespace relead::reharm
