// The tune model: what a chart says, lowered from its syntax tree and checked. Immutable by
// convention: passes take a Tune and return a new one. Reading is tune/lower.h, playing order
// tune/unfold.h, transposition tune/transpose.h, text dump tune/dump.h.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "theory/key.h"
#include "tune/bar.h"
#include "tune/meter.h"
#include "tune/plan.h"

namespace relead::tune {

struct Section {
    std::string name;       ///< unique in the tune; also its rehearsal mark
    std::string title;      ///< printed beside the mark; may be empty
    theory::Key key;        ///< in force at its first bar
    bool open_key = false;  ///< its key is `open`: no tonic claimed, signature of C
    Meter meter;
    Tempo tempo;
    std::vector<Bar> bars;  ///< the pickup, if any, first with number 0
    Span span;
};

/// One item of the `running` line: how a chorus or part of it is played.
struct RunningItem {
    std::string name;  ///< "Head", "Solos", as written
    int times = 1;
    bool open = false;
    bool on_cue = false;
    bool each_soloist = false;
    std::string soloist;
    enum class Changes { plan, written } changes = Changes::plan;
    std::string plan;            ///< plan named for this item, or empty
    bool last = false;           ///< takes the `last` endings
    std::optional<Address> tag;  ///< repeated at the end `tag_times`
    int tag_times = 1;
    std::string vamp;  ///< section that is vamped before the item, or empty
    Span plan_span;
    Span vamp_span;
    Span span;
};

/// Sheet's own order of playing: either `form` (sections, signs worked out) or signs in the rows.
struct Order {
    std::vector<int> form;  ///< indices into Tune::sections; the written order when by_signs
    bool by_signs = false;  ///< no `form` line: repeats and D.C./D.S. signs as on paper
    std::vector<RunningItem> running;
    Span span;
};

/// Who made a version and from what; stands on every sheet of it.
struct VersionStamp {
    std::string plan;
    std::string hash;  ///< 8 hexadecimal digits
    std::string date;  ///< as the user gave it, or empty
};

struct Tune {
    std::string title;
    std::string composer;
    std::string lyricist;
    std::string rights;
    std::string note;
    std::optional<theory::Key> given_key;  ///< absent: missing or `open`
    bool open_key = false;                 ///< `key open`: no tonic claimed, signature of C
    theory::Key key;                       ///< the given key, or the estimate (then a remark says so)
    Meter meter;
    Tempo tempo;
    bool has_tempo = false;
    std::vector<Section> sections;
    Order order;
    std::vector<Plan> plans;
    std::optional<VersionStamp> stamp;
    Span span;
};

/// A written chord: indices into sections, bars, changes.
struct ChordRef {
    int section = 0;
    int bar = 0;    ///< index into Section::bars (not the printed number)
    int chord = 0;  ///< index into Bar::changes
    friend auto operator<=>(const ChordRef&, const ChordRef&) = default;
};

/// All written chords in the order of the text.
[[nodiscard]] std::vector<ChordRef> written_chords(const Tune& tune);
[[nodiscard]] const ChordEvent& chord_at(const Tune& tune, ChordRef ref);
/// Place of a chord in musicians' terms (section, bar, beat; no line and column).
[[nodiscard]] Place place_of(const Tune& tune, ChordRef ref);
/// Index of the named section (names compared after NFC by the reader); nothing when unknown.
[[nodiscard]] std::optional<int> find_section(const Tune& tune, const std::string& name);
/// Key in force at a bar (section key, or the last `new_key` up to that bar).
[[nodiscard]] theory::Key key_at(const Section& section, int bar);

}  // namespace relead::tune
