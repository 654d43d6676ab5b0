#include <algorithm>
#include <limits>
#include <map>
#include <set>

#include "base/fmt.h"
#include "theory/instrument.h"
#include "tune/check.h"
#include "tune/signs.h"
#include "tune/spot.h"
#include "tune/unfold.h"

namespace relead::tune {
namespace {

using NoteRow = std::optional<std::vector<NoteEvent>> Bar::*;
/// The bars that are heard right after each bar.
using Followers = std::map<BarRef, std::set<BarRef>>;

Followers followers(const Tune& tune) {
    Followers found;
    const PlayedBar* before = nullptr;
    const auto choruses = performance(tune);
    const auto plain = one_chorus(tune);
    const auto walk = [&](const std::vector<PlayedBar>& bars) {
        for (const auto& bar : bars) {
            if (before != nullptr) found[{before->section, before->bar}].insert({bar.section, bar.bar});
            before = &bar;
        }
    };
    for (const auto& chorus : choruses) walk(chorus.bars);
    before = nullptr;
    walk(plain);
    // Bars that are never played are followed by what is written next.
    for (std::size_t s = 0; s < tune.sections.size(); ++s)
        for (std::size_t b = 0; b + 1 < tune.sections[s].bars.size(); ++b) {
            const BarRef bar{static_cast<int>(s), static_cast<int>(b)};
            if (found.count(bar) == 0) found[bar].insert({bar.section, bar.bar + 1});
        }
    return found;
}

enum class Joint { same, unknown, other_name, other_pitch, nothing };

Joint joint(const NoteEvent& from, const NoteEvent& into) {
    if (into.kind == NoteEvent::Kind::unknown) return Joint::unknown;
    if (into.kind == NoteEvent::Kind::rest) return Joint::nothing;
    if (into.pitch == from.pitch) return Joint::same;
    return theory::midi_number(into.pitch) == theory::midi_number(from.pitch) ? Joint::other_name
                                                                              : Joint::other_pitch;
}

class TieCheck {
public:
    TieCheck(const Tune& tune, text::Sink& sink) : tune_(tune), sink_(sink), followers_(followers(tune)) {}

    void run(NoteRow row) {
        for (std::size_t s = 0; s < tune_.sections.size(); ++s)
            for (std::size_t b = 0; b < tune_.sections[s].bars.size(); ++b)
                check_bar({static_cast<int>(s), static_cast<int>(b)}, row);
    }

private:
    void check_bar(BarRef ref, NoteRow row) {
        const auto& notes = bar_at(tune_, ref).*row;
        if (!notes) return;
        for (std::size_t i = 0; i < notes->size(); ++i) {
            const auto& note = (*notes)[i];
            if (!note.tied_to_next) continue;
            if (i + 1 < notes->size())
                judge(ref, note, {&(*notes)[i + 1]}, false);
            else
                check_bar_line(ref, note, row);
        }
    }

    void check_bar_line(BarRef ref, const NoteEvent& note, NoteRow row) {
        std::vector<const NoteEvent*> next;
        bool unknown = false;
        if (const auto found = followers_.find(ref); found != followers_.end())
            for (const auto bar : found->second) {
                const auto& notes = bar_at(tune_, bar).*row;
                if (!notes || notes->empty())
                    unknown = true;
                else
                    next.push_back(&notes->front());
            }
        judge(ref, note, next, unknown);
    }

    /// Fine when one of the ways on holds the note.
    void judge(BarRef ref, const NoteEvent& note, const std::vector<const NoteEvent*>& next, bool unknown) {
        if (unknown) return;
        auto best = Joint::nothing;
        const NoteEvent* nearest = nullptr;
        for (const auto* into : next)
            if (const auto here = joint(note, *into); nearest == nullptr || here < best) {
                best = here;
                nearest = into;
            }
        if (nearest == nullptr) best = Joint::nothing;
        if (best == Joint::same || best == Joint::unknown) return;
        report(ref, note, nearest, best);
    }

    void report(BarRef ref, const NoteEvent& note, const NoteEvent* into, Joint how) {
        const auto& bar = bar_at(tune_, ref);
        const auto place = Spot{tune_.sections[static_cast<std::size_t>(ref.section)].name, bar.number,
                                bar.meter, bar.length}
                               .place(note.at);
        const auto name = theory::to_string(note.pitch);
        if (how == Joint::nothing) {
            sink_
                .emit(text::Code::tie_into_nothing, note.span,
                      fmt::format("The {} is tied, but no note follows it.", name))
                .at(place)
                .fix(note.span, name, "Take the tie out");
            return;
        }
        const auto other = theory::to_string(into->pitch);
        auto note_to = sink_.emit(
            text::Code::tie_pitch, note.span,
            how == Joint::other_name
                ? fmt::format(
                      "The {} is tied to {}, which is the same pitch under another name; use one name.", name,
                      other)
                : fmt::format("The {} is tied to {}; a tie joins notes of one pitch.", name, other));
        note_to.at(place);
        if (how == Joint::other_name) note_to.fix(note.span, other + '~', fmt::format("Write {}", other));
        note_to.fix(note.span, name, "Take the tie out");
    }

    const Tune& tune_;
    text::Sink& sink_;
    Followers followers_;
};

/// Lowest and highest sounding note of all instruments in the table.
std::pair<int, int> whole_range() {
    int low = std::numeric_limits<int>::max(), high = std::numeric_limits<int>::min();
    for (const auto& instrument : theory::instruments()) {
        const int shift = instrument.written_to_sounding.semitones();
        low = std::min(low, instrument.low_written + shift);
        high = std::max(high, instrument.high_written + shift);
    }
    return {low, high};
}

/// The first such note of each bar.
void check_range(const Section& section, NoteRow row, std::pair<int, int> range, text::Sink& sink) {
    for (const auto& bar : section.bars) {
        if (!(bar.*row)) continue;
        for (const auto& note : *(bar.*row)) {
            if (note.kind != NoteEvent::Kind::note) continue;
            const int midi = theory::midi_number(note.pitch);
            if (midi >= range.first && midi <= range.second) continue;
            sink.emit(text::Code::note_out_of_range, note.span,
                      fmt::format("{} is {} than any instrument plays. Is the octave right?",
                                  theory::to_string(note.pitch), midi < range.first ? "lower" : "higher"))
                .at(Spot{section.name, bar.number, bar.meter, bar.length}.place(note.at));
            break;
        }
    }
}

}  // namespace

void check_melody(const Tune& tune, text::Sink& sink) {
    TieCheck ties(tune, sink);
    const auto range = whole_range();
    for (const auto row : {&Bar::melody, &Bar::longs, &Bar::bass}) {
        ties.run(row);
        for (const auto& section : tune.sections) check_range(section, row, range, sink);
    }
}

}  // namespace relead::tune
