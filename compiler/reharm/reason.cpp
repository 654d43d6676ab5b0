#include "reharm/reason.h"

#include <algorithm>
#include <cctype>
#include <string_view>
#include <utility>

#include "reharm/title.h"
#include "tune/spot.h"

namespace relead::reharm {
namespace {

/// As a sentence names a chord: a triad written above it ({F}) is left to the sheet.
std::string in_words(theory::Chord chord) {
    chord.upper.reset();
    return theory::to_string(chord);
}

std::string list(const std::vector<theory::Chord>& chords) {
    std::string text;
    for (const auto& chord : chords) text += (text.empty() ? "" : " ") + in_words(chord);
    return text;
}

bool same_chord(const theory::Chord& a, const theory::Chord& b) {
    const auto bass = [](const theory::Chord& chord) { return theory::pitch_class(theory::bass_of(chord)); };
    return theory::pitch_class(a.root) == theory::pitch_class(b.root) && bass(a) == bass(b) &&
           theory::chord_class(a) == theory::chord_class(b);
}

bool is_among(const theory::Chord& chord, const std::vector<theory::Chord>& chords) {
    return std::any_of(chords.begin(), chords.end(),
                       [&](const theory::Chord& other) { return same_chord(other, chord); });
}

/// As it is printed: a later step may have given it a colour.
theory::Chord as_printed(const theory::Chord& chord, const rules::Placement& placement) {
    const theory::Chord* found = nullptr;
    for (const auto& one : placement.chords) {
        if (one.chord == chord) return chord;
        if (found == nullptr && same_chord(one.chord, chord)) found = &one.chord;
    }
    return found != nullptr ? *found : chord;
}

/// A step with its new chords as they are printed.
rules::Applied as_printed(rules::Applied step, const rules::Placement& placement) {
    for (auto& chord : step.new_chords) chord = as_printed(chord, placement);
    return step;
}

class Teller {
public:
    Teller(const rules::Applied& applied, const theory::Key& home, const Neighbours& around)
        : applied_(applied), home_(home), around_(around) {}

    std::string tell(const std::string& words) {
        std::string text;
        for (std::size_t at = 0; at < words.size();) {
            const auto open = words.find('{', at);
            const auto close = open == std::string::npos ? open : words.find('}', open);
            if (close == std::string::npos) return text + words.substr(at);
            const auto before = words.substr(at, open - at);
            const auto word = words.substr(open + 1, close - open - 1);
            moves_to_next_ = moves_to_next_ || (word == "next" && ends_with_to(before));
            text += before + value(word);
            at = close + 1;
        }
        return text;
    }

