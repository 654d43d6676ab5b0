// The chart as the matcher sees it: the written chords in a row, each with its time, its facts and
// the chords that may follow it in playing order. Built from a tune; a version in the making is a
// chart too, so that rules can be applied to what other rules wrote.
#pragma once

#include <vector>

#include <relead/fraction.h>

#include "analysis/analysis.h"
#include "tune/tune.h"

namespace relead::rules {

/// One chord of the chart.
struct Spot {
    tune::ChordRef ref;  ///< the written chord, or the first of those that it stands for
    theory::Chord chord;
    Time start;  ///< from the start of its section (a pickup counts)
    Time length;
    Time beat_length;
    Beats beat;  ///< 1-based beat of its bar where it starts
    int beats_in_bar = 4;
    int bar_number = 1;  ///< printed number in the section
    double seconds = 0;  ///< how long it sounds at the tune's tempo
    theory::Key key;     ///< key in force on paper
    analysis::ChordFact fact;
    bool locked = false;  ///< `!`
    bool bass_written = false;
    bool hits_written = false;
    int playings = 1;       ///< how often it sounds in one chorus
    std::vector<int> next;  ///< spots that follow it somewhere in the chorus, wrap included, sorted
    std::vector<int> previous;
    bool made = false;  ///< written by a rule, not by the author
};

struct Chart {
    const tune::Tune* tune = nullptr;
    theory::Key home;
    bool blues = false;
    std::vector<Spot> spots;  ///< in the order of the text
    /// True when spots i and i+1 always follow each other: a match may span both.
    [[nodiscard]] bool joined(int i) const;
};

/// The written chart. The tune must outlive it.
[[nodiscard]] Chart make_chart(const tune::Tune& tune, const analysis::Analysis& analysis);

}  // namespace relead::rules
