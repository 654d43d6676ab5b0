#include "formats/musicxml/note_writer.h"

#include <array>

namespace relead::formats {

namespace {

using score::Element;
using score::Head;

constexpr std::array<std::string_view, 5> accidental_names{"flat-flat", "flat", "natural", "sharp",
                                                           "double-sharp"};
constexpr std::array<std::string_view, 5> beam_names{"begin", "continue", "end", "forward hook",
                                                     "backward hook"};
constexpr std::array<std::string_view, 3> notehead_names{"normal", "slash", "x"};
constexpr std::array<std::string_view, 4> stem_names{"", "none", "up", "down"};
constexpr std::array<std::string_view, 4> articulation_names{"accent", "strong-accent", "staccato", "tenuto"};
constexpr std::array<std::string_view, 4> syllabic_names{"single", "begin", "middle", "end"};

template <class Names, class Enum>
std::string_view name_in(const Names& names, Enum value) {
    return names[static_cast<std::size_t>(value)];
}

void write_pitch(Sink& sink, theory::Pitch pitch) {
    const auto name = theory::name_of(pitch);
    const Nest nest(sink, "pitch");
    leaf(sink, "step", std::string(1, theory::letter(name)));
    if (const int alter = theory::alteration(name); alter != 0) leaf(sink, "alter", alter);
    leaf(sink, "octave", theory::octave_of(pitch));
}

void write_rest(Sink& sink, const Element& element) {
    const Nest nest(sink, "rest");
    if (element.kind == Element::Kind::bar_rest) sink.attribute("measure", "yes");
    if (!element.rest_at) return;
    leaf(sink, "display-step", std::string(1, theory::letter(theory::name_of(*element.rest_at))));
    leaf(sink, "display-octave", theory::octave_of(*element.rest_at));
}

void write_attributes(PartState& state, const Element& element) {
    if (element.highlighted && element.is_note()) state.sink.attribute("color", changed_colour);
    if (element.silent && element.is_note()) state.sink.attribute("dynamics", "0");
}

/// grace | cue, chord, pitch | rest, duration, tie*
void write_sound(PartState& state, const Element& element, const Head* head, bool in_chord) {
    auto& sink = state.sink;
    if (element.grace) {
        const Nest grace(sink, "grace");
        sink.attribute("slash", "yes");
    } else if (element.cue) {
        flag(sink, "cue");
    }
    if (in_chord) flag(sink, "chord");
    if (head) {
        write_pitch(sink, head->pitch);
    } else {
        write_rest(sink, element);
    }
    if (!element.grace) leaf(sink, "duration", state.ticks(element.length));
    if (head && !element.cue) {
        if (head->tie_ends) typed(sink, "tie", "stop");
        if (head->tie_begins) typed(sink, "tie", "start");
    }
}

void write_accidental(Sink& sink, const Head& head) {
    if (!head.accidental) return;
    const Nest nest(sink, "accidental");
    if (head.courtesy) sink.attribute("cautionary", "yes");
    sink.text(name_in(accidental_names, *head.accidental));
}

void write_time_modification(Sink& sink, const score::Tuplet& tuplet) {
    const Nest nest(sink, "time-modification");
    leaf(sink, "actual-notes", tuplet.actual);
    leaf(sink, "normal-notes", tuplet.normal);
}

void write_notehead(Sink& sink, const Element& element) {
    if (element.notehead == score::Notehead::normal) return;
    const Nest nest(sink, "notehead");
    if (element.highlighted) sink.attribute("color", changed_colour);
    sink.text(name_in(notehead_names, element.notehead));
}

/// type, dot*, accidental, time-modification, stem, notehead
void write_look(PartState& state, const Element& element, const Head* head) {
    auto& sink = state.sink;
    {
        const Nest type(sink, "type");
        if (element.cue) sink.attribute("size", "cue");
        sink.text(type_name(element.value));
    }
    for (int dot = 0; dot < element.value.dots; ++dot) flag(sink, "dot");
    if (head) write_accidental(sink, *head);
    if (element.tuplet) write_time_modification(sink, *element.tuplet);
    if (head && element.stem != score::Stem::automatic) {
        leaf(sink, "stem", name_in(stem_names, element.stem));
    }
    if (head) write_notehead(sink, element);
}

void write_beams(Sink& sink, const Element& element) {
    int level = 1;
    for (const auto beam : element.beams) {
        const Nest nest(sink, "beam");
        sink.attribute("number", std::to_string(level++));
        sink.text(name_in(beam_names, beam));
    }
}

void write_slur(Sink& sink, std::string_view type, int number) {
    const Nest nest(sink, "slur");
    sink.attribute("number", std::to_string(number));
    sink.attribute("type", type);
}

void write_slurs(PartState& state, const Element& element) {
    auto& open = state.open_slurs;
    for (int i = 0; i < element.slurs_end && !open.empty(); ++i) {
        write_slur(state.sink, "stop", open.back());
        open.pop_back();
    }
    for (int i = 0; i < element.slurs_begin; ++i) {
        open.push_back(static_cast<int>(open.size()) + 1);
        write_slur(state.sink, "start", open.back());
    }
}

void write_tuplet_ends(Sink& sink, const score::Tuplet& tuplet) {
    if (!tuplet.begins && !tuplet.ends) return;
    const Nest nest(sink, "tuplet");
    if (tuplet.begins) sink.attribute("bracket", "yes");
    sink.attribute("type", tuplet.begins ? "start" : "stop");
}

bool has_notations(const Element& element, const Head* head, bool first) {
    if (head && (head->tie_begins || head->tie_ends)) return true;
    if (!first) return false;
    return element.slurs_begin > 0 || element.slurs_end > 0 || element.fermata ||
           !element.articulations.empty() ||
           (element.tuplet && (element.tuplet->begins || element.tuplet->ends));
}

void write_notations(PartState& state, const Element& element, const Head* head, bool first) {
    if (!has_notations(element, head, first)) return;
    auto& sink = state.sink;
    const Nest notations(sink, "notations");
    if (head && head->tie_ends) typed(sink, "tied", "stop");
    if (head && head->tie_begins) typed(sink, "tied", "start");
    if (!first) return;
    write_slurs(state, element);
    if (element.tuplet) write_tuplet_ends(sink, *element.tuplet);
    if (!element.articulations.empty()) {
        const Nest nest(sink, "articulations");
        for (const auto mark : element.articulations) {
            const Nest articulation(sink, name_in(articulation_names, mark));
            sink.attribute("placement", "above");
        }
    }
    if (element.fermata) typed(sink, "fermata", "upright");
}

void write_lyrics(Sink& sink, const Element& element) {
    for (const auto& lyric : element.lyrics) {
        const Nest nest(sink, "lyric");
        sink.attribute("number", std::to_string(lyric.verse));
        leaf(sink, "syllabic", name_in(syllabic_names, lyric.syllabic));
        leaf(sink, "text", lyric.text);
        if (lyric.extends) flag(sink, "extend");
    }
}

void write_note(PartState& state, const score::Voice& voice, const Element& element, const Head* head,
                bool first) {
    auto& sink = state.sink;
    const Nest note(sink, "note");
    write_attributes(state, element);
    write_sound(state, element, head, !first);
    leaf(sink, "voice", voice.number);
    if (element.kind != Element::Kind::bar_rest) write_look(state, element, head);
    if (state.part.staves > 1) leaf(sink, "staff", voice.staff);
    if (first) write_beams(sink, element);
    write_notations(state, element, head, first);
    if (first) write_lyrics(sink, element);
}

void write_gap(PartState& state, const score::Voice& voice, const Element& element) {
    const Nest nest(state.sink, "forward");
    leaf(state.sink, "duration", state.ticks(element.length));
    leaf(state.sink, "voice", voice.number);
    if (state.part.staves > 1) leaf(state.sink, "staff", voice.staff);
}

}  // namespace

std::string_view type_name(const score::NoteValue& value) {
    switch (value.denominator) {
        case 1:
            return "whole";
        case 2:
            return "half";
        case 4:
            return "quarter";
        case 8:
            return "eighth";
        case 16:
            return "16th";
        case 32:
            return "32nd";
        case 64:
            return "64th";
        default:
            return "128th";
    }
}

void write_element(PartState& state, const score::Voice& voice, const Element& element) {
    if (element.kind == Element::Kind::gap) {
        write_gap(state, voice, element);
        return;
    }
    if (element.heads.empty()) {
        write_note(state, voice, element, nullptr, true);
        return;
    }
    bool first = true;
    for (const auto& head : element.heads) {
        write_note(state, voice, element, &head, first);
        first = false;
    }
}

}  // namespace relead::formats
