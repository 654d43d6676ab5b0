// The written changes and any number of versions over the same bars, as neutral rows: what the terminal,
// the compare sheet, the change slip and the listening page show. Aligned by time in the playing order
// of one chorus; nothing here knows how it will look.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include <relead/fraction.h>
#include <relead/outcome.h>

#include "reharm/reharmonise.h"
#include "report/change_table.h"
#include "report/guide_line.h"
#include "theory/chord.h"
#include "tune/bar.h"
#include "tune/tune.h"

namespace relead::report {

/// A voice of the row's guide-tone line at a chord, and where it goes: to the same voice of the next chord.
struct GuideTone {
    std::string name;     ///< "E", "B♭"; as spelled in the chord
    int pitch_class = 0;  ///< 0 = C
    int pitch = 60;       ///< 60 = middle C
    int semitones = 0;    ///< signed, up is positive
    std::string move;     ///< "held", "step", "skip", "leap"; "" before N.C. and at the end of the chorus
    std::string to;       ///< name of the tone on which it lands, as spelled in the next chord
};

struct ComparedChord {
    Time at;  ///< from the start of the bar
    Time length;
    theory::Chord chord;
    std::string symbol;
    tune::Push push = tune::Push::none;  ///< played early or late; not where a bar line cuts the chord
    bool changed = false;  ///< somewhere under it the first row, for a soloist the tune's own row, sounds
                           ///< another chord
    int change = -1;       ///< index into its row's changes; -1 where nothing changed or no reason is known
    std::vector<GuideTone> guide_tones;  ///< the lower voice, then the upper; empty for N.C.
};

/// One played bar with what each row has there.
struct ComparedBar {
    std::string section;
    int playing = 1;  ///< 1-based: which playing of this section within the chorus
    int number = 1;   ///< printed number within its section; 0 for a pickup
    bool section_begins = false;
    std::string ending;     ///< "1", "2,3", "last" on the first bar of an ending
    std::string new_tempo;  ///< "96 even" where tempo or feel differs from the bar before
    Time start;             ///< from the start of the chorus
    Time length;
    int beats = 4;
    int unit = 4;
    std::vector<std::vector<ComparedChord>> rows;  ///< as many as Comparison::rows
};

/// What the melody notes over the changes of a version are against the new chords.
struct MelodyCount {
    int chord_tones = 0;
    int tensions = 0;
    int passing = 0;
    int clashes = 0;      ///< that were not there before
    int old_clashes = 0;  ///< that the written chord had too
    int unchecked = 0;    ///< changes over which no melody is known or played
};

struct ComparedRow {
    std::string name;      ///< "written", "mild", "mild 2", or another tune's title
    std::string idea;      ///< one sentence; "" for the written row
    bool soloist = false;  ///< superimposed: the rhythm section stays on the written changes
    std::string stamp;     ///< as printed; may be empty
    std::vector<ChangeRow> changes;
    GuideCounts guide_line;  ///< of the row's whole tune, as `relead explain` and `relead reharm` count it
    MelodyCount melody;
    int highest_outside = 0;
    int bars_changed = 0;  ///< of one chorus, pickup included
    std::string search;    ///< what the search had to cut; "" for the written row
};

struct Comparison {
    std::string title;
    std::string composer;
    std::string key;  ///< "F major"
    std::string meter;
    int beats_per_minute = 120;
    std::string feel;
    std::vector<ComparedRow> rows;   ///< the written changes first
    std::vector<ComparedBar> bars;   ///< one chorus in playing order
    std::vector<std::string> notes;  ///< "the other tune is four bars longer: its last bars are not shown"
};

/// A row to be compared with the written tune: a version of it, or another tune of the same form.
struct OtherRow {
    std::string name;
    const tune::Tune* tune = nullptr;
    const reharm::Version* version = nullptr;  ///< null for another tune
    const reharm::SearchReport* search = nullptr;
};

/// Rows are aligned by the time since the first full bar of the chorus. Where a row's form differs, its bars
/// are cut at the written bar lines and a note says so. A row whose tune has a `soloist` row that the written
/// one has not is shown as the soloist plays it. Places of changes are addresses of the written tune; where a
/// version plays a section differently each time, the playing is named: "A:7 (time 2)".
[[nodiscard]] Comparison compare(const tune::Tune& written, const std::vector<OtherRow>& others);

/// The same sound: root, tones and, unless `any_bass`, the bass, whatever they are called. Whose line goes
/// over the band's bass, a soloist's, has no bass of its own: there another bass is no change.
[[nodiscard]] bool sounds_alike(const theory::Chord& a, const theory::Chord& b, bool any_bass = false);

}  // namespace relead::report
