#include "tune/dump.h"

#include "base/fmt.h"
#include "tune/note_value.h"
#include "tune/quote.h"
#include "tune/stamp.h"

namespace relead::tune {
namespace {

const char* mark_name(Mark::Kind kind) {
    using Kind = Mark::Kind;
    switch (kind) {
        case Kind::segno:
            return "segno";
        case Kind::coda:
            return "coda";
        case Kind::to_coda:
            return "to-coda";
        case Kind::fine:
            return "fine";
        case Kind::da_capo:
            return "dc";
        case Kind::da_capo_al_fine:
            return "dc-al-fine";
        case Kind::da_capo_al_coda:
            return "dc-al-coda";
        case Kind::dal_segno:
            return "ds";
        case Kind::dal_segno_al_fine:
            return "ds-al-fine";
        case Kind::dal_segno_al_coda:
            return "ds-al-coda";
        case Kind::fermata:
            return "fermata";
        case Kind::stop_time_break:
            return "break";
        case Kind::ritard:
            return "ritard";
        case Kind::a_tempo:
            return "a-tempo";
        case Kind::pedal:
            return "pedal";
        case Kind::text:
            return "text";
    }
    return "";
}

std::string words(const Meter& meter) {
    auto text = fmt::format("{}/{}", meter.beats, meter.unit);
    for (std::size_t i = 0; i < meter.groups.size(); ++i)
        text += (i == 0 ? " " : "+") + std::to_string(meter.groups[i]);
    return text;
}

std::string words(const Tempo& tempo) {
    auto text = std::to_string(tempo.beats_per_minute);
    if (!tempo.feel.empty()) text += ' ' + tempo.feel;
    if (!tempo.words.empty()) text += ' ' + quoted(tempo.words);
    return text;
}

std::string words(const theory::Key& key, bool open) {
    return open ? "open" : theory::to_string(key);
}

class Writer {
public:
    explicit Writer(const Tune& tune) : tune_(tune) {}

    std::string write() {
        header();
        order();
        for (const auto& section : tune_.sections) this->section(section);
        for (const auto& plan : tune_.plans) this->plan(plan);
        return std::move(out_);
    }

private:
    template <class... Arguments>
    void line(fmt::format_string<Arguments...> format, Arguments&&... arguments) {
        out_ += fmt::format(format, std::forward<Arguments>(arguments)...) + '\n';
    }
    void text_line(std::string_view name, const std::string& text) {
        if (!text.empty()) line("{} {}", name, quoted(text));
    }

    void header() {
        text_line("tune", tune_.title);
        text_line("by", tune_.composer);
        text_line("words", tune_.lyricist);
        text_line("rights", tune_.rights);
        text_line("note", tune_.note);
        line("key {}{}", words(tune_.key, tune_.open_key),
             tune_.given_key || tune_.open_key ? "" : " (estimated)");
        line("meter {}", words(tune_.meter));
        line("tempo {}{}", words(tune_.tempo), tune_.has_tempo ? "" : " (assumed)");
        if (tune_.stamp) line("{}", write_stamp(*tune_.stamp));
    }

    void order() {
        std::string form;
        for (const int index : tune_.order.form)
            form += ' ' + tune_.sections[static_cast<std::size_t>(index)].name;
        line("{}{}", tune_.order.by_signs ? "by signs" : "form", form);
        for (const auto& item : tune_.order.running) running(item);
    }

    void running(const RunningItem& item) {
        auto text = "running " + item.name;
        if (item.times != 1) text += fmt::format(", {} times", item.times);
        if (item.open) text += ", open";
        if (item.on_cue) text += ", on cue";
        if (item.each_soloist) text += ", each soloist";
        if (!item.soloist.empty()) text += ", solo " + quoted(item.soloist);
        if (item.changes == RunningItem::Changes::written) text += ", written changes";
        if (!item.plan.empty()) text += ", plan " + quoted(item.plan);
        if (item.last) text += ", last";
        if (!item.vamp.empty()) text += ", vamp " + item.vamp;
        if (item.tag) text += fmt::format(", tag {} {} times", to_string(*item.tag), item.tag_times);
        line("{}", text);
    }

    void section(const Section& section) {
        line("section {}{} | {} | {} | {}", section.name,
             section.title.empty() ? "" : ' ' + quoted(section.title), words(section.key, section.open_key),
             words(section.meter), words(section.tempo));
        for (const auto& bar : section.bars) this->bar(bar);
    }

