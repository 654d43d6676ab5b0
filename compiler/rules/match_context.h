// Whether a rule's contexts and conditions hold where its chords were found, and the sentence that
// says why not. Part of the matcher (match.h).
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "rules/chart.h"
#include "rules/condition_words.h"
#include "rules/match.h"
#include "rules/rule.h"
#include "rules/sounding_melody.h"

namespace relead::rules {

/// Chords found: half-open ranges of spots, one per element of `find` (empty = absent), and degree 1.
struct Found {
    std::vector<std::pair<int, int>> ranges;
    int begin = 0;
    int end = 0;
    theory::NoteName tonic;
    /// The chords that the rule would write, from the start of what was found; worked out
    /// only for a rule that asks about them, empty when its shares do not fit.
    struct Written {
        theory::Chord chord;
        Time at, length;
    };
    std::vector<Written> new_chords;
};
/// Some condition of the rule speaks of a chord that it would write.
[[nodiscard]] bool asks_about_new_chords(const Rule& rule);

/// The same root and quality, whatever the bass: one chord that goes on.
[[nodiscard]] bool goes_on_as(const theory::Chord& a, const theory::Chord& b);
[[nodiscard]] bool matches(const ChordPattern& pattern, const Heard& heard, theory::NoteName tonic);
[[nodiscard]] bool matches(const Element& element, const Heard& heard, theory::NoteName tonic);
/// A bar that is played several times stands in a place of the chorus each time, or some time.
enum class Playings { every, any };
[[nodiscard]] bool within(const LengthBound& bound, const Chart& chart, int begin, int end);
/// All spots of [begin, end) lie in that place of the form.
[[nodiscard]] bool within(const FormPlace& place, const Chart& chart, int begin, int end,
                          Playings playings = Playings::every);

/// Asks contexts and conditions of one rule.
class Examiner {
public:
    Examiner(const Rule& rule, const Chart& chart) : rule_(rule), chart_(chart) {}

    /// False when something speaks against the rule here; `against` takes all of it, in words. Without it the
    /// first objection settles the matter. `open_contexts`: chords around that can be asked for later are not
    /// asked about.
    [[nodiscard]] bool fits(const Found& found, bool open_contexts, std::vector<Objection>* against) const;
    /// Adds what was left open to the candidate: chords that must stand around it, or must stay there.
    void leave_open(theory::NoteName tonic, Candidate& candidate) const;

private:
    enum class Mode { all, any };  // of several chords that may stand there

    [[nodiscard]] bool contexts_hold(const Found& found, bool open, std::vector<Objection>* against) const;
    [[nodiscard]] bool context_holds(const Run& run, bool written, const Found& found, bool forward,
                                     Mode mode) const;
    [[nodiscard]] bool run_holds(const Run& run, std::size_t done, const Chart& chart,
                                 const std::vector<int>& neighbours, const Found& found, bool forward,
                                 Mode mode, int depth) const;
    /// `exception`: the clause is an `unless`.
    [[nodiscard]] bool clause_holds(const Clause& clause, bool exception, bool open_contexts,
                                    const Found& found) const;
    [[nodiscard]] bool holds(const Condition& condition, const Found& found, Mode mode) const;
    [[nodiscard]] bool analysis_holds(const Condition& condition, const Found& found) const;
    [[nodiscard]] bool chord_holds(const Condition& condition, const Found& found) const;
    /// Whether a condition on the melody holds; `note` takes the note that decides, when one does.
    [[nodiscard]] bool melody_holds(const Condition& condition, const Found& found,
                                    SoundingNote* note = nullptr) const;
    /// Degree 1 of what the condition counts, and the time over which it listens; nothing when the chord that
    /// it names is absent.
    struct Stretch {
        theory::NoteName root;
        Time from, to;
    };
    [[nodiscard]] std::optional<Stretch> stretch_of(const Condition& condition, const Found& found) const;
    [[nodiscard]] bool written_holds(const Condition& condition, const Found& found) const;
    [[nodiscard]] bool starts_on(const MetricPlace& metric, const Spot& spot) const;
    [[nodiscard]] const Spot* subject(const Condition& condition, const Found& found) const;

    [[nodiscard]] std::string context_sentence(const Context& context, const Found& found,
                                               bool forward) const;
    /// What may follow (or come before) any of these spots, and their symbols, each once.
    [[nodiscard]] std::vector<int> onward(const std::vector<int>& from, bool forward) const;
    [[nodiscard]] std::vector<std::string> symbols(const std::vector<int>& spots) const;
    [[nodiscard]] std::string clause_sentence(const Clause& clause, const Found& found) const;
    [[nodiscard]] std::string exception_sentence(const Clause& clause, const Found& found) const;
    [[nodiscard]] std::string names(int begin, int end) const;
    [[nodiscard]] ChordNames chord_names(const Found& found) const;

    const Rule& rule_;
    const Chart& chart_;
};

}  // namespace relead::rules
