#include "base/fmt.h"
#include "syntax/keywords.h"
#include "syntax/note_word.h"
#include "syntax/parse_cell.h"

namespace relead::syntax {
using text::Code;

namespace {

constexpr int most_tuplet_notes = 64;

/// `[3:2`: nothing when it is not written so.
std::optional<TupletSign> read_tuplet(const Token& token) {
    const auto text = token.raw.substr(1);
    const auto colon = text.find(':');
    if (colon == std::string_view::npos) return std::nullopt;
    const auto actual = parse_number(text.substr(0, colon)), normal = parse_number(text.substr(colon + 1));
    const bool usable = actual && normal && *actual >= 2 && *actual <= most_tuplet_notes && *normal >= 1 &&
                        *normal <= most_tuplet_notes && *actual != *normal;
    return usable ? std::optional<TupletSign>(TupletSign{*actual, *normal, token.span}) : std::nullopt;
}

/// Reads the notes of one cell.
class NoteCellReader {
public:
    NoteCellReader(LineParser& line, const CellContext& context, Cell& cell)
        : line_(line), context_(context), cell_(cell), hits_(context.kind == RowKind::hits) {}

    void read() {
        while (!at_cell_end(line_, context_.kind)) {
            if (line_.peek().kind == Token::Kind::open && !begins_tuplet(line_, *context_.ending_signs))
                return end_at_ending();
            if (line_.peek().kind == Token::Kind::close && open_.empty() && *context_.ending_signs) break;
            const auto token = line_.next();
            cell_.span.end = token.span.end;
            if (!full()) read_token(token);
        }
        finish();
    }

private:
    struct OpenTuplet {
        TupletSign sign;
        std::size_t first_note;
    };

    text::Sink::Note complain(Code code, Span span, std::string sentence) {
        return line_.sink().emit(code, span, std::move(sentence)).at(context_.place);
    }

    bool full() {
        if (static_cast<int>(cell_.notes.size()) < context_.limits->notes_in_bar) return false;
        if (!full_told_)
            complain(Code::bar_too_full, cell_.span,
                     fmt::format("A bar holds {} notes at most.", context_.limits->notes_in_bar));
        return full_told_ = true;
    }

    void end_at_ending() {
        *context_.ending_signs = true;
        finish();
    }

    void read_token(const Token& token) {
        switch (token.kind) {
            case Token::Kind::word:
                return read_word(token);
            case Token::Kind::open:
                return begin_tuplet(token);
            case Token::Kind::close:
                return end_tuplet(token);
            case Token::Kind::slur_begin:
                return begin_slur(token);
            case Token::Kind::slur_end:
                return end_slur(token);
            case Token::Kind::grace:
                return read_grace(token);
            default:
                complain(Code::note_unreadable, token.span,
                         fmt::format("A text in quotes is no note; it belongs in a lyrics or marks row."));
        }
    }

    void read_word(const Token& token) {
        if (token.raw == "." && cell_.notes.empty() && !has_pending() && at_cell_end(line_, context_.kind)) {
            cell_.empty = true;
            return;
        }
        if (auto duration = read_duration(token.raw)) {
            if (next_.duration) complain_of_duration();
            next_.duration = DurationWord{duration->denominator, duration->dots, token.span};
            return;
        }
        if (token.raw == "~") return stray_tie(token);
        auto note = read_note(token.raw, hits_);
        if (!note) {
            complain_of_note(line_.sink(), token.raw, token.span, context_, last_octave_);
            note = NoteWord{};
            note->kind = hits_ ? NoteWord::Kind::rest : NoteWord::Kind::unknown;
        }
        add(std::move(*note), token.span);
    }

    void add(NoteWord note, Span span) {
        note.span = span;
        note.duration = next_.duration;
        note.tuplets_begin = std::move(next_.tuplets_begin);
        note.slurs_begin = next_.slurs_begin;
        note.grace = std::move(next_.grace);
        if (note.kind == NoteWord::Kind::pitch) last_octave_ = theory::octave_of(note.pitch);
        if (note.tied && (note.kind == NoteWord::Kind::rest || note.kind == NoteWord::Kind::unknown)) {
            complain(Code::tie_misplaced, span, "Only a note can be tied.")
                .fix({span.source, span.end - 1, span.end}, "", "take the tie out");
            note.tied = false;
        }
        next_ = {};
        cell_.notes.push_back(std::move(note));
    }

    void stray_tie(const Token& token) {
        auto problem = complain(Code::tie_misplaced, token.span, "A tie stands right behind its note: C5~.");
        const bool joins = !cell_.notes.empty() && !has_pending() &&
                           cell_.notes.back().span.end < token.span.begin &&
                           cell_.notes.back().kind != NoteWord::Kind::rest;
        if (!joins) return;
        auto& note = cell_.notes.back();
        note.tied = true;
        if (note.slurs_end == 0 && note.tuplets_end == 0)
            problem.fix({token.span.source, note.span.end, token.span.begin}, "", "join them");
    }

