#include "report/recognised.h"

#include <algorithm>
#include <string_view>

#include "theory/chord.h"

namespace relead::report {
namespace {

using analysis::ChordFact;
using analysis::Function;

/// What neighbours must share to belong to one stretch.
enum class Shared { nothing, root, bass, sound, two_bars };

struct Kind {
    std::string_view what;
    bool ChordFact::*flag;
    Shared shared;
};
constexpr Kind stretch_kinds[] = {
    {"modal, at rest", &ChordFact::in_modal_stretch, Shared::nothing},
    {"over a pedal", &ChordFact::over_pedal, Shared::bass},
    {"line cliché", &ChordFact::line_cliche, Shared::root},
    {"planing", &ChordFact::planing, Shared::sound},
    {"turnaround", &ChordFact::turnaround, Shared::two_bars},
};

class Recogniser {
public:
    Recogniser(const tune::Tune& tune, const std::vector<const ChordFact*>& facts,
               const std::vector<ExplainedChord>& chords)
        : tune_(tune), facts_(facts), chords_(chords) {}

    std::vector<Recognised> run() {
        for (const auto& kind : stretch_kinds) add_stretches(kind);
        for (std::size_t i = 0; i < facts_.size(); ++i) add_chord(i);
        std::stable_sort(found_.begin(), found_.end(), [](const Recognised& a, const Recognised& b) {
            return a.first != b.first ? a.first < b.first : a.last > b.last;
        });
        return std::move(found_);
    }

private:
    const theory::Chord& chord(std::size_t i) const { return tune::chord_at(tune_, facts_[i]->ref).chord; }

    int bass(std::size_t i) const { return theory::pitch_class(theory::bass_of(chord(i))); }

    bool share(Shared shared, std::size_t first, std::size_t i) const {
        switch (shared) {
            case Shared::nothing:
                return true;
            case Shared::root:
                return theory::pitch_class(chord(first).root) == theory::pitch_class(chord(i).root);
            case Shared::bass:
                return bass(first) == bass(i);
            case Shared::sound:
                return chord(first).quality == chord(i).quality;
            case Shared::two_bars:
                return chords_[first].section == chords_[i].section &&
                       chords_[i].bar < chords_[first].bar + 2;
        }
        return false;
    }

    void add(std::string what, std::size_t first, std::size_t last, bool stretch) {
        found_.push_back({std::move(what), static_cast<int>(first), static_cast<int>(last), stretch});
    }

    void add_stretches(const Kind& kind) {
        for (std::size_t i = 0; i < facts_.size();) {
            if (!(facts_[i]->*kind.flag)) {
                ++i;
                continue;
            }
            const auto first = i;
            while (i < facts_.size() && facts_[i]->*kind.flag && share(kind.shared, first, i)) ++i;
            add(std::string(kind.what), first, i - 1, true);
        }
    }

    /// The numeral does not begin with ii (iii does not either).
    bool hides_its_ii(std::size_t i) const {
        const auto& numeral = chords_[i].numeral;
        return numeral.rfind("ii", 0) != 0 || numeral.rfind("iii", 0) == 0;
    }

    /// The next chord on another root; one beyond the last when there is none.
    std::size_t next_root(std::size_t i) const {
        auto next = i + 1;
        while (next < chords_.size() && share(Shared::root, i, next)) ++next;
        return next;
    }

    void add_chord(std::size_t i) {
        const auto& fact = *facts_[i];
        const auto next = next_root(i);
        if (fact.related_ii && hides_its_ii(i) && next < chords_.size())
            add("related ii of " + chords_[next].symbol, i, i, false);
        if (fact.blues_tonic) add("blues tonic", i, i, false);
        if (fact.deceptive)
            add(next < chords_.size() ? "deceptive, to " + chords_[next].symbol : "deceptive", i, i, false);
        switch (fact.function) {
            case Function::auxiliary_diminished:
                add(fact.common_tone ? "common-tone diminished" : "auxiliary diminished", i, i, false);
                break;
            case Function::substitute_dominant:
            case Function::backdoor:
            case Function::passing_diminished:
            case Function::borrowed:
                add(std::string(analysis::to_string(fact.function)), i, i, false);
                break;
            default:
                break;
        }
    }

    const tune::Tune& tune_;
    const std::vector<const ChordFact*>& facts_;
    const std::vector<ExplainedChord>& chords_;
    std::vector<Recognised> found_;
};

}  // namespace

std::vector<Recognised> recognise(const tune::Tune& tune, const std::vector<const ChordFact*>& facts,
                                  const std::vector<ExplainedChord>& chords) {
    return Recogniser(tune, facts, chords).run();
}

}  // namespace relead::report
