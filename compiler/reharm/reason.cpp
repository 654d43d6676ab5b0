#include "reharm/reason.h"

namespace relead::reharm {
namespace {

std::string list(const std::vector<theory::Chord>& chords) {
    std::string text;
    for (const auto& chord : chords) text += (text.empty() ? "" : " ") + theory::to_string(chord);
    return text;
}

class Teller {
public:
    Teller(const rules::Applied& applied, const theory::Key& home, const Neighbours& around)
        : applied_(applied), home_(home), around_(around) {}

    std::string tell(const std::string& words) const {
        std::string text;
        for (std::size_t at = 0; at < words.size();) {
            const auto open = words.find('{', at);
            const auto close = open == std::string::npos ? open : words.find('}', open);
            if (close == std::string::npos) return text + words.substr(at);
            text += words.substr(at, open - at) + value(words.substr(open + 1, close - open - 1));
            at = close + 1;
        }
        return text;
    }

private:
    std::string value(const std::string& word) const {
        if (word == "new") return list(applied_.new_chords);
        if (word == "old") return list(applied_.old_chords);
        if (word == "next") return name(applied_.next, around_.next, "what follows");
        if (word == "previous") return name(applied_.previous, around_.previous, "what comes before");
        if (word == "third") return guide_tone(false);
        if (word == "seventh") return guide_tone(true);
        if (word == "tonic") return theory::to_string(applied_.tonic);
        if (word == "home") return theory::to_string(home_.tonic);
        const bool is_new = word.rfind("new", 0) == 0;
        const auto& chords = is_new ? applied_.new_chords : applied_.old_chords;
        const auto index = static_cast<std::size_t>(word.back() - '1');
        return index < chords.size() ? theory::to_string(chords[index]) : list(chords);
    }
    /// A rule that was applied inside a placement speaks of what stood beside it there.
    static std::string name(const std::optional<theory::Chord>& inside, const theory::Chord* outside,
                            const char* nothing) {
        if (inside) return theory::to_string(*inside);
        return outside != nullptr ? theory::to_string(*outside) : nothing;
    }
    /// Of the last chord that went away, spelled as in it.
    std::string guide_tone(bool seventh) const {
        const auto& chord = applied_.old_chords.back();
        const auto tones = theory::guide_tones(chord);
        if (!tones) return "its sound";
        return theory::to_string(theory::tone(chord, seventh ? tones->seventh : tones->third));
    }

    const rules::Applied& applied_;
    const theory::Key& home_;
    const Neighbours& around_;
};

}  // namespace

std::string reason(const rules::RuleSet& rules, const rules::Placement& placement, const theory::Key& home,
                   const Neighbours& around) {
    std::string text;
    for (const auto& applied : placement.derivation) {
        const auto& rule = rules.rules[static_cast<std::size_t>(applied.rule)];
        text += (text.empty() ? "" : " ") + Teller(applied, home, around).tell(rule.why);
    }
    return text;
}

}  // namespace relead::reharm
