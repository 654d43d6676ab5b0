// The public C++ API of Relead: a tune as text in; checked tunes, analyses, reharmonised versions
// and sheets out. Values are immutable, cheap to copy and safe to use from several threads. Nothing
// here touches a disk, a clock, a locale or a stream.
//
//   auto tune = relead::read_tune({"ferry.tune", bytes});
//   auto choices = relead::reharmonise(*tune.value, relead::built_in_rules(), {});
//   auto file = relead::sheet(choices.value->versions.front(), "ferry");
//
// Wrong input is never an exception: look at Outcome::diagnostics. Exceptions mean exhausted memory.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include <relead/fraction.h>
#include <relead/limits.h>
#include <relead/outcome.h>

namespace relead {

/// A source text and the name that messages use for it.
struct Text {
    std::string name;
    std::string bytes;  ///< UTF-8
};

/// A spelled interval: steps on the line of fifths and octaves. Major second up = (2, -1).
struct Interval {
    int fifths = 0;
    int octaves = 0;
};

/// A tune that was read. Obtained from read_tune.
class Tune {
public:
    struct Inside;
    explicit Tune(std::shared_ptr<const Inside> inside);
    [[nodiscard]] const std::string& title() const;
    [[nodiscard]] const std::string& composer() const;
    /// "F major"; the estimate when the text states none.
    [[nodiscard]] std::string key() const;
    /// Bars of one chorus in playing order, pickup not counted.
    [[nodiscard]] int bars() const;
    [[nodiscard]] std::vector<std::string> plans() const;
    [[nodiscard]] const Inside& inside() const { return *inside_; }

private:
    std::shared_ptr<const Inside> inside_;
};

/// Reads and checks a tune. The value is absent only when the text holds nothing usable.
Outcome<Tune> read_tune(const Text& text, const Limits& limits = {});
/// The tune as canonical `.tune` text. Comments of the text that it was read from are not in a Tune;
/// use tidy(Text) to keep them.
[[nodiscard]] std::string to_text(const Tune& tune);
/// The canonical, column-aligned form of a text, comments kept.
Outcome<std::string> tidy(const Text& text, const Limits& limits = {});
[[nodiscard]] Tune transpose(const Tune& tune, Interval by);

/// What one written chord does.
struct ChordReading {
    Place place;
    std::string symbol;
    std::string key;      ///< the local key that it is heard in
    std::string numeral;  ///< against that key's major scale
    std::string function;
    /// Index of the chord that it depends on; the count = next chorus; none = final tonic. Not above the
    /// chord's own: that chord when it is played next, unless `back`.
    std::optional<int> target;
    bool prepares = true;  ///< else it prolongs its target
    bool back = false;     ///< the target has just sounded: this is a shade of it
};
struct Analysis {
    std::optional<std::string> given_key;
    std::string estimated_key;
    std::vector<ChordReading> chords;  ///< in the order of the text
};
[[nodiscard]] Analysis analyse(const Tune& tune);

/// A set of substitution rules.
class Rules {
public:
    struct Inside;
    explicit Rules(std::shared_ptr<const Inside> inside);
    [[nodiscard]] std::vector<std::string> names() const;
    [[nodiscard]] const Inside& inside() const { return *inside_; }

private:
    std::shared_ptr<const Inside> inside_;
};
[[nodiscard]] Rules built_in_rules();
/// The rules of a `.rules` text added to `base`.
Outcome<Rules> read_rules(const Text& text, const Rules& base, const Limits& limits = {});

/// What is asked of a reharmonisation. What is left open is taken from the plan.
struct Wish {
    std::string plan;              ///< a plan of the tune; empty = its first, if any
    std::vector<std::string> use;  ///< only these rules or families
    std::vector<std::string> avoid;
    std::vector<std::string> hold;  ///< addresses such as A:1-4
    std::optional<int> outside;     ///< ceiling, 1..5
    std::optional<int> around;      ///< wish, 1..5
    int versions = 1;               ///< how many
    std::string date;               ///< for the stamp, printed as given
    bool by_cost = false;           ///< the versions of least cost, proved; no dose, no idea to keep to
};

/// One change and its reason, in words.
struct Change {
    std::string place;  ///< "A:7.3"
    std::string was;
    std::string now;
    std::string rule;
    std::string reason;
    std::string guide_tones_before;
    std::string guide_tones_now;
    std::string melody;
    int outside = 1;
};
struct Version {
    std::string name;
    std::string headline;
    std::string hash;  ///< of the version stamp
    Tune tune;         ///< complete: can be edited, checked, reharmonised again
    Tune written;      ///< the tune that it came from
    std::vector<Change> changes;
};
struct Choices {
    std::vector<Version> versions;  ///< the best first
    std::string search;             ///< what the search can say about itself
};
/// Unknown plans, rules and addresses are diagnostics.
Outcome<Choices> reharmonise(const Tune& tune, const Rules& rules, const Wish& wish = {});

/// A file in memory.
struct File {
    std::string name;
    std::string bytes;
};
struct SheetWish {
    std::string instrument;   ///< "alto-sax"; empty = concert pitch
    bool compressed = false;  ///< .mxl
};
/// The MusicXML lead sheet of a tune or version. Errors: unknown-instrument.
Outcome<File> sheet(const Tune& tune, const std::string& stem, const SheetWish& wish = {});
Outcome<File> sheet(const Version& version, const std::string& stem, const SheetWish& wish = {});

/// "0.1.0"
[[nodiscard]] std::string_view version();

}  // namespace relead
