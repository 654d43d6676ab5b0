// A reharmonised version of a tune: the new tune, every change with its reason, and what the
// search can honestly say about how it was found.
#pragma once

#include <string>
#include <vector>

#include "reharm/verdict.h"
#include "tune/tune.h"

namespace relead::reharm {

/// One change: a run of written chords replaced by a run of new ones.
struct Change {
    tune::ChordRef first, last;  ///< written chords, in the tune that came in
    Place place;                 ///< where it starts: section, bar, beat (0 on the first beat)
    std::vector<theory::Chord> old_chords;
    std::vector<theory::Chord> new_chords;
    std::vector<Beats> new_beats;                 ///< length of each new chord in beats
    std::optional<theory::Chord> previous, next;  ///< neighbours in this version
    /// What a dominant that stays, or returns, at the end of the change leads to, also where another ii comes
    /// in between; absent when that is simply what follows.
    std::optional<theory::Chord> goal;
    std::string rule;
    std::string title;
    std::string family;
    std::vector<std::string> derivation;  ///< rules in the order in which they were applied
    std::string source;
    std::vector<Motion> old_motion;  ///< written: last old chord into the written chord that followed
    std::vector<Motion> new_motion;  ///< now: last new chord into the chord that follows
    std::string reason;              ///< a sentence
    int outside = 1;
    std::vector<CostTerm> terms;
    int cost = 0;
    MelodyVerdict melody;
    std::string sounding;  ///< for a soloist: what the new chords are over the bass; else empty
    bool taken = false;    ///< the plan asks for it
};

struct Version {
    std::string name;             ///< plan's name, with a number when there are several: "mild 2"
    std::string idea;             ///< one sentence: what this version is about
    tune::Tune tune;              ///< complete; for a soloist the new chords stand in the `soloist` row
    std::vector<Change> changes;  ///< in the order of the text
    tune::VersionStamp stamp;
    int cost = 0;
};

struct SearchReport {
    /// What was cut first: nothing; rules on rules beyond a depth; alternatives that start at one chord;
    /// partial paths looked at; ends of parts that had to stay as written.
    enum class Stop { complete, depth, alternatives, labels, joint };
    /// Every version is the one of least cost among the alternatives built, at its distance from those before
    /// it. Never so where versions are chosen freely.
    bool exact = false;
    bool free = false;  ///< chosen for one idea and a share of the tune, not by cost alone
    Stop stop = Stop::complete;
    int built = 0;                   ///< alternatives built
    int dropped = 0;                 ///< alternatives dropped by a limit
    std::vector<std::string> notes;  ///< what was cut, in words: "12 dropped at B:5"
};
[[nodiscard]] std::string_view to_string(SearchReport::Stop stop);
/// "best among the 1842 alternatives built; 12 dropped at B:5". Never claims more than was done.
[[nodiscard]] std::string to_string(const SearchReport& report);

}  // namespace relead::reharm
