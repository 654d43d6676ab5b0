// Small charts on which a rule can be shown at work: the changes that its `example` line states, ordinary
// changes, and charts made from what it finds and what it asks for around that.
#pragma once

#include <functional>
#include <optional>
#include <string>

#include "rules/rule.h"
#include "theory/key.h"

namespace relead::rules {

/// The changes of one section in common time, a fair tempo assumed.
struct ExampleChart {
    theory::Key home;
    std::string changes;     ///< cells of a `changes` row: "Dm7 | G7 | Cmaj7 | Cmaj7"
    std::string melody;      ///< cells of a `melody` row; empty when the rule asks nothing of the melody
    bool from_rule = false;  ///< the rule's own `example`
};

/// Looks at a chart; true when no further one is wanted.
using ChartReader = std::function<bool(const ExampleChart&)>;

/// Charts in the order in which they are worth trying, the rule's own first, made one by one. Whether the
/// rule fires on them is for the matcher to say. `mode` restricts them; `tonic` is respelled where nobody
/// writes it (G# major). True when the reader had enough.
bool example_charts(const Rule& rule, theory::NoteName tonic, std::optional<theory::Mode> mode,
                    const ChartReader& enough);

/// The rule's own `example` alone: in the mode that it speaks of, then in the others.
bool own_charts(const Rule& rule, theory::NoteName tonic, const ChartReader& enough);

/// Changes in numerals ("ii7 | V7 | Imaj7") as chords of a key; nothing when a word is no numeral.
[[nodiscard]] std::optional<std::string> realise_changes(std::string_view numerals, const theory::Key& home);

}  // namespace relead::rules
