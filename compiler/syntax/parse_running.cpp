// The `running` line: items separated by bar signs, each a name and what is said about it.
#include <algorithm>

#include "base/fmt.h"
#include "syntax/keywords.h"
#include "syntax/parse_head.h"

namespace relead::syntax {
using text::Code;

namespace {

constexpr int most_times = 99;

/// `N times` when it stands here.
std::optional<int> accept_times(LineParser& line, Span* span) {
    const auto count = line.peek().kind == Token::Kind::word ? parse_number(line.peek().raw) : std::nullopt;
    if (!count) return std::nullopt;
    LineParser ahead = line;
    ahead.next();
    if (!ahead.accept("times") && !ahead.accept("time")) return std::nullopt;
    const Span begin = line.peek().span;
    const auto times = line.number(1, most_times, "times");
    const Span end = line.peek().span;
    line.next();
    if (span != nullptr) *span = {begin.source, begin.begin, end.end};
    return times.value_or(1);
}

bool accept_soloist(LineParser& line, RunningItem& item) {
    LineParser ahead = line;
    if (!ahead.accept("solo") || ahead.peek().kind != Token::Kind::quoted) return false;
    line = std::move(ahead);
    item.soloist = line.quoted_text("solo");
    return true;
}

bool accept_plan(LineParser& line, RunningItem& item) {
    LineParser ahead = line;
    if (!ahead.accept("plan") || ahead.peek().kind != Token::Kind::quoted) return false;
    line = std::move(ahead);
    item.plan = line.quoted_text("plan");
    return true;
}

bool accept_vamp(LineParser& line, RunningItem& item) {
    LineParser ahead = line;
    if (!ahead.accept("vamp") || ahead.peek().kind != Token::Kind::word) return false;
    line = std::move(ahead);
    item.vamp = line.name();
    return true;
}

bool accept_tag(LineParser& line, RunningItem& item) {
    LineParser ahead = line;
    if (!ahead.accept("tag") || ahead.peek().kind != Token::Kind::word) return false;
    if (ahead.peek().raw.find(':') == std::string_view::npos) return false;
    line = std::move(ahead);
    item.tag = line.address();
    item.tag_times = accept_times(line, nullptr).value_or(1);
    return true;
}

/// One thing said about an item; false when none stands here.
bool accept_property(LineParser& line, RunningItem& item) {
    if (const auto times = accept_times(line, &item.times_span)) {
        item.times = *times;
        return true;
    }
    bool* const flags[] = {&item.each_soloist, &item.written_changes, &item.on_cue, &item.open, &item.last};
    constexpr std::string_view phrases[] = {"each soloist", "written changes", "on cue", "open", "last"};
    for (std::size_t i = 0; i < std::size(phrases); ++i)
        if (line.accept_phrase(phrases[i])) {
            *flags[i] = true;
            return true;
        }
    return accept_soloist(line, item) || accept_plan(line, item) || accept_vamp(line, item) ||
           accept_tag(line, item);
}

void skip_item(LineParser& line) {
    while (!line.at_end() && line.peek().kind != Token::Kind::bar) line.next();
}

/// A word that says something only with what belongs behind it; empty when the word is none of them.
std::string_view what_belongs_behind(std::string_view word) {
    if (same_word(word, "vamp")) return "Which section is vamped? Write its name behind it: vamp A.";
    if (same_word(word, "tag")) return "Which bars are the tag? Write them behind it: tag A:7-8 2 times.";
    if (same_word(word, "solo"))
        return "Whose solo is it? Write the player in quotation marks: solo \"Ida\".";
    if (same_word(word, "plan"))
        return "Which plan is played? Write its name in quotation marks: plan \"mild\".";
    return {};
}

void complain_of_property(LineParser& line) {
    if (const auto wanted = what_belongs_behind(line.peek().raw); !wanted.empty()) {
        line.complain(Code::running_unreadable, std::string(wanted));
        return;
    }
    static constexpr std::string_view words[] = {"times", "open", "on cue", "each soloist", "written changes",
                                                 "last",  "vamp", "tag",    "solo",         "plan"};
    const auto nearest = nearest_word(line.peek().raw, words);
    auto note = line.complain(
        Code::running_unreadable,
        fmt::format(
            "“{}” says nothing about how this part is played.{} Known are: 2 times, open, on cue, each "
            "soloist, solo \"who\", written changes, plan \"name\", last, vamp A, tag A:7-8 2 times.",
            line.peek().raw, did_you_mean(nearest)));
    if (!nearest.empty() && line.peek().kind == Token::Kind::word)
        note.fix(line.peek().span, std::string(nearest), fmt::format("write {}", nearest));
}

/// The name's words go on until something is said about the item; the first word is always its.
void read_item_name(LineParser& line, RunningItem& item) {
    item.name.span = line.peek().span;
    if (line.peek().kind == Token::Kind::quoted) {
        item.name.text = line.next().text;
        return;
    }
    do {
        if (!item.name.text.empty()) item.name.text += ' ';
        item.name.span.end = line.peek().span.end;
        item.name.text += line.next().raw;
        RunningItem probe;
        // A property ends the name; what it says is read (and complained of) by the caller.
        text::Sink silent;
        LineParser trial(line.lexer(), silent);
        if (accept_property(trial, probe)) return;
    } while (line.peek().kind == Token::Kind::word);
}

std::optional<RunningItem> parse_item(LineParser& line) {
    if (line.peek().kind != Token::Kind::word && line.peek().kind != Token::Kind::quoted) {
        line.complain(Code::running_unreadable, "Here the name of a part is missing, such as Head or Solos.");
        skip_item(line);
        return std::nullopt;
    }
    RunningItem item;
    item.span = line.peek().span;
    read_item_name(line, item);
    bool comma = true;  // before the first property it may be left out, and before `last`
    while (!line.at_end() && line.peek().kind != Token::Kind::bar) {
        const bool separated = line.accept(Token::Kind::comma);
        if (!separated && !comma && !same_word(line.peek().raw, "last")) {
            const Span before{line.peek().span.source, line.peek().span.begin, line.peek().span.begin};
            line.complain(Code::running_unreadable, "What is said about a part is separated by commas.")
                .fix(before, ", ", "put a comma here");
        }
        comma = false;
        if (accept_property(line, item)) continue;
        complain_of_property(line);
        skip_item(line);
    }
    item.span.end = std::max(item.span.end, line.last_end());
    return item;
}

}  // namespace

std::optional<RunningLine> parse_running(LineParser& line) {
    RunningLine running;
    do {
        if (auto item = parse_item(line)) running.items.push_back(std::move(*item));
    } while (line.accept(Token::Kind::bar));
    line.expect_end("running");
    return running.items.empty() ? std::nullopt : std::optional<RunningLine>(std::move(running));
}

}  // namespace relead::syntax
