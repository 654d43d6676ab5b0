#include "syntax/note_word.h"

#include "base/fmt.h"

namespace relead::syntax {
using text::Code;

namespace {

constexpr std::string_view letters = "whqest";
constexpr int highest_midi = 127;

bool in_range(theory::Pitch pitch) {
    const auto midi = theory::midi_number(pitch);
    return midi >= 0 && midi <= highest_midi;
}

std::string with_capital(std::string_view word) {
    std::string text(word);
    if (!text.empty() && text[0] >= 'a' && text[0] <= 'h') text[0] = static_cast<char>(text[0] - 'a' + 'A');
    if (!text.empty() && text[0] == 'H') text[0] = 'B';
    return text;
}

/// "qC5" or "C5q." taken apart; empty when it is not two words in one.
std::string taken_apart(std::string_view word) {
    for (std::size_t cut = 1; cut < word.size() && cut < 8; ++cut)
        if (read_duration(word.substr(0, cut)) && read_note(word.substr(cut), false))
            return fmt::format("{} {}", word.substr(0, cut), word.substr(cut));
    for (std::size_t cut = word.size() - 1; cut > 0 && word.size() < 16; --cut)
        if (read_duration(word.substr(cut)) && read_note(word.substr(0, cut), false))
            return fmt::format("{} {}", word.substr(cut), word.substr(0, cut));
    return {};
}

void complain_of_hit(text::Sink& sink, std::string_view word, Span span, const Place& place) {
    const auto melodic = read_note(word, false);
    const bool pitch = melodic && melodic->kind == NoteWord::Kind::pitch;
    auto note =
        sink.emit(
                Code::hit_unreadable, span,
                fmt::format("“{}” is no hit; hits are durations with x (short), X (held) or r (rest).", word))
            .at(place);
    if (pitch) note.fix(span, "x", "a short hit").fix(span, "X", "a held hit");
}

}  // namespace

std::optional<DurationLetters> read_duration(std::string_view word) {
    constexpr std::size_t most_dots = 3;
    if (word.empty() || word.size() > 1 + most_dots) return std::nullopt;
    const auto letter = letters.find(word[0]);
    if (letter == std::string_view::npos || word.find_first_not_of('.', 1) != std::string_view::npos)
        return std::nullopt;
    return DurationLetters{1 << letter, static_cast<int>(word.size()) - 1};
}

char duration_letter(int denominator) {
    std::size_t letter = 0;
    while (denominator > (1 << letter) && letter + 1 < letters.size()) ++letter;
    return letters[letter];
}

std::optional<NoteWord> read_note(std::string_view word, bool hits) {
    NoteWord note;
    if (word.size() > 1 && word.back() == '~') {
        note.tied = true;
        word.remove_suffix(1);
    }
    if (word == "r") {
        note.kind = NoteWord::Kind::rest;
        return note;
    }
    if (hits) {
        note.kind = word == "x" ? NoteWord::Kind::brief : NoteWord::Kind::held;
        return word == "x" || word == "X" ? std::optional<NoteWord>(note) : std::nullopt;
    }
    if (word == "?") {
        note.kind = NoteWord::Kind::unknown;
        return note;
    }
    constexpr std::size_t longest = 12;  // "B♭♭4" and its like
    const auto pitch = word.size() <= longest ? theory::parse_pitch(word) : std::nullopt;
    if (!pitch || !in_range(*pitch)) return std::nullopt;
    note.pitch = *pitch;
    return note;
}

void complain_of_note(text::Sink& sink, std::string_view word, Span span, const CellContext& context,
                      int octave) {
    constexpr std::size_t longest = 40;
    const auto& place = context.place;
    if (word.size() > longest) {
        sink.emit(Code::note_unreadable, span, "This word is no note; notes are written like Bb4.").at(place);
        return;
    }
    if (context.kind == RowKind::hits) return complain_of_hit(sink, word, span, place);
    const bool tied = word.back() == '~';
    const auto bare = tied ? word.substr(0, word.size() - 1) : word;
    if (theory::parse_note_name(with_capital(bare))) {
        const auto whole = fmt::format("{}{}{}", with_capital(bare), octave, tied ? "~" : "");
        sink.emit(Code::octave_missing, span,
                  fmt::format("“{}” has no octave; notes are written like {} (C4 is middle C).", word, whole))
            .at(place)
            .fix(span, whole, fmt::format("write {}", whole));
        return;
    }
    auto better = taken_apart(word);
    if (better.empty() && read_note(with_capital(word), false)) better = with_capital(word);
    if (word == "R") better = "r";
    auto note =
        sink.emit(Code::note_unreadable, span,
                  fmt::format(
                      "“{}” is no note; notes are written like Bb4 (C4 is middle C), rests r, durations "
                      "before them: q. C5 e r.",
                      word))
            .at(place);
    if (!better.empty())
        note.fix(span, better, fmt::format("write {}", better));
    else if (word == ".")
        note.fix(span, "?", "an unknown note");
}

}  // namespace relead::syntax
