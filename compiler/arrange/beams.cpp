#include "arrange/beams.h"

#include <algorithm>

#include "arrange/slash_notes.h"

namespace relead::arrange {

namespace {

using score::Beam;
using score::Element;

/// Beams of a note: one for an eighth, two for a sixteenth.
int levels(const Element& element) {
    int count = 0;
    for (int value = element.value.denominator; value > 4; value /= 2) ++count;
    return count;
}

bool can_be_beamed(const Element& element) {
    return element.is_note() && !element.grace && levels(element) > 0 && element.stem != score::Stem::none;
}

bool only_plain_eighths(const std::vector<Element>& elements, Time from, Time to) {
    return std::all_of(elements.begin(), elements.end(), [&](const Element& element) {
        if (element.grace || element.at < from || element.at >= to) return true;
        return levels(element) <= 1 && !element.tuplet;
    });
}

/// Start times of the groups, ending with the bar's length.
std::vector<Time> group_bounds(const tune::Meter& meter, Time length, const std::vector<Element>& elements) {
    std::vector<Time> bounds{0};
    for (const Time beat : beats_of(meter, length)) bounds.push_back(bounds.back() + beat);
    const bool whole = length == meter.bar_length();
    if (!whole || meter.unit != 4 || meter.beats < 2 || meter.beats > 4) return bounds;
    const Time span = meter.beats == 3 ? Time(3, 4) : Time(1, 2);
    std::vector<Time> wide{0};
    for (Time at = 0; at < length; at += span) {
        if (!only_plain_eighths(elements, at, at + span)) {
            for (const Time bound : bounds) {
                if (bound > at && bound < at + span) wide.push_back(bound);
            }
        }
        wide.push_back(at + span);
    }
    return wide;
}

/// One level of a run: neighbours that reach the level are joined, a lone one gets a hook.
void set_level(std::vector<Element*>& run, int level) {
    for (std::size_t i = 0; i < run.size();) {
        if (levels(*run[i]) < level) {
            ++i;
            continue;
        }
        std::size_t end = i;
        while (end + 1 < run.size() && levels(*run[end + 1]) >= level) ++end;
        if (end == i) {
            run[i]->beams.push_back(i == 0 ? Beam::forward_hook : Beam::backward_hook);
        } else {
            for (auto k = i; k <= end; ++k) {
                run[k]->beams.push_back(k == i ? Beam::begin : k == end ? Beam::end : Beam::middle);
            }
        }
        i = end + 1;
    }
}

void set_run(std::vector<Element*>& run) {
    if (run.size() > 1) {
        int highest = 0;
        for (const auto* element : run) highest = std::max(highest, levels(*element));
        for (int level = 1; level <= highest; ++level) set_level(run, level);
    }
    run.clear();
}

}  // namespace

void set_beams(const tune::Meter& meter, Time length, std::vector<Element>& elements) {
    const auto bounds = group_bounds(meter, length, elements);
    std::vector<Element*> run;
    std::size_t group = 0;
    for (auto& element : elements) {
        if (element.grace) continue;
        const auto next = std::upper_bound(bounds.begin(), bounds.end(), element.at);
        const auto here = static_cast<std::size_t>(next - bounds.begin());
        if (here != group || !can_be_beamed(element)) set_run(run);
        group = here;
        if (can_be_beamed(element)) run.push_back(&element);
    }
    set_run(run);
}

}  // namespace relead::arrange
