#include "reharm/judge.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "reharm/altered_symbol.h"
#include "reharm/bass_line.h"
#include "reharm/cost_terms.h"
#include "reharm/guard.h"
#include "reharm/kept_places.h"
#include "reharm/melody_refusals.h"
#include "reharm/octaves.h"
#include "reharm/pair.h"
#include "reharm/placement_symbols.h"
#include "reharm/plan_refusals.h"
#include "reharm/soloist_row.h"
#include "reharm/sounding_bass.h"
#include "reharm/touched.h"

namespace relead::reharm {
namespace {

using rules::NewChord;

/// "0.38 seconds"
std::string in_seconds(double seconds) {
    const auto rounded = std::lround(seconds * 100);
    return std::to_string(rounded / 100) + "." + (rounded % 100 < 10 ? "0" : "") +
           std::to_string(rounded % 100) + " seconds";
}

class Judge {
public:
    Judge(const Situation& situation, Judged& judged)
        : situation_(situation),
          chart_(situation.chart),
          placement_(judged.placement),
          judged_(judged),
          verdict_(judged.verdict) {}

    /// Asks in the order in which refusals are told.
    void run(Reasons reasons) {
        constexpr std::array questions{&Judge::count_touched,
                                       &Judge::judge_against_the_bass,
                                       &Judge::refuse_by_plan,
                                       &Judge::refuse_locked,
                                       &Judge::refuse_new_roots_over_bass,
                                       &Judge::refuse_broken_bass_line,
                                       &Judge::refuse_without_soloist,
                                       &Judge::refuse_short,
                                       &Judge::refuse_squeezed,
                                       &Judge::refuse_repeated,
                                       &Judge::refuse_unreadable,
                                       &Judge::refuse_far_guide_tones,
                                       &Judge::judge_the_melody};
        coloured_ = write_symbols(situation_, placement_);
        for (const auto question : questions) {
            (this->*question)();
            if (reasons == Reasons::first && !verdict_.allowed()) return;
        }
        add_costs();
    }

private:
    const rules::Spot& written(int i) const { return chart_.at(i); }
    Time start() const { return written(placement_.begin).start; }
    void refuse(Refusal::Kind kind, std::string sentence) {
        verdict_.refusals.push_back({kind, std::move(sentence)});
    }
    std::string place(int spot) const { return rules::place_name(chart_, spot); }

