#include "reharm/unfold_playings.h"

#include <algorithm>
#include <map>

#include "tune/unfold.h"

namespace relead::reharm {
namespace {

using tune::PlayedBar;

/// The bars of one playing of one section.
struct Playing {
    int section = 0;
    std::vector<int> bars;       ///< indices, in playing order
    std::vector<int> last_bars;  ///< the same in the last chorus
};

std::vector<Playing> playings_of(const tune::Tune& tune) {
    std::vector<Playing> all;
    const auto collect = [&](bool last) {
        std::size_t at = 0;
        const auto bars = tune::play_chorus(tune, {last, true}).bars;
        for (std::size_t i = 0; i < bars.size(); ++at) {
            if (all.size() <= at) all.push_back({bars[i].section, {}, {}});
            if (all[at].section != bars[i].section) return;  // the last chorus goes another way
            auto& into = last ? all[at].last_bars : all[at].bars;
            const auto first = i;
            while (i < bars.size() && bars[i].section == bars[first].section &&
                   bars[i].playing == bars[first].playing)
                into.push_back(bars[i++].bar);
        }
    };
    collect(false);
    collect(true);
    return all;
}

class Unfolder {
public:
    Unfolder(const tune::Tune& tune, const analysis::Analysis& analysis) : tune_(tune), analysis_(analysis) {}

    Unfolded run() {
        if (tune_.order.by_signs || tune_.order.form.empty()) return {tune_, analysis_};
        result_.tune = tune_;
        result_.tune.sections.clear();
        result_.tune.order.form.clear();
        for (const auto& playing : playings_of(tune_)) ++times_[playing.section];
        for (const auto& playing : playings_of(tune_)) add(playing);
        for (std::size_t s = 0; s < tune_.sections.size(); ++s) {
            if (times_.count(static_cast<int>(s)) == 0) keep_unplayed(static_cast<int>(s));
        }
        for (auto& plan : result_.tune.plans) move_addresses(plan);
        for (auto& item : result_.tune.order.running) move_running(item);
        hear();
        return std::move(result_);
    }

private:
    struct Origin {
        int section = 0;
        int bar = 0;
    };

