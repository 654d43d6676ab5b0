#include "rules/lower_rule.h"

#include <array>

#include "rules/example_line.h"
#include "rules/lower_condition.h"
#include "rules/numeral.h"

namespace relead::rules {
namespace {

using text::Code;

constexpr std::array<std::string_view, 14> placeholders{"new",     "old",   "next", "previous", "third",
                                                        "seventh", "tonic", "home", "new1",     "new2",
                                                        "new3",    "old1",  "old2", "old3"};

class RuleLowering {
public:
    RuleLowering(const syntax::RuleNode& node, text::Sink& sink) : node_(node), sink_(sink) {}

    std::optional<Rule> run() {
        if (!has_all_lines()) return std::nullopt;
        lower_plain_lines();
        if (!lower_example()) return std::nullopt;
        const bool good = lower_find() && lower_contexts() && lower_clauses() && lower_write() &&
                          lower_threads() && check_shares() && check_reason();
        if (!good) return std::nullopt;
        return std::move(rule_);
    }

private:
    bool missing(bool there, std::string_view line, std::string_view wants) {
        if (!there)
            sink_.emit(Code::rules_line_missing, node_.span,
                       "The rule " + node_.name.text + " has no `" + std::string(line) +
                           "` line: " + std::string(wants) + ".");
        return there;
    }
    bool has_all_lines() {
        bool all = missing(node_.title.has_value(), "title", "its name in print, in quotation marks");
        all = missing(node_.outside.has_value(), "outside", "how far it leads, from 1 to 5") && all;
        all = missing(node_.find.has_value(), "find", "the chords that it looks for") && all;
        all = missing(!node_.write.empty(), "write", "the chords that it puts there") && all;
        return missing(node_.why.has_value(), "why",
                       "the reason that players will read, in quotation marks") &&
               all;
    }
    void lower_plain_lines() {
        rule_.name = node_.name.text;
        rule_.span = node_.span;
        rule_.title = node_.title->text;
        rule_.family = node_.family ? node_.family->text : node_.name.text;
        rule_.outside = *node_.outside;
        rule_.why = node_.why->text;
        rule_.source = node_.source ? node_.source->text : "";
        if (node_.audience)
            rule_.audience = node_.audience->text == "band" ? Audience::band : Audience::soloist;
        if (node_.tonic && node_.tonic->text == "local") rule_.tonic = TonicBinding::local;
        if (node_.tonic && node_.tonic->text == "home") rule_.tonic = TonicBinding::home;
        if (node_.tonic_mode) rule_.tonic_mode = node_.tonic_mode->text;
    }
    bool lower_example() {
        if (!node_.example) return true;
        auto changes = read_example(*node_.example, sink_);
        if (!changes) return false;
        rule_.example = std::move(*changes);
        rule_.example_span = node_.example->span;
        return true;
    }
    bool lower_find() {
        rule_.find.region = node_.find->region;
        rule_.find.span = node_.find->span;
        if (rule_.find.region) {
            if (rule_.tonic == TonicBinding::any) rule_.tonic = TonicBinding::local;
            return true;
        }
        auto run = lower_run(node_.find->run, sink_);
        if (!run) return false;
        rule_.find.run = std::move(*run);
        if (rule_.find.run.front().optional || (rule_.tonic == TonicBinding::any && !binds_tonic())) {
            sink_.emit(Code::rules_bad_run, node_.find->span,
                       "The first chord of `find` may not be absent, and with `tonic any` it names a degree, "
                       "so that "
                       "degree 1 is known.");
            return false;
        }
        return true;
    }
    bool binds_tonic() const {
        for (const auto& pattern : rule_.find.run.front().alternatives) {
            if (!pattern.degree) return false;
        }
        return true;
    }
    bool lower_contexts() {
        for (const auto& [from, into] :
             {std::pair(&node_.before, &rule_.before), std::pair(&node_.after, &rule_.after)}) {
            for (const auto& node : *from) {
                auto run = lower_run(node, sink_);
                if (!run) return false;
                into->push_back({std::move(*run), node.written, node.span});
            }
        }
        return true;
    }
    bool lower_clauses() {
        const bool keeps_each = node_.write.front().chord.text == "each";
        const int new_chords = keeps_each ? 0 : static_cast<int>(node_.write.size());
        for (const auto& [from, into] :
             {std::pair(&node_.when, &rule_.when), std::pair(&node_.unless, &rule_.unless)}) {
            for (const auto& node : *from) {
                auto clause = lower_clause(node, rule_.find.run, new_chords, sink_);
                if (!clause) return false;
                into->push_back(std::move(*clause));
            }
        }
        return true;
    }
    bool lower_write() {
        rule_.write_span = node_.write.front().span;
        rule_.write_span.end = node_.write.back().span.end;
        for (const auto& node : node_.write) {
            NewChordSpec item;
            item.text = node.chord.text;
            if (!lower_base(node, item) || !lower_bass(node, item) || !lower_colours(node, item) ||
                !lower_share(node, item))
                return false;
            rule_.write.push_back(std::move(item));
        }
        return true;
    }
    bool lower_base(const syntax::ReplacementWord& node, NewChordSpec& item) {
        if (node.chord.text == "each") {
            item.base = NewChordSpec::Base::each;
            if (node_.write.size() == 1) return true;
            sink_.emit(Code::rules_bad_write, node.span,
                       "`each` stands alone: it keeps every found chord in its place.");
            return false;
        }
        if (node.chord.text.rfind("same", 0) == 0) return lower_same(node, item);
        // One of several names for a found chord is what is to be written, not what happens to stand there.
        const auto found = found_by_name(rule_.find.run, node.chord);
        if (found && rule_.find.run[static_cast<std::size_t>(*found)].alternatives.size() == 1) {
            item.base = NewChordSpec::Base::found;
            item.found = *found;
            return true;
        }
        const auto numeral = parse_numeral(node.chord.text);
        if (!numeral) {
            if (!complain_of_signs(node.chord, Code::rules_bad_chord, sink_))
                sink_.emit(Code::rules_bad_chord, node.chord.span,
                           node.chord.text +
                               " is no chord that a rule can write: a numeral with its quality (bII7, iv6, "
                               "#i\u00b07), `same` or `each`.");
            return false;
        }
        item.degree = numeral->degree;
        item.quality = numeral->quality.quality;
        item.extra = numeral->quality.extra;
        item.bass_of_chord = numeral->bass;
        return true;
    }
    bool lower_same(const syntax::ReplacementWord& node, NewChordSpec& item) {
        item.base = NewChordSpec::Base::found;
        item.found = node.same_of.value_or(1) - 1;
        const auto rest = node.chord.text.substr(4);
        if (!rest.empty() && rest.front() == '/')
            item.bass_of_chord = parse_degree(std::string_view(rest).substr(1));
        if (!rest.empty() && (!item.bass_of_chord || item.bass_of_chord->number > 7)) {
            sink_.emit(Code::rules_bad_chord, node.chord.span,
                       "`same` may have another degree of the chord as its bass: same/3.");
            return false;
        }
        return check_found(item.found, node.chord.span);
    }
    bool check_found(int found, Span span) {
        if (rule_.find.region || (found >= 0 && found < static_cast<int>(rule_.find.run.size()))) return true;
        sink_.emit(Code::rules_no_such_chord, span,
                   "The rule finds " + std::to_string(rule_.find.run.size()) +
                       " chords; there is no number " + std::to_string(found + 1) + ".");
        return false;
    }
    bool lower_bass(const syntax::ReplacementWord& node, NewChordSpec& item) {
        if (!node.over) return true;
        const auto numeral = parse_numeral(node.over->text);
        if (!numeral) {
            if (!complain_of_signs(*node.over, Code::rules_bad_chord, sink_))
                sink_.emit(Code::rules_bad_chord, node.over->span,
                           "`over` names a degree of the tonic, such as `over V`.");
            return false;
        }
        item.bass_of_tonic = numeral->degree;
        return true;
    }
    bool lower_colours(const syntax::ReplacementWord& node, NewChordSpec& item) {
        for (const auto& word : node.colours) {
            const auto degree = lower_degree(word.degree, Counting::chord, sink_);
            const auto before = word.before ? lower_kinds(*word.before, sink_) : std::nullopt;
            if (!degree || (word.before && !before) || !can_carry(item, word, *degree)) return false;
            item.colours.push_back({*degree, before});
        }
        return true;
    }
    /// A found chord is known only where the rule fires.
    bool can_carry(const NewChordSpec& item, const syntax::ColourWord& word, theory::Degree degree) {
        theory::Chord chord;
        chord.quality = item.quality;
        chord.extra = item.extra;
        if (item.base != NewChordSpec::Base::degree || theory::with_degree(chord, degree)) return true;
        sink_.emit(Code::rules_bad_write, word.degree.span,
                   "A " + item.text + " has no place for " + word.degree.text +
                       ": another tone of that chord stands against it.");
        return false;
    }
    bool lower_share(const syntax::ReplacementWord& node, NewChordSpec& item) {
        item.share.amount = node.share.amount;
        switch (node.share.kind) {
            case syntax::ShareWord::Kind::even:
                item.share.kind = Share::Kind::even;
                break;
            case syntax::ShareWord::Kind::fraction:
                item.share.kind = Share::Kind::fraction;
                break;
            case syntax::ShareWord::Kind::beats:
                item.share.kind = Share::Kind::beats;
                break;
            case syntax::ShareWord::Kind::rest:
                item.share.kind = Share::Kind::rest;
                break;
        }
        if (!node.share.found) return true;
        item.share.found = *node.share.found - 1;
        if (!rule_.find.region) return check_found(*item.share.found, node.share.span);
        sink_.emit(Code::rules_no_such_chord, node.share.span, "A region has no counted chords.");
        return false;
    }
    std::optional<theory::Thread> lower_thread(const syntax::ThreadWord& word) {
        theory::Thread thread;
        for (const auto& to : word.to) {
            const auto degree = lower_degree(to, Counting::chord, sink_);
            if (!degree) return std::nullopt;
            if (degree->alteration != 0) {
                const auto plain = std::to_string(degree->number);
                sink_
                    .emit(Code::rules_bad_thread, to.span,
                          "A thread lands on a number without b or #: which third or seventh it is, the next "
                          "chord says.")
                    .fix(to.span, plain, "Write " + plain);
                return std::nullopt;
            }
            thread.to.push_back(degree->number);
        }
        if (word.from.text == "3" || word.from.text == "7") {
            thread.from = word.from.text == "3" ? 3 : 7;
            return thread;
        }
        sink_.emit(Code::rules_bad_thread, word.from.span,
                   "A thread starts at 3 or 7: the tones in the third's and the seventh's role.");
        return std::nullopt;
    }
    bool lower_threads() {
        for (const auto& node : node_.threads) {
            ThreadSet set;
            if (node.chord) {
                set.chord = *node.chord - 1;
                if (*set.chord < 0 || *set.chord >= static_cast<int>(rule_.write.size())) {
                    sink_.emit(Code::rules_no_such_chord, node.span,
                               "`write` has no new chord of that number.");
                    return false;
                }
            }
            for (const auto& word : node.threads) {
                auto thread = lower_thread(word);
                if (!thread) return false;
                set.threads.push_back(std::move(*thread));
            }
            rule_.threads.push_back(std::move(set));
        }
        return true;
    }
    /// Plain fractions fill the whole; at most one `rest`.
    bool check_shares() {
        Fraction sum = 0;
        int plain = 0, rests = 0;
        for (const auto& item : rule_.write) {
            if (item.share.kind == Share::Kind::rest) ++rests;
            if (item.share.kind == Share::Kind::fraction && !item.share.found) {
                ++plain;
                sum += item.share.amount;
            }
        }
        const bool all_plain = plain == static_cast<int>(rule_.write.size());
        if (rests <= 1 && (!all_plain || sum == 1) && sum <= 1) return true;
        sink_.emit(Code::rules_shares_do_not_fit, node_.write.front().span,
                   rests > 1
                       ? "Only one new chord can take the rest."
                       : "The shares of the new chords add up to " + sum.to_string() + ", not to the whole.");
        return false;
    }
    bool check_reason() {
        for (std::size_t at = rule_.why.find('{'); at != std::string::npos;
             at = rule_.why.find('{', at + 1)) {
            const auto end = rule_.why.find('}', at);
            const auto word = rule_.why.substr(at + 1, end == std::string::npos ? end : end - at - 1);
            if (end != std::string::npos && is_placeholder(word)) continue;
            std::string known;
            for (const auto name : placeholders)
                known += (known.empty() ? "{" : ", {") + std::string(name) + "}";
            sink_.emit(Code::rules_bad_placeholder, node_.why->span,
                       "A reason cannot speak of {" + word + "}. It knows " + known + ".");
            return false;
        }
        return true;
    }

    const syntax::RuleNode& node_;
    text::Sink& sink_;
    Rule rule_;
};

}  // namespace

bool is_placeholder(std::string_view word) {
    for (const auto known : placeholders) {
        if (known == word) return true;
    }
    return false;
}

std::optional<Rule> lower_rule(const syntax::RuleNode& node, text::Sink& sink) {
    if (node.broken) return std::nullopt;
    return RuleLowering(node, sink).run();
}

}  // namespace relead::rules
