// The syntax tree of a tune: what the text says, line by line, before any music is worked out.
// Plain values; everything knows the bytes it was read from, and comments hang on the line they
// belong to, so that tidy (tidy.h) can print the whole text again. Reading is parse_tune.h; bars that
// add up, known chords and sections, and the order of playing are the tune model's (tune/lower.h).
//
// What a consumer may rely on, also after errors:
//  - every row of a group has exactly as many cells as its `changes` row (padded with empty
//    cells or cut when the text has not; an error says so);
//  - tuplets are closed inside their cell, slurs and endings inside their section;
//  - spans lie in the source; only the words the parser understood are in the tree.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include <relead/outcome.h>

#include "syntax/words.h"
#include "theory/key.h"
#include "theory/note.h"

namespace relead::syntax {

/// What stands around a line and means nothing to the music.
struct Trivia {
    std::vector<Comment> before;   ///< comment lines directly above
    std::optional<Comment> after;  ///< comment at the end of the line
};

/// `A:7`, `A:7.3`, `A:1-4`.
struct Address {
    Words section;
    int first_bar = 1;
    int last_bar = 1;
    std::optional<Beats> beat;  ///< 1-based; only with a single bar
    Span span;
};

// ---- head of the tune -------------------------------------------------------------------------

/// `tune "…"`, `by "…"`, `words "…"`, `rights "…"`, `note "…"`.
struct TextLine {
    Words text;
    Span span;
    Trivia trivia;
};

/// `key F major`, `key open`. At most seven accidentals (checked).
struct KeyLine {
    std::optional<theory::Key> key;  ///< absent: `open`
    Span span;
    Trivia trivia;
};

/// `meter 7/8 2+2+3`. Beats 1..64, unit a power of two up to 64, groups add up (checked).
struct MeterLine {
    int beats = 4;
    int unit = 4;
    std::vector<int> groups;  ///< empty when not stated
    Span span;
    Trivia trivia;
};

/// `tempo 148 swing "words as printed"`.
struct TempoLine {
    int beats_per_minute = 120;  ///< 10..500 (checked)
    std::string feel;            ///< lower case, one of the known feels (checked); "" = not stated
    std::string words;           ///< "" = not stated
    Span span;
    Trivia trivia;
};

/// `form A A B A`. Whether the sections exist is not checked here.
struct FormLine {
    std::vector<Words> sections;  ///< at least one
    Span span;
    Trivia trivia;
};

/// One item of the `running` line. The words are known, what they name is not checked here.
struct RunningItem {
    Words name;
    int times = 1;  ///< 1..99
    Span times_span;
    bool open = false;
    bool on_cue = false;
    bool each_soloist = false;
    std::optional<Words> soloist;  ///< solo "who"
    bool written_changes = false;
    std::optional<Words> plan;
    bool last = false;
    std::optional<Words> vamp;   ///< section
    std::optional<Address> tag;  ///< tag B:13-14 2 times
    int tag_times = 1;
    Span span;
};

struct RunningLine {
    std::vector<RunningItem> items;  ///< at least one
    Span span;
    Trivia trivia;
};

struct Header {
    std::optional<TextLine> tune;
    std::optional<TextLine> by;
    std::optional<TextLine> words;
    std::optional<TextLine> rights;
    std::optional<TextLine> note;
    std::optional<KeyLine> key;
    std::optional<MeterLine> meter;
    std::optional<TempoLine> tempo;
    bool has_key = false;    ///< a key line stands there, read or not
    bool has_meter = false;  ///< a meter line, likewise
    bool has_tempo = false;
    std::optional<FormLine> form;
    std::optional<RunningLine> running;
};

// ---- rows and cells ---------------------------------------------------------------------------

/// `<` an eighth early, `<<` a quarter early, `>` an eighth late.
enum class Push { none, eighth_early, quarter_early, eighth_late };

/// A word of a `changes`, `ossia` or `soloist` cell.
struct ChordWord {
    enum class Kind {
        chord,   ///< a symbol, with push, beats and lock
        slash,   ///< `/`: one more beat of the chord before
        simile,  ///< `%`: the bar before again; always alone in its cell
    };
    Kind kind = Kind::chord;
    Push push = Push::none;
    std::string symbol;  ///< as written, without push, beats and lock: "C7(b9,#11)"
    Span symbol_span;
    std::optional<Beats> beats;  ///< `*3`, `*3/2`; more than 0 (checked)
    Span beats_span;             ///< from the `*`
    bool locked = false;         ///< `!`
    Span span;                   ///< the whole word
};

/// `w h q e s t` with up to three dots: 1, 2, 4, 8, 16, 32.
struct DurationWord {
    int denominator = 4;
    int dots = 0;
    Span span;
};

struct GraceNote {
    theory::Pitch pitch;
    Span span;
};

/// `[3:2`: `actual` notes in the time of `normal` of the same value.
struct TupletSign {
    int actual = 3;
    int normal = 2;
    Span span;
};

/// A note of `melody`, `long`, `bass`, or a hit, with all the signs written on it.
struct NoteWord {
    enum class Kind { pitch, rest, unknown, brief, held };  ///< C5, r, ?, x, X (the last two in hits)
    Kind kind = Kind::pitch;
    theory::Pitch pitch;                    ///< for Kind::pitch
    std::optional<DurationWord> duration;   ///< stated before this note; absent = as the note before
    std::vector<TupletSign> tuplets_begin;  ///< outermost first
    int tuplets_end = 0;
    int slurs_begin = 0;
    int slurs_end = 0;
    std::vector<GraceNote> grace;
    bool tied = false;
    Span span;  ///< the note itself, with its tie
};

/// A syllable, or `_` (the note is held over by the syllable before).
struct LyricWord {
    std::string text;
    bool hold = false;    ///< `_`
    bool hyphen = false;  ///< the word goes on
    Span span;
};

enum class MarkKind {
#define RELEAD_MARK(name, phrase) name,
#include "syntax/marks.def"
#undef RELEAD_MARK
    text,  ///< "as printed"
};

struct MarkWord {
    MarkKind kind = MarkKind::text;
    std::string text;  ///< for MarkKind::text
    Span span;
};

/// The signs around a bar; in `changes` rows only.
struct BarSigns {
    bool repeat_begins = false;      ///< `|:` before the bar
    int repeat_ends = 0;             ///< `:|` after it: playings in all (2 = plain); 0 = none
    Span repeat_span;                ///< of the `:|`
    std::vector<int> ending_begins;  ///< `[1`, `[2,3`; 0 stands for `last`; ascending, `last` at the end
    Span ending_span;                ///< of the `[1`
    bool ending_ends = false;        ///< `]`
    bool double_bar_after = false;   ///< `||`
};

/// What a row says about one bar. Only the list that suits the row is filled.
struct Cell {
    bool empty = false;  ///< `.` (unknown in `melody`), or blank (pickup)
    std::vector<ChordWord> chords;
    std::vector<NoteWord> notes;
    std::vector<LyricWord> lyrics;
    std::vector<MarkWord> marks;
    BarSigns signs;
    Span span;  ///< between the bar signs, without the blanks around
};

enum class RowKind {
#define RELEAD_ROW(name, word, mode) name,
#include "syntax/rows.def"
#undef RELEAD_ROW
};

struct Row {
    RowKind kind = RowKind::changes;
    std::optional<Cell> pickup;  ///< before the first bar sign; absent when blank
    std::vector<Cell> cells;
    Span word;  ///< the row's first word
    Span span;  ///< the whole line, without the comment
    Trivia trivia;
};

/// `key`, `meter` and `tempo` lines that stand above a `changes` line, and its rows.
struct RowGroup {
    std::optional<KeyLine> key;
    std::optional<MeterLine> meter;
    std::optional<TempoLine> tempo;
    std::vector<Row> rows;    ///< the first is `changes`; the others in the author's order; only
                              ///< `lyrics` may stand there more than once (verses)
    int first_bar = 1;        ///< number of the first cell's bar in the section
    bool gap_before = false;  ///< a blank line stands above the group
};

struct Section {
    Words name;
    std::optional<Words> title;
    std::vector<RowGroup> groups;
    Span span;  ///< the `section` line
    Trivia trivia;
};

// ---- plans ------------------------------------------------------------------------------------

enum class PlanWho { band, soloist };
enum class PlanWhere { head, solos, all };

struct PlanLine {
    enum class Kind {
        use,      ///< rules
        avoid,    ///< rules
        hold,     ///< places
        at_most,  ///< number, each_section
        outside,  ///< number 1..5
        around,   ///< number 1..5
        take,     ///< rules[0], places[0]
        never,    ///< rules (none or one), places[0]
        each_time_different,
        melody,    ///< melody_warns
        depth,     ///< number 1..8
        shortest,  ///< seconds
    };
    Kind kind = Kind::use;
    std::vector<Words> rules;
    std::vector<Address> places;
    int number = 0;
    Span number_span;
    bool each_section = true;   ///< at most N changes in each section | in the tune
    bool melody_warns = false;  ///< melody refuse | warn
    Fraction seconds = 0;
    Span span;
    Trivia trivia;
};

struct Plan {
    Words name;
    PlanWho who = PlanWho::band;
    PlanWhere where = PlanWhere::all;
    std::vector<PlanLine> lines;
    Span span;  ///< the `plan` line
    Trivia trivia;
};

struct TuneTree {
    std::vector<Comment> top;  ///< comment lines above the first line (the version stamp is one)
    Header header;
    std::vector<Section> sections;
    std::vector<Plan> plans;
    std::vector<Comment> bottom;  ///< comment lines below the last line
    Span span;                    ///< the whole text
};

/// The word that begins a row: "changes", "long" …
[[nodiscard]] const char* row_word(RowKind kind);
/// The phrase of a mark as tidy prints it: "D.S. al coda"; "" for MarkKind::text.
[[nodiscard]] const char* mark_phrase(MarkKind kind);

}  // namespace relead::syntax
