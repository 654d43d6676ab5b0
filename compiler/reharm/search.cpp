#include "reharm/search.h"

#include <algorithm>

#include "reharm/cost_terms.h"
#include "reharm/free_choice.h"
#include "reharm/lattice.h"
#include "reharm/takes.h"
#include "reharm/versions_ahead.h"
#include "text/diagnose.h"
#include "tune/spot.h"

namespace relead::reharm {

namespace {

class Search {
public:
    Search(const Situation& situation, const Pool& pool, const SearchWish& wish)
        : situation_(situation),
          pool_(pool),
          wish_(wish),
          lattice_(situation, pool.placements, wish.left_out) {}

    SearchResult run() {
        report_pool();
        take_demands(situation_, pool_, lattice_, wish_.nodes, result_.diagnostics);
        graph_ = unroll(lattice_.lattice(), wish_.nodes);
        if (!graph_.pinned.empty()) {
            result_.report.exact = false;
            result_.report.stop = SearchReport::Stop::joint;
            result_.report.notes.push_back("some joints of the form kept as written");
        }
        if (wish_.dose) {
            result_.report.exact = false;
            result_.report.free = true;
            FreeChoice choice(situation_, pool_.placements, lattice_, graph_);
            choice.leave_out(wish_.left_out);
            for (const auto& path : versions_ahead(choice, wish_.versions))
                result_.versions.push_back(read(path));
            result_.half_beats_heard = choice.half_beats_measured();
        } else {
            for (int v = 0; v < wish_.versions && find_version(v); ++v) {
            }
        }
        tell_fewer();
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
        report.notes = pool_.notes;
    }
    void tell_fewer() {
        const auto made = static_cast<int>(result_.versions.size());
        if (made == 0 || made >= wish_.versions || result_.versions.front().placements.empty()) return;
        text::Sink sink;
        sink.emit(text::Code::fewer_versions, situation_.plan.plan.span,
                  "There is room for " + tune::count_of(made, "version") + ", not " +
                      std::to_string(wish_.versions) + ": another one would be nearly the same.");
        const auto said = sink.take();
        result_.diagnostics.insert(result_.diagnostics.end(), said.begin(), said.end());
    }
    bool find_version(int number) {
        const auto path = path_for(number);
        if (!path) return false;
        auto found = read(*path);
        sound_.push_back(sound_of(found));
        result_.versions.push_back(std::move(found));
        return true;
    }
    std::optional<GraphPath> path_for(int number) {
        if (number == 0) return best_path(graph_.graph);
        const int quarter = std::max(1, (situation_.chart.size() + 3) / 4);
        for (int wanted = wish_.least_difference > 0 ? wish_.least_difference : quarter; wanted > 0;
             wanted /= 2) {
            const auto found = best_path_counting(graph_.graph, differences(wanted), wish_.labels);
            if (found.path) {
                if (wish_.least_difference == 0 && wanted < quarter) tell_nearness(number, wanted);
                return found.path;
            }
            if (found.limit_met) {
                result_.report.exact = false;
                result_.report.stop = SearchReport::Stop::labels;
            }
            if (wish_.least_difference > 0) return std::nullopt;
        }
        return std::nullopt;
    }
    void tell_nearness(int number, int least) {
        result_.report.notes.push_back("version " + std::to_string(number + 1) + " is sure to differ in " +
                                       tune::count_of(least, "chord") + " only");
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
    std::vector<Sound> sound_;
    SearchResult result_;
};

}  // namespace

SearchResult search(const Situation& situation, const Pool& pool, const SearchWish& wish) {
    return Search(situation, pool, wish).run();
}

}  // namespace relead::reharm
