#include "property/tune/made_tune.h"

#include <algorithm>

#include "property/tune/made_rows.h"

namespace relead::tune::testing {
namespace {

const Meter meters[] = {{4, 4, {}},     {3, 4, {}},        {6, 8, {}}, {12, 8, {}},
                        {5, 4, {3, 2}}, {7, 8, {2, 2, 3}}, {2, 2, {}}};
constexpr const char* feels[] = {"", "swing", "even", "bossa", "waltz"};
constexpr const char* names[] = {"A", "B", "Verse", "melody", "Ω"};

theory::Key make_key(Dice& dice) {
    constexpr theory::Mode modes[] = {theory::Mode::major, theory::Mode::minor, theory::Mode::dorian};
    return {{dice.between(-3, 4)}, dice.any(modes)};
}

Tempo make_tempo(Dice& dice) {
    return {dice.between(40, 300), dice.any(feels), dice.one_in(3) ? "with \"air\" \\ room" : ""};
}

/// Endings for the numbers 1..count, each in one of them, brackets of one or two bars.
void add_endings(Dice& dice, std::vector<Bar>& bars, int count, bool repeat, bool with_last) {
    int number = 1;
    while (number <= count || with_last) {
        Bar first;
        if (number > count) {
            first.ending_begins.push_back(0);
            with_last = false;
        } else {
            do first.ending_begins.push_back(number++);
            while (number <= count && (repeat ? number < count : true) && dice.one_in(2));
        }
        const bool goes_back = repeat && number <= count;
        bars.push_back(first);
        if (dice.one_in(2)) bars.emplace_back();
        bars.back().ending_ends = true;
        if (goes_back) bars.back().repeat_ends = count;
    }
}

/// `|: … :|`, with endings or without.
void add_repeat(Dice& dice, std::vector<Bar>& bars) {
    const auto begin = bars.size();
    for (int i = dice.between(1, 4); i > 0; --i) bars.emplace_back();
    bars[begin].repeat_begins = true;
    if (dice.one_in(2)) {
        bars.back().repeat_ends = dice.between(2, 4);
        return;
    }
    add_endings(dice, bars, dice.between(2, 4), true, false);
}

/// `playings` of the section in a chorus; 0 when signs decide it.
void shape(Dice& dice, Section& section, int playings, bool with_last, bool with_pickup) {
    auto& bars = section.bars;
    for (int i = dice.between(1, 6); i > 0; --i) bars.emplace_back();
    if (dice.one_in(2)) {
        add_repeat(dice, bars);
        bars.emplace_back();  // endings of the repeat and of the section would run together
    }
    if (playings > 0 && dice.one_in(3)) add_endings(dice, bars, playings, false, with_last && dice.one_in(2));
    if (dice.one_in(2)) bars.emplace_back();
    bars.back().double_bar_after = dice.one_in(3);
    int number = 0;
    auto meter = section.meter;
    for (auto& bar : bars) {
        if (number > 0 && dice.one_in(10)) {
            bar.new_meter = meter = dice.any(meters);
            if (dice.one_in(2)) bar.new_key = make_key(dice);
            if (dice.one_in(2)) bar.new_tempo = make_tempo(dice);
        }
        bar.number = ++number;
        bar.meter = meter;
        bar.length = meter.bar_length();
    }
    if (!with_pickup) return;
    Bar pickup;
    pickup.number = 0;
    pickup.meter = section.meter;
    pickup.length = Time(dice.between(1, 3), 8);
    bars.insert(bars.begin(), pickup);
}

void add_running(Dice& dice, Tune& tune) {
    RunningItem head, solos, last;
    head.name = "Head";
    head.times = dice.between(1, 3);
    solos.name = "Solos";
    solos.open = true;
    solos.each_soloist = dice.one_in(2);
    solos.changes = dice.one_in(2) ? RunningItem::Changes::written : RunningItem::Changes::plan;
    last.name = "Head";
    last.last = true;
    if (dice.one_in(3)) {
        last.tag = Address{tune.sections.front().name, 1, 1, std::nullopt, {}};
        last.tag_times = dice.between(1, 3);
    }
    tune.order.running = {head, solos, last};
}

/// Signs in legal places: to coda before the D.S., which stands right before the coda.
void add_signs(Dice& dice, Tune& tune) {
    auto& last = tune.sections.back().bars;
    auto& first = tune.sections.front().bars;
    const auto mark = [](Bar& bar, Mark::Kind kind) { bar.marks.push_back({kind, "", {}}); };
    if (tune.sections.size() < 2 || dice.one_in(3)) return;
    auto& segno = first[first.front().number == 0 ? 1 : 0];
    if (dice.one_in(2)) {
        mark(segno, Mark::Kind::segno);
        mark(segno, Mark::Kind::fine);
        mark(last.back(), Mark::Kind::dal_segno_al_fine);
        return;
    }
    mark(segno, Mark::Kind::to_coda);
    mark(tune.sections[tune.sections.size() - 2].bars.back(), Mark::Kind::da_capo_al_coda);
    mark(last.front(), Mark::Kind::coda);
}

void add_plan(Dice& dice, Tune& tune) {
    Plan plan;
    plan.name = "mild \"one\"";
    plan.who = dice.one_in(2) ? Plan::Who::band : Plan::Who::soloist;
    plan.where = static_cast<Plan::Where>(dice.below(3));
    if (dice.one_in(2)) plan.use = {{"tritone", {}}, {"related-ii", {}}};
    if (dice.one_in(2)) plan.avoid = {{"backdoor", {}}};
    if (dice.one_in(2)) plan.hold = {{tune.sections.back().name, 1, 1, std::nullopt, {}}};
    if (dice.one_in(2)) plan.at_most = dice.between(1, 9);
    plan.at_most_per_section = !plan.at_most || dice.one_in(2);
    plan.outside = dice.between(3, 5);
    if (dice.one_in(2)) plan.around = dice.between(1, 3);
    if (dice.one_in(2)) plan.never = {{std::nullopt, {tune.sections.front().name, 1, 1, std::nullopt, {}}}};
    plan.each_time_different = dice.one_in(3);
    if (dice.one_in(3)) plan.melody = Plan::MelodyPolicy::warn;
    if (dice.one_in(3)) plan.depth = dice.between(1, 4);
    if (dice.one_in(3)) plan.shortest_seconds = Fraction(dice.between(1, 9), 4);
    tune.plans = {plan};
}

void make_header(Dice& dice, Tune& tune) {
    tune.title = "Made \\ up";
    if (dice.one_in(2)) tune.composer = "Nobody";
    if (dice.one_in(2)) tune.note = "say \"hey\"";
    tune.key = make_key(dice);
    tune.given_key = tune.key;
    tune.meter = dice.any(meters);
    tune.tempo = make_tempo(dice);
    tune.has_tempo = true;
    if (dice.one_in(3)) tune.stamp = VersionStamp{"mild", "0123abcd", dice.one_in(2) ? "1 May" : ""};
}

}  // namespace

Tune make_tune(std::uint64_t seed) {
    Dice dice(seed);
    Tune tune;
    make_header(dice, tune);
    const int sections = dice.between(1, 4);
    tune.order.by_signs = dice.one_in(3);
    const bool with_running = !tune.order.by_signs || dice.one_in(2);
    for (int i = 0; i < sections; ++i) tune.order.form.push_back(i);
    if (!tune.order.by_signs)
        for (int extra = dice.below(4); extra > 0; --extra) tune.order.form.push_back(dice.below(sections));
    for (int i = 0; i < sections; ++i) {
        Section section;
        section.name = names[i];
        if (dice.one_in(3)) section.title = "Title | of it";
        section.key = dice.one_in(4) ? make_key(dice) : tune.key;
        section.meter = dice.one_in(4) ? dice.any(meters) : tune.meter;
        section.tempo = dice.one_in(4) ? make_tempo(dice) : tune.tempo;
        const auto playings = std::count(tune.order.form.begin(), tune.order.form.end(), i);
        shape(dice, section, tune.order.by_signs ? 0 : static_cast<int>(playings), with_running,
              i == 0 && dice.one_in(3));
        fill_rows(dice, section);
        tune.sections.push_back(std::move(section));
    }
    if (tune.order.by_signs) add_signs(dice, tune);
    if (with_running) add_running(dice, tune);
    if (dice.one_in(2)) add_plan(dice, tune);
    return tune;
}

}  // namespace relead::tune::testing
