#include "rules/made_chart.h"

#include <algorithm>
#include <array>
#include <set>
#include <utility>

#include "rules/numeral.h"

namespace relead::rules {
namespace {

constexpr int beats_in_bar = 4;
constexpr std::size_t most_charts = 900;

struct Slot {
    theory::Chord chord;
    Beats beats = beats_in_bar;
    bool found = false;
};

/// What distinguishes one chart from the next.
struct Shape {
    int usual_beats = beats_in_bar;  ///< length of a chord of which nothing is said
    std::size_t alternative = 0;     ///< which of several chords that an element allows
    bool with_optional = true;
    theory::ScaleDegree one;  ///< degree 1 of the rule, as a degree of the home key
    int lead = 0;             ///< bars before what is found; -1 = so many that it ends the section
};

/// The quality that a chord on this degree has in the key, where the key has one.
std::string_view natural_quality(int above_tonic, theory::Mode mode) {
    constexpr std::array<std::string_view, 12> major{"maj7", "",  "m7", "",   "m7", "maj7",
                                                     "",     "7", "",   "m7", "",   "m7b5"};
    constexpr std::array<std::string_view, 12> minor{"m7", "",  "m7b5", "maj7", "",  "m7",
                                                     "",   "7", "maj7", "",     "7", ""};
    constexpr std::array<std::string_view, 12> blues{"7", "", "m7", "", "m7", "7", "", "7", "", "7", "7", ""};
    const auto index = static_cast<std::size_t>(above_tonic);
    if (mode == theory::Mode::blues) return blues[index];
    return mode == theory::Mode::major ? major[index] : minor[index];
}

theory::Chord with_quality(theory::NoteName root, std::string_view quality) {
    theory::Chord chord;
    chord.root = root;
    chord.quality = *theory::find_quality(quality);
    return chord;
}

bool is_home(const Condition& condition, ConditionKind kind) {
    return condition.kind == kind && !condition.negated;
}

class Maker {
public:
    Maker(const Rule& rule, const theory::Key& home, const ChartReader& reader)
        : rule_(rule), home_(home), reader_(reader) {
        for (const auto& clause : rule.when) {
            for (const auto& condition : clause.any_of.front()) asked_.push_back(condition);
        }
        for (const auto& clause : rule.unless) {
            if (clause.any_of.size() != 1 || clause.any_of.front().size() != 1) continue;
            asked_.push_back(clause.any_of.front().front());
            asked_.back().negated = !asked_.back().negated;
        }
    }

    bool run() {
        const std::size_t alternatives = most_alternatives();
        for (const int beats : {4, 2, 8}) {
            for (std::size_t alternative = 0; alternative < alternatives; ++alternative) {
                for (const bool optional : {true, false}) {
                    if ((optional || has_optional()) && run_tonics(beats, alternative, optional)) return true;
                }
            }
        }
        return false;
    }

private:
    bool run_tonics(int beats, std::size_t alternative, bool optional) {
        for (const auto& one : tonics()) {
            for (const int lead : {0, 1, -1, 4, 2, 3, 8}) {
                if (enough({beats, alternative, optional, one, lead})) return true;
            }
        }
        return false;
    }
    std::vector<theory::ScaleDegree> tonics() const {
        if (rule_.tonic == TonicBinding::home) return {{1, 0}};
        return {{1, 0}, {2, 0}, {4, 0}, {6, 0}, {5, 0}, {3, 0}};
    }
    std::size_t most_alternatives() const {
        std::size_t most = 1;
        const auto look = [&](const Run& run) {
            for (const auto& element : run) most = std::max(most, element.alternatives.size());
        };
        look(rule_.find.run);
        for (const auto& context : rule_.before) look(context.run);
        for (const auto& context : rule_.after) look(context.run);
        return std::min<std::size_t>(most, 4);
    }
    bool has_optional() const {
        return std::any_of(rule_.find.run.begin(), rule_.find.run.end(),
                           [](const Element& element) { return element.optional; });
    }
    const Condition* asked(ConditionKind kind) const {
        const auto found = std::find_if(asked_.begin(), asked_.end(),
                                        [&](const Condition& condition) { return is_home(condition, kind); });
        return found == asked_.end() ? nullptr : &*found;
    }

