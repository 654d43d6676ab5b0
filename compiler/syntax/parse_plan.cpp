#include "syntax/parse_plan.h"

#include <algorithm>
#include <string>
#include <string_view>
#include <vector>

#include "base/fmt.h"
#include "syntax/keywords.h"
#include "syntax/plan_ranges.h"

namespace relead::syntax {
using text::Code;

namespace {

using Kind = PlanLine::Kind;

/// Reads what follows the phrase; false when the line cannot be used.
using Reader = bool (*)(LineParser&, PlanLine&);

/// Another item follows: after a comma, or where one was forgotten.
bool has_more(LineParser& line) {
    if (line.accept(Token::Kind::comma)) return true;
    if (line.peek().kind != Token::Kind::word) return false;
    const Span gap{line.peek().span.source, line.last_end(), line.last_end()};
    line.complain(Code::plan_line_unreadable, "Between two names or places stands a comma.")
        .fix(gap, ",", "put a comma between them");
    return true;
}

bool read_rules(LineParser& line, PlanLine& plan_line) {
    do {
        auto name = line.name();
        if (!name) {
            line.complain(Code::plan_line_unreadable, "Here the name of a rule is missing, such as tritone.");
            return !plan_line.rules.empty();
        }
        plan_line.rules.push_back(std::move(*name));
    } while (has_more(line));
    return true;
}

bool read_places(LineParser& line, PlanLine& plan_line) {
    do {
        if (auto address = line.address()) plan_line.places.push_back(std::move(*address));
    } while (has_more(line));
    return !plan_line.places.empty();
}

/// `word`: what the line begins with.
bool read_number(LineParser& line, PlanLine& plan_line, NumberRange range, std::string_view word) {
    plan_line.number_span = line.peek().span;
    const auto number = line.number(range.least, range.most, word);
    plan_line.number = number.value_or(0);
    return number.has_value();
}

bool read_at_most(LineParser& line, PlanLine& plan_line) {
    constexpr NumberRange changes{1, 99};
    if (!read_number(line, plan_line, changes, "at most")) return false;
    if (!line.accept("changes") && !line.accept("change")) {
        line.complain(Code::plan_line_unreadable,
                      "Write: at most 3 changes in each section, or in the tune.");
        return false;
    }
    if (line.accept_phrase("in the tune"))
        plan_line.each_section = false;
    else if (!line.accept_phrase("in each section"))
        line.complain(Code::plan_line_unreadable,
                      "At most so many changes where? Write in each section, or in the tune.")
            .fix({line.peek().span.source, line.peek().span.begin, line.peek().span.begin},
                 " in each section", "in each section")
            .fix({line.peek().span.source, line.peek().span.begin, line.peek().span.begin}, " in the tune",
                 "in the tune");
    return true;
}

bool read_outside(LineParser& line, PlanLine& plan_line) {
    return read_number(line, plan_line, level_range, "outside");
}

bool read_around(LineParser& line, PlanLine& plan_line) {
    return read_number(line, plan_line, level_range, "around");
}

bool read_depth(LineParser& line, PlanLine& plan_line) {
    return read_number(line, plan_line, depth_range, "depth");
}

/// A rule and where; `example` is what the whole line may look like.
bool read_rule_at(LineParser& line, PlanLine& plan_line, std::string_view example) {
    if (auto name = line.name()) plan_line.rules.push_back(std::move(*name));
    const bool at = line.accept("at");
    if (at && !plan_line.rules.empty()) {
        if (auto address = line.address()) plan_line.places.push_back(std::move(*address));
        return !plan_line.places.empty();
    }
    line.complain(Code::plan_line_unreadable, std::string(example));
    return false;
}

bool read_take(LineParser& line, PlanLine& plan_line) {
    return read_rule_at(line, plan_line, "Write which rule is taken and where: take tritone at A:4.");
}

bool read_never(LineParser& line, PlanLine& plan_line) {
    if (!line.accept("at"))
        return read_rule_at(line, plan_line,
                            "Write where, and of one rule which: never at A:4, or never tritone at A:4.");
    if (auto address = line.address()) plan_line.places.push_back(std::move(*address));
    return !plan_line.places.empty();
}

bool read_nothing(LineParser&, PlanLine&) {
    return true;
}

bool read_melody(LineParser& line, PlanLine& plan_line) {
    plan_line.melody_warns = line.accept("warn");
    if (plan_line.melody_warns || line.accept("refuse")) return true;
    line.complain(Code::plan_line_unreadable,
                  "Clashes with the melody: write melody refuse, or melody warn.");
    return false;
}

bool read_shortest(LineParser& line, PlanLine& plan_line) {
    auto raw = line.peek().kind == Token::Kind::word ? line.peek().raw : std::string_view{};
    const bool joined = raw.size() > 1 && raw.back() == 's';
    if (joined) raw.remove_suffix(1);
    const auto seconds = parse_fraction(raw);
    plan_line.number_span = line.peek().span;
    if (seconds) line.next();
    const bool unit =
        seconds && (joined || line.accept("s") || line.accept("seconds") || line.accept("second"));
    if (!unit || *seconds > Fraction(1000)) {
        line.complain(Code::plan_line_unreadable, "Write the time in seconds: chords last at least 0.5 s.");
        return false;
    }
    plan_line.seconds = *seconds;
    return true;
}

struct PlanWord {
    std::string_view phrase;
    Kind kind;
    bool once;
    Reader read;
};
constexpr PlanWord plan_words[] = {
    {"use", Kind::use, false, read_rules},
    {"avoid", Kind::avoid, false, read_rules},
    {"hold", Kind::hold, false, read_places},
    {"at most", Kind::at_most, true, read_at_most},
    {"outside", Kind::outside, true, read_outside},
    {"around", Kind::around, true, read_around},
    {"take", Kind::take, false, read_take},
    {"never", Kind::never, false, read_never},
    {"each time different", Kind::each_time_different, true, read_nothing},
    {"melody", Kind::melody, true, read_melody},
    {"depth", Kind::depth, true, read_depth},
    {"chords last at least", Kind::shortest, true, read_shortest},
};

template <class T>
void read_choice(LineParser& line, std::string_view word, const Keyword<T> (&table)[3], T& value) {
    if (!line.accept(word)) return;
    const auto* row = line.peek().kind == Token::Kind::word ? find_keyword(table, line.peek().raw) : nullptr;
    if (row != nullptr && !row->word.empty()) {
        value = row->value;
        line.next();
        return;
    }
    std::string choices;
    std::vector<std::string_view> words;
    for (const auto& choice : table) {
        if (choice.word.empty()) continue;
        choices += fmt::format("{}{}", words.empty() ? "" : " or ", choice.word);
        words.push_back(choice.word);
    }
    auto note =
        line.complain(Code::plan_unreadable, fmt::format("After \"{}\" a plan says {}.", word, choices));
    if (line.peek().kind != Token::Kind::word) return;
    const auto meant = nearest_word(line.peek().raw, words);
    if (!meant.empty()) note.fix(line.peek().span, std::string(meant), fmt::format("write {}", meant));
    line.next();
}

}  // namespace

namespace {

/// The line that begins with this word and needs further ones: "each" for `each time different`.
const PlanWord* word_beginning(std::string_view first) {
    for (const auto& word : plan_words) {
        const auto blank = word.phrase.find(' ');
        if (blank != std::string_view::npos && same_word(first, word.phrase.substr(0, blank))) return &word;
    }
    return nullptr;
}

/// Its first word is right; as many words as it has are put right by the fix, where so many stand there.
void tell_phrase(LineParser& line, const PlanWord& meant) {
    auto span = line.peek().span;
    const auto words = std::count(meant.phrase.begin(), meant.phrase.end(), ' ') + 1;
    auto note = line.complain(Code::line_unknown,
                              fmt::format("A line of a plan that begins with {} goes on: {}.",
                                          meant.phrase.substr(0, meant.phrase.find(' ')), meant.phrase));
    for (auto i = words; i > 0; --i) {
        if (line.peek().kind != Token::Kind::word) {
            line.lexer().skip_to_end();
            return;
        }
        span.end = line.next().span.end;
    }
    note.fix(span, std::string(meant.phrase), fmt::format("write {}", meant.phrase));
    line.lexer().skip_to_end();
}

}  // namespace

bool stands_once(Kind kind) {
    return plan_words[static_cast<std::size_t>(kind)].once;
}

std::string_view plan_phrase(Kind kind) {
    return plan_words[static_cast<std::size_t>(kind)].phrase;
}

Plan parse_plan_head(LineParser& line) {
    static constexpr Keyword<PlanWho> who[3] = {{"band", PlanWho::band}, {"soloist", PlanWho::soloist}, {}};
    static constexpr Keyword<PlanWhere> where[3] = {
        {"head", PlanWhere::head}, {"solos", PlanWhere::solos}, {"all", PlanWhere::all}};
    Plan plan;
    if (line.peek().kind == Token::Kind::quoted)
        plan.name = *line.quoted_text("plan");
    else if (same_word(line.peek().raw, "for"))
        plan.name.span = line.peek().span;
    else if (auto name = line.name())
        plan.name = std::move(*name);
    if (plan.name.text.empty())
        line.complain(Code::plan_unreadable,
                      "The plan has no name; write it in quotes: plan \"mild\" for band.");
    read_choice(line, "for", who, plan.who);
    read_choice(line, "on", where, plan.where);
    line.expect_end("plan");
    return plan;
}

std::optional<PlanLine> parse_plan_line(LineParser& line) {
    const Span begin = line.peek().span;
    const auto first = std::string(line.peek().raw);
    for (const auto& word : plan_words) {
        if (!line.accept_phrase(word.phrase)) continue;
        PlanLine plan_line;
        plan_line.kind = word.kind;
        const bool usable = word.read(line, plan_line);
        if (!usable)
            line.lexer().skip_to_end();
        else
            line.expect_end(word.phrase);
        plan_line.span = {begin.source, begin.begin, line.peek().span.end};
        return usable ? std::optional<PlanLine>(std::move(plan_line)) : std::nullopt;
    }
    static constexpr std::string_view starts[] = {"use",    "avoid",  "hold",  "at most", "outside",
                                                  "around", "take",   "never", "each",    "melody",
                                                  "depth",  "chords", "plan",  "section"};
    if (const auto* meant = word_beginning(first)) {
        tell_phrase(line, *meant);
        return std::nullopt;
    }
    const auto nearest = nearest_word(first, starts);
    auto note = line.complain(Code::line_unknown,
                              fmt::format("“{}” begins no line of a plan.{}", first, did_you_mean(nearest)));
    if (!nearest.empty()) note.fix(begin, std::string(nearest), fmt::format("write {}", nearest));
    line.lexer().skip_to_end();
    return std::nullopt;
}

}  // namespace relead::syntax
