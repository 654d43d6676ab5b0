#include "formats/musicxml/measure_writer.h"

#include <algorithm>
#include <optional>
#include <utility>

#include "formats/musicxml/attributes_writer.h"
#include "formats/musicxml/direction_writer.h"
#include "formats/musicxml/harmony_writer.h"
#include "formats/musicxml/note_writer.h"

namespace relead::formats {

namespace {

/// Marks and chord symbols of a measure that are still to be written.
class Pending {
public:
    /// Those of one staff.
    Pending(const score::Measure& measure, int staff) {
        for (const auto& direction : measure.directions) {
            if (direction.staff == staff) directions_.push_back(&direction);
        }
        for (const auto& harmony : measure.harmonies) {
            if (harmony.staff == staff) harmonies_.push_back(&harmony);
        }
    }
    [[nodiscard]] bool empty() const { return directions_.empty() && harmonies_.empty(); }
    /// Earliest time at which something is still to be written.
    [[nodiscard]] Time next() const {
        std::optional<Time> earliest;
        for (const auto* direction : directions_) note(earliest, direction->at);
        for (const auto* harmony : harmonies_) note(earliest, harmony->at);
        return earliest.value_or(Time(0));
    }
    void write_at(PartState& state, Time at) {
        std::erase_if(directions_, [&](const score::Direction* direction) {
            if (direction->at != at) return false;
            write_direction(state, *direction);
            return true;
        });
        std::erase_if(harmonies_, [&](const score::Harmony* harmony) {
            if (harmony->at != at) return false;
            write_harmony(state, *harmony);
            return true;
        });
    }

    /// Leaves out what stands at a moment, or what `other` holds.
    void drop_at(Time at) {
        std::erase_if(directions_, [&](const auto* one) { return one->at == at; });
        std::erase_if(harmonies_, [&](const auto* one) { return one->at == at; });
    }
    void drop(const Pending& other) {
        const auto among = [](const auto& list) {
            return
                [&list](const auto* one) { return std::find(list.begin(), list.end(), one) != list.end(); };
        };
        std::erase_if(directions_, among(other.directions_));
        std::erase_if(harmonies_, among(other.harmonies_));
    }

private:
    static void note(std::optional<Time>& earliest, Time at) {
        if (!earliest || at < *earliest) earliest = at;
    }
    std::vector<const score::Direction*> directions_;
    std::vector<const score::Harmony*> harmonies_;
};

void write_move(PartState& state, std::string_view element, Time length) {
    const Nest nest(state.sink, element);
    leaf(state.sink, "duration", state.ticks(length));
}

void write_voice(PartState& state, const score::Measure& measure, const score::Voice& voice,
                 Pending& pending) {
    std::optional<Time> written;  // a grace note and its main note share one moment
    for (const auto& element : voice.elements) {
        if (written != element.at) pending.write_at(state, element.at);
        written = element.at;
        write_element(state, voice, element);
    }
    pending.write_at(state, measure.length);
}

/// From the bar line forward from place to place, and to the next bar line.
void walk(PartState& state, const score::Measure& measure, Pending& pending) {
    Time cursor = 0;
    while (!pending.empty()) {
        const Time next = pending.next();
        if (next > cursor) write_move(state, "forward", next - cursor);
        cursor = next;
        pending.write_at(state, cursor);
    }
    if (cursor < measure.length) write_move(state, "forward", measure.length - cursor);
}

/// What starts inside a held note: back to the bar line and along.
void write_walk(PartState& state, const score::Measure& measure, Pending& pending) {
    if (pending.empty()) return;
    write_move(state, "backup", measure.length);
    walk(state, measure, pending);
}

/// Two staves: readers give a chord symbol to the staff of the note that is written next, so what starts
/// inside the held notes of a staff goes before them.
void write_staff(PartState& state, const score::Measure& measure, int staff, bool& back) {
    Pending pending(measure, staff);
    auto inside = pending;
    for (const auto& voice : measure.voices) {
        if (voice.staff != staff) continue;
        for (const auto& element : voice.elements) inside.drop_at(element.at);
    }
    inside.drop_at(measure.length);
    pending.drop(inside);
    const auto go_back = [&] {
        if (std::exchange(back, true)) write_move(state, "backup", measure.length);
    };
    if (!inside.empty()) {
        go_back();
        walk(state, measure, inside);
    }
    for (const auto& voice : measure.voices) {
        if (voice.staff != staff) continue;
        go_back();
        write_voice(state, measure, voice, pending);
    }
}

void write_break(Sink& sink, const score::Measure& measure, bool first) {
    if (!first && measure.before == score::Break::none) return;
    const Nest print(sink, "print");
    if (!first && measure.before == score::Break::system) sink.attribute("new-system", "yes");
    if (!first && measure.before == score::Break::page) sink.attribute("new-page", "yes");
    if (measure.room_above > 0) {
        const Nest layout(sink, "system-layout");
        leaf(sink, "system-distance", measure.room_above);
    }
    if (first) leaf(sink, "measure-numbering", "system");
}

}  // namespace

void write_measure(PartState& state, const score::Measure& measure, bool first) {
    auto& sink = state.sink;
    const Nest nest(sink, "measure");
    if (measure.implicit) sink.attribute("implicit", "yes");
    sink.attribute("number", measure.number);
    write_break(sink, measure, first);
    write_left_barline(state, measure);
    write_attributes(state, measure, first);
    bool back = false;
    if (state.part.staves > 1) {
        for (int staff = 1; staff <= state.part.staves; ++staff) write_staff(state, measure, staff, back);
    } else {
        Pending pending(measure, 1);
        for (const auto& voice : measure.voices) {
            if (std::exchange(back, true)) write_move(state, "backup", measure.length);
            write_voice(state, measure, voice, pending);
        }
        write_walk(state, measure, pending);
    }
    write_right_barline(state, measure);
}

}  // namespace relead::formats
