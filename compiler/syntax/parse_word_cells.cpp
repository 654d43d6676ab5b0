// Cells of lyrics and marks, and where a cell ends.
#include "base/fmt.h"
#include "syntax/keywords.h"
#include "syntax/parse_cell.h"

namespace relead::syntax {
using text::Code;

namespace {

/// True when the cell is just `.` (moves past it).
bool accept_dot(LineParser& line, const CellContext& context, Cell& cell) {
    if (line.peek().raw != "." || line.peek().kind != Token::Kind::word) return false;
    LineParser ahead = line;
    const auto token = ahead.next();
    if (!at_cell_end(ahead, context.kind)) return false;
    line = std::move(ahead);
    cell.empty = true;
    cell.span.end = token.span.end;
    return true;
}

/// True when the cell holds all it may; the rest of it is then read over.
bool full(LineParser& line, const CellContext& context, const Cell& cell, std::size_t count) {
    const auto most = static_cast<std::size_t>(context.limits->notes_in_bar);
    if (count < most) return false;
    line.sink()
        .emit(Code::bar_too_full, cell.span, fmt::format("A bar holds {} words in a row at most.", most))
        .at(context.place);
    while (!at_cell_end(line, context.kind)) line.next();
    return true;
}

void read_syllable(LineParser& line, const CellContext& context, Cell& cell, const Token& token) {
    auto text = token.raw;
    const auto complain = [&](std::string sentence) {
        return line.sink().emit(Code::lyric_misplaced, token.span, std::move(sentence)).at(context.place);
    };
    if (text.find_first_not_of('_') == std::string_view::npos) {
        for (std::size_t i = 0; i < text.size() && i < 16; ++i)
            cell.lyrics.push_back({"", true, false, token.span});
        if (text.size() > 1)
            complain("Each note that a syllable is held over has its own _.")
                .fix(token.span, "_ _", "two notes");
        return;
    }
    if (text == "-") {
        auto note = complain("The dash of a word that goes on stands right behind its syllable: Fer- ry.");
        if (cell.lyrics.empty() || cell.lyrics.back().hold) return;
        note.fix({token.span.source, cell.lyrics.back().span.end, token.span.begin}, "", "join them");
        cell.lyrics.back().hyphen = true;
        return;
    }
    LyricWord word;
    word.span = token.span;
    if (text.back() == '-') {
        word.hyphen = true;
        text.remove_suffix(1);
    }
    word.text = text;
    cell.lyrics.push_back(std::move(word));
}

void read_quoted_syllable(LineParser& line, Cell& cell, Token token) {
    LyricWord word;
    word.text = std::move(token.text);
    word.span = token.span;
    const bool dash =
        line.peek().kind == Token::Kind::word && line.peek().raw == "-" && !line.peek().blank_before;
    if (dash) {
        word.span.end = line.next().span.end;
        word.hyphen = true;
    }
    cell.lyrics.push_back(std::move(word));
}

constexpr Keyword<MarkKind> mark_words[] = {
#define RELEAD_MARK(name, phrase) {phrase, MarkKind::name},
#include "syntax/marks.def"
#undef RELEAD_MARK
};

/// What players write for a mark; offered as a repair.
constexpr Keyword<std::string_view> other_spellings[] = {
    {"DC", "D.C."},        {"D.C", "D.C."},        {"DS", "D.S."},           {"D.S", "D.S."},
    {"rit", "ritard"},     {"rit.", "ritard"},     {"ritardando", "ritard"}, {"ritenuto", "ritard"},
    {"tocoda", "to coda"}, {"sign", "segno"},      {"ped.", "pedal"},        {"end", "fine"},
    {"stop", "break"},     {"al", "D.S. al coda"},
};

void complain_of_mark(LineParser& line, const CellContext& context, const Token& token) {
    static constexpr std::string_view words[] = {"segno",   "coda",  "to coda", "fine",    "D.C.", "D.S.",
                                                 "fermata", "break", "ritard",  "a tempo", "pedal"};
    auto nearest = nearest_word(token.raw, words);
    if (const auto* other = find_keyword(other_spellings, token.raw)) nearest = other->value;
    auto note = line.sink()
                    .emit(Code::mark_unknown, token.span,
                          fmt::format("“{}” is no mark.{} Free text stands in quotes.",
                                      token.raw.substr(0, 40), did_you_mean(nearest)))
                    .at(context.place);
    if (!nearest.empty()) note.fix(token.span, std::string(nearest), fmt::format("write {}", nearest));
    note.fix(token.span, quote(token.raw), "print it as it is");
}

bool accept_mark(LineParser& line, Cell& cell) {
    const Keyword<MarkKind>* longest = nullptr;
    for (const auto& row : mark_words) {
        LineParser ahead = line;
        if (ahead.accept_phrase(row.word) && (longest == nullptr || row.word.size() > longest->word.size()))
            longest = &row;
    }
    if (longest == nullptr) return false;
    Span span = line.peek().span;
    Span end = span;
    for (auto words = longest->word;; words = words.substr(words.find(' ') + 1)) {
        end = line.next().span;
        if (words.find(' ') == std::string_view::npos) break;
    }
    span.end = end.end;
    cell.marks.push_back({longest->value, "", span});
    return true;
}

}  // namespace

bool is_chord_row(RowKind kind) {
    return kind == RowKind::changes || kind == RowKind::ossia || kind == RowKind::soloist;
}

bool at_cell_end(const LineParser& line, RowKind kind) {
    const auto token = line.peek().kind;
    if (token == Token::Kind::end || token == Token::Kind::bar) return true;
    return is_chord_row(kind) && (token == Token::Kind::open || token == Token::Kind::close);
}

void parse_lyric_cell(LineParser& line, const CellContext& context, Cell& cell) {
    if (at_cell_end(line, context.kind)) cell.empty = true;
    if (cell.empty || accept_dot(line, context, cell)) return;
    while (!at_cell_end(line, context.kind)) {
        if (full(line, context, cell, cell.lyrics.size())) break;
        auto token = line.next();
        cell.span.end = token.span.end;
        if (token.kind == Token::Kind::quoted)
            read_quoted_syllable(line, cell, std::move(token));
        else
            read_syllable(line, context, cell, token);
    }
}

void parse_mark_cell(LineParser& line, const CellContext& context, Cell& cell) {
    if (at_cell_end(line, context.kind)) cell.empty = true;
    if (cell.empty || accept_dot(line, context, cell)) return;
    while (!at_cell_end(line, context.kind)) {
        if (full(line, context, cell, cell.marks.size())) break;
        cell.span.end = line.peek().span.end;
        if (line.peek().kind == Token::Kind::quoted) {
            auto token = line.next();
            cell.marks.push_back({MarkKind::text, std::move(token.text), token.span});
        } else if (!accept_mark(line, cell)) {
            complain_of_mark(line, context, line.next());
        }
        if (!cell.marks.empty()) cell.span.end = std::max(cell.span.end, cell.marks.back().span.end);
    }
    if (cell.marks.empty()) cell.empty = true;
}

}  // namespace relead::syntax
