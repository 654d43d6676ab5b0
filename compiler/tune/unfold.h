// Playing order. One chorus, worked out from `form` or from the signs in the rows.
#pragma once

#include <vector>

#include <relead/outcome.h>

#include "text/limits.h"
#include "tune/tune.h"

namespace relead::tune {

struct PlayedBar {
    int section = 0;
    int bar = 0;      ///< index into Section::bars
    int playing = 0;  ///< 0-based: which playing of this section within the chorus
    Time start;       ///< from the start of the chorus, whole notes (pickup starts at 0)
};

/// The bars of one chorus in playing order. A pickup is played only at the very start. Endings
/// inside |: :| count the passes of that repeat; other endings count the playings of the section;
/// `last` endings are taken on the last playing. After D.C./D.S. repeats are not taken again.
[[nodiscard]] std::vector<PlayedBar> one_chorus(const Tune& tune, const Limits& limits = {});

/// How one chorus differs from the plain one.
struct ChorusWish {
    bool last = false;  ///< the last one: `last` endings and, in a tune with a coda but no D.S., the coda
    bool pickup = true;
};
struct Chorus {
    std::vector<PlayedBar> bars;
    bool cut = false;  ///< stopped at Limits::unfolded_bars
};
[[nodiscard]] Chorus play_chorus(const Tune& tune, const ChorusWish& wish, const Limits& limits = {});

/// A chord as it is played: its written place and its time in the chorus.
struct PlayedChord {
    ChordRef ref;
    int playing = 0;
    Time start;
    Time length;
};
[[nodiscard]] std::vector<PlayedChord> played_chords(const Tune& tune, const Limits& limits = {});

/// One item of the whole performance: the running order's choruses with their bars.
struct PlayedChorus {
    RunningItem item;
    std::vector<PlayedBar> bars;
};
/// The section that an item stands for alone: one of its name that is not in the form (an intro).
[[nodiscard]] std::optional<int> section_of_item(const Tune& tune, const RunningItem& item);
/// The whole performance, an entry for each time an item is played. Without a `running` line: one
/// chorus called "Head", which is the last one too. Open items once. A vamp's section stands before
/// the chorus; a tag's bars stand `tag_times` more times after their last playing (at the end when
/// the chorus has not got them). Stops at Limits::unfolded_bars in all.
[[nodiscard]] std::vector<PlayedChorus> performance(const Tune& tune, const Limits& limits = {});

}  // namespace relead::tune
