#include "support/small_tunes.h"

#include "support/catch.h"
#include "text/render.h"
#include "tune/lower.h"
#include "tune/unfold.h"

namespace relead::testing {
namespace {

using analysis::Function;
using theory::ChordClass;

int up(const theory::Chord& from, const theory::Chord& to) {
    return (theory::pitch_class(to.root) - theory::pitch_class(from.root) + 12) % 12;
}
bool dominant(const theory::Chord& chord) {
    const auto kind = theory::chord_class(chord);
    return kind == ChordClass::dominant || kind == ChordClass::suspended;
}
bool ii_like(const theory::Chord& chord) {
    const auto kind = theory::chord_class(chord);
    return kind == ChordClass::minor || kind == ChordClass::half_diminished;
}

void hear(analysis::ChordFact& fact, const theory::Chord& chord, const theory::Chord& next,
          const theory::Key& home, int next_index, bool fourth_bar) {
    const int above_home = (theory::pitch_class(chord.root) - theory::pitch_class(home.tonic) + 12) % 12;
    fact.target = next_index;
    fact.relation = analysis::Relation::prolongs;
    if (home.mode == theory::Mode::blues && dominant(chord) && (above_home == 0 || above_home == 5) &&
        !fourth_bar) {
        fact.function = Function::tonic;
        fact.blues_tonic = true;
        return;
    }
    const int step = up(chord, next);
    const bool home_next = theory::pitch_class(next.root) == theory::pitch_class(home.tonic);
    if (dominant(chord) && step == 5) fact.function = Function::dominant;
    if (dominant(chord) && step == 11) fact.function = Function::substitute_dominant;
    if (dominant(chord) && step == 2 && home_next) fact.function = Function::backdoor;
    if (ii_like(chord) && step == 5 && dominant(next)) {
        fact.function = Function::predominant;
        fact.related_ii = true;
    }
    if (theory::chord_class(chord) == ChordClass::diminished && (step == 1 || step == 11))
        fact.function = Function::passing_diminished;
    if (fact.function != Function::other) fact.relation = analysis::Relation::prepares;
    if (fact.function == Function::other && above_home == 0) fact.function = Function::tonic;
}

}  // namespace

tune::Tune read_whole(const std::string& text) {
    const text::Source source("small.tune", text);
    auto outcome = tune::read_tune(source);
    INFO(text << text::render_all(outcome.diagnostics, {&source, 1}));
    REQUIRE(outcome.clean());
    return std::move(*outcome.value);
}

tune::Tune small_tune(const std::string& key, const std::string& changes,
                      const std::vector<std::string>& rows, const std::string& more) {
    std::string text = "tune \"Small\"\nkey " + key +
                       "\nmeter 4/4\ntempo 120 swing\nform A\n\nsection A\nchanges | " + changes + " |\n";
    for (const auto& row : rows) text += row + "\n";
    return read_whole(text + "\n" + more);
}

analysis::Analysis plain_reading(const tune::Tune& tune) {
    analysis::Analysis result;
    result.given = tune.given_key;
    result.estimated = result.home = tune.key;
    const auto refs = tune::written_chords(tune);
    for (const auto& ref : refs) {
        analysis::ChordFact fact;
        fact.ref = ref;
        fact.local_key = tune::key_at(tune.sections[static_cast<std::size_t>(ref.section)], ref.bar);
        result.chords.push_back(fact);
    }
    std::vector<std::size_t> order;
    for (const auto& played : tune::played_chords(tune)) {
        for (std::size_t i = 0; i < refs.size(); ++i) {
            if (refs[i] == played.ref) order.push_back(i);
        }
    }
    for (std::size_t k = order.size(); k-- > 0;) {
        const auto i = order[k];
        const bool last = k + 1 == order.size();
        const auto next = last ? order.front() : order[k + 1];
        const int number = tune::place_of(tune, refs[i]).bar;
        const int next_number = tune::place_of(tune, refs[next]).bar;
        hear(result.chords[i], tune::chord_at(tune, refs[i]).chord, tune::chord_at(tune, refs[next]).chord,
             tune.key, last ? static_cast<int>(refs.size()) : static_cast<int>(next),
             number == 4 && next_number == 5);
    }
    return result;
}

}  // namespace relead::testing
