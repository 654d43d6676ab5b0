// The new chords of a rule in the time of what was found: shares, spelling, colours, bass.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "rules/match.h"
#include "rules/match_context.h"

namespace relead::rules {

struct Replacement {
    std::vector<NewChord> chords;
    std::string problem;  ///< a sentence when the shares do not fit; `chords` is then empty
};
/// How `with b9 before minor` is decided on the last new chord.
enum class Colouring { by_chart, yes, no };
[[nodiscard]] Replacement replace(const Rule& rule, const Chart& chart, const Found& found,
                                  Colouring colouring = Colouring::by_chart);
/// Kinds of the chord that follows for which the last new chord takes a colour; nothing = no such colour.
[[nodiscard]] std::optional<KindSet> coloured_before(const Rule& rule);

/// Spells a chord for paper in `key`: practical roots, and a minor seventh or dominant a fifth above the
/// chord that follows on the same side of the line of fifths (F#m7 B7, not Gbm7 B7). `following` is what
/// stands after the last of them, if anything does.
void spell_for_paper(std::vector<NewChord>& chords, const theory::Key& key,
                     const theory::Chord* following = nullptr);

}  // namespace relead::rules
