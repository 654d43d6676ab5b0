// From a tune to the lead sheet of one player: melody or slashes, chord symbols, the form worked out
// as repeats, endings and jumps, everything at that instrument's written pitch and laid out in
// systems and pages. Pure: the same tune and wish give the same score.
#pragma once

#include <string>
#include <vector>

#include "score/score.h"
#include "theory/instrument.h"
#include "tune/tune.h"
#include "voicing/chord_walk.h"

namespace relead::arrange {

/// A chord that this version changed, with the symbol that stood there before.
struct ChangedChord {
    tune::ChordRef ref;
    /// Concert chords of the tune itself at this place; shown small under the staff when
    /// SheetWish::show_replaced asks for it. May be empty.
    std::vector<theory::Chord> was;
};

/// When to print D.C. and D.S. instead of writing music out again.
enum class Jumps {
    when_it_saves_a_page,  ///< only where the music written out needs more than one page
    whenever_shorter,      ///< wherever at least eight bars are saved
    never,
};

/// The guide-tone line on paper.
enum class GuideTones {
    none,
    small,   ///< both voices in small notes on a small staff below the lead sheet's own
    staves,  ///< a sheet of their own: chord symbols over two staves, the upper voice and the lower
};

struct SheetWish {
    /// The player's instrument; null = concert pitch in treble clef.
    const theory::Instrument* instrument = nullptr;
    score::SymbolLettering lettering = score::SymbolLettering::plain;
    score::Paper paper = score::Paper::a4;
    bool show_melody = true;  ///< false: slashes throughout
    bool show_lyrics = true;
    bool show_hits = true;
    bool show_ossia = true;      ///< the author's own alternative changes, in parentheses
    bool show_soloist = true;    ///< superimposed changes
    bool show_replaced = false;  ///< the chords that stood there before, small under the staff
    Jumps jumps = Jumps::when_it_saves_a_page;
    GuideTones guide_tones = GuideTones::none;
    voicing::ChordRow guide_row = voicing::ChordRow::changes;  ///< whose chords the guide tones follow
    std::string corner;                                        ///< upper left; empty = the instrument's name
    std::string stamp;  ///< version stamp as printed; empty = the tune's own, if any
    std::vector<ChangedChord> changed;
};

/// The tune must be whole (read without errors); every bar of it is on the sheet.
[[nodiscard]] score::Score lead_sheet(const tune::Tune& tune, const SheetWish& wish = {});

/// The stamp as it is printed: "mild · 3fa94c21 · 25 November 2026".
[[nodiscard]] std::string stamp_text(const tune::VersionStamp& stamp);

}  // namespace relead::arrange
