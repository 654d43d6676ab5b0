#include <algorithm>

#include "base/fmt.h"
#include "text/source.h"
#include "tune/check.h"
#include "tune/spot.h"
#include "tune/unfold.h"

namespace relead::tune {

namespace {

int bar_count(const Section& section) {
    return section.bars.empty() ? 0 : section.bars.back().number;
}

/// With its nearest name as the fix, where that section has such a bar.
void sink_unknown_section(const Tune& tune, const Address& address, text::Sink& sink) {
    std::vector<std::string> names;
    for (const auto& section : tune.sections) names.push_back(section.name);
    auto sentence = fmt::format("{} is in no section of this tune", to_string(address));
    if (!names.empty())
        sentence += fmt::format(": it has {} {}", names.size() == 1 ? "only" : "the sections", listed(names));
    auto note = sink.emit(text::Code::section_unknown, address.span, sentence + ".");
    const auto near = nearest_of(address.section, names);
    if (near.empty()) return;
    auto fixed = address;
    fixed.section = near;
    const auto index = static_cast<std::size_t>(*find_section(tune, near));
    if (fixed.last_bar <= bar_count(tune.sections[index]))
        note.fix(address.span, to_string(fixed), fmt::format("write {}", to_string(fixed)));
}

}  // namespace

bool check_address(const Tune& tune, const Address& address, text::Sink& sink) {
    const auto index = find_section(tune, address.section);
    if (!index) {
        sink_unknown_section(tune, address, sink);
        return false;
    }
    const auto& section = tune.sections[static_cast<std::size_t>(*index)];
    const int count = bar_count(section);
    if (address.last_bar > count) {
        sink.emit(text::Code::bar_unknown, address.span,
                  fmt::format("{} does not exist: the section {} has {}.", to_string(address), section.name,
                              count_of(count, "bar")));
        return false;
    }
    if (!address.beat) return true;
    const auto bar = std::find_if(section.bars.begin(), section.bars.end(),
                                  [&](const Bar& other) { return other.number == address.first_bar; });
    const auto beats = bar->meter.in_beats(bar->length);
    if (*address.beat < beats + Beats(1)) return true;
    sink.emit(text::Code::bar_unknown, address.span,
              fmt::format("{} does not exist: the bar has {}.", to_string(address), count_of(beats, "beat")));
    return false;
}

namespace {

const Bar* find_bar(const Tune& tune, const Address& address) {
    const auto index = find_section(tune, address.section);
    if (!index) return nullptr;
    for (const auto& bar : tune.sections[static_cast<std::size_t>(*index)].bars)
        if (bar.number == address.first_bar) return &bar;
    return nullptr;
}

bool overlap(const Address& a, const Address& b) {
    if (!text::same_text(a.section, b.section)) return false;
    if (a.last_bar < b.first_bar || b.last_bar < a.first_bar) return false;
    return !a.beat || !b.beat || *a.beat == *b.beat;
}

class PlanCheck {
public:
    PlanCheck(const Tune& tune, const Plan& plan, text::Sink& sink) : tune_(tune), plan_(plan), sink_(sink) {}

    void run() {
        for (const auto& address : plan_.hold) check_address(tune_, address, sink_);
        for (const auto& take : plan_.take) check_take(take);
        for (const auto& never : plan_.never)
            if (check_address(tune_, never.at, sink_)) check_chord(never.at);
        check_rules();
        check_levels();
    }

private:
    void contradict(Span span, std::string sentence, const Address* address = nullptr) {
        auto note = sink_.emit(text::Code::plan_contradiction, span, std::move(sentence));
        if (address == nullptr) return;
        Place place;
        place.section = address->section;
        place.bar = address->first_bar;
        if (address->beat) place.beat = *address->beat;
        note.at(std::move(place));
    }

