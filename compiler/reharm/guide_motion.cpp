#include "reharm/guide_motion.h"

#include <cstdlib>

namespace relead::reharm {
namespace {

Motion named(const theory::Landing& landing, const theory::Chord& from, const theory::Chord& to,
             bool declared) {
    return {landing.from,      theory::tone(from, landing.from),   landing.to, theory::tone(to, landing.to),
            landing.semitones, theory::move_of(landing.semitones), declared};
}

bool declares(const std::vector<theory::Thread>& threads, int role) {
    for (const auto& thread : threads) {
        if (thread.from == role) return true;
    }
    return false;
}

}  // namespace

std::string to_string(const Motion& motion) {
    auto text = theory::to_string(motion.from) + " (" + theory::to_string(motion.from_degree) + ")";
    const auto goal = theory::to_string(motion.to) + " (" + theory::to_string(motion.to_degree) + ")";
    const auto way = motion.semitones > 0 ? " up to " : " down to ";
    switch (motion.kind) {
        case MotionKind::held:
            return text + " held" +
                   (motion.from == motion.to ? " as " + theory::to_string(motion.to_degree) : " as " + goal);
        case MotionKind::step:
            return text + (std::abs(motion.semitones) == 1 ? " half step" : " whole step") + way + goal;
        case MotionKind::skip:
            return text + " skips" + way + goal;
        case MotionKind::leap:
            return text + " leaps" + way + goal;
    }
    return text;
}

std::vector<Motion> motions_between(const theory::Chord& from, const theory::Chord& to) {
    return motions_between(from, to, {});
}

std::vector<Motion> motions_between(const theory::Chord& from, const theory::Chord& to,
                                    const std::vector<theory::Thread>& threads) {
    auto motion = threads.empty() ? theory::guide_motion(from, to) : theory::guide_motion(from, to, threads);
    const bool declared = motion.has_value() && !threads.empty();
    if (!motion && !threads.empty()) motion = theory::guide_motion(from, to);
    if (!motion) return {};
    return {named(motion->third, from, to, declared && declares(threads, 3)),
            named(motion->seventh, from, to, declared && declares(threads, 7))};
}

const Motion* beyond_a_step(const std::vector<Motion>& motions) {
    for (const auto& motion : motions) {
        if (motion.kind == MotionKind::skip || motion.kind == MotionKind::leap) return &motion;
    }
    return nullptr;
}

int semitones_moved(const std::vector<Motion>& motions) {
    int sum = 0;
    for (const auto& motion : motions) sum += std::abs(motion.semitones);
    return sum;
}

}  // namespace relead::reharm
