#include "theory/guide_motion.h"

#include <algorithm>
#include <cstdlib>
#include <tuple>

namespace relead::theory {

namespace {

Landing landing(const Chord& x, Degree from, const Chord& y, Degree to) {
    return {from, to, nearest_way(pitch_class(tone(x, from)), pitch_class(tone(y, to)))};
}

auto rank(const GuideMotion& motion, bool keeps_roles) {
    return std::make_tuple(motion.sum(), motion.largest(), keeps_roles);
}

// The degree of Y that a declared number means; `guides` is one choice of Y's guide tones.
std::optional<Degree> landing_degree(const Chord& y, const GuideTones& guides, int number) {
    if (number == 3) return guides.third;
    // A triad has its 1 or 5 in the seventh's role; a sixth chord says 6.
    const bool triad = guides.seventh.number == 1 || guides.seventh.number == 5;
    if (guides.seventh.number == number || (number == 7 && triad)) return guides.seventh;
    for (const Degree d : degrees(y))
        if (d.number == number || (number < 8 && d.number == number + 7)) return d;
    return std::nullopt;
}

const Thread* thread_from(std::span<const Thread> threads, int role) {
    for (const auto& thread : threads)
        if (thread.from == role) return &thread;
    return nullptr;
}

// Where a declared tone lands: the first landing that a whole step reaches, else the first there is.
std::optional<Landing> declared(const Chord& x, Degree from, const Chord& y, const GuideTones& guides,
                                const Thread& thread) {
    std::optional<Landing> first;
    for (const int number : thread.to) {
        const auto degree = landing_degree(y, guides, number);
        if (!degree) continue;
        const Landing there = landing(x, from, y, *degree);
        if (std::abs(there.semitones) <= 2) return there;
        if (!first) first = there;
    }
    return first;
}

// The guide tone of Y that the other thread leaves free.
Degree left_over(const Landing& taken, const GuideTones& guides) {
    return taken.to == guides.third ? guides.seventh : guides.third;
}

std::optional<GuideMotion> declared_motion(const Chord& x, const GuideTones& from, const Chord& y,
                                           const GuideTones& to, const Thread* of_third,
                                           const Thread* of_seventh) {
    std::optional<Landing> third, seventh;
    if (of_third != nullptr) third = declared(x, from.third, y, to, *of_third);
    if (of_seventh != nullptr) seventh = declared(x, from.seventh, y, to, *of_seventh);
    if ((of_third != nullptr && !third) || (of_seventh != nullptr && !seventh)) return std::nullopt;
    if (!third) third = landing(x, from.third, y, left_over(*seventh, to));
    if (!seventh) seventh = landing(x, from.seventh, y, left_over(*third, to));
    return GuideMotion{*third, *seventh};
}

}  // namespace

Move move_of(int semitones) {
    const int size = std::abs(semitones);
    if (size == 0) return Move::held;
    if (size <= 2) return Move::step;
    return size <= 4 ? Move::skip : Move::leap;
}

std::string_view to_string(Move move) {
    constexpr std::array<std::string_view, 4> words = {"held", "step", "skip", "leap"};
    return words[static_cast<std::size_t>(move)];
}

int GuideMotion::sum() const {
    return std::abs(third.semitones) + std::abs(seventh.semitones);
}

int GuideMotion::largest() const {
    return std::max(std::abs(third.semitones), std::abs(seventh.semitones));
}

int nearest_way(int from, int to) {
    const int up = semitones_up(from, to);
    return up > 6 ? up - 12 : up;
}

std::optional<GuideMotion> guide_motion(const Chord& x, const Chord& y) {
    std::optional<GuideMotion> best;
    bool best_keeps = false;
    const auto offer = [&](const GuideMotion& motion, bool keeps_roles) {
        if (best && rank(*best, best_keeps) <= rank(motion, keeps_roles)) return;
        best = motion;
        best_keeps = keeps_roles;
    };
    for (const auto& from : guide_tone_choices(x)) {
        for (const auto& to : guide_tone_choices(y)) {
            offer({landing(x, from.third, y, to.seventh), landing(x, from.seventh, y, to.third)}, false);
            offer({landing(x, from.third, y, to.third), landing(x, from.seventh, y, to.seventh)}, true);
        }
    }
    return best;
}

std::optional<GuideMotion> guide_motion(const Chord& x, const Chord& y, std::span<const Thread> threads) {
    std::optional<GuideMotion> best;
    const Thread* const of_third = thread_from(threads, 3);
    const Thread* const of_seventh = thread_from(threads, 7);
    if (of_third == nullptr && of_seventh == nullptr) return guide_motion(x, y);
    for (const auto& from : guide_tone_choices(x)) {
        for (const auto& to : guide_tone_choices(y)) {
            const auto motion = declared_motion(x, from, y, to, of_third, of_seventh);
            if (motion && (!best || rank(*motion, false) < rank(*best, false))) best = motion;
        }
    }
    return best;
}

}  // namespace relead::theory
