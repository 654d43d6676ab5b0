#include "base/fmt.h"
#include "syntax/cursor.h"
#include "syntax/note_word.h"
#include "syntax/print.h"

namespace relead::syntax {
namespace {

template <class Word>
void append_words(std::string& text, const std::vector<Word>& words) {
    for (const auto& word : words) {
        if (!text.empty()) text += ' ';
        text += print(word);
    }
}

/// True for a syllable that must stand in quotes to be read as itself.
bool needs_quotes(const std::string& text) {
    if (text.empty() || text == "." || text.back() == '-') return true;
    if (text.find_first_not_of('_') == std::string::npos) return true;
    for (std::size_t i = 0; i < text.size(); i += character_length(text, i))
        if (blank_length(text, i) > 0 || text[i] == '|' || text[i] == '"') return true;
    return false;
}

}  // namespace

std::string print(const ChordWord& word) {
    static constexpr std::string_view pushes[] = {"", "<", "<<", ">"};
    std::string text(pushes[static_cast<std::size_t>(word.push)]);
    text += word.symbol;
    if (word.beats) text += fmt::format("*{}", word.beats->to_string());
    if (word.locked) text += '!';
    return text;
}

std::string print(const NoteWord& note) {
    std::string text;
    if (note.duration) {
        text += duration_letter(note.duration->denominator);
        text.append(static_cast<std::size_t>(note.duration->dots), '.');
        text += ' ';
    }
    for (const auto& tuplet : note.tuplets_begin)
        text += fmt::format("[{}:{} ", tuplet.actual, tuplet.normal);
    text.append(static_cast<std::size_t>(note.slurs_begin), '(');
    for (std::size_t i = 0; i < note.grace.size(); ++i)
        text += (i == 0 ? "{" : " ") + theory::to_string(note.grace[i].pitch);
    if (!note.grace.empty()) text += "} ";
    static constexpr std::string_view signs[] = {"", "r", "?", "x", "X"};
    text += note.kind == NoteWord::Kind::pitch ? theory::to_string(note.pitch)
                                               : std::string(signs[static_cast<std::size_t>(note.kind)]);
    if (note.tied) text += '~';
    text.append(static_cast<std::size_t>(note.slurs_end), ')');
    text.append(static_cast<std::size_t>(note.tuplets_end), ']');
    return text;
}

std::string print(const LyricWord& word) {
    if (word.hold) return "_";
    return (needs_quotes(word.text) ? quote(word.text) : word.text) + (word.hyphen ? "-" : "");
}

std::string print(const MarkWord& mark) {
    return mark.kind == MarkKind::text ? quote(mark.text) : std::string(mark_phrase(mark.kind));
}

std::string print_cell(const Cell& cell) {
    std::string text;
    append_words(text, cell.chords);
    append_words(text, cell.notes);
    append_words(text, cell.lyrics);
    append_words(text, cell.marks);
    return text.empty() ? "." : text;
}

std::string print_signs(const Cell* before, const Cell* after) {
    const BarSigns none;
    const auto& left = before != nullptr ? before->signs : none;
    const auto& right = after != nullptr ? after->signs : none;
    // A repeat ends inside its ending's bracket: ":| ] [2".
    std::string text, bar;
    if (left.repeat_ends > 0) text = left.repeat_ends == 2 ? ":|" : fmt::format(":|*{}", left.repeat_ends);
    const auto append = [&text](std::string_view sign) { text.append(text.empty() ? "" : " ").append(sign); };
    if (left.ending_ends) append("]");
    if (left.double_bar_after) bar = "||";
    if (right.repeat_begins) bar += bar.empty() ? "|:" : ":";
    const bool joins = text == ":|" && bar == "|:";
    const bool between_endings = left.ending_ends && !right.ending_begins.empty();
    if (joins)
        text = ":|:";
    else if (!bar.empty())
        append(bar);
    else if (left.repeat_ends == 0 && !between_endings)
        append("|");
    if (right.ending_begins.empty()) return text;
    text += " [";
    for (std::size_t i = 0; i < right.ending_begins.size(); ++i) {
        const auto playing = right.ending_begins[i];
        text += fmt::format("{}{}", i == 0 ? "" : ",", playing == 0 ? "last" : std::to_string(playing));
    }
    return text;
}

}  // namespace relead::syntax