    std::string name_for(int section) {
        const auto& name = tune_.sections[static_cast<std::size_t>(section)].name;
        if (times_[section] < 2) return name;
        auto numbered = name + std::to_string(++given_[section]);
        while (tune::find_section(tune_, numbered)) numbered += "x";
        return numbered;
    }
    void add(const Playing& playing) {
        auto section = tune_.sections[static_cast<std::size_t>(playing.section)];
        const auto old_bars = section.bars;
        section.bars.clear();
        section.name = name_for(playing.section);
        std::vector<Origin> origins;
        const auto put = [&](int index) {
            auto bar = old_bars[static_cast<std::size_t>(index)];
            bar.repeat_begins = bar.ending_ends = false;
            bar.repeat_ends = 0;
            bar.ending_begins.clear();
            bar.simile = bar.simile && index > 0 && !origins.empty() && origins.back().bar == index - 1;
            if (bar.number != 0)
                bar.number = 1 + static_cast<int>(std::count_if(section.bars.begin(), section.bars.end(),
                                                                [](const auto& b) { return b.number != 0; }));
            section.bars.push_back(std::move(bar));
            origins.push_back({playing.section, index});
        };
        auto common = std::mismatch(playing.bars.begin(), playing.bars.end(), playing.last_bars.begin(),
                                    playing.last_bars.end());
        for (auto it = playing.bars.begin(); it != common.first; ++it) put(*it);
        if (common.first != playing.bars.end() && common.second != playing.last_bars.end()) {
            put_ending(section, {1}, common.first, playing.bars.end(), put);
            put_ending(section, {0}, common.second, playing.last_bars.end(), put);
        } else {
            for (auto it = common.first; it != playing.bars.end(); ++it) put(*it);
        }
        result_.tune.order.form.push_back(static_cast<int>(result_.tune.sections.size()));
        result_.tune.sections.push_back(std::move(section));
        origins_.push_back(std::move(origins));
    }
    template <class Iterator, class Put>
    static void put_ending(tune::Section& section, std::vector<int> passes, Iterator from, Iterator to,
                           const Put& put) {
        const auto first = section.bars.size();
        for (; from != to; ++from) put(*from);
        section.bars[first].ending_begins = std::move(passes);
        section.bars.back().ending_ends = true;
    }
    void keep_unplayed(int index) {
        const auto& section = tune_.sections[static_cast<std::size_t>(index)];
        std::vector<Origin> origins;
        for (std::size_t b = 0; b < section.bars.size(); ++b) origins.push_back({index, static_cast<int>(b)});
        result_.tune.sections.push_back(section);
        origins_.push_back(std::move(origins));
    }
    /// All bars that an address names in the unfolded tune, as addresses of one bar.
    std::vector<tune::Address> moved(const tune::Address& address) const {
        std::vector<tune::Address> all;
        for (std::size_t s = 0; s < origins_.size(); ++s) {
            for (std::size_t b = 0; b < origins_[s].size(); ++b) {
                const auto& from = tune_.sections[static_cast<std::size_t>(origins_[s][b].section)];
                if (!address.covers(from.name,
                                    from.bars[static_cast<std::size_t>(origins_[s][b].bar)].number))
                    continue;
                auto one = address;
                one.section = result_.tune.sections[s].name;
                one.first_bar = one.last_bar = result_.tune.sections[s].bars[b].number;
                all.push_back(std::move(one));
            }
        }
        return all;
    }
    template <class List>
    void move_all(List& list) const {
        List all;
        for (const auto& entry : list) {
            for (auto& address : moved(entry.at)) {
                all.push_back(entry);
                all.back().at = std::move(address);
            }
        }
        list = std::move(all);
    }
    void move_addresses(tune::Plan& plan) const {
        std::vector<tune::Address> hold;
        for (const auto& address : plan.hold) {
            for (auto& one : moved(address)) hold.push_back(std::move(one));
        }
        plan.hold = std::move(hold);
        move_all(plan.take);
        move_all(plan.never);
    }
    void move_running(tune::RunningItem& item) const {
        const auto rename = [&](std::string& name, bool first) {
            const auto old = tune::find_section(tune_, name);
            if (!old) return;
            for (std::size_t s = 0; s < origins_.size(); ++s) {
                if (origins_[s].empty() || origins_[s].front().section != *old) continue;
                name = result_.tune.sections[s].name;
                if (first) return;
            }
        };
        if (!item.vamp.empty()) rename(item.vamp, true);
        if (!item.tag) return;
        const auto places = moved(*item.tag);
        if (places.empty()) return;
        // The last playing's bars.
        auto first = places.size() - 1;
        while (first > 0 && places[first - 1].section == places.back().section) --first;
        item.tag->section = places.back().section;
        item.tag->first_bar = places[first].first_bar;
        item.tag->last_bar = places.back().last_bar;
    }
    /// Facts are taken along; a target is its next playing.
    void hear() {
        result_.analysis = analysis_;
        result_.analysis.chords.clear();
        std::map<tune::ChordRef, int> old_index;
        for (std::size_t i = 0; i < analysis_.chords.size(); ++i)
            old_index[analysis_.chords[i].ref] = static_cast<int>(i);
        std::vector<int> from;
        for (const auto& ref : tune::written_chords(result_.tune)) {
            const auto& origin =
                origins_[static_cast<std::size_t>(ref.section)][static_cast<std::size_t>(ref.bar)];
            const auto found = old_index.find({origin.section, origin.bar, ref.chord});
            from.push_back(found == old_index.end() ? -1 : found->second);
            auto fact = from.back() < 0 ? analysis::ChordFact{}
                                        : analysis_.chords[static_cast<std::size_t>(from.back())];
            fact.ref = ref;
            result_.analysis.chords.push_back(std::move(fact));
        }
        for (std::size_t i = 0; i < from.size(); ++i) {
            auto& fact = result_.analysis.chords[i];
            if (fact.target) fact.target = next_playing(from, i, *fact.target);
            if (fact.applied_to >= 0) fact.applied_to = next_playing(from, i, fact.applied_to);
        }
    }
    static int next_playing(const std::vector<int>& from, std::size_t at, int old) {
        for (std::size_t k = 1; k <= from.size(); ++k) {
            const auto i = (at + k) % from.size();
            if (from[i] == old) return static_cast<int>(i);
        }
        return static_cast<int>(from.size());
    }

    const tune::Tune& tune_;
    const analysis::Analysis& analysis_;
    Unfolded result_;
    std::map<int, int> times_, given_;
    std::vector<std::vector<Origin>> origins_;
};

}  // namespace

Unfolded unfold_playings(const tune::Tune& tune, const analysis::Analysis& analysis) {
    return Unfolder(tune, analysis).run();
}

}  // namespace relead::reharm
