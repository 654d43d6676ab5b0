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

// The degree of Y that a declared number means.
std::optional<Degree> landing_degree(const Chord& y, int number) {
    const auto guides = guide_tones(y);
    if (guides && number == 3) return guides->third;
    const auto sounding = degrees(y);
    // 7 is the tone in the seventh's role only where there is a seventh: a sixth chord has "6".
    if (guides && guides->seventh.number == number) return guides->seventh;
    for (const Degree d : sounding)
        if (d.number == number || (number < 8 && d.number == number + 7)) return d;
    return std::nullopt;
}

const Thread* thread_from(std::span<const Thread> threads, int role) {
    for (const auto& thread : threads)
        if (thread.from == role) return &thread;
    return nullptr;
}

std::optional<Degree> declared(const Chord& y, const Thread* thread) {
    if (thread == nullptr) return std::nullopt;
    for (const int number : thread->to)
        if (const auto degree = landing_degree(y, number)) return degree;
    return std::nullopt;
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
    const int up = (((to - from) % 12) + 12) % 12;
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
    auto third = declared(y, of_third), seventh = declared(y, of_seventh);
    if ((of_third != nullptr && !third) || (of_seventh != nullptr && !seventh)) return std::nullopt;
    for (const auto& from : guide_tone_choices(x)) {
        for (const auto& to : guide_tone_choices(y)) {
            const Degree third_to = third ? *third : (*seventh == to.third ? to.seventh : to.third);
            const Degree seventh_to = seventh ? *seventh : (*third == to.third ? to.seventh : to.third);
            const GuideMotion motion{landing(x, from.third, y, third_to),
                                     landing(x, from.seventh, y, seventh_to)};
            if (!best || rank(motion, false) < rank(*best, false)) best = motion;
        }
    }
    return best;
}

}  // namespace relead::theory