    void bar(const Bar& bar) {
        std::string text =
            bar.number == 0 ? "  pickup " + bar.length.to_string() : fmt::format("  {}", bar.number);
        signs(bar, text);
        text += bar.simile ? " | %" : " |";
        for (const auto& event : bar.changes) text += chord(event);
        line("{}", text);
        chords("ossia", bar.ossia);
        chords("soloist", bar.soloist);
        notes("melody", bar.melody);
        notes("long", bar.longs);
        notes("bass", bar.bass);
        if (bar.hits) hits(*bar.hits);
        for (std::size_t verse = 0; verse < bar.lyrics.size(); ++verse) lyrics(verse + 1, bar.lyrics[verse]);
        if (bar.marks.empty()) return;
        text = "    marks";
        for (const auto& mark : bar.marks)
            text += mark.kind == Mark::Kind::text ? ' ' + quoted(mark.text)
                                                  : fmt::format(" {}", mark_name(mark.kind));
        line("{}", text);
    }

    static void signs(const Bar& bar, std::string& text) {
        if (bar.repeat_begins) text += " |:";
        if (!bar.ending_begins.empty()) {
            text += " [";
            for (std::size_t i = 0; i < bar.ending_begins.size(); ++i)
                text += (i > 0 ? "," : "") +
                        (bar.ending_begins[i] == 0 ? "last" : std::to_string(bar.ending_begins[i]));
        }
        if (bar.ending_ends) text += " ]";
        if (bar.repeat_ends > 0) text += fmt::format(" :|*{}", bar.repeat_ends);
        if (bar.double_bar_after) text += " ||";
        if (bar.new_key) text += " key " + words(*bar.new_key, bar.opens_key);
        if (bar.new_meter) text += " meter " + words(*bar.new_meter);
        if (bar.new_tempo) text += " tempo " + words(*bar.new_tempo);
    }

    static std::string chord(const ChordEvent& event) {
        static constexpr const char* pushes[] = {"", "<", "<<", ">"};
        return fmt::format(" {}{}{}@{}+{}", pushes[static_cast<int>(event.push)],
                           theory::to_string(event.chord), event.locked ? "!" : "", event.at.to_string(),
                           event.length.to_string());
    }

    void chords(std::string_view name, const std::optional<std::vector<ChordEvent>>& events) {
        if (!events) return;
        std::string text;
        for (const auto& event : *events) text += chord(event);
        line("    {}{}", name, text);
    }

    static std::string tuplet(const std::optional<Tuplet>& tuplet) {
        if (!tuplet) return "";
        return fmt::format("{}{}:{}{}", tuplet->begins ? "[" : "-", tuplet->actual, tuplet->normal,
                           tuplet->ends ? "]" : "-");
    }

    static std::string note(const NoteEvent& event) {
        std::string text = " ";
        for (const auto& grace : event.grace) text += '{' + theory::to_string(grace) + '}';
        text += std::string(static_cast<std::size_t>(event.slurs_begin), '(');
        text += event.kind == NoteEvent::Kind::note   ? theory::to_string(event.pitch)
                : event.kind == NoteEvent::Kind::rest ? "r"
                                                      : "?";
        text += (event.tied_to_next ? "~" : "") + std::string(static_cast<std::size_t>(event.slurs_end), ')');
        return text + fmt::format("@{}+{}/{}{}{}", event.at.to_string(), event.length.to_string(),
                                  duration_word(event.value), tuplet(event.outer_tuplet),
                                  tuplet(event.tuplet));
    }

    void notes(std::string_view name, const std::optional<std::vector<NoteEvent>>& events) {
        if (!events) return;
        std::string text;
        for (const auto& event : *events) text += note(event);
        line("    {}{}", name, text);
    }

    void hits(const std::vector<HitEvent>& events) {
        std::string text;
        for (const auto& event : events)
            text += fmt::format(" {}{}@{}+{}/{}{}",
                                event.kind == HitEvent::Kind::rest    ? "r"
                                : event.kind == HitEvent::Kind::brief ? "x"
                                                                      : "X",
                                event.tied_to_next ? "~" : "", event.at.to_string(), event.length.to_string(),
                                duration_word(event.value), tuplet(event.tuplet));
        line("    hits{}", text);
    }

