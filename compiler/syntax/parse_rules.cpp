#include "syntax/parse_rules.h"

#include <array>
#include <utility>

#include "syntax/cursor.h"
#include "syntax/rules_phrases.h"

namespace relead::syntax {
namespace {

using text::Code;

struct RuleParser {
    text::Sink& sink;
    RuleNode& rule;
    RuleCursor& cursor;

    bool complain(Code code, std::string sentence) {
        sink.emit(code, cursor.here(), std::move(sentence));
        return false;
    }
    bool once(bool already, std::string_view line) {
        if (!already) return true;
        sink.emit(Code::rules_line_twice, cursor.here(),
                  "The rule " + rule.name.text + " has its `" + std::string(line) + "` line twice.");
        return false;
    }
    bool read_text(std::optional<RuleWord>& into, std::string_view line);
    bool read_family();
    bool read_outside();
    bool read_audience();
    bool read_find();
    bool read_context(std::vector<RuleRun>& into);
    bool read_tonic();
    bool read_condition(std::vector<RuleClause>& into);
    bool read_write();
    bool read_item();
    bool read_share(ShareWord& share);
    bool read_colours(ReplacementWord& item);
    bool read_threads();
    bool read_source();
    bool read_line(std::string_view keyword);
};

bool RuleParser::read_text(std::optional<RuleWord>& into, std::string_view line) {
    if (!once(into.has_value(), line)) return false;
    if (cursor.done() || cursor.peek().kind != RuleToken::Kind::text)
        return complain(Code::quote_missing,
                        "The `" + std::string(line) + "` of a rule stands in quotation marks.");
    into = word_of(cursor.take());
    return true;
}

bool RuleParser::read_family() {
    if (!once(rule.family.has_value(), "family")) return false;
    if (cursor.done() || cursor.peek().kind != RuleToken::Kind::word)
        return complain(Code::rules_bad_name, "A family is one word, such as `turnaround`.");
    rule.family = word_of(cursor.take());
    return true;
}

bool RuleParser::read_outside() {
    if (!once(rule.outside.has_value(), "outside")) return false;
    const auto level = cursor.done() ? std::nullopt : parse_number(cursor.peek().text);
    if (!level || *level < 1 || *level > 5)
        return complain(Code::rules_bad_level,
                        "How far outside a rule leads is a number from 1 (inside) to 5.");
    cursor.take();
    rule.outside = *level;
    return true;
}

bool RuleParser::read_audience() {
    if (!once(rule.audience.has_value(), "for")) return false;
    if (!cursor.at("band") && !cursor.at("soloist"))
        return complain(Code::rules_bad_audience,
                        "A rule is `for band` or `for soloist`; without the line for both.");
    rule.audience = word_of(cursor.take());
    return true;
}

bool RuleParser::read_find() {
    if (!once(rule.find.has_value(), "find")) return false;
    const auto start = cursor.mark();
    FindLine find;
    if (cursor.accept("region")) {
        find.region = read_place(cursor, sink);
        if (!find.region) return false;
    } else {
        auto run = read_run(cursor, sink);
        if (!run) return false;
        find.run = std::move(*run);
    }
    find.span = cursor.span_from(start);
    rule.find = std::move(find);
    return true;
}

bool RuleParser::read_context(std::vector<RuleRun>& into) {
    auto run = read_run(cursor, sink);
    if (!run) return false;
    into.push_back(std::move(*run));
    return true;
}

bool RuleParser::read_tonic() {
    if (!once(rule.tonic.has_value(), "tonic")) return false;
    if (!cursor.at("any") && !cursor.at("local") && !cursor.at("home"))
        return complain(
            Code::rules_bad_tonic,
            "Degree 1 is `any` (as the chords say), `local` (the key there) or `home` (the tune's key).");
    rule.tonic = word_of(cursor.take());
    if (cursor.at("major") || cursor.at("minor")) rule.tonic_mode = word_of(cursor.take());
    return true;
}

bool RuleParser::read_condition(std::vector<RuleClause>& into) {
    auto clause = read_clause(cursor, sink);
    if (!clause) return false;
    into.push_back(std::move(*clause));
    return true;
}

bool RuleParser::read_colours(ReplacementWord& item) {
    while (cursor.accept("with")) {
        if (cursor.done())
            return complain(Code::rules_bad_write, "`with` names a degree, such as `with #11`.");
        ColourWord colour{word_of(cursor.take()), std::nullopt};
        if (cursor.accept("before")) {
            if (cursor.done())
                return complain(Code::rules_bad_write, "`with b9 before minor` names a kind of chord.");
            colour.before = word_of(cursor.take());
        }
        item.colours.push_back(std::move(colour));
    }
    return true;
}

bool RuleParser::read_share(ShareWord& share) {
    if (cursor.done() || cursor.at(",")) return true;
    const auto start = cursor.mark();
    if (cursor.accept("rest")) {
        share.kind = ShareWord::Kind::rest;
        share.span = cursor.span_from(start);
        return true;
    }
    bool good = true;
    if (cursor.peek().text.rfind('@', 0) == 0) {
        share.found = parse_number(std::string_view(cursor.take().text).substr(1));
        share.kind = ShareWord::Kind::fraction;
        good = share.found && *share.found >= 1;
    }
    if (good && !cursor.done() && !cursor.at(",")) {
        const auto amount = read_amount(cursor.take().text);
        share.kind = ShareWord::Kind::fraction;
        if (amount) share.amount = *amount;
        good = amount.has_value();
        if (cursor.accept("beats") || cursor.accept("beat")) {
            share.kind = ShareWord::Kind::beats;
            good = good && !share.found;
        } else {
            good = good && *amount <= 1;
        }
    }
    share.span = cursor.span_from(start);
    if (!good)
        sink.emit(
            Code::rules_bad_share, share.span,
            "How long a new chord lasts reads `1/2`, `@2` (as long as found chord 2), `@2 1/2`, `1 beat` or "
            "`rest`.");
    return good;
}

bool RuleParser::read_item() {
    const auto start = cursor.mark();
    ReplacementWord item;
    if (cursor.done() || cursor.peek().kind != RuleToken::Kind::word)
        return complain(
            Code::rules_bad_write,
            "A new chord is missing here: a numeral with its quality (bII7, iv6), `same` or `each`.");
    item.chord = word_of(cursor.take());
    if (item.chord.text.rfind("same", 0) == 0 && !cursor.done()) {
        const auto number = parse_number(cursor.peek().text);
        if (number && !cursor.peek(1).is("beat") && !cursor.peek(1).is("beats")) {
            item.same_of = number;
            cursor.take();
        }
    }
    if (cursor.accept("over")) {
        if (cursor.done())
            return complain(Code::rules_bad_write, "`over` names a degree of the tonic, such as `over V`.");
        item.over = word_of(cursor.take());
    }
    if (!read_colours(item) || !read_share(item.share)) return false;
    item.span = cursor.span_from(start);
    rule.write.push_back(std::move(item));
    return true;
}

bool RuleParser::read_write() {
    if (!once(!rule.write.empty(), "write")) return false;
    do {
        if (!read_item()) return false;
    } while (cursor.accept(","));
    return true;
}

bool RuleParser::read_threads() {
    const auto start = cursor.mark();
    ThreadsLine line;
    if (!cursor.done() && cursor.peek().text.rfind('@', 0) == 0)
        line.chord = parse_number(std::string_view(cursor.take().text).substr(1)).value_or(0);
    do {
        ThreadWord thread;
        if (!cursor.done() && cursor.peek().kind == RuleToken::Kind::word)
            thread.from = word_of(cursor.take());
        if (!thread.from.text.empty() && cursor.accept(">")) thread.to = read_alternatives(cursor);
        if (thread.to.empty())
            return complain(Code::rules_bad_thread,
                            "Threads read `3>3, 7>7|5`: where each guide tone lands.");
        line.threads.push_back(std::move(thread));
    } while (cursor.accept(","));
    line.span = cursor.span_from(start);
    rule.threads.push_back(std::move(line));
    return true;
}

bool RuleParser::read_source() {
    if (!cursor.at("common")) return read_text(rule.source, "source");
    if (!once(rule.source.has_value(), "source")) return false;
    auto word = word_of(cursor.take());
    if (!cursor.accept("practice"))
        return complain(Code::rules_bad_source,
                        "A source stands in quotation marks, or is `common practice`.");
    word.text = "common practice";
    rule.source = std::move(word);
    return true;
}

bool RuleParser::read_line(std::string_view keyword) {
    if (keyword == "title") return read_text(rule.title, "title");
    if (keyword == "why") return read_text(rule.why, "why");
    if (keyword == "example") return read_text(rule.example, "example");
    if (keyword == "family") return read_family();
    if (keyword == "outside") return read_outside();
    if (keyword == "for") return read_audience();
    if (keyword == "find") return read_find();
    if (keyword == "before") return read_context(rule.before);
    if (keyword == "after") return read_context(rule.after);
    if (keyword == "tonic") return read_tonic();
    if (keyword == "when") return read_condition(rule.when);
    if (keyword == "unless") return read_condition(rule.unless);
    if (keyword == "write") return read_write();
    if (keyword == "threads") return read_threads();
    return read_source();
}

constexpr std::array<std::string_view, 15> line_words{"title",  "family",  "outside", "for",    "find",
                                                      "before", "after",   "tonic",   "when",   "unless",
                                                      "write",  "threads", "why",     "source", "example"};

bool is_line_word(std::string_view word) {
    for (const auto known : line_words) {
        if (known == word) return true;
    }
    return false;
}

/// A rule's name or a family: letters, digits, `-`; it begins with a letter.
bool is_name(std::string_view text) {
    for (const char c : text) {
        if (!((c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '-')) return false;
    }
    return !text.empty() && text.front() >= 'a' && text.front() <= 'z';
}

class FileParser {
public:
    FileParser(const text::Source& source, const Limits& limits)
        : source_(source), limits_(limits), sink_(limits), feed_(source, sink_) {}

    Outcome<RulesTree> run() {
        while (auto line = next_line()) {
            if (line->body.empty()) continue;
            auto tokens = rule_tokens(*line, source_.index(), sink_);
            const auto end = line->begin + static_cast<std::uint32_t>(line->body.size());
            RuleCursor cursor(join_continued(std::move(tokens)), {source_.index(), line->begin, end});
            if (cursor.accept("rule")) {
                if (!begin_rule(cursor)) break;
            } else {
                read_rule_line(cursor);
            }
        }
        return {std::move(tree_), sink_.take()};
    }

private:
    std::optional<FedLine> next_line() {
        if (held_) return std::exchange(held_, std::nullopt);
        return feed_.next();
    }
    /// A line that ends with `,` or `|` goes on in the next.
    std::vector<RuleToken> join_continued(std::vector<RuleToken> tokens) {
        while (!tokens.empty() && tokens.back().kind == RuleToken::Kind::sign &&
               (tokens.back().text == "," || tokens.back().text == "|")) {
            auto line = next_line();
            if (!line) break;
            const auto more = rule_tokens(*line, source_.index(), sink_);
            if (!more.empty() && (more.front().is("rule") || is_line_word(more.front().text))) {
                const auto sign = tokens.back();
                sink_
                    .emit(Code::rules_extra_words, sign.span,
                          "A line that ends with " + std::string(sign.text) +
                              " goes on in the next one, and that begins with `" +
                              std::string(more.front().text) + "`.")
                    .fix(sign.span, "", "Remove the last " + std::string(sign.text));
                if (!tree_.rules.empty()) tree_.rules.back().broken = true;
                tokens.pop_back();
                held_ = std::move(line);
                break;
            }
            tokens.insert(tokens.end(), more.begin(), more.end());
        }
        return tokens;
    }
    bool begin_rule(RuleCursor& cursor) {
        if (static_cast<int>(tree_.rules.size()) >= limits_.rules) {
            sink_.emit(text::Code::too_many_rules, cursor.here(),
                       "A text may hold " + std::to_string(limits_.rules) + " rules; the rest is not read.");
            return false;
        }
        RuleNode rule;
        const auto start = cursor.mark();
        if (!cursor.done()) rule.name = word_of(cursor.take());
        rule.span = rule.name.span;
        if (!is_name(rule.name.text)) {
            sink_.emit(Code::rules_bad_name, cursor.span_from(start),
                       "A rule's name is small letters, digits and hyphens, such as `related-ii`.");
            rule.broken = true;
        }
        complain_of_rest(cursor, rule);
        tree_.rules.push_back(std::move(rule));
        return true;
    }
    void read_rule_line(RuleCursor& cursor) {
        const auto keyword = cursor.take();
        if (tree_.rules.empty()) {
            if (std::exchange(lines_outside_, true)) return;  // said once
            sink_.emit(Code::rules_outside_rule, keyword.span,
                       "This line stands above the first rule; a rule begins with `rule` and its name.");
            return;
        }
        auto& rule = tree_.rules.back();
        if (keyword.kind != RuleToken::Kind::word || !is_line_word(keyword.text)) {
            sink_.emit(
                Code::rules_unknown_line, keyword.span,
                "A rule has no `" + keyword.text +
                    "` line. Its lines are title, family, outside, for, find, before, after, tonic, when, "
                    "unless, write, threads, why, source and example.");
            rule.broken = true;
            return;
        }
        if (!RuleParser{sink_, rule, cursor}.read_line(keyword.text)) {
            rule.broken = true;
        } else {
            complain_of_rest(cursor, rule);
        }
    }
    void complain_of_rest(RuleCursor& cursor, RuleNode& rule) {
        if (cursor.done()) return;
        const auto start = cursor.mark();
        const bool either = cursor.peek().is("or");
        while (!cursor.done()) cursor.take();
        sink_.emit(Code::rules_extra_words, cursor.span_from(start),
                   either ? "Between two that will do stands |, as in `ii7 | iiø7`; this line knows no `or`."
                          : "These words are too many on this line.");
        rule.broken = true;
    }

    const text::Source& source_;
    const Limits& limits_;
    text::Sink sink_;
    LineFeed feed_;
    std::optional<FedLine> held_;  ///< read ahead
    bool lines_outside_ = false;   ///< lines above the first rule
    RulesTree tree_;
};

}  // namespace

Outcome<RulesTree> parse_rules(const text::Source& source, const Limits& limits) {
    return FileParser(source, limits).run();
}

}  // namespace relead::syntax
