#include "tune/write.h"

#include "syntax/tidy.h"
#include "tune/stamp.h"
#include "tune/write_rows.h"

namespace relead::tune {
namespace {

syntax::Words words(const std::string& text) {
    return {text, {}};
}

std::vector<syntax::Words> words(const std::vector<RuleName>& rules) {
    std::vector<syntax::Words> names;
    for (const auto& rule : rules) names.push_back(words(rule.name));
    return names;
}

std::optional<syntax::TextLine> text_line(const std::string& text) {
    if (text.empty()) return std::nullopt;
    syntax::TextLine line;
    line.text = words(text);
    return line;
}

syntax::Address write_address(const Address& address) {
    return {words(address.section), address.first_bar, address.last_bar, address.beat, {}};
}

syntax::RunningLine write_running(const std::vector<RunningItem>& items) {
    syntax::RunningLine line;
    for (const auto& item : items) {
        syntax::RunningItem tree;
        tree.name = words(item.name);
        tree.times = item.times;
        tree.open = item.open;
        tree.on_cue = item.on_cue;
        tree.each_soloist = item.each_soloist;
        if (!item.soloist.empty()) tree.soloist = words(item.soloist);
        tree.written_changes = item.changes == RunningItem::Changes::written;
        if (!item.plan.empty()) tree.plan = words(item.plan);
        tree.last = item.last;
        if (!item.vamp.empty()) tree.vamp = words(item.vamp);
        if (item.tag) tree.tag = write_address(*item.tag);
        tree.tag_times = item.tag_times;
        line.items.push_back(std::move(tree));
    }
    return line;
}

void write_header(const Tune& tune, syntax::TuneTree& tree) {
    auto& header = tree.header;
    header.tune.emplace();
    header.tune->text = words(tune.title);
    header.by = text_line(tune.composer);
    header.words = text_line(tune.lyricist);
    header.rights = text_line(tune.rights);
    header.note = text_line(tune.note);
    if (tune.open_key || tune.given_key) header.key = write_key(tune.key, tune.open_key);
    header.meter = write_meter(tune.meter);
    if (tune.has_tempo) header.tempo = write_tempo(tune.tempo);
    if (!tune.order.by_signs) {
        header.form.emplace();
        for (const int index : tune.order.form)
            header.form->sections.push_back(words(tune.sections[static_cast<std::size_t>(index)].name));
    }
    if (!tune.order.running.empty()) header.running = write_running(tune.order.running);
}

syntax::Section write_section(const Tune& tune, const Section& section) {
    syntax::Section tree;
    tree.name = words(section.name);
    if (!section.title.empty()) tree.title = words(section.title);
    tree.groups = write_groups(section);
    if (tree.groups.empty()) return tree;
    auto& first = tree.groups.front();
    if (section.key != tune.key || section.open_key != tune.open_key)
        first.key = write_key(section.key, section.open_key);
    if (section.meter != tune.meter) first.meter = write_meter(section.meter);
    if (section.tempo != tune.tempo) first.tempo = write_tempo(section.tempo);
    return tree;
}

class PlanWriter {
public:
    explicit PlanWriter(const Plan& plan) : plan_(plan) {}

    syntax::Plan write() {
        tree_.name = words(plan_.name);
        tree_.who = plan_.who == Plan::Who::band ? syntax::PlanWho::band : syntax::PlanWho::soloist;
        tree_.where = plan_.where == Plan::Where::head    ? syntax::PlanWhere::head
                      : plan_.where == Plan::Where::solos ? syntax::PlanWhere::solos
                                                          : syntax::PlanWhere::all;
        if (!plan_.use.empty()) add(Kind::use).rules = words(plan_.use);
        if (!plan_.avoid.empty()) add(Kind::avoid).rules = words(plan_.avoid);
        if (!plan_.hold.empty()) {
            auto& line = add(Kind::hold);
            for (const auto& address : plan_.hold) line.places.push_back(write_address(address));
        }
        add_number(Kind::at_most, plan_.at_most);
        add_number(Kind::outside, plan_.outside);
        add_number(Kind::around, plan_.around);
        add_spots();
        if (plan_.each_time_different) add(Kind::each_time_different);
        if (plan_.melody == Plan::MelodyPolicy::warn) add(Kind::melody).melody_warns = true;
        add_number(Kind::depth, plan_.depth);
        if (plan_.shortest_seconds) add(Kind::shortest).seconds = *plan_.shortest_seconds;
        return std::move(tree_);
    }

private:
    using Kind = syntax::PlanLine::Kind;

    syntax::PlanLine& add(Kind kind) {
        auto& line = tree_.lines.emplace_back();
        line.kind = kind;
        return line;
    }
    void add_number(Kind kind, std::optional<int> number) {
        if (!number) return;
        auto& line = add(kind);
        line.number = *number;
        line.each_section = plan_.at_most_per_section;
    }
    void add_spots() {
        for (const auto& take : plan_.take) {
            auto& line = add(Kind::take);
            line.rules = {words(take.rule.name)};
            line.places = {write_address(take.at)};
        }
        for (const auto& never : plan_.never) {
            auto& line = add(Kind::never);
            if (never.rule) line.rules = {words(never.rule->name)};
            line.places = {write_address(never.at)};
        }
    }

    const Plan& plan_;
    syntax::Plan tree_;
};

}  // namespace

syntax::TuneTree to_tree(const Tune& tune) {
    syntax::TuneTree tree;
    if (tune.stamp) tree.top.push_back({write_stamp(*tune.stamp), {}, false});
    write_header(tune, tree);
    for (const auto& section : tune.sections) tree.sections.push_back(write_section(tune, section));
    for (const auto& plan : tune.plans) tree.plans.push_back(PlanWriter(plan).write());
    return tree;
}

std::string write_tune(const Tune& tune) {
    return syntax::tidy(to_tree(tune));
}

}  // namespace relead::tune
