#include "arrange/sounding_notes.h"

#include <algorithm>

#include "theory/note.h"

namespace relead::arrange {
namespace {

constexpr Time grace_length(1, 32);

/// The last ones before the note, each a thirty-second, taken from what sounds before.
void add_grace(const std::vector<theory::Pitch>& grace, Time before, int loudness,
               std::vector<score::SoundingNote>& notes) {
    auto at = before - grace_length * Time(static_cast<std::int64_t>(grace.size()));
    if (at < Time(0)) return;
    if (!notes.empty() && notes.back().at >= at) return;  // no room
    if (!notes.empty()) notes.back().length = std::min(notes.back().length, at - notes.back().at);
    for (const auto pitch : grace) {
        notes.push_back({at, grace_length, theory::midi_number(pitch), loudness - 8});
        at += grace_length;
    }
}

}  // namespace

bool add_notes(const std::vector<tune::NoteEvent>& row, Time at, int loudness, bool joins,
               std::vector<score::SoundingNote>& notes) {
    bool tied = joins;
    for (const auto& event : row) {
        if (event.kind != tune::NoteEvent::Kind::note) {
            tied = false;
            continue;
        }
        const int key = theory::midi_number(event.pitch);
        const auto begins = at + event.at;
        if (tied && !notes.empty() && notes.back().key == key &&
            notes.back().at + notes.back().length == begins) {
            notes.back().length += event.length;
        } else {
            add_grace(event.grace, begins, loudness, notes);
            notes.push_back({begins, event.length, key, loudness});
        }
        tied = event.tied_to_next;
    }
    return tied;
}

}  // namespace relead::arrange
