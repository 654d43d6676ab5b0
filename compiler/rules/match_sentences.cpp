// Why a rule does not fit, in a musician's words.
#include <algorithm>

#include "rules/find_words.h"
#include "rules/match_context.h"
#include "rules/numeral.h"
#include "rules/sounding_melody.h"
#include "tune/spot.h"

namespace relead::rules {
namespace {

std::string symbol(const theory::Chord& chord) {
    return theory::to_string(chord);
}

/// Empty where the band plays on.
std::string_view told(Tutti tutti) {
    switch (tutti) {
        case Tutti::none:
            return "";
        case Tutti::hits:
            return "The band has written hits there.";
        case Tutti::stop:
            return "The band has a break there.";
        case Tutti::fermata:
            return "It is held under a fermata.";
    }
    return "";
}

std::string function_words(const analysis::ChordFact& fact) {
    if (fact.blues_tonic) return "a tonic of the blues";
    if (fact.related_ii) return "a related ii";
    const std::string words(analysis::to_string(fact.function));
    return words == "other" ? "something else" : (words == "auxiliary diminished" ? "an " : "a ") + words;
}

/// "after Dm7: it needs another chord before it than a minor seventh on D."; nothing where the form ends.
std::optional<std::string> unwanted_neighbour(const Chart& chart, const Run& run, const Found& found,
                                              bool forward) {
    const auto& beside = forward ? chart.at(found.end - 1).next : chart.at(found.begin).previous;
    if (beside.empty()) return std::nullopt;
    const std::string side = forward ? "before " : "after ";
    const std::string needs =
        std::string(": it needs another chord ") + (forward ? "after" : "before") + " it than ";
    for (const int i : beside) {
        for (const auto& pattern : (forward ? run.front() : run.back()).alternatives) {
            if (!matches(pattern, chart.at(i).heard, found.tonic)) continue;
            auto words = wanted(Element{{pattern}, false, {}}, found.tonic);
            constexpr std::string_view any = "any chord";
            if (pattern.degree && words.compare(0, any.size(), any) == 0) words.replace(0, any.size(), "one");
            return side + symbol(chart.at(i).chord) + needs + words + ".";
        }
    }
    return side + symbol(chart.at(beside.front()).chord) + ".";
}

std::string melody_verb(const Condition& condition) {
    return condition.kind == ConditionKind::melody_holds ? "The melody holds " : "The melody touches ";
}

/// "The melody holds C there, the 4 of G."
std::string melody_sentence(const Condition& condition, theory::NoteName note, theory::NoteName root) {
    std::string degree;
    for (const auto asked : condition.degrees) {
        const auto tone = root + theory::interval_of_degree(asked.number, asked.alteration);
        if (theory::pitch_class(tone) == theory::pitch_class(note)) degree = theory::to_string(asked);
    }
    return melody_verb(condition) + theory::to_string(note) + " there, the " + degree + " of " +
           theory::to_string(root) + ".";
}

}  // namespace

std::string Examiner::names(int begin, int end) const {
    std::string text;
    for (int i = begin; i < end; ++i) text += (i > begin ? " " : "") + symbol(chart_.at(i).chord);
    return text;
}

/// A chord that goes on is named once.
ChordNames Examiner::chord_names(const Found& found) const {
    std::vector<int> spots;
    for (int i = found.begin; i < found.end; ++i) {
        if (spots.empty() || symbol(chart_.at(i).chord) != symbol(chart_.at(spots.back()).chord))
            spots.push_back(i);
    }
    std::string text;
    for (const int i : spots) text += (text.empty() ? "" : " ") + symbol(chart_.at(i).chord);
    return {text, spots.size() > 1, [&](const Condition& condition) {
                const auto* spot = subject(condition, found);
                return spot ? symbol(spot->chord) : std::string();
            }};
}

std::string Examiner::context_sentence(const Context& context, const Found& found, bool forward) const {
    // Along what fits, to the first place where something else stands.
    std::vector<int> from{forward ? found.end - 1 : found.begin};
    auto there = onward(from, forward);
    std::size_t done = 0;
    const auto element = [&]() -> const Element& {
        return context.run[forward ? done : context.run.size() - 1 - done];
    };
    while (done + 1 < context.run.size()) {
        const bool fits = !there.empty() && std::all_of(there.begin(), there.end(), [&](int i) {
            return matches(element(), chart_.at(i).heard, found.tonic);
        });
        if (!fits && !element().optional) break;
        ++done;
        if (!fits) continue;
        do {  // a chord that goes on counts once
            from = there;
            there = onward(from, forward);
        } while (there.size() == 1 && from.size() == 1 &&
                 goes_on_as(chart_.at(from.front()).chord, chart_.at(there.front()).chord));
    }
    auto text = std::string(forward ? "After " : "Before ") + tune::listed(symbols(from)) + " it needs " +
                wanted(element(), found.tonic) + "; ";
    if (there.empty()) return text + "there is no chord.";
    const auto names = symbols(there);
    return text + tune::listed(names) + (names.size() > 1 ? " stand there." : " stands there.");
}

std::vector<int> Examiner::onward(const std::vector<int>& from, bool forward) const {
    std::vector<int> there;
    for (const int i : from) {
        for (const int next : forward ? chart_.at(i).next : chart_.at(i).previous) {
            if (std::find(there.begin(), there.end(), next) == there.end()) there.push_back(next);
        }
    }
    return there;
}

std::vector<std::string> Examiner::symbols(const std::vector<int>& spots) const {
    std::vector<std::string> names;
    for (const int i : spots) {
        const auto name = symbol(chart_.at(i).chord);
        if (std::find(names.begin(), names.end(), name) == names.end()) names.push_back(name);
    }
    return names;
}

std::string Examiner::clause_sentence(const Clause& clause, const Found& found) const {
    const auto words = words_of(clause, chord_names(found));
    const auto general = words ? "It fits only where " + *words + "." : "It needs: " + clause.text + ".";
    if (clause.any_of.size() != 1) return general;
    for (const auto& condition : clause.any_of.front()) {
        if (holds(condition, found, Mode::all) || condition.negated) continue;
        const auto* spot = subject(condition, found);
        if (!spot) continue;
        const auto name = symbol(spot->chord);
        const auto* target = spot->leads_to ? &*spot->leads_to : nullptr;
        const auto leads_not_to = [&](const std::string& goal) {
            if (target) return name + " leads to " + symbol(*target) + ", not to " + goal + ".";
            return name + " does not lead to " + goal + ": it is heard as " + function_words(spot->fact) +
                   ".";
        };
        switch (condition.kind) {
            case ConditionKind::prepares_degree: {
                const auto degree = scale_degree_of(condition.degrees.front());
                return leads_not_to(theory::to_string(theory::note_at(found.tonic, degree)));
            }
            case ConditionKind::prepares_home:
                return leads_not_to("the home tonic " + theory::to_string(chart_.home.tonic));
            case ConditionKind::prepares_kind:
                if (const auto others = describe_others(condition.kinds); target && !others.empty())
                    return name + " leads to " + symbol(*target) + "; it may lead anywhere but to " + others +
                           ".";
                return leads_not_to(describe(condition.kinds));
            case ConditionKind::has_function:
                return name + " is heard as " + function_words(spot->fact) + ", not as a " +
                       condition.words.front() + ".";
            default:
                return general;
        }
    }
    return general;
}

std::string Examiner::exception_sentence(const Clause& clause, const Found& found) const {
    for (const auto& all : clause.any_of) {
        for (const auto& condition : all) {
            if (!holds(condition, found, Mode::any)) continue;
            const auto* spot = subject(condition, found);
            const auto name = spot ? symbol(spot->chord) : std::string();
            switch (condition.kind) {
                case ConditionKind::written:
                    for (int i = found.begin; i < found.end; ++i) {
                        if (chart_.at(i).bass_written) return "A bass figure is written there.";
                        if (chart_.at(i).tutti != Tutti::none) return std::string(told(chart_.at(i).tutti));
                    }
                    return "The bass holds a pedal there.";
                case ConditionKind::has_function:
                    return name + " is heard as " + function_words(spot->fact) + " here.";
                case ConditionKind::melody_holds:
                case ConditionKind::melody_touches: {
                    // Where no note is held, or the chord asked about is not there, no note can be named.
                    if (condition.negated || !stretch_of(condition, found)) break;
                    SoundingNote note;
                    (void)melody_holds(condition, found, &note);
                    if (condition.degrees_of_new) {
                        const auto index = static_cast<std::size_t>(*condition.degrees_of_new);
                        return melody_verb(condition) + theory::to_string(theory::name_of(note.pitch)) +
                               " where " + symbol(found.new_chords[index].chord) + " would stand.";
                    }
                    return melody_sentence(condition, theory::name_of(note.pitch),
                                           stretch_of(condition, found)->root);
                }
                case ConditionKind::after:
                case ConditionKind::before: {
                    const bool forward = condition.kind == ConditionKind::before;
                    const auto stays = names(found.begin, found.end) + " may not give way ";
                    if (auto rest = unwanted_neighbour(chart_, condition.run, found, forward))
                        return stays + *rest;
                    break;
                }
                case ConditionKind::home_key:
                    if (all.size() > 1) break;  // the tune's key alone is not what speaks against it
                    return "The tune is in " + theory::to_string(chart_.home) + "; the rule is not for it.";
                default:
                    break;
            }
        }
    }
    for (const auto& all : clause.any_of) {
        const bool speaks = std::all_of(all.begin(), all.end(),
                                        [&](const Condition& one) { return holds(one, found, Mode::any); });
        if (!speaks) continue;
        if (const auto words = words_of(all, chord_names(found)))
            return "It does not fit where " + *words + ".";
    }
    return "It may not stand here: " + clause.text + ".";
}

}  // namespace relead::rules