    std::vector<TimedChord> old_chords() const {
        std::vector<TimedChord> chords;
        for (int i = placement_.begin; i < placement_.end; ++i)
            chords.push_back({written(i).chord, written(i).start, written(i).length});
        return chords;
    }
    std::vector<TimedChord> new_chords() const {
        std::vector<TimedChord> chords;
        for (const auto& chord : placement_.chords)
            chords.push_back({chord.chord, start() + chord.at, chord.length});
        return chords;
    }
    /// Between the last new chord and what follows in a version the pair is asked.
    void refuse_unreadable() {
        for (std::size_t i = 0; i < placement_.chords.size(); ++i) {
            const auto& chord = placement_.chords[i];
            if (chord.kept_from) continue;
            const auto* next = i + 1 < placement_.chords.size() ? &placement_.chords[i + 1].chord : nullptr;
            if (auto sentence = unreadable(chord.chord, next))
                refuse(Refusal::Kind::melody, std::move(*sentence));
        }
    }
    bool touched(int i) const { return touches(situation_, placement_, i); }
    void count_touched() {
        for (int i = placement_.begin; i < placement_.end; ++i) {
            if (!touched(i)) continue;
            ++judged_.touched;
            judged_.touched_beats += written(i).beats();
        }
        judged_.outside = 1;
        for (const auto& applied : placement_.derivation)
            judged_.outside = std::max(
                judged_.outside, situation_.rules.rules[static_cast<std::size_t>(applied.rule)].outside);
        if (judged_.touched > 0) return;
        refuse(Refusal::Kind::same, why_untouched());
    }
    std::string why_untouched() const {
        if (!superimposed()) return "It changes nothing here.";
        if (moves_the_bass(placement_)) return "It only moves the bass, which stays on the written changes.";
        return "It brings no note that " + theory::to_string(written(placement_.begin).chord) +
               " has not: a soloist gains nothing.";
    }
    bool superimposed() const { return situation_.plan.audience == rules::Audience::soloist; }
    /// What rubs leads further outside, whatever level its rules have.
    void judge_against_the_bass() {
        if (!superimposed()) return;
        std::vector<TimedChord> fresh;
        for (const auto& chord : placement_.chords) {
            if (!chord.kept_from) fresh.push_back({chord.chord, start() + chord.at, chord.length});
        }
        const auto found = against_the_bass(old_chords(), fresh, chart_.home);
        verdict_.sounding = found.sentence;
        rubs_ = found.rubs;
        little_new_ = found.little_new;
        const int level = level_of_rubs(rubs_);
        if (level > judged_.outside && level > situation_.plan.ceiling)
            refuse(Refusal::Kind::soloist,
                   "Superimposed it leads further outside (" + std::to_string(level) + ") than is allowed (" +
                       std::to_string(situation_.plan.ceiling) + "). " + found.sentence);
        judged_.outside = std::max(judged_.outside, level);
        refuse_long_rubs(found, fresh);
    }
    void refuse_long_rubs(const SoundingVerdict& found, const std::vector<TimedChord>& fresh) {
        constexpr double rounding = 1e-6;
        if (!stays_inside(situation_.plan.ceiling)) return;
        for (std::size_t i = 0; i < fresh.size(); ++i) {
            const auto most = longest_rub(found.rubbing[i]);
            const double seconds = seconds_of(found.rubbing[i].length);
            if (!most || seconds <= *most + rounding) continue;
            refuse(Refusal::Kind::soloist,
                   "For " + in_seconds(seconds) + " " + theory::to_string(fresh[i].chord) +
                       " would rub on what the band plays: too long to pass through.");
            return;
        }
    }
    void refuse_by_plan() {
        for (auto& refusal : refused_by_plan(situation_, placement_))
            verdict_.refusals.push_back(std::move(refusal));
    }
    void refuse_locked() {
        for (int i = placement_.begin; i < placement_.end; ++i) {
            if (written(i).locked && touched(i))
                refuse(Refusal::Kind::locked,
                       theory::to_string(written(i).chord) + " is locked at " + place(i) + ".");
        }
        for (int i = placement_.begin; superimposed() && i < placement_.end; ++i) {
            if (!written(i).soloist_written || !touched(i)) continue;
            refuse(Refusal::Kind::locked, "What the soloist plays at " + place(i) + " is written there.");
            return;
        }
    }
    void refuse_new_roots_over_bass() {
        for (int i = placement_.begin; i < placement_.end; ++i) {
            if (!written(i).bass_written) continue;
            for (const auto& chord : placement_.chords) {
                if (!sounds_with(chart_, placement_, chord, i) ||
                    sounding_root(chord.chord) == sounding_root(written(i).chord))
                    continue;
                refuse(Refusal::Kind::bass, "The bass figure written at " + place(i) + " keeps its root.");
                return;
            }
        }
    }
    void refuse_broken_bass_line() {
        if (superimposed()) return;
        if (auto sentence = breaks_bass_line(chart_, placement_))
            refuse(Refusal::Kind::bass, std::move(*sentence));
    }
    void refuse_without_soloist() {
        if (superimposed()) return;
        if (auto sentence = leaves_soloist_alone(chart_, placement_))
            refuse(Refusal::Kind::soloist, std::move(*sentence));
    }
    static int sounding_root(const theory::Chord& chord) {
        return theory::pitch_class(theory::bass_of(chord));
    }
    double seconds_of(Time length) const {
        const auto& spot = written(placement_.begin);
        return spot.seconds / std::max(1e-9, spot.length.to_double()) * length.to_double();
    }
    bool as_long_as_written(const NewChord& chord) const {
        return chord.kept_from && chord.length >= written(*chord.kept_from).length;
    }
    void refuse_short() {
        constexpr double rounding = 1e-6;
        for (const auto& chord : placement_.chords) {
            const double seconds = seconds_of(chord.length);
            if (as_long_as_written(chord) || seconds + rounding >= situation_.plan.shortest_seconds) continue;
            // No shorter than what the author writes there is never too short.
            Time shortest = written(placement_.begin).length;
            for (int i = placement_.begin; i < placement_.end; ++i)
                shortest = std::min(shortest, written(i).length);
            if (chord.length >= shortest) continue;
            refuse(Refusal::Kind::room, theory::to_string(chord.chord) + " would last " +
                                            in_seconds(seconds) + ": too short to play.");
            return;
        }
    }
    /// What follows may be played early: less than a beat is left of a new chord before it.
    void refuse_squeezed() {
        if (placement_.chords.empty() || as_long_as_written(placement_.chords.back())) return;
        const auto& last = placement_.chords.back();
        const auto& end = written(placement_.end - 1);
        for (const int next : end.next) {
            const auto& pushed = written(next);
            if (pushed.early == 0 || last.length - pushed.early >= end.beat_length) continue;
            refuse(Refusal::Kind::room, theory::to_string(pushed.chord) + " comes early at " + place(next) +
                                            ": less than a beat would be left for " +
                                            theory::to_string(last.chord) + ".");
            return;
        }
    }
    void refuse_repeated() {
        for (std::size_t i = 1; i < placement_.chords.size(); ++i) {
            const auto& from = placement_.chords[i - 1];
            const auto& to = placement_.chords[i];
            if ((from.kept_from && to.kept_from) || !stands_still(from.chord, to.chord)) continue;
            refuse(Refusal::Kind::same, twice_in_a_row(from.chord, to.chord));
            return;
        }
    }
    void refuse_far_guide_tones() {
        if (auto sentence = refuse_inside(situation_.rules, placement_))
            refuse(Refusal::Kind::guide_tone, std::move(*sentence));
    }
    bool melody_is_played() const { return situation_.plan.plan.where != tune::Plan::Where::solos; }
    void judge_the_melody() {
        verdict_.melody =
            judge_melody(situation_.tune, *chart_.melodies, written(placement_.begin).ref.section,
                         chart_.home, old_chords(), new_chords(), coloured_);
        verdict_.melody.played = melody_is_played();
        if (!melody_is_played()) verdict_.melody.sentence = "Nobody plays the melody on solos: not checked.";
        if (verdict_.melody.has_new_clash() && situation_.plan.melody_refuses)
            refuse(Refusal::Kind::melody, verdict_.melody.sentence);
        if (!melody_is_played() || !situation_.plan.melody_refuses) return;
        const auto& melody = verdict_.melody;
        if (auto rub = flat_ninth_that_rubs(chart_, placement_, melody)) {
            if (stays_inside(situation_.plan.ceiling)) {
                refuse(Refusal::Kind::melody, std::move(*rub));
            } else {
                tell_rub(*rub);
            }
        }
        if (auto other = spells_another_chord(placement_, melody))
            refuse(Refusal::Kind::melody, std::move(*other));
        if (auto denied = contradicts_third(chart_, placement_, melody))
            refuse(Refusal::Kind::melody, std::move(*denied));
        if (superimposed()) return;  // the bass stays on the written changes
        if (auto octaves = doubles_leading_tone(chart_, placement_))
            refuse(Refusal::Kind::melody, std::move(*octaves));
    }
    /// "The melody fits." would contradict it, and the flat ninth, which the symbol shows, is not told twice.
    void tell_rub(const std::string& rub) {
        auto& said = verdict_.melody.sentence;
        for (const auto& before : {std::string(melody_fits), coloured_, rub.substr(0, rub.find(',')) + "."}) {
            if (before.empty() || said.rfind(before, 0) != 0) continue;
            said.replace(0, before.size(), rub);
            return;
        }
        said += " " + rub;
    }
    void add_costs() {
        const auto& plan = situation_.plan;
        charge(verdict_, "change");
        if (plan.wished_level) {
            charge(verdict_, "wished-level", std::abs(judged_.outside - *plan.wished_level));
        } else {
            charge(verdict_, "level", judged_.outside - 1);
        }
        charge(verdict_, "stacked", placement_.depth() - 1);
        charge(verdict_, "touched", std::max(0, judged_.touched - 1));
        charge_melody();
        charge_place();
        int long_symbols = 0, brief = 0;
        constexpr int easy_symbol = 4;
        for (const auto& chord : placement_.chords) {
            if (chord.kept_from) continue;
            long_symbols += std::max(0, letters_in_any_key(chord.chord) - easy_symbol);
            brief += seconds_of(chord.length) < 1.0 ? 1 : 0;
        }
        charge(verdict_, "rub", rubs_);
        charge(verdict_, "little-new", superimposed() && little_new_ ? 1 : 0);
        charge(verdict_, "long-symbol", long_symbols);
        charge(verdict_, "short-chord", brief);
    }
    /// Length of a symbol with a root of two characters, so that all keys cost the same.
    static int letters_in_any_key(const theory::Chord& chord) {
        auto on_b_flat = chord;
        on_b_flat.root = theory::NoteName{-2};
        if (on_b_flat.bass) on_b_flat.bass = theory::NoteName{-2};
        return static_cast<int>(theory::to_string(on_b_flat, theory::SymbolStyle::plain).size());
    }
    void charge_melody() {
        int colours = 0, passing = 0, clashes = 0, harsh = 0;
        for (const auto& note : verdict_.melody.notes) {
            const auto& chord = placement_.chords[static_cast<std::size_t>(note.chord)];
            if (chord.kept_from) continue;
            colours += note.fit == NoteFit::tension && note.held && note.degree.alteration != 0 ? 1 : 0;
            passing += note.fit == NoteFit::passing ? 1 : 0;
            harsh += harsh_beats(chart_, placement_, note);
            clashes += note.fit == NoteFit::clash && !note.clashed_before ? 1 : 0;
        }
        charge(verdict_, "melody-colour", colours);
        charge(verdict_, "harsh-colour", harsh);
        charge(verdict_, "melody-passing", passing);
        charge(verdict_, "melody-clash", clashes);
        charge(verdict_, "melody-unknown", verdict_.melody.known || !melody_is_played() ? 0 : 1);
    }
    void charge_place() {
        bool section_start = false;
        for (int i = placement_.begin; i < placement_.end; ++i)
            section_start = section_start || (opens_section(written(i)) && touched(i) &&
                                              !begins_as_written(chart_, placement_, i));
        charge(verdict_, "section-start", section_start ? 1 : 0);
        const auto homes = last_cadence(chart_).homes;
        const bool home = std::any_of(homes.begin(), homes.end(), [&](int i) {
            const int from_end = written(i).in_chorus.from_end;
            const bool here = placement_.begin <= i && i < placement_.end;
            return here && from_end >= 0 && from_end < 2 && touched(i);
        });
        charge(verdict_, "final-cadence", home ? 1 : 0);
    }

