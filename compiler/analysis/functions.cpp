#include "analysis/functions.h"

#include <algorithm>

namespace relead::analysis {
namespace {

bool is_minor_tonic_sound(Sound sound) {
    return sound == Sound::minor || sound == Sound::minor_seventh;
}

class Duties {
public:
    explicit Duties(const ChorusReading& reading) : r_(reading), duties_(reading.chorus.chords.size()) {}

    std::vector<Duty> run() {
        // Backwards: what a ii or a suspension serves is known from the dominant that it leads to.
        for (int i = r_.size() - 1; i >= 0; --i) {
            auto& duty = duties_[static_cast<std::size_t>(i)];
            if (is_dominant_like(r_.at(i).sound)) {
                duty = dominant(i);
            } else if (r_.at(i).sound == Sound::diminished) {
                duty = diminished(i);
                duty.common_tone = shares_root(i, duty.function);
            } else if (is_minor_tonic_sound(r_.at(i).sound) || r_.at(i).sound == Sound::half_diminished) {
                duty = minor(i);
            } else {
                duty.function = major(i);
            }
            if (r_.modal[static_cast<std::size_t>(i)]) duty = {Function::modal};
        }
        return std::move(duties_);
    }

private:
    const Duty& duty(int i) const { return duties_[static_cast<std::size_t>(i)]; }
    const Tonality& local(int i) const { return r_.local[static_cast<std::size_t>(i)]; }
    int degree(int i) const { return semitones_up(local(i).tonic, r_.at(i).root); }
    bool known(int i) const { return i >= 0 && i < r_.size(); }
    int motion(int i, int goal) const { return semitones_up(r_.at(i), r_.at(goal)); }
    /// The chord that it depends on, and the next other one: where a resolution may be found. The top of the
    /// next chorus is the first chord. Behind a ii on its own root a dominant is still waited for (II7 ii7
    /// V7).
    std::vector<int> goals(int i) const {
        std::vector<int> found;
        const int target = r_.targets[static_cast<std::size_t>(i)];
        const int next = r_.next_other(i);
        if (known(next)) found.push_back(next);
        if (known(target) && target != next) found.push_back(target);
        if (known(next) && motion(i, next) == 0 && is_minor_seventh_like(r_.at(next).sound) &&
            known(r_.next_other(next)))
            found.push_back(r_.next_other(next));
        if (target == r_.size() || next < 0) found.push_back(0);
        return found;
    }

    /// I7 and IV7 of a blues are at rest, unless I7 has come with its own ii and goes to IV.
    bool at_rest_in_blues(int i) const {
        const int degree_at_home = semitones_up(r_.home.tonic, r_.at(i).root);
        if (!r_.blues || r_.at(i).sound != Sound::dominant || (degree_at_home != 0 && degree_at_home != 5))
            return false;
        const int before = r_.before_run(i);
        if (degree_at_home == 0 && before >= 0 && motion(before, i) == 5 &&
            is_minor_seventh_like(r_.at(before).sound))
            return false;
        return true;
    }

    /// A chord on the home tonic that may rest there: no V7/IV or V7/iv, no suspension, no ii of bVII. The
    /// dominant of a blues is at rest, and so is that of a mode which has it on its tonic.
    bool is_home_tonic(int goal) const {
        const auto& chord = r_.at(goal);
        if (chord.root != r_.home.tonic) return false;
        if (chord.sound == Sound::dominant)
            return at_rest_in_blues(goal) || (r_.mode && lies_in(chord, *r_.mode));
        if (is_minor_seventh_like(chord.sound)) return r_.home.minor && chord.sound == Sound::minor_seventh;
        return chord.sound == Sound::major || chord.sound == Sound::minor;
    }
    bool stands_for_home_tonic(int goal) const {
        return !r_.home.minor && semitones_up(r_.home.tonic, r_.at(goal).root) == 4 &&
               r_.at(goal).sound == Sound::minor_seventh;
    }

    /// bVII7 to the home tonic, or to iii that stands for it.
    bool is_backdoor(int i, int goal) const {
        return r_.at(i).sound == Sound::dominant && semitones_up(r_.home.tonic, r_.at(i).root) == 10 &&
               (is_home_tonic(goal) || stands_for_home_tonic(goal));
    }

    Duty dominant(int i) const {
        if (at_rest_in_blues(i)) return {Function::tonic, -1, false, true, false, false};
        const int next = r_.next_other(i);
        if (known(next) && motion(i, next) == 0 && is_dominant_like(r_.at(next).sound)) return duty(next);
        for (const int goal : goals(i)) {
            if (is_in_substitute_chain(i, goal)) {
                Duty in_chain{Function::substitute_dominant, goal};
                in_chain.by_fifth = true;
                return in_chain;
            }
            if (motion(i, goal) == 5 && r_.at(goal).sound != Sound::diminished)
                return {Function::dominant, goal, false, false, goal != next && goes_elsewhere(i), false};
            if (motion(i, goal) == 11 && r_.at(i).sound == Sound::dominant)
                return {Function::substitute_dominant, goal, false, false, false, false};
            if (is_backdoor(i, goal)) return {Function::backdoor, goal, false, false, false, false};
        }
        return {unresolved(i), -1, false, false, goes_elsewhere(i), false};
    }

