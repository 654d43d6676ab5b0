// The chart as the matcher sees it: the written chords in a row, each with its time, its facts and
// the chords that may follow it in playing order. Built from a tune; a version in the making is a
// chart too, so that rules can be applied to what other rules wrote.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include <relead/fraction.h>

#include "analysis/analysis.h"
#include "rules/kind.h"
#include "rules/sounding_melody.h"
#include "tune/tune.h"

namespace relead::rules {

/// Where a bar stands in a stretch of form: bars before it and bars after it there; -1 = not played. A
/// bar that is played at several such places has the largest and the least of each.
struct FormPosition {
    int from_start = -1;
    int from_end = -1;
    int least_from_start = -1;
    int least_from_end = -1;
};

/// What the whole band does together at a chord, so that none may be changed under its hands: written hits, a
/// break, a fermata.
enum class Tutti { none, hits, stop, fermata };

/// One chord of the chart.
struct Spot {
    tune::ChordRef ref;  ///< the written chord where it starts
    theory::Chord chord;
    Heard heard;  ///< of `chord`, asked by every rule
    Time start;   ///< from the start of its section's text (a pickup and all endings count)
    Time length;
    Time bar_start;  ///< of the bar where it starts, on the same scale
    Time beat_length;
    int beats_in_bar = 4;
    int bar_number = 1;  ///< printed number in the section; 0 = pickup
    double seconds = 0;  ///< how long it sounds at the tempo there
    theory::Key key;     ///< key in force on paper
    analysis::ChordFact fact;
    /// The chord that it leads to: for dominants and their iis the one that they serve, otherwise the one
    /// that the analysis makes it depend on as its preparation.
    std::optional<theory::Chord> leads_to;
    Time early = 0;  ///< so much before its written place it is played: an eighth for <, a quarter for <<
    bool locked = false;  ///< `!`
    bool bass_written = false;
    bool soloist_written = false;  ///< its bar says what the soloist plays over it
    Tutti tutti = Tutti::none;
    int playings = 1;  ///< how often it sounds in one chorus
    FormPosition in_section;
    FormPosition in_chorus;
    std::vector<int> next;  ///< spots that follow it in some playing, the next chorus included; sorted
    std::vector<int> previous;
    bool made = false;      ///< written by a rule, not by the author
    int written_first = 0;  ///< written chords over its time, as indices into the written chart
    int written_last = 0;

    /// Another chord stands there.
    void put(const theory::Chord& symbol) {
        chord = symbol;
        heard = heard_as(symbol);
    }
    [[nodiscard]] Beats beats() const { return length / beat_length; }
    /// 1-based beat of its bar.
    [[nodiscard]] Beats beat() const { return Beats(1) + (start - bar_start) / beat_length; }
    [[nodiscard]] Time end() const { return start + length; }
};

struct Chart {
    const tune::Tune* tune = nullptr;
    theory::Key home;
    std::shared_ptr<const Melodies> melodies;  ///< of the tune, read once
    const Chart* written = nullptr;            ///< the chart before any rule; null = this one
    std::vector<Spot> spots;                   ///< in the order of the text
    std::vector<int> chorus;                   ///< spots in the order in which one chorus plays them
    std::vector<int> last_chorus;              ///< and in which the last one does, with its own ending
    /// True when spots i and i+1 always follow each other: a match may span both.
    [[nodiscard]] bool joined(int i) const;
    [[nodiscard]] const Spot& at(int i) const { return spots[static_cast<std::size_t>(i)]; }
    [[nodiscard]] int size() const { return static_cast<int>(spots.size()); }
};

/// The written chart. The tune must outlive it.
[[nodiscard]] Chart make_chart(const tune::Tune& tune, const analysis::Analysis& analysis);
/// The spots [begin, end) of one joined run as a chart of their own: nothing stands before or after them.
[[nodiscard]] Chart cut(const Chart& chart, int begin, int end);
/// "A:7.3" for the place of a spot, "A:7" on the first beat.
[[nodiscard]] std::string place_name(const Chart& chart, int spot);

}  // namespace relead::rules
