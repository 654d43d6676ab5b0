// Places where listeners find their way, and the one definition of them: the first chord of a section, bar 5
// of a blues, the arrival in a key that the section states, the home chord with which the chorus ends and
// what leads to it. Costs and choices ask here; the bench has a definition of its own, to measure them by.
#pragma once

#include <vector>

#include "rules/chart.h"
#include "rules/placement.h"

namespace relead::reharm {

/// The first chord of a section: on the first beat of its first bar by the printed number. A pickup is none;
/// a first bar to which a repeat leads back is one each time.
[[nodiscard]] bool opens_section(const rules::Spot& spot);

/// The first tonic after the author writes a key other than that of the tune: here the new key is heard, so
/// that not even its relative can stand for it.
[[nodiscard]] bool arrives_in_new_key(const rules::Chart& chart, int spot);

/// How the chorus ends, the last one too where it has an ending of its own. Counted in playing order, so that
/// a section which is played again at the end ends the tune too; only the last four bars count, and there may
/// be no home chord in them.
struct LastCadence {
    /// The last home chord, and those before it that say it already: two bars of it are one arrival. Where it
    /// has been home for longer only the last one. Chords on the home tonic count, I7 and bare triads too;
    /// suspended and diminished ones do not.
    std::vector<int> homes;
    /// The chord before all of these: what comes home; none when home for longer. Two of them where the last
    /// chorus has an ending of its own.
    std::vector<int> leading;
    /// The very last chord where it is a home chord: nothing comes after it. -1 = the tune ends elsewhere.
    int end = -1;
};
[[nodiscard]] LastCadence last_cadence(const rules::Chart& chart);

/// True when `now` can stand where `old` is written and do the same: the same root in the same class, a
/// dominant with or without its suspension or from a tritone away, a diminished chord that stands for its
/// dominant, the relative, the third degree for the tonic of `key`.
[[nodiscard]] bool stands_for(const theory::Chord& old, const theory::Chord& now, const theory::Key& key);

/// How many such places of the chart get a chord of another function from the placement.
[[nodiscard]] int places_lost(const rules::Chart& chart, const rules::Placement& placement);

}  // namespace relead::reharm