    void lyrics(std::size_t verse, const std::vector<Syllable>& syllables) {
        if (syllables.empty()) return;
        using Part = Syllable::Part;
        std::string text;
        for (const auto& syllable : syllables) {
            const bool before = syllable.part == Part::middle || syllable.part == Part::end;
            const bool after = syllable.part == Part::middle || syllable.part == Part::begin;
            text +=
                fmt::format(" {}{}{}@{}", before ? "-" : "", syllable.text, after ? "-" : "", syllable.note);
            if (syllable.extends) text += fmt::format("_{}", syllable.held);
        }
        line("    lyrics {}{}", verse, text);
    }

    void plan(const Plan& plan) {
        line("plan {} for {} on {}", quoted(plan.name), plan.who == Plan::Who::band ? "band" : "soloist",
             plan.where == Plan::Where::head    ? "head"
             : plan.where == Plan::Where::solos ? "solos"
                                                : "all");
        rules("use", plan.use);
        rules("avoid", plan.avoid);
        for (const auto& address : plan.hold) line("  hold {}", to_string(address));
        if (plan.at_most)
            line("  at most {} in {}", *plan.at_most, plan.at_most_per_section ? "section" : "tune");
        if (plan.outside) line("  outside {}", *plan.outside);
        if (plan.around) line("  around {}", *plan.around);
        for (const auto& take : plan.take) line("  take {} at {}", take.rule.name, to_string(take.at));
        for (const auto& never : plan.never)
            line("  never {}at {}", never.rule ? never.rule->name + ' ' : "", to_string(never.at));
        if (plan.each_time_different) line("  each time different");
        if (plan.melody == Plan::MelodyPolicy::warn) line("  melody warn");
        if (plan.depth) line("  depth {}", *plan.depth);
        if (plan.shortest_seconds) line("  at least {} s", plan.shortest_seconds->to_string());
    }

    void rules(std::string_view name, const std::vector<RuleName>& rules) {
        if (rules.empty()) return;
        std::string text;
        for (const auto& rule : rules) text += ' ' + rule.name;
        line("  {}{}", name, text);
    }

    const Tune& tune_;
    std::string out_;
};

std::string bar_label(const Bar& bar) {
    return bar.number == 0 ? "pickup" : std::to_string(bar.number);
}

/// One past the last played bar of the run that begins at `first`: the same playing, bars in order.
std::size_t run_end(const Tune& tune, const std::vector<PlayedBar>& bars, std::size_t first) {
    auto end = first + 1;
    while (end < bars.size() && bars[end].section == bars[first].section &&
           bars[end].playing == bars[first].playing && bars[end].bar == bars[end - 1].bar + 1 &&
           tune.sections[static_cast<std::size_t>(bars[end - 1].section)]
                   .bars[static_cast<std::size_t>(bars[end - 1].bar)]
                   .number > 0)
        ++end;
    return end;
}

std::string run_name(const Tune& tune, const std::vector<PlayedBar>& bars, std::size_t first,
                     std::size_t end) {
    const auto& section = tune.sections[static_cast<std::size_t>(bars[first].section)];
    const auto label = [&](std::size_t i) {
        return bar_label(section.bars[static_cast<std::size_t>(bars[i].bar)]);
    };
    auto text = section.name + ':' + label(first);
    if (end - first > 1) text += '-' + label(end - 1);
    return text;
}

}  // namespace

std::string dump(const Tune& tune) {
    return Writer(tune).write();
}

std::string dump(const Tune& tune, const std::vector<PlayedBar>& bars) {
    std::string text;
    for (std::size_t i = 0; i < bars.size();) {
        const auto end = run_end(tune, bars, i);
        text += bars[i].start.to_string() + ' ' + run_name(tune, bars, i, end);
        if (bars[i].playing > 0) text += fmt::format(" ({})", bars[i].playing + 1);
        text += '\n';
        i = end;
    }
    return text;
}

std::string dump(const Tune& tune, const std::vector<PlayedChorus>& choruses) {
    std::string text;
    for (const auto& chorus : choruses)
        text += fmt::format("{}: {}\n", chorus.item.name, bar_runs(tune, chorus.bars));
    return text;
}

std::string bar_runs(const Tune& tune, const std::vector<PlayedBar>& bars) {
    std::string text;
    for (std::size_t i = 0; i < bars.size();) {
        const auto end = run_end(tune, bars, i);
        text += (text.empty() ? "" : " ") + run_name(tune, bars, i, end);
        i = end;
    }
    return text;
}

}  // namespace relead::tune
