#include "voicing/guide_moves.h"

#include <array>

namespace relead::voicing {

namespace {

void count(MoveCounts& counts, int semitones) {
    switch (theory::move_of(semitones)) {
        case theory::Move::held:
            ++counts.held;
            break;
        case theory::Move::step:
            ++counts.step;
            break;
        case theory::Move::skip:
            ++counts.skip;
            break;
        case theory::Move::leap:
            ++counts.leap;
            break;
    }
}

int way(const GuideTone& from, const GuideTone& to) {
    return theory::midi_number(to.pitch) - theory::midi_number(from.pitch);
}

int above(const theory::Chord& y, const GuideTone& tone) {
    return theory::semitones_up(y.root, theory::name_of(tone.pitch));
}

Tendency judge(Tendency::Tone tone, int semitones) {
    using Outcome = Tendency::Outcome;
    const bool steps_down = semitones == -1 || semitones == -2;
    if (tone == Tendency::Tone::leading_tone) {
        const bool fine = semitones == 0 || semitones == 1 || steps_down;
        return {tone, fine ? Outcome::resolved : Outcome::left, semitones};
    }
    const auto held = semitones == 0 ? Outcome::delayed : Outcome::left;
    return {tone, steps_down ? Outcome::resolved : held, semitones};
}

}  // namespace

std::string_view to_string(Tendency::Tone tone) {
    return tone == Tendency::Tone::leading_tone ? "leading tone" : "fourth";
}

std::string_view to_string(Tendency::Outcome outcome) {
    constexpr std::array<std::string_view, 3> words = {"resolved", "delayed", "left"};
    return words[static_cast<std::size_t>(outcome)];
}

std::vector<Tendency> tendencies(const theory::Chord& x, const GuidePair& at_x, const theory::Chord& y,
                                 const GuidePair& at_y) {
    if (theory::chord_class(x) != theory::ChordClass::dominant || y.is_none()) return {};
    constexpr int leading_tone = 11, fourth = 5;
    std::vector<Tendency> found;
    const auto look = [&](const GuideTone& from, const GuideTone& to) {
        const int place = above(y, from);
        if (place == leading_tone) found.push_back(judge(Tendency::Tone::leading_tone, way(from, to)));
        if (place == fourth) found.push_back(judge(Tendency::Tone::fourth, way(from, to)));
    };
    look(at_x.lower, at_y.lower);
    look(at_x.upper, at_y.upper);
    if (found.size() != 2) return {};
    return found;
}

LineReport report_line(const ChordWalk& walk, const GuideLine& line) {
    LineReport report;
    report.exact = line.exact;
    const auto& order = walk.chorus;
    for (std::size_t i = 0; i < order.size(); ++i) {
        const auto from = static_cast<std::size_t>(order[i]);
        const auto to = static_cast<std::size_t>(order[(i + 1) % order.size()]);
        const auto& x = line.pairs[from];
        const auto& y = line.pairs[to];
        if (!x || !y || walk.chords[from] == walk.chords[to]) continue;
        count(report.moves, way(x->lower, y->lower));
        count(report.moves, way(x->upper, y->upper));
        for (const auto& tendency : tendencies(walk.chords[from], *x, walk.chords[to], *y)) {
            ++report.tendency_tones;
            if (tendency.outcome == Tendency::Outcome::resolved) ++report.resolved;
            if (tendency.outcome == Tendency::Outcome::delayed) ++report.delayed;
        }
    }
    return report;
}

LineReport report_line(const tune::Tune& tune, ChordRow row) {
    const auto walk = walk_chords(tune, row);
    return report_line(walk, guide_line(walk));
}

}  // namespace relead::voicing
