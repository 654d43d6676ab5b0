#include "rules/lower_condition.h"

#include <cstdlib>

#include "rules/numeral.h"
#include "syntax/cursor.h"
#include "tune/spot.h"

namespace relead::rules {
namespace {

using text::Code;

constexpr std::string_view classes_there_are =
    "The classes are any, maj, min, m7, dom, sus, hdim, dim, aug and power.";

/// A chord word that is none: a class that is not known, or no chord at all.
void complain_of_chord(const syntax::RuleWord& word, text::Sink& sink) {
    if (complain_of_signs(word, Code::rules_bad_chord, sink)) return;
    const auto colon = word.text.find(':');
    const auto left = word.text.substr(0, colon);
    if (colon != std::string::npos && (left == "any" || parse_degree(left)) &&
        !find_kinds(word.text.substr(colon + 1))) {
        sink.emit(
            Code::rules_unknown_kind, word.span,
            "Rules know no class `" + word.text.substr(colon + 1) + "`. " + std::string(classes_there_are));
        return;
    }
    sink.emit(
        Code::rules_bad_chord, word.span,
        word.text +
            " is no chord of a rule: write a numeral with its quality (ii7, bVII7), or a degree with a class "
            "(1:maj, b7:dom, any:sus).");
}

std::optional<int> subject_of(const Run& find, const syntax::RuleWord& word, text::Sink& sink) {
    constexpr int whole_region = 0;  // a region is one find, its last chord speaks for it
    if (find.empty() && word.text == "@1") return whole_region;
    const auto found = found_by_name(find, word);
    if (!found)
        sink.emit(Code::rules_no_such_chord, word.span,
                  "The rule does not find a chord " + word.text +
                      ": name one of its `find` line, or count it as @1.");
    return found;
}

/// `new2`, the second chord of the write line; nothing for any other word.
std::optional<int> new_by_name(const syntax::RuleWord& word) {
    constexpr std::string_view start = "new";
    if (word.text.size() != start.size() + 1 || word.text.substr(0, start.size()) != start)
        return std::nullopt;
    const auto number = syntax::parse_number(std::string_view(word.text).substr(start.size()));
    return number && *number > 0 ? std::optional(*number - 1) : std::nullopt;
}

/// The chord behind `of`: one of the find line, or a new one.
bool lower_of(const syntax::RuleWord& word, const Run& find, int new_chords, Condition& condition,
              text::Sink& sink) {
    condition.degrees_of_new = new_by_name(word);
    if (!condition.degrees_of_new) {
        condition.degrees_of = subject_of(find, word, sink);
        return condition.degrees_of.has_value();
    }
    if (*condition.degrees_of_new < new_chords) return true;
    sink.emit(Code::rules_no_such_chord, word.span,
              new_chords == 0 ? "The rule keeps each chord in its place; there is no " + word.text + "."
                              : "The rule writes " + tune::count_of(Fraction(new_chords), "chord") +
                                    "; there is no " + word.text + ".");
    return false;
}

bool takes_degrees(ConditionKind kind) {
    return kind == ConditionKind::prepares_degree || kind == ConditionKind::melody_holds ||
           kind == ConditionKind::melody_touches;
}
bool takes_kinds(ConditionKind kind) {
    return kind == ConditionKind::prepares_kind || kind == ConditionKind::is_kind;
}

bool lower_words(const syntax::RuleCondition& node, Condition& condition, text::Sink& sink) {
    if (takes_kinds(node.kind)) condition.kinds = 0;
    for (const auto& word : node.words) {
        if (takes_degrees(node.kind)) {
            const bool of_scale = node.kind == ConditionKind::prepares_degree;
            const auto degree = lower_degree(word, of_scale ? Counting::scale : Counting::chord, sink);
            if (!degree) return false;
            condition.degrees.push_back(*degree);
        } else if (takes_kinds(node.kind)) {
            const auto kinds = lower_kinds(word, sink);
            if (!kinds) return false;
            condition.kinds |= *kinds;
        } else {
            condition.words.push_back(word.text);
        }
    }
    if (node.words_negated) condition.kinds = any_chord & ~condition.kinds;
    return true;
}

std::optional<Condition> lower_condition(const syntax::RuleCondition& node, const Run& find, int new_chords,
                                         text::Sink& sink) {
    Condition condition;
    condition.kind = node.kind;
    condition.negated = node.negated;
    condition.length = node.length;
    condition.place = node.place;
    condition.metric = node.metric;
    condition.text = node.text;
    if (node.subject) {
        condition.subject = subject_of(find, *node.subject, sink);
        if (!condition.subject) return std::nullopt;
    }
    if (node.of && !lower_of(*node.of, find, new_chords, condition, sink)) return std::nullopt;
    if (node.run) {
        auto run = lower_run(*node.run, sink);
        if (!run) return std::nullopt;
        condition.run = std::move(*run);
        condition.written = node.run->written;
    }
    if (!lower_words(node, condition, sink)) return std::nullopt;
    return condition;
}

}  // namespace

std::optional<theory::Degree> lower_degree(const syntax::RuleWord& word, Counting counting,
                                           text::Sink& sink) {
    const auto degree = parse_degree(word.text);
    const bool in_chord = counting == Counting::chord;
    const bool one_sign = degree && std::abs(degree->alteration) <= 1;
    const auto is_there = [&](int number) {
        return number <= 7 || (in_chord && (number == 9 || number == 11 || number == 13));
    };
    if (one_sign && is_there(degree->number)) return degree;
    auto note = sink.emit(
        Code::rules_bad_degree, word.span,
        word.text + (in_chord ? " is no degree of a chord: write 1 to 7, 9, 11 or 13, with b or # in front "
                                "where it is altered, such as b9 or #11."
                              : " is no degree of the scale: write 1 to 7, with b or # in front where it is "
                                "altered, such as b7."));
    if (!one_sign) return std::nullopt;
    const auto low = std::to_string((degree->number - 1) % 7 + 1);
    const auto sign = word.text.substr(0, word.text.find_first_of("123456789"));
    note.fix(word.span, sign + low, "Write " + sign + low + ", the same note name");
    return std::nullopt;
}

std::optional<KindSet> lower_kinds(const syntax::RuleWord& word, text::Sink& sink) {
    const auto kinds = find_kinds(word.text);
    if (!kinds)
        sink.emit(Code::rules_unknown_kind, word.span,
                  "Rules know no class `" + word.text + "`. " + std::string(classes_there_are));
    return kinds;
}

bool complain_of_signs(const syntax::RuleWord& word, Code code, text::Sink& sink) {
    const auto plain = with_one_sign(word.text);
    if (!plain) return false;
    sink.emit(code, word.span,
              word.text + " has several signs; a chord of a rule has one at most. " + *plain +
                  " has the same root.")
        .fix(word.span, *plain, "Write " + *plain);
    return true;
}

std::optional<Run> lower_run(const syntax::RuleRun& node, text::Sink& sink) {
    Run run;
    for (const auto& from : node.elements) {
        Element element;
        element.optional = from.optional;
        element.lengths = from.lengths;
        for (const auto& word : from.alternatives) {
            auto pattern = parse_pattern(word.text);
            if (!pattern) {
                complain_of_chord(word, sink);
                return std::nullopt;
            }
            element.alternatives.push_back(std::move(*pattern));
        }
        run.push_back(std::move(element));
    }
    return run;
}

std::optional<int> found_by_name(const Run& find, const syntax::RuleWord& word) {
    if (word.text.size() > 1 && word.text.front() == '@') {
        const auto number = syntax::parse_number(std::string_view(word.text).substr(1));
        if (!number || *number < 1 || *number > static_cast<int>(find.size())) return std::nullopt;
        return *number - 1;
    }
    for (std::size_t i = 0; i < find.size(); ++i) {
        for (const auto& pattern : find[i].alternatives) {
            if (pattern.text == word.text) return static_cast<int>(i);
        }
    }
    return std::nullopt;
}

std::optional<Clause> lower_clause(const syntax::RuleClause& node, const Run& find, int new_chords,
                                   text::Sink& sink) {
    Clause clause;
    clause.text = node.text;
    clause.span = node.span;
    for (const auto& conjunction : node.any_of) {
        auto& all = clause.any_of.emplace_back();
        for (const auto& from : conjunction) {
            auto condition = lower_condition(from, find, new_chords, sink);
            if (!condition) return std::nullopt;
            all.push_back(std::move(*condition));
        }
    }
    return clause;
}

}  // namespace relead::rules