    /// bIII7 and bVI7 of bIII7 bVI7 bII7 I: where every dominant up to the chord of rest has its substitute,
    /// each falls a fifth to the next (Wikipedia, Tadd Dameron turnaround). Where a plain dominant follows,
    /// bIII7 is V7/bVI (Open Music Theory, "Embellishing chords"). I7, IV7 and others on degrees of the
    /// scale, bVII7 of minor too, are the dominants that they seem.
    bool is_in_substitute_chain(int i, int goal) const {
        if (goal <= i || motion(i, goal) != 5 || r_.at(i).sound != Sound::dominant) return false;
        const int at = degree(i);
        const bool chromatic = at == 1 || at == 3 || at == 6 || at == 8 || (at == 10 && !local(i).minor);
        if (!chromatic || duty(goal).function != Function::substitute_dominant) return false;
        int last = goal;
        while (duty(last).by_fifth) last = duty(last).goal;
        const int rest = duty(last).goal;
        return rest < 0 || !is_dominant_like(r_.at(rest).sound) || at_rest_in_blues(rest);
    }

    Function unresolved(int i) const {
        if (degree(i) == 7) return Function::dominant;
        if (degree(i) == 1 && r_.turnaround[static_cast<std::size_t>(i)] && r_.at(i).sound == Sound::dominant)
            return Function::substitute_dominant;
        if (degree(i) == 5) return Function::predominant;
        const int next = r_.next_other(i);
        if (known(next) && is_dominant_like(r_.at(next).sound) && motion(i, next) == 2)
            return Function::predominant;
        return Function::other;
    }

    /// V7 vi, V7 bVI: a step up from the dominant of the key. At the end of a part it is a half cadence.
    bool goes_elsewhere(int i) const {
        const int next = r_.next_other(i);
        if (!known(next) || degree(i) != 7 || r_.at(next).level >= 4) return false;
        return motion(i, next) == 2 || motion(i, next) == 1;
    }

    /// IV #iv° I/5: the written bass goes on by a half step.
    bool walks_in_bass(int i, int next) const {
        const auto& bass = r_.at(next).chord->bass;
        return bass && semitones_up(r_.at(i).root, theory::pitch_class(*bass)) == 1;
    }

    Duty diminished(int i) const {
        const int next = r_.next_other(i);
        if (known(next) && walks_in_bass(i, next)) return {Function::passing_diminished};
        if (r_.hosts[static_cast<std::size_t>(i)] >= 0) return {Function::auxiliary_diminished};
        if (!known(next)) return {Function::other};
        if (motion(i, next) == 1) return {Function::passing_diminished, next, false, false, false, false};
        if (motion(i, next) == 11) return {Function::passing_diminished};
        if (motion(i, next) == 0) return {Function::auxiliary_diminished};
        const int before = r_.before_run(i);
        if (before >= 0 && same_chord(r_.at(before), r_.at(next))) return {Function::auxiliary_diminished};
        if (before >= 0 && (motion(before, i) == 1 || motion(before, i) == 11))
            return {Function::passing_diminished};
        return {Function::other};
    }

    /// An auxiliary chord that has the root of the chord it colours among its tones (Cdim7 C, D#dim7 C).
    bool shares_root(int i, Function function) const {
        if (function != Function::auxiliary_diminished) return false;
        const int host = r_.hosts[static_cast<std::size_t>(i)];
        const int coloured = host >= 0 ? host : r_.next_other(i);
        return known(coloured) && motion(i, coloured) % 3 == 0;
    }

    Duty minor(int i) const {
        const int next = r_.next_other(i);
        if (known(next) && is_dominant_like(r_.at(next).sound) && !duty(next).blues_tonic) {
            const int step = motion(i, next);
            if (step == 5) return {Function::predominant, duty(next).goal, true, false, false, false};
            // The ii of a dominant in whose place its substitute stands.
            if (step == 11 && duty(next).function == Function::substitute_dominant)
                return {Function::predominant, duty(next).goal, true, false, false, false};
            if (step == 11 || step == 2) return {Function::predominant};
        }
        return {minor_by_degree(i), -1, false, false, false, false};
    }

    Function minor_by_degree(int i) const {
        const int at = degree(i);
        const bool half = r_.at(i).sound == Sound::half_diminished;
        if (local(i).minor) {
            if (at == 0 && !half) return Function::tonic;
            return at == 2 || at == 5 ? Function::predominant : Function::other;
        }
        if (half) return at == 2 || at == 6 ? Function::predominant : Function::other;
        if (at == 2) return Function::predominant;
        if (at == 4 || at == 9) return Function::tonic;
        return at == 5 || at == 0 || at == 7 ? Function::borrowed : Function::other;
    }

    Function major(int i) const {
        const int at = degree(i);
        if (at == 0) return Function::tonic;
        if (at == 5) return Function::predominant;
        if (at == 7) return Function::dominant;
        if (local(i).minor) {
            if (at == 3) return Function::tonic;
            return at == 8 || at == 1 ? Function::predominant : Function::other;
        }
        return at == 1 || at == 3 || at == 8 || at == 10 ? Function::borrowed : Function::other;
    }

    const ChorusReading& r_;
    std::vector<Duty> duties_;
};

}  // namespace

std::vector<Duty> functions_of(const ChorusReading& reading) {
    return Duties(reading).run();
}

}  // namespace relead::analysis
