#include "formats/musicxml/direction_writer.h"

#include "formats/musicxml/note_writer.h"

namespace relead::formats {

namespace {

using score::Direction;
using Kind = Direction::Kind;

void write_words(Sink& sink, const std::string& text, const score::TextStyle& style) {
    const Nest type(sink, "direction-type");
    const Nest words(sink, "words");
    // Small upright words: said so, since some readers slant all words below a staff.
    if (style.italic || style.small) sink.attribute("font-style", style.italic ? "italic" : "normal");
    if (style.small) sink.attribute("font-size", "8");
    if (style.bold) sink.attribute("font-weight", "bold");
    if (text.find('\n') != std::string::npos) sink.attribute("xml:space", "preserve");
    sink.text(text);
}

void write_sign(Sink& sink, std::string_view sign) {
    const Nest type(sink, "direction-type");
    flag(sink, sign);
}

void write_rehearsal(Sink& sink, const std::string& text) {
    const Nest type(sink, "direction-type");
    const Nest mark(sink, "rehearsal");
    sink.attribute("enclosure", "square");
    sink.attribute("font-weight", "bold");
    sink.text(text);
}

void write_metronome(Sink& sink, const Direction& direction) {
    const Nest type(sink, "direction-type");
    const Nest metronome(sink, "metronome");
    leaf(sink, "beat-unit", type_name(direction.beat));
    for (int dot = 0; dot < direction.beat.dots; ++dot) flag(sink, "beat-unit-dot");
    leaf(sink, "per-minute", direction.beats_per_minute);
}

void write_swing(Sink& sink, bool swing) {
    const Nest nest(sink, "swing");
    if (!swing) {
        flag(sink, "straight");
        return;
    }
    leaf(sink, "first", 2);
    leaf(sink, "second", 1);
    leaf(sink, "swing-type", "eighth");
}

/// tempo counts quarter notes a minute, whatever value the sheet counts.
void write_tempo_sound(Sink& sink, const Direction& direction) {
    if (direction.beats_per_minute == 0 && !direction.swing) return;
    const Nest sound(sink, "sound");
    if (direction.beats_per_minute > 0) {
        const auto quarters = Fraction(direction.beats_per_minute) * direction.beat.length() * Fraction(4);
        const auto hundredths = (quarters * Fraction(100)).floor();
        auto text = std::to_string(hundredths / 100);
        if (hundredths % 100 != 0) text += "." + std::to_string(100 + hundredths % 100).substr(1);
        sink.attribute("tempo", text);
    }
    if (direction.swing) write_swing(sink, *direction.swing);
}

void write_sound(Sink& sink, std::string_view name, std::string_view value) {
    const Nest sound(sink, "sound");
    sink.attribute(name, value);
}

void write_types(Sink& sink, const Direction& direction) {
    switch (direction.kind) {
        case Kind::rehearsal:
            write_rehearsal(sink, direction.text);
            return;
        case Kind::segno:
            write_sign(sink, "segno");
            break;
        case Kind::coda:
            write_sign(sink, "coda");
            break;
        default:
            break;
    }
    if (!direction.text.empty()) write_words(sink, direction.text, direction.style);
    if (direction.kind == Kind::to_coda) write_sign(sink, "coda");
    if (direction.kind == Kind::tempo && direction.beats_per_minute > 0) write_metronome(sink, direction);
}

void write_sounds(Sink& sink, const Direction& direction) {
    switch (direction.kind) {
        case Kind::tempo:
            write_tempo_sound(sink, direction);
            break;
        case Kind::segno:
            write_sound(sink, "segno", direction.target);
            break;
        case Kind::coda:
            write_sound(sink, "coda", direction.target);
            break;
        case Kind::to_coda:
            write_sound(sink, "tocoda", direction.target);
            break;
        case Kind::dal_segno:
            write_sound(sink, "dalsegno", direction.target);
            break;
        case Kind::da_capo:
            write_sound(sink, "dacapo", "yes");
            break;
        case Kind::fine:
            write_sound(sink, "fine", "yes");
            break;
        case Kind::rehearsal:
        case Kind::words:
            break;
    }
}

}  // namespace

void write_direction(PartState& state, const Direction& direction) {
    auto& sink = state.sink;
    const Nest nest(sink, "direction");
    sink.attribute("placement", direction.above ? "above" : "below");
    const bool for_all = direction.kind != Kind::words;
    if (state.several_parts() && for_all) sink.attribute("system", "only-top");
    write_types(sink, direction);
    if (state.part.staves > 1) leaf(sink, "staff", direction.staff);
    write_sounds(sink, direction);
}

}  // namespace relead::formats
