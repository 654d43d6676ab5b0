#include "reharm/guard.h"

namespace relead::reharm {

const std::vector<theory::Thread>& threads_of(const rules::RuleSet& rules, const rules::NewChord& chord) {
    static const std::vector<theory::Thread> none;
    const auto& rule = rules.rules[static_cast<std::size_t>(chord.rule)];
    const bool is_last = chord.item + 1 == static_cast<int>(rule.write.size());
    for (const auto& set : rule.threads) {
        if (set.chord ? *set.chord == chord.item : is_last) return set.threads;
    }
    return none;
}

std::vector<Motion> arrival(const rules::RuleSet& rules, const rules::NewChord& from,
                            const theory::Chord& to) {
    return motions_between(from.chord, to, threads_of(rules, from));
}

std::optional<std::string> refuse_arrival(const rules::RuleSet& rules, const rules::NewChord& from,
                                          const theory::Chord& to) {
    if (from.kept_from) return std::nullopt;
    return refuse_motions(arrival(rules, from, to), from.chord, to);
}

std::optional<std::string> refuse_motions(const std::vector<Motion>& motions, const theory::Chord& from,
                                          const theory::Chord& to) {
    const auto* far = beyond_a_step(motions);
    if (!far) return std::nullopt;
    return "From " + theory::to_string(from) + " to " + theory::to_string(to) + " a guide tone would " +
           std::string(theory::to_string(far->kind)) + ": " + to_string(*far) + ".";
}

std::optional<std::string> refuse_inside(const rules::RuleSet& rules, const rules::Placement& placement) {
    for (std::size_t i = 0; i + 1 < placement.chords.size(); ++i) {
        if (auto sentence = refuse_arrival(rules, placement.chords[i], placement.chords[i + 1].chord))
            return sentence;
    }
    return std::nullopt;
}

}  // namespace relead::reharm
