#include "analysis/reading.h"

#include <utility>

#include "analysis/home_key.h"
#include "analysis/local_keys.h"
#include "analysis/relations.h"
#include "analysis/satellites.h"
#include "analysis/stretches.h"
#include "analysis/tree.h"

namespace relead::analysis {
namespace {

Role role_of(const Heard& chord, const ChorusReading& reading) {
    if (is_tonic_chord(chord, reading.home)) return Role::tonic;
    if (reading.blues && chord.root == reading.home.tonic && chord.sound == Sound::dominant)
        return Role::tonic;
    if (semitones_up(reading.home.tonic, chord.root) == 7 && is_dominant_like(chord.sound))
        return Role::dominant;
    return Role::other;
}

bool rests_on_tonic(const Heard& chord, const Tonality& home) {
    return chord.root == home.tonic && chord.sound != Sound::suspended && chord.sound != Sound::diminished &&
           chord.sound != Sound::half_diminished;
}

/// The chords that take part in the tree: up to the final tonic, without satellites.
struct Carriers {
    std::vector<int> index;  // in the chorus
    std::vector<TreeChord> chords;
};

Carriers carriers(const ChorusReading& reading, int begin, int end) {
    Carriers found;
    for (int i = begin; i < end; ++i) {
        const auto& heard = reading.at(i);
        if (reading.hosts[static_cast<std::size_t>(i)] >= 0) {
            if (!found.chords.empty()) found.chords.back().length += heard.length;
            continue;
        }
        TreeChord chord;
        chord.heard = &heard;
        chord.length = heard.length;
        chord.role = role_of(heard, reading);
        chord.on_tonic = rests_on_tonic(heard, reading.home);
        if (!found.chords.empty() && same_chord(*found.chords.back().heard, heard)) {
            chord.run_begins = false;
            found.chords.back().run_ends = false;
        }
        found.index.push_back(i);
        found.chords.push_back(chord);
    }
    return found;
}

/// The tree over the chords [begin, end): what lies outside it or above it is the top of the next chorus.
Tree plant(ChorusReading& reading, int begin, int end, bool open_end) {
    const auto found = carriers(reading, begin, end);
    auto tree = decode_tree(found.chords, open_end, tree_weights(), 320, 128, &reading.at(0));
    for (std::size_t i = 0; i < tree.heads.size(); ++i) {
        const auto head = static_cast<std::size_t>(tree.heads[i]);
        int& target = reading.targets[static_cast<std::size_t>(found.index[i])];
        target = tree.heads[i] < 0 ? -1 : head < found.index.size() ? found.index[head] : reading.size();
    }
    return tree;
}

/// Up to the final tonic the tune is one tree; what comes after it is a turnaround and leads on to the top.
/// In the last chorus everything leads to the last chord.
void find_targets(ChorusReading& reading) {
    const int count = reading.size();
    reading.targets.assign(static_cast<std::size_t>(count), count);
    if (count == 0) return;
    const int last =
        reading.chorus.last ? count - 1 : final_tonic(reading.chorus, reading.home, reading.blues);
    const auto tree = plant(reading, 0, last >= 0 ? last + 1 : count, last < 0);
    reading.exact = tree.exact;
    reading.window = tree.window;
    if (last >= 0 && last + 1 < count) (void)plant(reading, last + 1, count, true);
    for (int i = 0; i < count; ++i)
        if (const int host = reading.hosts[static_cast<std::size_t>(i)]; host >= 0)
            reading.targets[static_cast<std::size_t>(i)] = host;
}

/// A chord prolongs one of its own function: the same chord, a minor chord in another shade, a tonic that the
/// next chorus takes up; satellites prolong their host.
Relation relation_of(const ChorusReading& reading, int i) {
    const int target = reading.targets[static_cast<std::size_t>(i)];
    const auto& chord = reading.at(i);
    if (target < 0 || reading.hosts[static_cast<std::size_t>(i)] >= 0) return Relation::prolongs;
    if (target == reading.size())
        return role_of(chord, reading) == Role::tonic ? Relation::prolongs : Relation::prepares;
    const auto& goal = reading.at(target);
    if (step_between(chord, goal).same) return Relation::prolongs;
    const bool minor = !is_dominant_like(chord.sound) && chord.sound != Sound::major &&
                       !is_dominant_like(goal.sound) && goal.sound != Sound::major;
    return chord.root == goal.root && minor ? Relation::prolongs : Relation::prepares;
}

}  // namespace

int ChorusReading::next_other(int i) const {
    for (int k = i + 1; k < size(); ++k)
        if (!same_chord(at(i), at(k))) return k;
    return -1;
}

int ChorusReading::before_run(int i) const {
    for (int k = i - 1; k >= 0; --k)
        if (!same_chord(at(i), at(k))) return k;
    return -1;
}

ChorusReading read_chorus(const Tonality& home, bool blues, Chorus chorus,
                          const std::optional<ModeScale>& mode) {
    ChorusReading reading;
    reading.chorus = std::move(chorus);
    reading.home = home;
    reading.blues = blues;
    reading.mode = mode;
    reading.hosts = satellites(reading.chorus);
    find_targets(reading);
    for (int i = 0; i < reading.size(); ++i) reading.relations.push_back(relation_of(reading, i));
    reading.local = local_keys(reading.chorus, home, mode);
    mark_stretches(reading);
    return reading;
}

}  // namespace relead::analysis
