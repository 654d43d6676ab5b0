#include "base/fmt.h"
#include "syntax/cursor.h"
#include "syntax/keywords.h"
#include "syntax/parse_plan.h"
#include "syntax/print.h"

namespace relead::syntax {
namespace {

template <class Item, class Print>
std::string joined(const std::vector<Item>& items, std::string_view separator, Print print_one) {
    std::string text;
    for (const auto& item : items) {
        if (!text.empty()) text += separator;
        text += print_one(item);
    }
    return text;
}

std::string text_of(const Words& words) {
    return words.text;
}
std::string place_of(const Address& address) {
    return print(address);
}

/// 0.5, 1.25, or 1/3 where decimals do not end.
std::string decimal(Fraction value) {
    constexpr std::int64_t most = 1'000'000'000;
    std::int64_t scale = 1;
    while (scale < most && scale % value.denominator() != 0) scale *= 10;
    if (value.is_whole() || scale % value.denominator() != 0) return value.to_string();
    const auto digits = (value.numerator() % value.denominator()) * (scale / value.denominator());
    auto text = fmt::format("{}", digits + scale);  // "1" and the digits
    return fmt::format("{}.{}", value.floor(), text.substr(1));
}

std::string times(int count) {
    return fmt::format("{} {}", count, count == 1 ? "time" : "times");
}

/// True for a name that read without quotes would be something else.
bool needs_quotes(const std::string& name) {
    static constexpr std::string_view taken[] = {"open", "on",   "each", "solo", "written",
                                                 "plan", "last", "vamp", "tag"};
    if (name.empty() || trimmed(name) != name || name.find_first_of("\",|\\") != std::string::npos)
        return true;
    bool first = true;
    for (std::size_t begin = 0; begin <= name.size();) {
        auto end = name.find(' ', begin);
        if (end == std::string::npos) end = name.size();
        const auto word = std::string_view(name).substr(begin, end - begin);
        if (word.empty() || word == "--") return true;
        for (std::size_t i = 0; i < word.size(); i += character_length(word, i))
            if (blank_length(word, i) > 0 || static_cast<unsigned char>(word[i]) == 0xE2) return true;
        if (!first && parse_number(word)) return true;
        for (const auto keyword : taken)
            if (!first && same_word(keyword, word)) return true;
        first = false;
        begin = end + 1;
    }
    return false;
}

}  // namespace

std::string print(const Address& address) {
    auto text = fmt::format("{}:{}", address.section.text, address.first_bar);
    if (address.last_bar != address.first_bar) text += fmt::format("-{}", address.last_bar);
    if (!address.beat) return text;
    const auto whole = address.beat->floor();
    const auto rest = *address.beat - Beats(whole);
    text += fmt::format(".{}", whole);
    return rest == Beats(0) ? text : fmt::format("{}+{}", text, rest.to_string());
}

std::string print(const KeyLine& line) {
    return line.key ? theory::to_string(*line.key) : "open";
}

std::string print(const MeterLine& line) {
    const auto groups = joined(line.groups, "+", [](int group) { return std::to_string(group); });
    return fmt::format("{}/{}{}{}", line.beats, line.unit, groups.empty() ? "" : " ", groups);
}

std::string print(const TempoLine& line) {
    auto text = std::to_string(line.beats_per_minute);
    if (!line.feel.empty()) text += " " + line.feel;
    if (!line.words.empty()) text += " " + quote(line.words);
    return text;
}

std::string print(const FormLine& line) {
    return joined(line.sections, " ", text_of);
}

std::string print(const RunningItem& item) {
    auto text = needs_quotes(item.name.text) ? quote(item.name.text) : item.name.text;
    bool first = true;
    // The plainest properties follow the name without a comma.
    const auto say = [&](const std::string& what, bool plain) {
        text += (first && plain ? " " : ", ") + what;
        first = false;
    };
    if (item.times != 1) say(times(item.times), true);
    if (item.open) say("open", true);
    if (item.on_cue) say("on cue", true);
    if (item.each_soloist) say("each soloist", false);
    if (item.soloist) say("solo " + quote(item.soloist->text), false);
    if (item.written_changes) say("written changes", false);
    if (item.plan) say("plan " + quote(item.plan->text), false);
    if (item.vamp) say("vamp " + item.vamp->text, false);
    if (item.last) say("last", true);
    if (item.tag) say(fmt::format("tag {} {}", print(*item.tag), times(item.tag_times)), false);
    return text;
}

std::string print(const RunningLine& line) {
    return joined(line.items, " | ", [](const RunningItem& item) { return print(item); });
}

std::string print(const PlanLine& line) {
    using Kind = PlanLine::Kind;
    const std::string phrase(plan_phrase(line.kind));
    switch (line.kind) {
        case Kind::use:
        case Kind::avoid:
            return fmt::format("{} {}", phrase, joined(line.rules, ", ", text_of));
        case Kind::hold:
            return fmt::format("{} {}", phrase, joined(line.places, ", ", place_of));
        case Kind::at_most:
            return fmt::format("{} {} {} {}", phrase, line.number, line.number == 1 ? "change" : "changes",
                               line.each_section ? "in each section" : "in the tune");
        case Kind::outside:
        case Kind::around:
        case Kind::depth:
            return fmt::format("{} {}", phrase, line.number);
        case Kind::take:
        case Kind::never:
            return fmt::format("{}{}{} at {}", phrase, line.rules.empty() ? "" : " ",
                               joined(line.rules, ", ", text_of), joined(line.places, ", ", place_of));
        case Kind::each_time_different:
            return phrase;
        case Kind::melody:
            return fmt::format("{} {}", phrase, line.melody_warns ? "warn" : "refuse");
        case Kind::shortest:
            return fmt::format("{} {} s", phrase, decimal(line.seconds));
    }
    return phrase;
}

std::string print_head(const Plan& plan) {
    auto text =
        fmt::format("plan {} for {}", quote(plan.name.text), plan.who == PlanWho::band ? "band" : "soloist");
    if (plan.where == PlanWhere::head) text += " on head";
    if (plan.where == PlanWhere::solos) text += " on solos";
    return text;  // on all says itself
}

}  // namespace relead::syntax