    void check_take(const Plan::Take& take) {
        if (!check_address(tune_, take.at, sink_) || !check_chord(take.at)) return;
        const auto spot = to_string(take.at);
        for (const auto& hold : plan_.hold)
            if (overlap(hold, take.at))
                contradict(take.at.span,
                           fmt::format("The plan \"{}\" holds {} as written and takes {} at {}.", plan_.name,
                                       to_string(hold), take.rule.name, spot),
                           &take.at);
        for (const auto& never : plan_.never)
            if (overlap(never.at, take.at) && (!never.rule || never.rule->name == take.rule.name))
                contradict(take.at.span,
                           fmt::format("The plan \"{}\" says both take and never for {} at {}.", plan_.name,
                                       take.rule.name, spot),
                           &take.at);
        for (const auto& other : plan_.take)
            if (&other < &take && overlap(other.at, take.at) && other.rule.name != take.rule.name)
                contradict(take.at.span,
                           fmt::format("The plan \"{}\" takes both {} and {} at {}.", plan_.name,
                                       other.rule.name, take.rule.name, spot),
                           &take.at);
        if (is_locked(take.at))
            contradict(take.at.span,
                       fmt::format("{} is locked with !, so {} cannot be taken there.", spot, take.rule.name),
                       &take.at);
    }

    /// With a beat, a chord must begin there.
    bool check_chord(const Address& address) {
        if (!address.beat) return true;
        const auto* bar = find_bar(tune_, address);
        std::vector<std::string> onsets;
        for (const auto& event : bar->changes) {
            const auto beat = bar->meter.in_beats(event.at) + Beats(1);
            if (beat == *address.beat) return true;
            onsets.push_back(mixed_number(beat));
        }
        auto note =
            sink_.emit(text::Code::spot_without_chord, address.span,
                       fmt::format("No chord begins at {}; in that bar chords begin at beat{} {}.",
                                   to_string(address), onsets.size() == 1 ? "" : "s", listed(onsets)));
        Place place;
        place.section = address.section;
        place.bar = address.first_bar;
        place.beat = *address.beat;
        note.at(std::move(place));
        return false;
    }

    /// Every chord that the address means is locked.
    [[nodiscard]] bool is_locked(const Address& address) const {
        const auto* bar = find_bar(tune_, address);
        return std::all_of(bar->changes.begin(), bar->changes.end(), [&](const ChordEvent& event) {
            const bool meant = !address.beat || bar->meter.in_beats(event.at) + Beats(1) == *address.beat;
            return !meant || event.locked;
        });
    }

    void check_rules() {
        for (const auto& avoided : plan_.avoid) {
            const auto same = [&](const RuleName& rule) { return rule.name == avoided.name; };
            if (std::any_of(plan_.use.begin(), plan_.use.end(), same))
                contradict(avoided.span,
                           fmt::format("The plan \"{}\" both uses and avoids {}.", plan_.name, avoided.name));
            for (const auto& take : plan_.take)
                if (take.rule.name == avoided.name)
                    contradict(take.rule.span, fmt::format("The plan \"{}\" avoids {} and takes it at {}.",
                                                           plan_.name, avoided.name, to_string(take.at)));
        }
    }

    void check_levels() {
        if (plan_.outside && plan_.around && *plan_.around > *plan_.outside)
            contradict(plan_.around_span,
                       fmt::format("The plan \"{}\" wishes for around {}, but outside {} is its ceiling.",
                                   plan_.name, *plan_.around, *plan_.outside));
    }

