#include "score/dump.h"

#include <array>

#include "base/fmt.h"
#include "theory/chord.h"

namespace relead::score {

namespace {

std::string value_text(const NoteValue& value) {
    static constexpr std::array<std::pair<int, const char*>, 7> letters{
        {{1, "w"}, {2, "h"}, {4, "q"}, {8, "e"}, {16, "s"}, {32, "t"}, {64, "x"}}};
    std::string text = "?";
    for (const auto& [denominator, letter] : letters) {
        if (denominator == value.denominator) text = letter;
    }
    return text + std::string(static_cast<std::size_t>(value.dots), '.');
}

std::string head_text(const Head& head) {
    static constexpr std::array<const char*, 5> signs{"(bb)", "(b)", "(n)", "(#)", "(##)"};
    std::string text = head.tie_ends ? "~" : "";
    text += theory::to_string(head.pitch);
    if (head.accidental) text += signs[static_cast<std::size_t>(*head.accidental)];
    if (head.courtesy) text += "?";
    if (head.tie_begins) text += "~";
    return text;
}

std::string element_text(const Element& element) {
    std::string text;
    if (element.tuplet && element.tuplet->begins) {
        text += fmt::format("[{}:{} ", element.tuplet->actual, element.tuplet->normal);
    }
    if (element.grace) text += "g";
    if (element.cue) text += "c";
    if (element.kind == Element::Kind::gap) {
        text += "." + element.length.to_string();
    } else if (element.kind == Element::Kind::bar_rest) {
        text += "R";
    } else {
        text += value_text(element.value) + " ";
        if (element.kind == Element::Kind::rest) text += "r";
        if (element.notehead == Notehead::slash) text += element.stem == Stem::none ? "/" : "/|";
        for (const auto& head : element.heads) text += head_text(head);
    }
    static constexpr std::array<const char*, 4> marks{">", "^", "'", "-"};
    for (const auto mark : element.articulations) text += marks[static_cast<std::size_t>(mark)];
    if (element.fermata) text += "U";
    text += std::string(static_cast<std::size_t>(element.slurs_begin), '(');
    text += std::string(static_cast<std::size_t>(element.slurs_end), ')');
    static constexpr std::array<const char*, 5> beams{"<", "=", ">", ">.", "<."};
    if (!element.beams.empty())
        text += fmt::format("{{{}", beams[static_cast<std::size_t>(element.beams[0])]);
    for (std::size_t i = 1; i < element.beams.size(); ++i)
        text += beams[static_cast<std::size_t>(element.beams[i])];
    if (!element.beams.empty()) text += "}";
    for (const auto& lyric : element.lyrics) text += "\"" + lyric.text + "\"";
    if (element.tuplet && element.tuplet->ends) text += "]";
    return text;
}

std::string direction_text(const Direction& direction) {
    static constexpr std::array<const char*, 9> kinds{"mark",   "words", "tempo",  "segno",   "coda",
                                                      "tocoda", "fine",  "dacapo", "dalsegno"};
    std::string text =
        fmt::format("{}@{}", kinds[static_cast<std::size_t>(direction.kind)], direction.at.to_string());
    if (!direction.text.empty()) text += " \"" + direction.text + "\"";
    if (direction.beats_per_minute > 0)
        text += fmt::format(" {}={}", value_text(direction.beat), direction.beats_per_minute);
    return text;
}

std::string ending_text(const Ending& ending) {
    return "[" + ending.label + " ";
}

std::string left_text(const Measure& measure) {
    std::string text;
    if (measure.before == Break::system) text += "--\n";
    if (measure.before == Break::page) text += "==\n";
    text += measure.number;
    if (measure.implicit) text += "(pickup)";
    if (measure.key)
        text += fmt::format(" key {}{}{}", measure.key->fifths, measure.key->mode.empty() ? "" : " ",
                            measure.key->mode);
    if (measure.time) text += fmt::format(" {}/{}", measure.time->beats, measure.time->unit);
    if (measure.transposition) text += fmt::format(" transpose {}", measure.transposition->semitones());
    if (measure.repeat_begins) text += " |:";
    if (measure.ending) text += " " + ending_text(*measure.ending);
    if (measure.slashes == SlashStyle::beats) text += " slashes";
    if (measure.slashes == SlashStyle::rhythm) text += " rhythm";
    return text;
}

std::string right_text(const Measure& measure) {
    std::string text;
    if (measure.ending_stop == EndingStop::closed) text += " ]";
    if (measure.ending_stop == EndingStop::open) text += " )";
    if (measure.repeat_ends > 0) text += fmt::format(" :| {}", measure.repeat_ends);
    if (measure.right == BarStyle::double_bar) text += " ||";
    if (measure.right == BarStyle::final_bar) text += " |||";
    return text;
}

}  // namespace

std::string dump(const Measure& measure) {
    std::string text = left_text(measure);
    for (const auto& direction : measure.directions) text += "  <" + direction_text(direction) + ">";
    if (!measure.harmonies.empty()) text += "  |";
    for (const auto& harmony : measure.harmonies) {
        text += fmt::format(" {}@{}{}{}", theory::to_string(harmony.chord, theory::SymbolStyle::plain),
                            harmony.at.to_string(), harmony.changed ? "*" : "", harmony.pushed ? "<" : "");
    }
    for (const auto& voice : measure.voices) {
        text += voice.number == 1 ? "  :" : fmt::format("  {}:", voice.number);
        if (voice.staff > 1) text += fmt::format(" staff {}", voice.staff);
        for (const auto& element : voice.elements) text += " " + element_text(element);
    }
    return text + right_text(measure) + "\n";
}

std::string dump(const Score& score) {
    std::string text =
        fmt::format("title \"{}\" composer \"{}\" corner \"{}\" stamp \"{}\"\norder \"{}\" pages {}\n",
                    score.title, score.composer, score.corner, score.stamp, score.running_order, score.pages);
    for (const auto& part : score.parts) {
        text += "part " + part.name + (part.staves > 1 ? fmt::format(" staves {}", part.staves) : "") + "\n";
        for (const auto& measure : part.measures) text += dump(measure);
    }
    return text;
}

}  // namespace relead::score
