// Syllables onto notes.
#pragma once

#include <vector>

#include "syntax/tune_tree.h"
#include "text/diagnose.h"
#include "tune/bar.h"
#include "tune/spot.h"

namespace relead::tune {

/// One verse of a section, from bar to bar.
class Verse {
public:
    explicit Verse(int number) : number_(number) {}
    /// Puts the cell's syllables onto the notes of bars[bar]: not onto rests, unknown or grace notes,
    /// nor onto a note that is tied from before. The verse's list in the bar is there afterwards.
    void sing(const syntax::Cell& cell, std::vector<Bar>& bars, int bar, const Spot& spot, text::Sink& sink);

private:
    void hold(std::vector<Bar>& bars);
    int number_;            // 0-based
    bool in_word_ = false;  // the syllable before ended with a hyphen
    int last_bar_ = -1;     // bar of the syllable before
    int unsung_ = 0;        // notes since then that nothing is said about
};

/// Indices of the notes that can take a syllable.
[[nodiscard]] std::vector<int> singable(const std::vector<Bar>& bars, int bar);
/// The bar that is heard before bars[bar] within its section (before the first ending for each
/// ending); -1 for the first.
[[nodiscard]] int bar_before(const std::vector<Bar>& bars, int bar);

}  // namespace relead::tune
