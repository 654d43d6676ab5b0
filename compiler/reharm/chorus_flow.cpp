#include "reharm/chorus_flow.h"

#include <algorithm>
#include <cstdlib>

#include "theory/guide_motion.h"

namespace relead::reharm {
namespace {

constexpr int easy_symbol = 4;

int heard_root(const theory::Chord& chord) {
    return theory::pitch_class(theory::is_two_over_dominant(chord) ? *chord.bass : chord.root);
}

int letters(theory::Chord chord) {
    chord.root = {};
    if (chord.bass) chord.bass = theory::NoteName{};
    return static_cast<int>(theory::to_string(chord, theory::SymbolStyle::plain).size());
}

/// Strong beats of a bar from its start: the first, the middle of an even bar, the groups of an odd meter.
std::vector<Time> strong_beats(const tune::Meter& meter) {
    std::vector<Time> beats{0};
    for (std::size_t g = 0; g + 1 < meter.groups.size(); ++g)
        beats.push_back(beats.back() + Time(meter.groups[g], meter.unit));
    const auto count = meter.in_beats(meter.bar_length());
    const bool halves = meter.groups.empty() && count.is_whole() && count.numerator() % 2 == 0 && count > 2;
    if (halves) beats.push_back(meter.bar_length() / 2);
    return beats;
}

/// MIDI number of the tonic on the lower strings of a bass, A to the A flat above.
int low_tonic(const theory::Key& home) {
    constexpr int low_a = 33;
    return low_a + theory::semitones_up(low_a, theory::pitch_class(home.tonic));
}

}  // namespace

/// A bass that goes the short way, within less than two octaves around the low tonic. It is not tied to the
/// strings of one instrument: the same version is to be chosen in every key.
ChorusFlow::Basses ChorusFlow::bass_after(Basses here, int goal, int tonic) {
    constexpr int octave = 12, range = 22;
    constexpr Basses lowest = {-5, -11, -17};
    for (std::size_t in = 0; in < registers; ++in) {
        auto& bass = here[in];
        bass += theory::nearest_way(bass % octave, goal);
        if (bass < tonic + lowest[in]) bass += octave;
        if (bass > tonic + lowest[in] + range) bass -= octave;
    }
    return here;
}

ChorusFlow::ChorusFlow(const Situation& situation, const SoundGrid& grid)
    : grid_(grid), tonic_(low_tonic(situation.chart.home)) {
    for (const int spot : situation.chart.chorus)
        add_steps(situation, situation.chart.at(spot), grid.first_cell(spot));
    for (int sound = 0; sound < grid.sounds(); ++sound) {
        const auto& chord = grid.chord(sound);
        tones_.push_back({heard_root(chord), theory::pitch_class(theory::bass_of(chord)), chord.is_none(),
                          letters(chord) <= easy_symbol});
    }
    motions_.resize(tones_.size() * tones_.size());
    written_ = of(grid.as_written());
}

void ChorusFlow::add_steps(const Situation& situation, const rules::Spot& spot, int first_cell) {
    const auto& section = situation.tune.sections[static_cast<std::size_t>(spot.ref.section)];
    const auto& bar = section.bars[static_cast<std::size_t>(spot.ref.bar)];
    const auto strong = bar.number > 0 ? strong_beats(bar.meter) : std::vector<Time>{};
    int cell = first_cell;
    const auto half = spot.beat_length / Fraction(2);
    for (Time at = spot.start; at < spot.end(); at += half) {
        Step step{cell++, false, -1};
        for (const auto beat : strong) {
            const auto when = spot.bar_start + beat;
            if (when < at || when >= at + half) continue;
            step.strong = true;
            const auto melody = situation.chart.melodies->between(spot.ref.section, when, when + half);
            for (const auto& note : melody.notes) {
                if (note.start <= when && when < note.end()) step.midi = theory::midi_number(note.pitch);
            }
        }
        steps_.push_back(step);
    }
}

const ChorusFlow::Motion& ChorusFlow::motion(int from, int to) const {
    auto& motion = motions_[static_cast<std::size_t>(from) * tones_.size() + static_cast<std::size_t>(to)];
    if (motion.known) return motion;
    motion.known = true;
    if (const auto found = theory::guide_motion(grid_.chord(from), grid_.chord(to))) {
        const auto near = [](const theory::Landing& landing) { return std::abs(landing.semitones) <= 2; };
        motion.stepwise =
            static_cast<signed char>((near(found->third) ? 1 : 0) + (near(found->seventh) ? 1 : 0));
        motion.sum = static_cast<signed char>(found->sum());
        motion.none = false;
    }
    return motion;
}

void ChorusFlow::count_move(const Moment& from, const Moment& to, Flow& flow) const {
    const auto& guides = motion(from.sound, to.sound);
    if (from.fresh != to.fresh && !guides.none) {
        flow.joints.good += guides.stepwise;
        flow.joints.all += 2;
    }
    const auto& a = tones_[static_cast<std::size_t>(from.sound)];
    const auto& b = tones_[static_cast<std::size_t>(to.sound)];
    const int up = theory::semitones_up(a.root, b.root);
    if (up == 0 || a.none || b.none) return;
    flow.semitones += guides.sum;
    ++flow.root_moves;
    if (!from.new_root && !to.new_root) return;
    flow.roots.good += up == 5 || up == 1 || up == 2 || up == 10 || up == 11 ? 1 : 0;
    ++flow.roots.all;
}

void ChorusFlow::count_outer(const std::vector<Outer>& voices, std::size_t in, Flow& flow) {
    for (std::size_t i = 1; i < voices.size(); ++i) {
        const auto &a = voices[i - 1], &b = voices[i];
        if (a.midi < 0 || b.midi < 0) continue;
        const int melody = b.midi - a.midi, bass = b.bass[in] - a.bass[in];
        flow.outer.good += melody * bass <= 0 ? 1 : 0;
        ++flow.outer.all;
        if (i < 2 || voices[i - 2].midi < 0) continue;
        const auto& before = voices[i - 2];
        const auto interval = [&](const Outer& o) { return theory::semitones_up(o.bass[in], o.midi); };
        const bool perfect = interval(b) == 0 || interval(b) == 7;
        const bool same = interval(b) == interval(a) && interval(b) == interval(before);
        flow.parallels += perfect && same && bass != 0 && a.bass[in] != before.bass[in] ? 1 : 0;
    }
}

Flow ChorusFlow::of(const std::vector<int>& sound) const {
    Flow flow;
    std::vector<Moment> moments;
    std::vector<Outer> voices;
    for (const auto& step : steps_) {
        const int now = sound[static_cast<std::size_t>(step.cell)];
        const auto& tone = tones_[static_cast<std::size_t>(now)];
        if (moments.empty() || moments.back().sound != now) {
            const int old = grid_.as_written()[static_cast<std::size_t>(step.cell)];
            const auto before = moments.empty() ? Basses{tonic_, tonic_, tonic_} : moments.back().bass;
            moments.push_back({now, now != old, tone.root != tones_[static_cast<std::size_t>(old)].root,
                               tone.none ? before : bass_after(before, tone.bass, tonic_)});
        }
        const Outer outer{tone.none ? -1 : step.midi, moments.back().bass};
        if (step.strong && (voices.empty() || outer != voices.back())) voices.push_back(outer);
    }
    for (std::size_t i = 0; i < moments.size(); ++i) {
        count_move(moments[i], moments[(i + 1) % moments.size()], flow);
        if (!moments[i].fresh) continue;
        flow.symbols.good += tones_[static_cast<std::size_t>(moments[i].sound)].short_symbol ? 1 : 0;
        ++flow.symbols.all;
    }
    for (std::size_t in = 0; in < registers; ++in) {
        Flow here;
        count_outer(voices, in, here);
        if (in == 0 || here.outer.good < flow.outer.good) flow.outer = here.outer;
        flow.parallels = std::max(flow.parallels, here.parallels);
    }
    return flow;
}

}  // namespace relead::reharm
