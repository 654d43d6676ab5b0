#include "report/explanation.h"

#include <map>
#include <utility>

#include "report/recognised.h"

namespace relead::report {

namespace {

std::vector<std::string> notes_of(const analysis::ChordFact& fact) {
    std::vector<std::string> notes;
    if (fact.related_ii) notes.emplace_back("related ii");
    if (fact.blues_tonic) notes.emplace_back("blues tonic");
    if (fact.deceptive) notes.emplace_back("deceptive");
    if (fact.in_modal_stretch) notes.emplace_back("static");
    if (fact.over_pedal) notes.emplace_back("over a pedal");
    if (fact.common_tone) notes.emplace_back("common tone");
    if (fact.line_cliche) notes.emplace_back("line cliché");
    if (fact.planing) notes.emplace_back("planing");
    if (fact.turnaround) notes.emplace_back("turnaround");
    return notes;
}

/// Chords of bars written `%` are not listed; what points at one points at the listed chord that it repeats,
/// or, from that chord itself, at the next listed one.
class Listing {
public:
    Listing(const tune::Tune& tune, const analysis::Analysis& analysis) {
        for (const auto& fact : analysis.chords) {
            const auto& section = tune.sections[static_cast<std::size_t>(fact.ref.section)];
            number_.push_back(count_);
            listed_.push_back(!section.bars[static_cast<std::size_t>(fact.ref.bar)].simile);
            if (listed_.back()) ++count_;
        }
    }

    bool is_listed(std::size_t i) const { return listed_[i]; }
    int number(std::size_t i) const { return number_[i]; }
    int target(std::size_t from, int to) const {
        const auto at = static_cast<std::size_t>(to);
        if (at >= listed_.size()) return count_;
        if (listed_[at]) return number_[at];
        const int repeated = number_[at] - 1;
        return repeated == number_[from] ? repeated + 1 : repeated;
    }

private:
    std::vector<int> number_;
    std::vector<bool> listed_;
    int count_ = 0;
};

theory::Key plain_mode(theory::Key key) {
    if (key.mode == theory::Mode::blues) key.mode = theory::Mode::major;
    return key;
}

/// The guide-tone line of the tune: its counts, and the tones of every written chord.
std::map<tune::ChordRef, std::vector<std::string>> follow_guide_tones(const tune::Tune& tune,
                                                                      GuideCounts& counts) {
    const auto walk = voicing::walk_chords(tune);
    const auto line = voicing::guide_line(walk);
    counts = guide_counts(voicing::report_line(walk, line));
    std::map<tune::ChordRef, std::vector<std::string>> tones;
    for (std::size_t i = 0; i < walk.refs.size(); ++i) {
        if (!line.pairs[i]) continue;
        tones[walk.refs[i]] = {theory::to_string(line.pairs[i]->lower.pitch),
                               theory::to_string(line.pairs[i]->upper.pitch)};
    }
    return tones;
}

}  // namespace

Explanation explain(const tune::Tune& tune, const analysis::Analysis& analysis) {
    Explanation explanation;
    if (analysis.given) explanation.given = theory::to_string(*analysis.given);
    explanation.modal = analysis.given && theory::is_modal(*analysis.given);
    explanation.estimated = theory::to_string(plain_mode(analysis.estimated));
    explanation.blues = analysis.home.mode == theory::Mode::blues;
    explanation.exact = analysis.exact;
    explanation.window = analysis.window;
    auto guide_tones = follow_guide_tones(tune, explanation.guide_line);
    const Listing listing(tune, analysis);
    std::vector<const analysis::ChordFact*> listed;
    for (std::size_t i = 0; i < analysis.chords.size(); ++i) {
        if (!listing.is_listed(i)) continue;
        const auto& fact = analysis.chords[i];
        const auto place = tune::place_of(tune, fact.ref);
        ExplainedChord row;
        row.index = listing.number(i);
        row.section = place.section;
        row.bar = place.bar;
        row.beat = place.beat;
        row.symbol = theory::to_string(tune::chord_at(tune, fact.ref).chord);
        row.key = theory::to_string(fact.local_key);
        row.numeral = fact.numeral;
        row.function = analysis::to_string(fact.function);
        if (fact.target) row.target = listing.target(i, *fact.target);
        row.relation = analysis::to_string(fact.relation);
        row.back = fact.colours_earlier;
        row.guide_tones = std::move(guide_tones[fact.ref]);
        row.notes = notes_of(fact);
        explanation.chords.push_back(std::move(row));
        listed.push_back(&fact);
    }
    explanation.recognised = recognise(tune, listed, explanation.chords);
    return explanation;
}

}  // namespace relead::report