    void begin_tuplet(const Token& token) {
        auto sign = read_tuplet(token);
        if (!sign) {
            sign = TupletSign{3, 2, token.span};
            const auto count = parse_number(token.raw.substr(1));
            auto note = complain(
                Code::tuplet_unreadable, token.span,
                fmt::format("“{}” begins no tuplet; three notes in the time of two are written [3:2 C5 "
                            "D5 E5].",
                            token.raw));
            if (count == 3 || !count) note.fix(token.span, "[3:2", "three in the time of two");
            if (count && *count >= 5 && *count <= 7) {
                note.fix(token.span, fmt::format("[{}:4", *count),
                         fmt::format("{} in the time of four", *count));
                sign = TupletSign{*count, 4, token.span};
            }
        }
        if (static_cast<int>(open_.size()) >= context_.limits->tuplet_depth)
            complain(Code::nested_too_deep, token.span,
                     fmt::format("Tuplets stand inside each other {} deep at most.",
                                 context_.limits->tuplet_depth));
        next_.tuplets_begin.push_back(*sign);
        open_.push_back({*sign, cell_.notes.size()});
    }

    void end_tuplet(const Token& token) {
        if (next_.duration) complain_of_duration();
        if (open_.empty()) {
            complain(Code::tuplet_misplaced, token.span, "This ] closes a tuplet, but none is open here.")
                .fix(token.span, "", "take the ] out");
            return;
        }
        if (open_.back().first_note == cell_.notes.size()) {
            complain(Code::tuplet_misplaced,
                     {token.span.source, open_.back().sign.span.begin, token.span.end},
                     "This tuplet has no notes.");
            if (!next_.tuplets_begin.empty()) next_.tuplets_begin.pop_back();
        } else {
            ++cell_.notes.back().tuplets_end;
        }
        open_.pop_back();
    }

    void begin_slur(const Token& token) {
        if (hits_)
            complain(Code::slur_misplaced, token.span, "Hits take no slurs.")
                .fix(token.span, "", "take it out");
        else
            ++next_.slurs_begin;
        slur_span_ = token.span;
    }

    void end_slur(const Token& token) {
        if (next_.duration) complain_of_duration();
        if (hits_ || cell_.notes.empty())
            complain(Code::slur_misplaced, token.span,
                     hits_ ? "Hits take no slurs." : "A slur ends right behind a note of its own bar: C5).")
                .fix(token.span, "", "take it out");
        else
            ++cell_.notes.back().slurs_end;
    }

    void read_grace(const Token& token) {
        grace_span_ = token.span;
        const bool closed = token.raw.back() == '}';
        if (hits_) {
            complain(Code::grace_unreadable, token.span, "Hits take no grace notes.")
                .fix(token.span, "", "take them out");
            return;
        }
        if (!closed) complain(Code::grace_unreadable, token.span, "These grace notes have no closing }.");
        const auto inside = token.raw.substr(1, token.raw.size() - (closed ? 2 : 1));
        Cursor cursor(inside, token.span.source, token.span.begin + 1);
        for (cursor.skip_blanks(); !cursor.at_end(); cursor.skip_blanks()) {
            const auto word = cursor.word();
            const auto note = read_note(word.text, false);
            if (note && note->kind == NoteWord::Kind::pitch && !note->tied)
                next_.grace.push_back({note->pitch, word.span});
            else
                complain(Code::grace_unreadable, word.span.end > word.span.begin ? word.span : token.span,
                         fmt::format("“{}” is no grace note; they are pitches without durations: {{D5}}.",
                                     word.text));
            if (word.text.empty()) break;
        }
        if (trimmed(inside).empty())
            complain(Code::grace_unreadable, token.span, "These braces hold no grace notes.");
    }

    [[nodiscard]] bool has_pending() const {
        return next_.duration || next_.slurs_begin > 0 || !next_.tuplets_begin.empty() ||
               !next_.grace.empty();
    }

    void complain_of_duration() {
        complain(Code::duration_without_note, next_.duration->span,
                 "This duration has no note after it; durations stand before the notes they are for.");
        next_.duration.reset();
    }

    void finish() {
        if (next_.duration) complain_of_duration();
        if (next_.slurs_begin > 0)
            complain(Code::slur_misplaced, slur_span_,
                     "This slur begins at no note; it stands before its first note: (C5.");
        if (!next_.grace.empty())
            complain(Code::grace_unreadable, grace_span_, "These grace notes lead to no note in their bar.");
        for (; !open_.empty(); open_.pop_back()) {
            const Span end{cell_.span.source, cell_.span.end, cell_.span.end};
            complain(Code::tuplet_unclosed, open_.back().sign.span, "This tuplet is not closed in its bar.")
                .fix(end, "]", "close it at the end of the bar");
            if (open_.back().first_note < cell_.notes.size()) ++cell_.notes.back().tuplets_end;
        }
        if (cell_.empty || !cell_.notes.empty()) return;
        cell_.empty = true;
    }

    LineParser& line_;
    const CellContext& context_;
    Cell& cell_;
    bool hits_;
    NoteWord next_;  ///< signs that wait for their note
    std::vector<OpenTuplet> open_;
    Span slur_span_, grace_span_;
    int last_octave_ = 4;
    bool full_told_ = false;
};

}  // namespace

bool begins_tuplet(const LineParser& line, bool ending_signs) {
    constexpr std::size_t reach = 200;
    const auto raw = line.peek().raw;
    if (raw.find(':') != std::string_view::npos) return true;
    if (ending_signs || raw == "[1" || same_word(raw, "[last") || raw.find(',') != std::string_view::npos)
        return false;
    const auto rest = line.lexer().cursor().rest().substr(0, reach);
    const auto close = rest.find_first_of("]|");
    return close != std::string_view::npos && rest[close] == ']';
}

void parse_note_cell(LineParser& line, const CellContext& context, Cell& cell) {
    NoteCellReader(line, context, cell).read();
}

}  // namespace relead::syntax
