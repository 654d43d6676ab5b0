#include "arrange/form_units.h"

#include <algorithm>

#include "tune/passages.h"
#include "tune/unfold.h"

namespace relead::arrange {

namespace {

const tune::Bar& bar_of(const tune::Tune& tune, const FormBar& at) {
    return tune.sections[static_cast<std::size_t>(at.section)].bars[static_cast<std::size_t>(at.bar)];
}

bool has_repeats(const tune::Section& section) {
    const auto found = tune::passages(section);
    return std::any_of(found.begin(), found.end(), [](const auto& passage) { return passage.repeated; });
}

void finish(const tune::Tune& tune, FormUnit& unit) {
    unit.repeats_inside = has_repeats(tune.sections[static_cast<std::size_t>(unit.section)]);
    for (const auto& played : unit.played) {
        if (std::find(unit.bars.begin(), unit.bars.end(), played.bar) == unit.bars.end()) {
            unit.bars.push_back(played.bar);
        }
    }
    std::sort(unit.bars.begin(), unit.bars.end());
}

std::vector<FormUnit> cut(const tune::Tune& tune, const std::vector<tune::PlayedBar>& bars,
                          bool final_chorus) {
    std::vector<FormUnit> units;
    for (const auto& played : bars) {
        const FormBar here{played.section, played.bar};
        if (bar_of(tune, here).number == 0) continue;
        if (units.empty() || units.back().section != here.section || units.back().playing != played.playing) {
            FormUnit unit;
            unit.section = here.section;
            unit.playing = played.playing;
            unit.final_chorus = final_chorus;
            units.push_back(std::move(unit));
        }
        units.back().played.push_back(here);
    }
    for (auto& unit : units) finish(tune, unit);
    return units;
}

bool same_bars(const std::vector<FormUnit>& a, const std::vector<FormUnit>& b) {
    return std::equal(a.begin(), a.end(), b.begin(), b.end(),
                      [](const FormUnit& x, const FormUnit& y) { return x.played == y.played; });
}

/// One section played alone.
std::vector<FormUnit> alone(const tune::Tune& tune, int section) {
    tune::Tune single = tune;
    single.order.form = {section};
    single.order.by_signs = false;
    return cut(tune, tune::play_chorus(single, {}).bars, false);
}

class Extras {
public:
    Extras(const tune::Tune& tune, FormUnits& units) : tune_(tune), units_(units) {
        for (const auto& unit : units.form) seen_.push_back(unit.section);
    }
    void add() {
        bool chorus_seen = false;
        for (const auto& item : tune_.order.running) {
            const auto own = tune::section_of_item(tune_, item);
            const auto vamp = item.vamp.empty() ? std::nullopt : tune::find_section(tune_, item.vamp);
            if (vamp) put(*vamp, chorus_seen, true);
            if (own) put(*own, chorus_seen, false);
            chorus_seen = chorus_seen || !own;
        }
        for (int section = 0; section < static_cast<int>(tune_.sections.size()); ++section)
            put(section, true, false);
    }

private:
    void put(int section, bool after, bool vamp) {
        if (std::find(seen_.begin(), seen_.end(), section) != seen_.end()) return;
        seen_.push_back(section);
        auto& list = after ? units_.after : units_.before;
        for (auto& unit : alone(tune_, section)) {
            unit.vamp = vamp;
            list.push_back(std::move(unit));
        }
    }

    const tune::Tune& tune_;
    FormUnits& units_;
    std::vector<int> seen_;
};

}  // namespace

FormUnits form_units(const tune::Tune& tune) {
    FormUnits units;
    const auto chorus = tune::one_chorus(tune);
    if (!chorus.empty()) {
        const FormBar first{chorus.front().section, chorus.front().bar};
        if (bar_of(tune, first).number == 0) units.pickup = first;
    }
    units.form = cut(tune, chorus, false);
    units.chorus = units.form.size();
    const auto last = cut(tune, tune::play_chorus(tune, {true, false}).bars, true);
    if (!same_bars(units.form, last)) units.form.insert(units.form.end(), last.begin(), last.end());
    Extras(tune, units).add();
    return units;
}

}  // namespace relead::arrange