    const Tune& tune_;
    const Plan& plan_;
    text::Sink& sink_;
};

bool chosen_by_running(const Tune& tune, const Plan& plan) {
    return std::any_of(tune.order.running.begin(), tune.order.running.end(),
                       [&](const RunningItem& item) { return text::same_text(item.plan, plan.name); });
}

std::string_view part_name(Plan::Where where) {
    switch (where) {
        case Plan::Where::head:
            return "the head";
        case Plan::Where::solos:
            return "the solos";
        case Plan::Where::all:
            break;
    }
    return "the whole tune";
}

void check_names(const Tune& tune, text::Sink& sink) {
    for (std::size_t i = 0; i < tune.plans.size(); ++i) {
        const auto same = [&](const Plan& earlier) {
            return text::same_text(tune.plans[i].name, earlier.name);
        };
        const auto end = tune.plans.begin() + static_cast<std::ptrdiff_t>(i);
        if (std::any_of(tune.plans.begin(), end, same))
            sink.emit(text::Code::plan_twice, tune.plans[i].span,
                      fmt::format("There are two plans \"{}\"; give one of them another name.",
                                  tune.plans[i].name));
    }
}

bool overlap(const Plan& one, const Plan& other) {
    return one.where == other.where || one.where == Plan::Where::all || other.where == Plan::Where::all;
}

/// Of the plans for the same players, those that nobody chooses between: each shares its part with another.
std::vector<const Plan*> plans_in_doubt(const Tune& tune, Plan::Who who) {
    std::vector<const Plan*> open, shared;
    for (const auto& plan : tune.plans) {
        if (plan.who == who && !chosen_by_running(tune, plan)) open.push_back(&plan);
    }
    for (const auto* plan : open) {
        const auto shares = [&](const Plan* other) {
            return other != plan && overlap(*plan, *other) && !text::same_text(plan->name, other->name);
        };
        if (std::any_of(open.begin(), open.end(), shares)) shared.push_back(plan);
    }
    return shared;
}

/// Said once for all of them: a tune with ten plans to choose from is no fault ten times over.
void check_overlaps(const Tune& tune, Plan::Who who, text::Sink& sink) {
    const auto plans = plans_in_doubt(tune, who);
    if (plans.empty()) return;
    std::vector<std::string> names, names_and_parts;
    std::vector<Plan::Where> parts;
    int on_all = 0;
    for (const auto* plan : plans) {
        names.push_back('"' + plan->name + '"');
        names_and_parts.push_back(fmt::format("\"{}\" on {}", plan->name, part_name(plan->where)));
        on_all += plan->where == Plan::Where::all ? 1 : 0;
        const bool known = std::find(parts.begin(), parts.end(), plan->where) != parts.end();
        if (plan->where != Plan::Where::all && !known) parts.push_back(plan->where);
    }
    const bool several = parts.size() + (on_all > 1 ? 1 : 0) > 1;
    const auto players = who == Plan::Who::band ? "band" : "soloist";
    const auto told =
        several ? fmt::format("The plans {} are for the {} and overlap", listed(names_and_parts), players)
                : fmt::format("The plans {} are {} for the {} on {}", listed(names),
                              names.size() == 2 ? "both" : "all", players,
                              part_name(parts.empty() ? Plan::Where::all : parts.front()));
    sink.emit(text::Code::plans_overlap, plans[1]->span,
              told + "; the first counts unless the running line or the command names one.");
}

void check_item(const Tune& tune, const RunningItem& item, text::Sink& sink) {
    const auto contradict = [&](std::string_view one, std::string_view other) {
        sink.emit(text::Code::running_contradiction, item.span,
                  fmt::format("{} is to be played {} and {}; keep one of them.", item.name, one, other));
    };
    if (!item.plan.empty()) {
        std::vector<std::string> names;
        for (const auto& plan : tune.plans) names.push_back(plan.name);
        const auto known = std::any_of(names.begin(), names.end(), [&](const std::string& name) {
            return text::same_text(name, item.plan);
        });
        if (!known) {
            auto note = sink.emit(text::Code::unknown_plan, item.plan_span,
                                  fmt::format("The tune has no plan \"{}\".", item.plan));
            if (const auto near = nearest_of(item.plan, names); !near.empty())
                note.fix(item.plan_span, '"' + near + '"', fmt::format("Take the plan \"{}\"", near));
        }
        if (item.changes == RunningItem::Changes::written)
            contradict("with the written changes", "by a plan");
    }
    if (item.each_soloist && !item.soloist.empty()) contradict("by each soloist", "by one soloist");
    if (item.open && item.times > 1) contradict("open", fmt::format("{} times", item.times));
    if (item.tag) check_address(tune, *item.tag, sink);
    if (!item.vamp.empty() && !find_section(tune, item.vamp)) {
        std::vector<std::string> names;
        for (const auto& section : tune.sections) names.push_back(section.name);
        auto note =
            sink.emit(text::Code::section_unknown, item.vamp_span,
                      fmt::format("The vamp plays a section {}, which the tune does not have.", item.vamp));
        if (const auto near = nearest_of(item.vamp, names); !near.empty())
            note.fix(item.vamp_span, near, fmt::format("Vamp {}", near));
    }
}

}  // namespace

void check_plans(const Tune& tune, text::Sink& sink) {
    for (const auto& plan : tune.plans) PlanCheck(tune, plan, sink).run();
    check_names(tune, sink);
    for (const auto who : {Plan::Who::band, Plan::Who::soloist}) check_overlaps(tune, who, sink);
    for (const auto& item : tune.order.running) check_item(tune, item, sink);
}

}  // namespace relead::tune