    theory::Chord chord_for(const ChordPattern& pattern, KindSet also) const {
        const auto kinds = (pattern.kinds & also) != 0 ? pattern.kinds & also : pattern.kinds;
        if (const auto numeral = parse_numeral(pattern.text)) {
            auto chord = realise(*numeral, one_);
            if (is_a(chord, kinds)) return chord;
        }
        const auto root =
            pattern.degree ? theory::note_at(one_, *pattern.degree)
                           : theory::note_at(one_, {(kinds & dominant) != 0 && kinds == dominant ? 5 : 1, 0});
        const int above = theory::semitones_up(home_.tonic, root);
        if (const auto natural = natural_quality(above, home_.mode); !natural.empty()) {
            auto chord = with_quality(root, natural);
            if (is_a(chord, kinds)) return chord;
        }
        for (const auto* quality :
             {"maj7", "m7", "7", "m7b5", "dim7", "7sus4", "+", "6", "m6", "m(maj7)", "5", "m", ""}) {
            if (!theory::find_quality(quality)) continue;
            auto chord = with_quality(root, quality);
            if (is_a(chord, kinds)) return chord;
        }
        return with_quality(root, "7");
    }
    KindSet kinds_asked_of(int element) const {
        KindSet kinds = any_chord;
        for (const auto& condition : asked_) {
            if (condition.kind != ConditionKind::is_kind || condition.subject.value_or(0) != element)
                continue;
            kinds &= condition.negated ? ~condition.kinds : condition.kinds;
        }
        return kinds;
    }
    Beats length_of(const Element& element, int index) const {
        Beats least = 0, most = 1000;
        const auto take = [&](const LengthBound& bound) {
            const auto beats = bound.unit == LengthBound::Unit::bars ? bound.amount * Fraction(beats_in_bar)
                               : bound.unit == LengthBound::Unit::seconds ? bound.amount * Fraction(2)
                                                                          : bound.amount;
            (bound.at_least ? least : most) =
                bound.at_least ? std::max(least, Beats(beats)) : std::min(most, Beats(beats));
        };
        for (const auto& bound : element.lengths) take(bound);
        for (const auto& condition : asked_) {
            if (condition.length && !condition.negated && condition.kind == ConditionKind::chord_lasts &&
                condition.subject == index)
                take(*condition.length);
            if (condition.length && !condition.negated && condition.kind == ConditionKind::lasts) {
                auto part = *condition.length;
                part.amount = part.amount / Fraction(static_cast<int>(rule_.find.run.size()));
                take(part);
            }
        }
        return std::max(least, std::min(most, Beats(shape_.usual_beats)));
    }
    void put(const Run& run, bool found) {
        int index = 0;
        for (const auto& element : run) {
            const auto beats = found ? length_of(element, index) : Beats(beats_in_bar);
            const auto& pattern = element.alternatives[shape_.alternative % element.alternatives.size()];
            if (!element.optional || shape_.with_optional)
                slots_.push_back(
                    {chord_for(pattern, found ? kinds_asked_of(index) : any_chord), beats, found});
            ++index;
        }
    }
    const Run* context(const std::vector<Context>& lines, ConditionKind kind) const {
        if (!lines.empty()) return &lines.front().run;
        const auto* condition = asked(kind);
        return condition ? &condition->run : nullptr;
    }
    theory::Chord tonic_chord() const { return chord_of_home({1, 0}); }
    theory::Chord chord_of_home(const theory::ScaleDegree& degree) const {
        const auto root = theory::note_at(home_.tonic, degree);
        const int above = theory::semitones_up(home_.tonic, root);
        const auto quality = natural_quality(above, home_.mode);
        return with_quality(root, quality.empty() ? "maj7" : quality);
    }
    /// The chord that the last found chord is to lead to, when the rule asks for that only.
    void put_target() {
        ChordPattern target;
        bool wanted = false;
        for (const auto& condition : asked_) {
            if (condition.negated) continue;
            if (condition.kind == ConditionKind::prepares_degree) {
                target.degree = scale_degree_of(condition.degrees.front());
                wanted = true;
            } else if (condition.kind == ConditionKind::prepares_home) {
                slots_.push_back({tonic_chord(), beats_in_bar, false});
                return;
            } else if (condition.kind == ConditionKind::prepares_kind) {
                target.kinds = condition.kinds;
                wanted = true;
            }
        }
        if (!wanted) return;
        if (!target.degree) target.degree = theory::ScaleDegree{1, 0};
        slots_.push_back({chord_for(target, any_chord), beats_in_bar, false});
    }
    void put_found() {
        if (!rule_.find.region) {
            put(rule_.find.run, true);
            return;
        }
        for (int bar = 0; bar < std::min(rule_.find.region->bars, 64); ++bar) {
            constexpr std::array<int, 4> degrees{1, 6, 2, 5};
            slots_.push_back(
                {chord_of_home({degrees[static_cast<std::size_t>(bar % 4)], 0}), beats_in_bar, true});
        }
    }
    Beats length() const {
        Beats sum = 0;
        for (const auto& slot : slots_) sum += slot.beats;
        return sum;
    }
    /// Beats before the first found chord in its bar, for `starts on`.
    Beats offset() const {
        const auto* condition = asked(ConditionKind::starts_on);
        if (!condition) return 0;
        if (condition->metric.kind == MetricPlace::Kind::beat) return Beats(condition->metric.beat - 1);
        return condition->metric.kind == MetricPlace::Kind::weak ? Beats(1) : Beats(0);
    }
    bool enough(const Shape& shape) {
        if (seen_.size() >= most_charts) return false;
        shape_ = shape;
        one_ = theory::note_at(home_.tonic, shape.one);
        slots_.clear();
        if (const auto* after = context(rule_.after, ConditionKind::after)) put(*after, false);
        if (const auto start = offset(); start > 0) slots_.push_back({tonic_chord(), start, false});
        put_found();
        if (shape.lead >= 0) {
            if (const auto* before = context(rule_.before, ConditionKind::before)) {
                put(*before, false);
            } else {
                put_target();
            }
        }
        surround();
        if (length() > Beats(beats_in_bar * 96)) return false;
        const ExampleChart chart{home_, changes(), melody(), false};
        return seen_.emplace(chart.changes, chart.melody).second && reader_(chart);
    }
    /// Whole groups of four bars, tonic bars around what was put.
    void surround() {
        const int lead = std::max(0, shape_.lead);
        const auto bars = [&](Beats beats) {
            return static_cast<int>(-((-beats / Beats(beats_in_bar)).floor()));
        };
        const int inner = bars(length());
        const int missing = (4 - (inner + lead) % 4) % 4;
        const Beats ragged = Beats(inner * beats_in_bar) - length();
        const int front = shape_.lead < 0 ? missing : lead;
        if (shape_.lead < 0 && ragged > 0) {
            slots_.insert(slots_.begin(), Slot{tonic_chord(), ragged, false});
        } else if (ragged > 0) {
            slots_.push_back({tonic_chord(), ragged, false});
        }
        for (int bar = 0; bar < front; ++bar)
            slots_.insert(slots_.begin(), Slot{tonic_chord(), beats_in_bar, false});
        for (int bar = 0; shape_.lead >= 0 && bar < missing; ++bar)
            slots_.push_back({tonic_chord(), beats_in_bar, false});
    }
    /// Cells of the slots: those that cross a bar line are written again behind it.
    std::string changes() {
        std::string text;
        std::vector<std::pair<std::string, Beats>> bar;
        Beats room = beats_in_bar;
        found_bars_.clear();
        bool found = false;
        const auto close = [&] {
            const bool even = std::all_of(
                bar.begin(), bar.end(), [&](const auto& cell) { return cell.second == bar.front().second; });
            for (const auto& [word, beats] : bar) {
                text += (text.empty() || text.back() == ' ' ? "" : " ") + word;
                if (!even) text += "*" + beats.to_string();
            }
            found_bars_.push_back(found);
            bar.clear();
            found = false;
            room = beats_in_bar;
        };
        for (const auto& slot : slots_) {
            const auto word = theory::to_string(theory::practical_spelling(slot.chord, home_));
            for (auto left = slot.beats; left > 0;) {
                if (room == 0) {
                    close();
                    text += " | ";
                }
                const auto part = std::min(left, room);
                bar.emplace_back(word, part);
                found = found || slot.found;
                left -= part;
                room -= part;
            }
        }
        close();
        return text;
    }
    /// The note on this degree of the tonic, or of found chord `of`.
    std::string note(theory::Degree degree, std::optional<int> of = {}) const {
        auto root = one_;
        int index = 0;
        for (const auto& slot : slots_) {
            if (slot.found && index++ == of) root = slot.chord.root;
        }
        return theory::to_string(root + theory::interval_of_degree(degree.number, degree.alteration)) + "4";
    }
    /// The same of new chord `k`.
    std::string note_of_new(theory::Degree degree, int k) const {
        const auto& item = rule_.write[static_cast<std::size_t>(k)];
        if (item.base == NewChordSpec::Base::found) return note(degree, item.found);
        const auto root = theory::note_at(one_, item.degree);
        return theory::to_string(root + theory::interval_of_degree(degree.number, degree.alteration)) + "4";
    }
    /// One cell a bar, when the rule asks something of the melody.
    std::string melody() const {
        std::string bar;
        for (const auto& condition : asked_) {
            if (condition.negated || !is_about_melody(condition)) continue;
            if (condition.kind == ConditionKind::melody_rests) bar = "w r";
            if (condition.kind == ConditionKind::melody_moves)
                bar = "e " + note({1, 0}) + " " + note({5, 0}) + " " + note({1, 0}) + " " + note({5, 0}) +
                      " " + note({1, 0}) + " " + note({5, 0}) + " " + note({1, 0}) + " " + note({5, 0});
            if (condition.kind == ConditionKind::melody_known) bar = "w " + note({5, 0});
            const auto count = condition.degrees.size();
            if (count == 0) continue;
            const auto degree = condition.degrees[shape_.alternative % count];
            bar = "w " + (condition.degrees_of_new ? note_of_new(degree, *condition.degrees_of_new)
                                                   : note(degree, condition.degrees_of));
        }
        if (bar.empty()) return {};
        std::string cells;
        for (const bool found : found_bars_)
            cells += (cells.empty() ? "" : " | ") + (found ? bar : std::string("w r"));
        return cells;
    }

    const Rule& rule_;
    theory::Key home_;
    const ChartReader& reader_;
    std::vector<Condition> asked_;  ///< of the `when` lines, and of single `unless` lines turned round
    Shape shape_;
    theory::NoteName one_;
    std::vector<Slot> slots_;
    std::vector<bool> found_bars_;
    std::set<std::pair<std::string, std::string>> seen_;
};

}  // namespace

bool is_about_melody(const Condition& condition) {
    switch (condition.kind) {
        case ConditionKind::melody_known:
        case ConditionKind::melody_rests:
        case ConditionKind::melody_moves:
        case ConditionKind::melody_holds:
        case ConditionKind::melody_touches:
            return true;
        default:
            return false;
    }
}

bool made_charts(const Rule& rule, const theory::Key& home, const ChartReader& enough) {
    return Maker(rule, home, enough).run();
}

}  // namespace relead::rules
