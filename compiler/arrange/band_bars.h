// The bars that a band plays, one after the other, with everything that decides how: where each stands in
// time, tempo, whether it is a head or a solo, whether the band holds or breaks off.
#pragma once

#include <optional>
#include <vector>

#include "arrange/perform.h"
#include "tune/unfold.h"

namespace relead::arrange {

struct BandBar {
    const tune::Tune* tune = nullptr;  ///< the version, or the written tune in choruses that stay on it
    const tune::Bar* bar = nullptr;
    int section = 0;  ///< index into Tune::sections
    int index = 0;    ///< into Section::bars
    int chorus = 0;   ///< which chorus of the performance, from 0
    Time at;
    Time length;
    tune::Tempo tempo;
    std::optional<theory::Key> key;  ///< nothing where it is open
    bool pickup = false;             ///< the melody alone; it sounds over the end of the bar before
    bool head = true;                ///< melody and hits are played
    bool opens_section = false;
    bool opens_chorus = false;
    bool hits_only = false;       ///< break or stop-time: the rhythm section plays the hits and nothing else
    bool ends = false;            ///< the last bar: chords are struck once and held
    std::optional<Time> fermata;  ///< where the held note begins, from the bar's start
    std::optional<Time> ritard_ends;  ///< the bar slows down; how long it takes
    bool slowed = false;              ///< after a ritard
};

struct BandBars {
    std::vector<BandBar> bars;
    std::vector<tune::RunningItem> choruses;
    Time count_in;   ///< where the first full bar stands, unless the pickup had to go before it
    Time first_bar;  ///< where the first full bar stands
    Time length;     ///< of all
};

[[nodiscard]] BandBars band_bars(const tune::Tune& tune, const PerformWish& wish);

/// What is in force in bar `index` of a section.
[[nodiscard]] tune::Tempo tempo_in(const tune::Section& section, int index);

/// Bars of count-in: one, or two where a bar takes less than two seconds (common practice).
[[nodiscard]] int bars_of_count_in(const tune::Tempo& tempo, const tune::Meter& meter);

[[nodiscard]] bool is_solo(const tune::RunningItem& item);

}  // namespace relead::arrange
