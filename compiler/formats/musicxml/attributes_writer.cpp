#include "formats/musicxml/attributes_writer.h"

namespace relead::formats {

namespace {

using score::SlashStyle;

void write_key(Sink& sink, const score::KeySignature& key) {
    const Nest nest(sink, "key");
    leaf(sink, "fifths", key.fifths);
    if (!key.mode.empty()) leaf(sink, "mode", key.mode);
}

void write_time(Sink& sink, const score::TimeSignature& time) {
    const Nest nest(sink, "time");
    leaf(sink, "beats", time.beats);
    leaf(sink, "beat-type", time.unit);
}

void write_one_clef(Sink& sink, int number, std::string_view sign, int line, int octaves = 0) {
    const Nest nest(sink, "clef");
    if (number > 0) sink.attribute("number", std::to_string(number));
    leaf(sink, "sign", sign);
    if (line > 0) leaf(sink, "line", line);
    if (octaves != 0) leaf(sink, "clef-octave-change", octaves);
}

/// `number` of the staff; 0 = the part has only one.
void write_clef(Sink& sink, int number, theory::Clef clef) {
    switch (clef) {
        case theory::Clef::treble:
            write_one_clef(sink, number, "G", 2);
            break;
        case theory::Clef::tenor_treble:
            write_one_clef(sink, number, "G", 2, -1);
            break;
        case theory::Clef::bass:
            write_one_clef(sink, number, "F", 4);
            break;
        case theory::Clef::percussion:
            write_one_clef(sink, number, "percussion", 0);
            break;
        case theory::Clef::grand:
            write_one_clef(sink, 1, "G", 2);
            write_one_clef(sink, 2, "F", 4);
            break;
    }
}

/// The second staff may be smaller than the first.
void write_staff_size(Sink& sink, const score::Part& part) {
    if (part.staves < 2 || part.second_staff_size == 100) return;
    const Nest nest(sink, "staff-details");
    sink.attribute("number", "2");
    leaf(sink, "staff-size", part.second_staff_size);
}

/// Octaves stand apart: octave-change is present from an octave on, and absent below.
void write_transpose(Sink& sink, theory::Interval written_to_sounding) {
    const int octaves = written_to_sounding.steps() / 7;
    const Nest nest(sink, "transpose");
    leaf(sink, "diatonic", written_to_sounding.steps() - 7 * octaves);
    leaf(sink, "chromatic", written_to_sounding.semitones() - 12 * octaves);
    if (octaves != 0) leaf(sink, "octave-change", octaves);
}

/// Slashes stand on the first staff.
void write_slash_style(PartState& state, std::string_view type, bool stems) {
    auto& sink = state.sink;
    const Nest style(sink, "measure-style");
    if (state.part.staves > 1) sink.attribute("number", "1");
    const Nest slash(sink, "slash");
    sink.attribute("type", type);
    if (type == "start") sink.attribute("use-stems", stems ? "yes" : "no");
}

void write_measure_styles(PartState& state, const score::Measure& measure) {
    if (measure.slashes != state.slashes) {
        if (state.slashes != SlashStyle::none) write_slash_style(state, "stop", false);
        if (measure.slashes != SlashStyle::none) {
            write_slash_style(state, "start", measure.slashes == SlashStyle::rhythm);
        }
        state.slashes = measure.slashes;
    }
    if (measure.rest_measures > 1) {
        const Nest style(state.sink, "measure-style");
        leaf(state.sink, "multiple-rest", measure.rest_measures);
    }
}

std::string ending_number(const score::Ending& ending) {
    std::string text;
    for (const int pass : ending.passes) {
        if (!text.empty()) text += ",";
        text += std::to_string(pass);
    }
    return text;
}

/// "1.", "2. Last time": never without a number, since there is a reader that passes over the first bar of an
/// ending whose text has none.
std::string ending_text(const score::Ending& ending) {
    if (ending.label.find_first_of("0123456789") != std::string::npos) return ending.label;
    return ending_number(ending) + ". " + ending.label;
}

std::string_view bar_style(const score::Measure& measure) {
    if (measure.repeat_ends > 0) return "light-heavy";
    switch (measure.right) {
        case score::BarStyle::regular:
            return "";
        case score::BarStyle::double_bar:
            return "light-light";
        case score::BarStyle::final_bar:
            return "light-heavy";
    }
    return "";
}

}  // namespace

void write_attributes(PartState& state, const score::Measure& measure, bool first) {
    const bool changes =
        measure.key || measure.time || measure.clef || measure.second_clef || measure.transposition;
    if (!first && !changes && measure.slashes == state.slashes && measure.rest_measures < 2) return;
    auto& sink = state.sink;
    const Nest nest(sink, "attributes");
    if (first) leaf(sink, "divisions", state.divisions);
    if (measure.key) write_key(sink, *measure.key);
    if (measure.time) write_time(sink, *measure.time);
    if (first && state.part.staves > 1) {
        leaf(sink, "staves", state.part.staves);
        if (measure.clef != theory::Clef::grand) leaf(sink, "part-symbol", "bracket");
    }
    const bool two = state.part.staves > 1;
    if (measure.clef) write_clef(sink, two && *measure.clef != theory::Clef::grand ? 1 : 0, *measure.clef);
    if (measure.second_clef) write_clef(sink, 2, *measure.second_clef);
    if (first) write_staff_size(sink, state.part);
    if (measure.transposition) write_transpose(sink, *measure.transposition);
    write_measure_styles(state, measure);
}

void write_left_barline(PartState& state, const score::Measure& measure) {
    if (measure.ending) state.open_ending = ending_number(*measure.ending);
    if (!measure.repeat_begins && !measure.ending) return;
    auto& sink = state.sink;
    const Nest barline(sink, "barline");
    sink.attribute("location", "left");
    if (measure.repeat_begins) leaf(sink, "bar-style", "heavy-light");
    if (measure.ending) {
        const Nest ending(sink, "ending");
        sink.attribute("number", state.open_ending);
        sink.attribute("type", "start");
        sink.text(ending_text(*measure.ending));
    }
    if (measure.repeat_begins) {
        const Nest repeat(sink, "repeat");
        sink.attribute("direction", "forward");
    }
}

void write_right_barline(PartState& state, const score::Measure& measure) {
    const auto style = bar_style(measure);
    const bool stops = measure.ending_stop != score::EndingStop::none && !state.open_ending.empty();
    if (style.empty() && !stops) return;
    auto& sink = state.sink;
    const Nest barline(sink, "barline");
    sink.attribute("location", "right");
    if (!style.empty()) leaf(sink, "bar-style", style);
    if (stops) {
        const Nest ending(sink, "ending");
        sink.attribute("number", state.open_ending);
        sink.attribute("type", measure.ending_stop == score::EndingStop::open ? "discontinue" : "stop");
        state.open_ending.clear();
    }
    if (measure.repeat_ends > 0) {
        const Nest repeat(sink, "repeat");
        sink.attribute("direction", "backward");
        if (measure.repeat_ends > 2) sink.attribute("times", std::to_string(measure.repeat_ends));
    }
}

}  // namespace relead::formats
