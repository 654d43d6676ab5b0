// What the band sounds like: a tune from count-in to the last chord, or one chorus of it, as notes in
// time. Melody, comping, bass and light time-keeping; pushes, hits, breaks and fermatas as written. Pure.
#pragma once

#include <string>

#include "score/performance.h"
#include "tune/tune.h"

namespace relead::arrange {

struct PerformWish {
    std::string name = "written";  ///< which version this is
    /// Exactly one chorus: no count-in, no running order, tempo kept through ritards and fermatas.
    bool one_chorus = false;
    bool count_in = true;
    bool melody = true;
    /// A voice of two long notes a chord: of the soloist's superimposed changes where there are any. Silent
    /// in choruses that stay on the written changes.
    bool guide_tones = false;
    /// For a version: the tune that it came from, for choruses that stay on the written changes; and the
    /// choruses that the version's plan is for.
    const tune::Tune* written = nullptr;
    tune::Plan::Where where = tune::Plan::Where::all;
};

/// The melody sounds in heads, not in solos (their items in the running order are open, have a soloist or
/// are called "Solos"); hits and breaks likewise. Comping and bass keep to the changes, never to a
/// soloist's superimposed ones. A pickup sounds in the bar before it: in the count-in, or in the last bar
/// of a vamp; with neither, before the first bar. A ritard slows down to 3/4 of the tempo over its bar and
/// on to the next `a tempo`, tempo line or chorus; a fermata doubles its note. Both only where the music
/// stops or an `a tempo` follows: a chorus that leads into another one plays on.
[[nodiscard]] score::Performance perform(const tune::Tune& tune, const PerformWish& wish = {});

}  // namespace relead::arrange
