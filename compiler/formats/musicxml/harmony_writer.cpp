#include "formats/musicxml/harmony_writer.h"

#include <array>
#include <utility>

namespace relead::formats {

namespace {

void write_step(Sink& sink, std::string_view prefix, theory::NoteName name) {
    const std::string base(prefix);
    leaf(sink, base + "-step", std::string(1, theory::letter(name)));
    if (const int alter = theory::alteration(name); alter != 0) leaf(sink, base + "-alter", alter);
}

/// Compact lettering replaces the beginning of the plain text; longest first.
constexpr std::array<std::pair<std::string_view, std::string_view>, 6> compact_beginnings{{
    {"m(maj", "-(\u25b3"},
    {"m7b5", "\u00f8"},
    {"maj", "\u25b3"},
    {"dim", "\u00b0"},
    {"aug", "+"},
    {"m", "-"},
}};

std::string lettered(const std::string& text, score::SymbolLettering lettering) {
    if (lettering == score::SymbolLettering::plain) return text;
    for (const auto& [plain, compact] : compact_beginnings) {
        if (text.starts_with(plain)) return std::string(compact) + text.substr(plain.size());
    }
    return text;
}

void write_degree(Sink& sink, const theory::HarmonyDegree& degree) {
    using Type = theory::HarmonyDegree::Type;
    const Nest nest(sink, "degree");
    if (!degree.printed) sink.attribute("print-object", "no");
    leaf(sink, "degree-value", degree.value);
    leaf(sink, "degree-alter", degree.alter);
    const Nest type(sink, "degree-type");
    if (!degree.says_add) sink.attribute("text", "");
    sink.text(degree.type == Type::add ? "add" : degree.type == Type::alter ? "alter" : "subtract");
}

void write_no_chord(Sink& sink) {
    {
        const Nest root(sink, "root");
        const Nest step(sink, "root-step");
        sink.attribute("text", "");
        sink.text("C");
    }
    const Nest kind(sink, "kind");
    sink.attribute("text", "N.C.");
    sink.text("none");
}

void write_chord(PartState& state, const theory::Chord& chord) {
    auto& sink = state.sink;
    {
        const Nest root(sink, "root");
        write_step(sink, "root", chord.root);
    }
    const auto kind = theory::harmony_kind(chord);
    {
        const Nest nest(sink, "kind");
        sink.attribute("text", lettered(kind.text, state.score.lettering));
        sink.text(kind.kind);
    }
    if (chord.bass) {
        const Nest bass(sink, "bass");
        write_step(sink, "bass", *chord.bass);
    }
    for (const auto& degree : kind.degrees) write_degree(sink, degree);
}

}  // namespace

void write_harmony(PartState& state, const score::Harmony& harmony) {
    const Nest nest(state.sink, "harmony");
    if (harmony.changed) {
        state.sink.attribute("color", changed_colour);
        state.sink.attribute("font-weight", "bold");
    }
    if (harmony.chord.is_none()) {
        write_no_chord(state.sink);
    } else {
        write_chord(state, harmony.chord);
    }
    if (state.part.staves > 1) leaf(state.sink, "staff", harmony.staff);
}

}  // namespace relead::formats
