#include "pipeline/changed.h"

#include <algorithm>
#include <cstddef>
#include <set>
#include <utility>

#include "tune/unfold.h"

namespace relead::pipeline {

namespace {

const tune::Bar& bar_of(const tune::Tune& tune, const tune::PlayedBar& played) {
    return tune.sections[static_cast<std::size_t>(played.section)].bars[static_cast<std::size_t>(played.bar)];
}

bool overlaps(const tune::ChordEvent& a, const tune::ChordEvent& b) {
    return a.at < b.at + b.length && b.at < a.at + a.length;
}

bool stands_in(const std::vector<tune::ChordEvent>& chords, const tune::ChordEvent& event) {
    return std::any_of(chords.begin(), chords.end(), [&](const tune::ChordEvent& other) {
        return other.at == event.at && other.length == event.length && other.chord == event.chord;
    });
}

void compare(const tune::PlayedBar& place, const tune::Bar& now, const tune::Bar& was,
             std::vector<arrange::ChangedChord>& changed) {
    for (std::size_t i = 0; i < now.changes.size(); ++i) {
        const auto& event = now.changes[i];
        if (stands_in(was.changes, event)) continue;
        arrange::ChangedChord row{{place.section, place.bar, static_cast<int>(i)}, {}};
        for (const auto& other : was.changes) {
            if (overlaps(event, other)) row.was.push_back(other.chord);
        }
        changed.push_back(std::move(row));
    }
}

}  // namespace

std::vector<arrange::ChangedChord> changed_chords(const tune::Tune& version, const tune::Tune& written) {
    const auto now = tune::one_chorus(version);
    const auto was = tune::one_chorus(written);
    std::vector<arrange::ChangedChord> changed;
    std::set<std::pair<int, int>> seen;
    for (std::size_t i = 0; i < std::min(now.size(), was.size()); ++i) {
        if (!seen.emplace(now[i].section, now[i].bar).second) continue;
        compare(now[i], bar_of(version, now[i]), bar_of(written, was[i]), changed);
    }
    return changed;
}

}  // namespace relead::pipeline