    /// The chords of the step itself that were named so far.
    [[nodiscard]] const std::vector<theory::Chord>& named() const { return named_; }
    /// A move to what follows was told: "falls a half step to {next}".
    [[nodiscard]] bool moves_to_next() const { return moves_to_next_; }

private:
    static bool ends_with_to(std::string_view words) {
        constexpr std::string_view to = "to ";
        return words.size() >= to.size() && words.substr(words.size() - to.size()) == to;
    }
    std::string all(const std::vector<theory::Chord>& chords) {
        named_.insert(named_.end(), chords.begin(), chords.end());
        return list(chords);
    }
    std::string value(const std::string& word) {
        if (word == "new") return all(applied_.new_chords);
        if (word == "old") return all(applied_.old_chords);
        if (word == "next") return name(applied_.next, around_.next, "what follows");
        if (word == "previous") return name(applied_.previous, around_.previous, "what comes before");
        if (word == "third") return guide_tone(false);
        if (word == "seventh") return guide_tone(true);
        if (word == "tonic") return theory::to_string(applied_.tonic);
        if (word == "home") return theory::to_string(home_.tonic);
        const bool is_new = word.rfind("new", 0) == 0;
        const auto& chords = is_new ? applied_.new_chords : applied_.old_chords;
        const auto index = static_cast<std::size_t>(word.back() - '1');
        return index < chords.size() ? all({chords[index]}) : all(chords);
    }
    /// A rule that was applied inside a placement speaks of what stood beside it there.
    static std::string name(const std::optional<theory::Chord>& inside, const theory::Chord* outside,
                            const char* nothing) {
        if (inside) return in_words(*inside);
        return outside != nullptr ? in_words(*outside) : nothing;
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
    std::vector<theory::Chord> named_;
    bool moves_to_next_ = false;
};

/// What a step wrote but what it left as it was: what stands on the sheet, what a later step replaced, and
/// both in order. Another colour is no other chord.
struct Written {
    std::vector<theory::Chord> standing, gone, all;
};

Written written_by(const rules::Applied& step, const rules::Placement& placement) {
    std::vector<theory::Chord> sheet;
    for (const auto& one : placement.chords) sheet.push_back(one.chord);
    Written written;
    for (const auto& chord : step.new_chords) {
        const bool stands = is_among(chord, sheet);
        if (stands && is_among(chord, step.old_chords)) continue;
        (stands ? written.standing : written.gone).push_back(chord);
        written.all.push_back(chord);
    }
    return written;
}

/// It is on the sheet: with another colour, or over another bass than its root, it still is that chord to a
/// reader.
bool is_played(const theory::Chord& chord, const rules::Placement& placement) {
    return std::any_of(placement.chords.begin(), placement.chords.end(), [&](const auto& one) {
        return theory::pitch_class(one.chord.root) == theory::pitch_class(chord.root) &&
               theory::chord_class(one.chord) == theory::chord_class(chord) &&
               (!chord.bass || same_chord(one.chord, chord));
    });
}

/// After the last chord of a step, colours and inversions of it passed over, comes what came when it was
/// applied.
bool next_still_follows(const rules::Applied& step, const rules::Placement& placement) {
    const auto& chords = placement.chords;
    const auto& last = step.new_chords.back();
    // The last one: a step may write its chord twice, with another in between.
    const auto found = std::find_if(chords.rbegin(), chords.rend(),
                                    [&](const auto& one) { return same_chord(one.chord, last); });
    if (found == chords.rend()) return false;
    const auto root = theory::pitch_class(last.root);
    const auto at = std::find_if(std::prev(found.base()), chords.end(), [&](const auto& one) {
        return theory::pitch_class(one.chord.root) != root;
    });
    return at == chords.end() || (step.next && same_chord(at->chord, *step.next));
}

/// A sentence makes sense where it names nothing that is gone, and something of the step stands.
bool can_be_told(const Written& written, const std::vector<theory::Chord>& named) {
    const bool names_gone = std::any_of(written.gone.begin(), written.gone.end(),
                                        [&](const auto& chord) { return is_among(chord, named); });
    return written.gone.empty() || (!names_gone && !written.standing.empty());
}

std::string uncapitalised(std::string text) {
    text.front() = static_cast<char>(std::tolower(static_cast<unsigned char>(text.front())));
    return text;
}

/// Steps that are told only as what a later one starts from.
class ReplacedSteps {
public:
    void add(const Written& written, const std::string& title, const rules::Placement& placement) {
        std::vector<theory::Chord> silent, heard;
        for (const auto& chord : written.all) {
            const bool gone = is_among(chord, written.gone) && !is_played(chord, placement);
            (gone ? silent : heard).push_back(chord);
        }
        const auto named = list(written.all) + " (" + title_inside(title) + ")";
        if (!silent.empty() && !heard.empty()) {
            sentences_ += named + " could stand there, and " + list(heard) +
                          (heard.size() > 1 ? " do" : " does") + ". ";
        } else {
            (silent.empty() ? played_ : silent_).push_back(named);
        }
    }
    struct Opening {
        std::string sentences;  ///< about steps that are played in part
        std::string clause;     ///< "With D7 (...), where A7 (secondary dominant) could stand, "
        [[nodiscard]] bool empty() const { return sentences.empty() && clause.empty(); }
        /// With what is told of the step that comes after them; `names_first`: it begins with a chord.
        [[nodiscard]] std::string before(const std::string& sentence, bool names_first) const {
            return sentences + clause + (clause.empty() || names_first ? sentence : uncapitalised(sentence));
        }
    };
    /// Of what was added since: what is played, then what is not.
    Opening take() {
        Opening opening{std::move(sentences_), {}};
        if (!played_.empty()) opening.clause = "With " + tune::listed(played_) + ", ";
        if (!silent_.empty())
            opening.clause +=
                (played_.empty() ? "Where " : "where ") + tune::listed(silent_) + " could stand, ";
        *this = {};
        return opening;
    }

private:
    std::string sentences_;
    std::vector<std::string> played_, silent_;
};

/// The same roots and basses with other colours.
bool only_colours(const rules::Applied& step) {
    return std::equal(step.old_chords.begin(), step.old_chords.end(), step.new_chords.begin(),
                      step.new_chords.end(), same_chord);
}

}  // namespace

std::string reason(const rules::RuleSet& rules, const rules::Placement& placement, const theory::Key& home,
                   const Neighbours& around) {
    ReplacedSteps replaced;
    std::string text, colours;
    for (const auto& step : placement.derivation) {
        const auto applied = as_printed(step, placement);
        const auto& rule = rules.rules[static_cast<std::size_t>(applied.rule)];
        if (applied.new_chords.empty()) continue;  // it found no room to write: refused, with nothing to tell
        Teller teller(applied, home, around);
        const auto sentence = teller.tell(rule.why);
        const auto written = written_by(applied, placement);
        const bool last = &step == &placement.derivation.back();
        const bool false_goal =
            !written.all.empty() && teller.moves_to_next() && !next_still_follows(applied, placement);
        if (!last && (false_goal || !can_be_told(written, teller.named()))) {
            replaced.add(written, rule.title, placement);
            continue;
        }
        const auto opening = replaced.take();
        const bool names_first = rule.why.rfind('{', 0) == 0;
        // What only colours its chord comes after what the change is about.
        auto& part =
            opening.empty() && only_colours(applied) && &step != &placement.leading() ? colours : text;
        part += (part.empty() ? "" : " ") + opening.before(sentence, names_first);
    }
    text += text.empty() || colours.empty() ? "" : " ";
    return text + colours;
}

}  // namespace relead::reharm
