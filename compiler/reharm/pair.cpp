#include "reharm/pair.h"

#include <algorithm>

#include "reharm/altered_symbol.h"
#include "reharm/cost_terms.h"
#include "reharm/guard.h"

namespace relead::reharm {
namespace {

/// The chord at this end of a placement when a rule wrote it; null for kept and written chords.
const rules::NewChord* fresh(const End& end, bool at_its_end) {
    if (!end.placement) return nullptr;
    const auto& chord = at_its_end ? end.placement->chords.back() : end.placement->chords.front();
    return chord.kept_from ? nullptr : &chord;
}

void put(std::vector<CostTerm>& terms, std::string_view name, int times) {
    if (times != 0) terms.push_back({std::string(name), weight(name) * times});
}

/// A dominant whose root falls a half step to the next one, or a diminished chord whose root rises one, where
/// the next one has another tone in the bass: what leads there is a bass that never comes.
bool misses_its_slide(const theory::Chord& from, const theory::Chord& to) {
    const int up = theory::semitones_up(from.root, to.root);
    const auto kind = theory::chord_class(from);
    const bool leads = (kind == theory::ChordClass::dominant && up == 11) ||
                       (kind == theory::ChordClass::diminished && up == 1);
    return leads && to.bass && theory::pitch_class(*to.bass) != theory::pitch_class(to.root);
}

/// `arriving`: motions out of the left chord when it is a new one.
std::optional<Refusal> refused(const End& left, const End& right, const std::vector<Motion>& arriving) {
    if (auto sentence = refuse_motions(arriving, *left.chord, *right.chord))
        return Refusal{Refusal::Kind::guide_tone, std::move(*sentence)};
    const auto unmet = [](const std::vector<rules::Need>& needs, const theory::Chord& chord) {
        for (const auto& need : needs) {
            if (!need.met_by(chord)) return true;
        }
        return false;
    };
    if (left.placement && unmet(left.placement->right, *right.chord))
        return Refusal{Refusal::Kind::rule,
                       "It needs another chord after it than " + theory::to_string(*right.chord) + "."};
    if ((fresh(left, true) || fresh(right, false)) && stands_still(*left.chord, *right.chord))
        return Refusal{Refusal::Kind::same, twice_in_a_row(*left.chord, *right.chord)};
    if (fresh(left, true) && slides(*left.chord, *right.chord)) {
        if (auto sentence = unreadable(*left.chord, right.chord))
            return Refusal{Refusal::Kind::melody, std::move(*sentence)};
    }
    if (fresh(left, true) && misses_its_slide(*left.chord, *right.chord))
        return Refusal{Refusal::Kind::bass, theory::to_string(*left.chord) + " would slide into " +
                                                theory::to_string(*right.chord) +
                                                ", whose bass lies elsewhere."};
    if (right.placement && unmet(right.placement->left, *left.chord))
        return Refusal{Refusal::Kind::rule,
                       "It needs another chord before it than " + theory::to_string(*left.chord) + "."};
    return std::nullopt;
}

}  // namespace

bool smooth_root_motion(const theory::Chord& from, const theory::Chord& to) {
    const int up = theory::semitones_up(from.root, to.root);
    return up == 5 || up == 0 || up == 1 || up == 2 || up == 10 || up == 11;
}

bool stands_still(const theory::Chord& from, const theory::Chord& to) {
    const auto kind = rules::kind_of(from);
    if (from.is_none() || theory::pitch_class(from.root) != theory::pitch_class(to.root) ||
        theory::pitch_class(theory::bass_of(from)) != theory::pitch_class(theory::bass_of(to)) ||
        kind != rules::kind_of(to))
        return false;
    // Cm Cm(b6) is a line; G7 G13 is not.
    constexpr auto triads = rules::major_triad | rules::minor_triad;
    return (kind & triads) == 0 || (from.quality == to.quality && from.extra == to.extra);
}

std::string twice_in_a_row(const theory::Chord& from, const theory::Chord& to) {
    const auto first = theory::to_string(from), second = theory::to_string(to);
    return first == second ? second + " would stand twice in a row."
                           : first + " " + second + " would be one chord twice in a row.";
}

int PairVerdict::cost(const std::vector<std::string_view>& left_out) const {
    int sum = 0;
    const auto add = [&](const CostTerm& term) {
        if (std::find(left_out.begin(), left_out.end(), term.name) == left_out.end()) sum += term.value;
    };
    std::for_each(left.begin(), left.end(), add);
    std::for_each(right.begin(), right.end(), add);
    return sum;
}

PairVerdict judge_pair(const rules::RuleSet& rules, const End& left, const End& right) {
    PairVerdict verdict;
    std::vector<Motion> arriving;
    if (const auto* made = fresh(left, true)) arriving = arrival(rules, *made, *right.chord);
    verdict.refusal = refused(left, right, arriving);
    if (fresh(left, true)) {
        put(verdict.left, "arrival", semitones_moved(arriving));
        const bool rough = !right.chord->is_none() && !smooth_root_motion(*left.chord, *right.chord);
        put(verdict.left, "root-motion", rough ? 1 : 0);
    }
    if (fresh(right, false)) {
        int skips = 0, leaps = 0;
        for (const auto& motion : motions_between(*left.chord, *right.chord)) {
            skips += motion.kind == MotionKind::skip ? 1 : 0;
            leaps += motion.kind == MotionKind::leap ? 1 : 0;
        }
        put(verdict.right, "approach-skip", skips);
        put(verdict.right, "approach-leap", leaps);
        const bool rough = !fresh(left, true) && !left.chord->is_none() && !right.chord->is_none() &&
                           !smooth_root_motion(*left.chord, *right.chord);
        put(verdict.right, "root-approach", rough ? 1 : 0);
    }
    return verdict;
}

std::vector<Motion> motions_over(const rules::RuleSet& rules, const End& left, const End& right) {
    const auto* made = fresh(left, true);
    return made ? arrival(rules, *made, *right.chord) : motions_between(*left.chord, *right.chord);
}

}  // namespace relead::reharm