    const Situation& situation_;
    const rules::Chart& chart_;
    rules::Placement& placement_;
    Judged& judged_;
    Verdict& verdict_;
    int rubs_ = 0;             ///< tones against the sounding chords, for a soloist
    bool little_new_ = false;  ///< what they bring is of the key, or a colour on the written root
    std::string coloured_;     ///< what the melody added to symbols
};

}  // namespace

Judged judge(const Situation& situation, rules::Placement placement, Reasons reasons) {
    Judged judged;
    judged.placement = std::move(placement);
    Judge(situation, judged).run(reasons);
    return judged;
}

void judge_boundaries(const Situation& situation, const rules::Chart& chart, int first, int last,
                      Judged& judged) {
    const auto& placement = judged.placement;
    auto& verdict = judged.verdict;
    const End front{&placement.chords.front().chord, &placement};
    const End back{&placement.chords.back().chord, &placement};
    const auto take = [&](const PairVerdict& pair, const std::vector<CostTerm>& terms, bool charged) {
        if (pair.refusal) verdict.refusals.push_back(*pair.refusal);
        if (!charged) return;
        for (const auto& term : terms) {
            verdict.terms.push_back(term);
            verdict.cost += term.value;
        }
    };
    bool charged = true;
    for (const int next : chart.at(last).next) {
        const End right{&chart.at(next).chord, nullptr};
        const auto pair = judge_pair(situation.rules, back, right);
        take(pair, pair.left, charged);
        if (charged) verdict.arrival = motions_over(situation.rules, back, right);
        charged = false;
    }
    charged = true;
    for (const int previous : chart.at(first).previous) {
        const End left{&chart.at(previous).chord, nullptr};
        const auto pair = judge_pair(situation.rules, left, front);
        take(pair, pair.right, charged);
        charged = false;
    }
}

}  // namespace relead::reharm
