#include "reharm/judge.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "reharm/altered_symbol.h"
#include "reharm/bass_line.h"
#include "reharm/cost_terms.h"
#include "reharm/guard.h"
#include "reharm/kept_places.h"
#include "reharm/pair.h"
#include "reharm/sounding_bass.h"
#include "tune/spot.h"

namespace relead::reharm {
namespace {

using rules::NewChord;

bool same_sound(const theory::Chord& a, const theory::Chord& b) {
    auto plain_a = a, plain_b = b;
    plain_a.suffix.clear();
    plain_b.suffix.clear();
    plain_a.root = plain_b.root = {};
    return theory::pitch_class(a.root) == theory::pitch_class(b.root) && plain_a.quality == plain_b.quality &&
           plain_a.extra == plain_b.extra && a.bass.has_value() == b.bass.has_value() &&
           (!a.bass || theory::pitch_class(*a.bass) == theory::pitch_class(*b.bass)) && a.upper == b.upper;
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
                                       &Judge::refuse_short,
                                       &Judge::refuse_repeated,
                                       &Judge::refuse_unreadable,
                                       &Judge::refuse_far_guide_tones,
                                       &Judge::judge_the_melody};
        write_symbols();
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
    /// Held colours of the melody go into the symbols, in the composer's own hand, also where the derivation
    /// speaks of these chords.
    void write_symbols() {
        for (std::size_t i = 0; i < placement_.chords.size(); ++i) {
            auto& chord = placement_.chords[i];
            if (chord.kept_from) {
                const bool as_written = chord.chord == written(*chord.kept_from).chord;
                if (as_written) continue;
                situation_.symbols.dress(chord.chord);  // over another bass
                name_in_derivation(chord.chord, chord.chord);
                continue;
            }
            const int section = written(placement_.begin).ref.section;
            TimedChord timed{chord.chord, start() + chord.at, chord.length};
            situation_.symbols.dress(timed.chord);
            const auto before = timed.chord;
            timed.chord = with_melody_tensions(situation_.tune, *chart_.melodies, section, timed);
            const auto next = following(i);
            chord.chord = as_players_write(*chart_.melodies, section, timed, next ? &*next : nullptr);
            situation_.symbols.dress(chord.chord);
            name_in_derivation(before, chord.chord);
            if (chord.chord == before || has_colours_of_written(chord)) continue;
            if (!coloured_.empty()) coloured_ += " ";
            coloured_ += "The melody colours " + theory::to_string(before) + " into " +
                         theory::to_string(chord.chord) + ".";
        }
    }
    /// The written chord there has the same tones over another bass: its colours are the tune's.
    bool has_colours_of_written(const rules::NewChord& chord) const {
        auto plain = chord.chord;
        for (int i = placement_.begin; i < placement_.end; ++i) {
            const auto& spot = written(i);
            const bool together =
                spot.start < start() + chord.at + chord.length && start() + chord.at < spot.end();
            plain.bass = spot.chord.bass;
            if (together && plain == spot.chord) return true;
        }
        return false;
    }
    /// What stands after new chord `i`: in the placement, else as written, else what the placement asks for
    /// there; nothing when nobody knows.
    std::optional<theory::Chord> following(std::size_t i) const {
        if (i + 1 < placement_.chords.size()) return placement_.chords[i + 1].chord;
        const auto& next = written(placement_.end - 1).next;
        if (next.empty()) return std::nullopt;
        const auto& there = written(next.front()).chord;
        const auto unmet = std::find_if(placement_.right.begin(), placement_.right.end(),
                                        [&](const rules::Need& need) { return !need.met_by(there); });
        return unmet == placement_.right.end() ? std::optional(there) : asked_for(*unmet);
    }
    /// Some chord on the one root that would do.
    static std::optional<theory::Chord> asked_for(const rules::Need& need) {
        const auto& patterns = need.element.alternatives;
        const auto& degree = patterns.front().degree;
        const bool one_root = !need.negated && degree &&
                              std::all_of(patterns.begin(), patterns.end(),
                                          [&](const auto& pattern) { return pattern.degree == degree; });
        if (!one_root) return std::nullopt;
        theory::Chord chord;
        chord.root = theory::note_at(need.tonic, *degree);
        chord.quality = *theory::find_quality("7");
        return chord;
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
    void name_in_derivation(const theory::Chord& before, const theory::Chord& now) {
        for (auto& applied : placement_.derivation) {
            for (auto& named : applied.new_chords) {
                if (named == before) named = now;
            }
            for (auto* beside : {&applied.previous, &applied.next}) {
                if (*beside == before) *beside = now;
            }
        }
    }
    /// The new chord that sounds with a written one from its start to its end; null when none does.
    const NewChord* whole_time(int i) const {
        for (const auto& chord : placement_.chords) {
            const auto from = start() + chord.at;
            if (from <= written(i).start && from + chord.length >= written(i).end()) return &chord;
        }
        return nullptr;
    }
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
        refuse(Refusal::Kind::same, moves_the_bass()
                                        ? "It only moves the bass, which stays on the written changes."
                                        : "It changes nothing here.");
    }
    bool touched(int i) const {
        if (superimposed() && keeps_upper_part(i)) return false;
        const auto* chord = whole_time(i);
        return !chord || !same_sound(chord->chord, written(i).chord);
    }
    /// A soloist changes no bass.
    bool keeps_upper_part(int i) const {
        return std::all_of(placement_.chords.begin(), placement_.chords.end(), [&](const NewChord& chord) {
            const auto from = start() + chord.at;
            const bool together = from < written(i).end() && from + chord.length > written(i).start;
            return !together || within(chord.chord, written(i).chord);
        });
    }
    /// The same upper part, or an inversion written with fewer tones: C/E over Cmaj7.
    static bool within(const theory::Chord& chord, const theory::Chord& written) {
        const auto upper = upper_part(chord);
        if (same_sound(upper, upper_part(written))) return true;
        const bool same_root = theory::pitch_class(chord.root) == theory::pitch_class(written.root);
        const auto beyond = theory::pitch_class_set(upper) & ~theory::pitch_class_set(upper_part(written));
        return chord.bass && same_root && beyond == 0;
    }
    static theory::Chord upper_part(theory::Chord chord) {
        chord.bass.reset();
        return chord;
    }
    bool moves_the_bass() const {
        return std::any_of(placement_.chords.begin(), placement_.chords.end(),
                           [](const NewChord& chord) { return chord.chord.bass.has_value(); });
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
        const int level = level_of_rubs(rubs_);
        if (level > judged_.outside && level > situation_.plan.ceiling)
            refuse(Refusal::Kind::soloist, "Superimposed it leads further outside (" + std::to_string(level) +
                                               ") than the plan allows (" +
                                               std::to_string(situation_.plan.ceiling) + "). " +
                                               found.sentence);
        judged_.outside = std::max(judged_.outside, level);
    }
    void refuse_by_plan() {
        const auto& plan = situation_.plan;
        for (const auto& applied : placement_.derivation) {
            const auto& rule = situation_.rules.rules[static_cast<std::size_t>(applied.rule)];
            if (!plan.uses(applied.rule))
                refuse(Refusal::Kind::not_used, "The plan does not use " + rule.name + ".");
            if (rule.outside > plan.ceiling)
                refuse(Refusal::Kind::outside, "It leads further outside (" + std::to_string(rule.outside) +
                                                   ") than the plan allows (" + std::to_string(plan.ceiling) +
                                                   ").");
        }
        for (int i = placement_.begin; i < placement_.end; ++i) {
            if (touched(i)) refuse_held(i);
        }
        for (const auto& never : plan.never) refuse_never(never);
    }
    void refuse_held(int i) {
        const auto& section = situation_.tune.sections[static_cast<std::size_t>(written(i).ref.section)].name;
        for (const auto& hold : situation_.plan.plan.hold) {
            const bool here = hold.covers(section, written(i).bar_number) &&
                              (!hold.beat || *hold.beat == written(i).beat());
            if (here) refuse(Refusal::Kind::held, "The plan holds " + tune::to_string(hold) + ".");
        }
    }
    void refuse_never(const BoundPlan::Never& never) {
        const bool rule_meant =
            never.rules.empty() ||
            std::any_of(placement_.derivation.begin(), placement_.derivation.end(), [&](const auto& a) {
                return std::find(never.rules.begin(), never.rules.end(), a.rule) != never.rules.end();
            });
        if (!rule_meant) return;
        for (int i = placement_.begin; i < placement_.end; ++i) {
            const auto& section =
                situation_.tune.sections[static_cast<std::size_t>(written(i).ref.section)].name;
            if (!touched(i) || !never.at.covers(section, written(i).bar_number)) continue;
            if (never.at.beat && *never.at.beat != written(i).beat()) continue;
            refuse(Refusal::Kind::never, "The plan never wants it at " + tune::to_string(never.at) + ".");
            return;
        }
    }
    void refuse_locked() {
        for (int i = placement_.begin; i < placement_.end; ++i) {
            if (written(i).locked && touched(i))
                refuse(Refusal::Kind::locked,
                       theory::to_string(written(i).chord) + " is locked at " + place(i) + ".");
        }
    }
    void refuse_new_roots_over_bass() {
        for (int i = placement_.begin; i < placement_.end; ++i) {
            if (!written(i).bass_written) continue;
            for (const auto& chord : placement_.chords) {
                const auto from = start() + chord.at;
                const bool together = from < written(i).end() && from + chord.length > written(i).start;
                if (!together || sounding_root(chord.chord) == sounding_root(written(i).chord)) continue;
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
    static int sounding_root(const theory::Chord& chord) {
        return theory::pitch_class(chord.bass.value_or(chord.root));
    }
    double seconds_of(const NewChord& chord) const {
        const auto& spot = written(placement_.begin);
        return spot.seconds / std::max(1e-9, spot.length.to_double()) * chord.length.to_double();
    }
    void refuse_short() {
        constexpr double rounding = 1e-6;
        for (const auto& chord : placement_.chords) {
            const bool as_long_as_written =
                chord.kept_from && chord.length >= written(*chord.kept_from).length;
            const double seconds = seconds_of(chord);
            if (as_long_as_written || seconds + rounding >= situation_.plan.shortest_seconds) continue;
            // No shorter than what the author writes there is never too short.
            Time shortest = written(placement_.begin).length;
            for (int i = placement_.begin; i < placement_.end; ++i)
                shortest = std::min(shortest, written(i).length);
            if (chord.length >= shortest) continue;
            const auto rounded = std::lround(seconds * 100);
            refuse(Refusal::Kind::room, theory::to_string(chord.chord) + " would last " +
                                            std::to_string(rounded / 100) + "." +
                                            (rounded % 100 < 10 ? "0" : "") + std::to_string(rounded % 100) +
                                            " seconds: too short to play.");
            return;
        }
    }
    void refuse_repeated() {
        for (std::size_t i = 1; i < placement_.chords.size(); ++i) {
            const auto& from = placement_.chords[i - 1];
            const auto& to = placement_.chords[i];
            if ((from.kept_from && to.kept_from) || !stands_still(from.chord, to.chord)) continue;
            refuse(Refusal::Kind::same, theory::to_string(to.chord) + " would stand twice in a row.");
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
                         chart_.home, old_chords(), new_chords());
        if (!melody_is_played()) verdict_.melody.sentence = "Nobody plays the melody on solos: not checked.";
        if (!coloured_.empty() && !verdict_.melody.has_new_clash()) verdict_.melody.sentence = coloured_;
        if (verdict_.melody.has_new_clash() && situation_.plan.melody_refuses)
            refuse(Refusal::Kind::melody, verdict_.melody.sentence);
        if (!melody_is_played() || !situation_.plan.melody_refuses) return;
        refuse_flat_ninth();
        refuse_foreign();
    }
    /// Over a dominant that does not fall a fifth a flat ninth that does not just go by is no colour of the
    /// key: it rubs against the root, and players hear a wrong note. Far outside it may.
    void refuse_flat_ninth() {
        if (!stays_inside(situation_.plan.ceiling)) return;
        for (const auto& note : verdict_.melody.notes) {
            const auto index = static_cast<std::size_t>(note.chord);
            const auto& chord = placement_.chords[index];
            const bool dark = !note.goes_by && note.degree == theory::Degree{9, -1};
            const auto next = dark && !chord.kept_from ? following(index) : std::nullopt;
            if (!next || !slides(chord.chord, *next)) continue;
            refuse(Refusal::Kind::melody, theory::to_string(theory::name_of(note.pitch)) + " is the b9 of " +
                                              theory::to_string(chord.chord) +
                                              ", which does not fall a fifth: it rubs against the root.");
            return;
        }
    }
    /// Notes that each go by may still spell another chord together.
    void refuse_foreign() {
        for (std::size_t i = 0; i < placement_.chords.size(); ++i) {
            const auto& chord = placement_.chords[i];
            if (chord.kept_from) continue;
            const bool foreign = verdict_.melody.is_foreign_to(static_cast<int>(i));
            const auto name = theory::to_string(chord.chord);
            if (!foreign && !verdict_.melody.spells_written(static_cast<int>(i))) continue;
            refuse(Refusal::Kind::melody,
                   foreign
                       ? "Most of the melody over " + name + " is foreign to it."
                       : "The melody spells the written chord: none of its notes is a tone of " + name + ".");
            return;
        }
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
            brief += seconds_of(chord) < 1.0 ? 1 : 0;
        }
        charge(verdict_, "rub", rubs_);
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
    /// Whole beats of a held b9 or b13 over a dominant that slides.
    int harsh_beats(const NoteVerdict& note) const {
        const bool dark = note.degree == theory::Degree{9, -1} || note.degree == theory::Degree{13, -1};
        const auto index = static_cast<std::size_t>(note.chord);
        const auto next = dark && note.held ? following(index) : std::nullopt;
        if (!next || !slides(placement_.chords[index].chord, *next)) return 0;
        return static_cast<int>(note.beats.floor());
    }
    void charge_melody() {
        int colours = 0, passing = 0, clashes = 0, harsh = 0;
        for (const auto& note : verdict_.melody.notes) {
            const auto& chord = placement_.chords[static_cast<std::size_t>(note.chord)];
            if (chord.kept_from) continue;
            colours += note.fit == NoteFit::tension && note.held && note.degree.alteration != 0 ? 1 : 0;
            passing += note.fit == NoteFit::passing ? 1 : 0;
            harsh += harsh_beats(note);
            clashes += note.fit == NoteFit::clash && !note.clashed_before ? 1 : 0;
        }
        charge(verdict_, "melody-colour", colours);
        charge(verdict_, "harsh-colour", harsh);
        charge(verdict_, "melody-passing", passing);
        charge(verdict_, "melody-clash", clashes);
        charge(verdict_, "melody-unknown", verdict_.melody.known || !melody_is_played() ? 0 : 1);
    }
    /// The written chord sounds where it starts, though perhaps not to its end.
    bool begins_as_written(int i) const {
        return std::any_of(placement_.chords.begin(), placement_.chords.end(), [&](const NewChord& chord) {
            return start() + chord.at <= written(i).start &&
                   written(i).start < start() + chord.at + chord.length &&
                   same_sound(chord.chord, written(i).chord);
        });
    }
    void charge_place() {
        bool section_start = false;
        for (int i = placement_.begin; i < placement_.end; ++i)
            section_start =
                section_start || (opens_section(written(i)) && touched(i) && !begins_as_written(i));
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
    int rubs_ = 0;          ///< tones against the sounding chords, for a soloist
    std::string coloured_;  ///< what the melody added to symbols
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
        if (charged) verdict.departure_note = approach_note(left, front);
        charged = false;
    }
}

}  // namespace relead::reharm
