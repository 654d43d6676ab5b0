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
#include "theory/chord.h"
#include "tune/tune.h"

namespace relead::report {

/// A guide tone of a chord and where it goes in the same row.
struct GuideTone {
    std::string name;     ///< "E", "B♭"; as spelled in the chord
    int pitch_class = 0;  ///< 0 = C
    int lands = -1;       ///< 0 or 1: which guide tone of the next chord of the row; -1 nowhere (N.C., end)
    int semitones = 0;    ///< signed, -5..6
    std::string move;     ///< "held", "step", "skip", "leap"; "" where it lands nowhere
};

struct ComparedChord {
    Time at;  ///< from the start of the bar
    Time length;
    theory::Chord chord;
    std::string symbol;
    bool changed = false;  ///< differs from what the first row sounds here
    int change = -1;       ///< index into its row's changes; -1 where nothing changed or no reason is known
    std::vector<GuideTone> guide_tones;  ///< third's role, then seventh's; empty for N.C.
};

/// One played bar with what each row has there.
struct ComparedBar {
    std::string section;
    int playing = 1;  ///< 1-based: which playing of this section within the chorus
    int number = 1;   ///< printed number within its section; 0 for a pickup
    bool section_begins = false;
    std::string ending;  ///< "1", "2,3", "last" on the first bar of an ending
    Time start;          ///< from the start of the chorus
    Time length;
    int beats = 4;
    int unit = 4;
    std::vector<std::vector<ComparedChord>> rows;  ///< as many as Comparison::rows
};

/// How many guide tones hold, step, skip and leap in one chorus.
struct MotionCount {
    int held = 0;
    int step = 0;
    int skip = 0;
    int leap = 0;
};

struct ComparedRow {
    std::string name;      ///< "written", "mild", "mild 2", or another tune's title
    std::string idea;      ///< one sentence; "" for the written row
    bool soloist = false;  ///< superimposed: the rhythm section stays on the written changes
    std::string stamp;     ///< as printed; may be empty
    std::vector<ChangeRow> changes;
    MotionCount motion;
    int highest_outside = 0;
    int bars_changed = 0;
    std::string search;  ///< what the search had to cut; "" for the written row
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

/// Rows are aligned by the time since the start of the chorus. Where a row's form differs, its bars are cut
/// at the written bar lines and a note says so.
[[nodiscard]] Comparison compare(const tune::Tune& written, const std::vector<OtherRow>& others);

}  // namespace relead::report
