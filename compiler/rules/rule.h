// A substitution rule as a value: what it looks for, where it may stand, what it writes and why.
// Built from `.rules` text by read_rules.h; matched by match.h. It knows no costs.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include <relead/fraction.h>
#include <relead/outcome.h>

#include "rules/kind.h"
#include "syntax/rules_tree.h"
#include "theory/chord.h"
#include "theory/guide_motion.h"
#include "theory/key.h"

namespace relead::rules {

using syntax::ConditionKind;
using syntax::FormPlace;
using syntax::LengthBound;
using syntax::MetricPlace;

/// A chord by degree of the bound tonic and by kind; no degree = any root.
struct ChordPattern {
    std::optional<theory::ScaleDegree> degree;
    KindSet kinds = any_chord;
    std::string text;  ///< as the rule writes it: "V7", "1:maj"
};

/// One chord of a run: any of its alternatives, perhaps absent, perhaps of a bounded length.
struct Element {
    std::vector<ChordPattern> alternatives;
    bool optional = false;
    std::vector<LengthBound> lengths;
};
using Run = std::vector<Element>;

/// What is looked for: a run of chords, or whatever stands in a region of the form.
struct Find {
    Run run;
    std::optional<FormPlace> region;
    Span span;
};

/// The chords right before or right after what was found. `written` asks for the chart's own
/// chords, otherwise for those played in that version.
struct Context {
    Run run;
    bool written = false;
    Span span;
};

enum class TonicBinding { any, local, home };

/// A condition of rules_conditions.def with what its slots hold.
struct Condition {
    ConditionKind kind = ConditionKind::after;
    bool negated = false;
    std::optional<int> subject;           ///< index of the found chord spoken of
    std::vector<theory::Degree> degrees;  ///< of the tonic, or of the chord named by one of these two:
    std::optional<int> degrees_of;        ///< index of a found chord
    std::optional<int> degrees_of_new;    ///< index of a new chord
    KindSet kinds = any_chord;
    Run run;
    bool written = false;  ///< `before written …`: the chart's own chords
    std::optional<LengthBound> length;
    std::optional<FormPlace> place;
    MetricPlace metric;
    std::vector<std::string> words;  ///< mode, function, or what is written
    std::string text;                ///< the condition as the rule writes it
};
/// Alternatives of conjunctions: true when every condition of some inner list holds.
struct Clause {
    std::vector<std::vector<Condition>> any_of;
    std::string text;
    Span span;
};

/// How much of the found span a new chord takes.
struct Share {
    enum class Kind {
        even,      ///< an equal part (or found chord k when there are as many new chords as found)
        fraction,  ///< of the whole, or of found chord `found`
        beats,     ///< so many beats
        rest,      ///< what the others leave
    };
    Kind kind = Kind::even;
    Fraction amount = 1;
    std::optional<int> found;
};

/// A degree that is always printed with the new chord, or only before chords of some kinds.
struct Colour {
    theory::Degree degree;
    std::optional<KindSet> before;
};

struct NewChordSpec {
    enum class Base {
        degree,  ///< a degree of the tonic with a quality
        found,   ///< found chord `found` as it is
        each,    ///< every found chord in its own place (pedals)
    };
    Base base = Base::degree;
    theory::ScaleDegree degree;
    theory::QualityId quality;
    std::vector<theory::Degree> extra;
    int found = 0;
    std::optional<theory::Degree> bass_of_chord;
    std::optional<theory::ScaleDegree> bass_of_tonic;
    std::vector<Colour> colours;
    Share share;
    std::string text;
};

/// Threads of new chord `chord` (index); none = the last one, into the chord that follows.
struct ThreadSet {
    std::optional<int> chord;
    std::vector<theory::Thread> threads;
};

enum class Audience { everybody, band, soloist };

struct Rule {
    std::string name;
    std::string title;
    std::string family;
    int outside = 1;  ///< 1 (inside) .. 5 (far outside)
    Audience audience = Audience::everybody;
    Find find;
    std::vector<Context> before;  ///< every one must follow what was found
    std::vector<Context> after;   ///< every one must stand right before it
    TonicBinding tonic = TonicBinding::any;
    std::optional<std::string> tonic_mode;  ///< "major" or "minor": mode of the local key at the find
    std::vector<Clause> when;
    std::vector<Clause> unless;
    std::vector<NewChordSpec> write;
    Span write_span;  ///< of the first new chord to the last
    std::vector<ThreadSet> threads;
    std::string why;      ///< sentence with {placeholders}
    std::string source;   ///< published source, or "common practice"
    std::string example;  ///< changes in numerals where it fires: "ii7 | V7 | Imaj7"
    Span example_span;    ///< of that text with its quotation marks
    bool built_in = false;
    Span span;
    std::string text;  ///< its lines as written, without those between it and the next rule
    std::string file;  ///< name of the text that it stands in
    int line = 0;      ///< its first line there
};

/// Rules in their order: of the files, then of the text. Names are unique.
struct RuleSet {
    std::vector<Rule> rules;
    [[nodiscard]] const Rule* find(std::string_view name) const;
    /// True when some rule has this name or belongs to this family.
    [[nodiscard]] bool knows(std::string_view word) const;
};

}  // namespace relead::rules
