#include "base/fmt.h"
#include "syntax/parse_cell.h"

namespace relead::syntax {
using text::Code;

namespace {

/// Reads the words of one cell of a chord row.
class ChordCellReader {
public:
    ChordCellReader(LineParser& line, const CellContext& context, Cell& cell)
        : line_(line), context_(context), cell_(cell) {}

    void read() {
        while (!at_cell_end(line_, context_.kind)) {
            const auto token = line_.next();
            cell_.span.end = token.span.end;
            if (full()) continue;
            if (token.kind == Token::Kind::quoted)
                complain(Code::chord_unknown, token.span,
                         "A text in quotes is no chord; put it in a marks row.");
            else
                read_word(token);
        }
        if (held_push_ != Push::none) complain_of_push(push_span_);
        check_simile();
        check_empty();
    }

private:
    text::Sink::Note complain(Code code, Span span, std::string sentence) {
        return line_.sink().emit(code, span, std::move(sentence)).at(context_.place);
    }

    bool full() {
        if (static_cast<int>(cell_.chords.size()) < context_.limits->chords_in_bar) return false;
        if (!full_told_)
            complain(Code::bar_too_full, cell_.span,
                     fmt::format("A bar holds {} chords at most.", context_.limits->chords_in_bar));
        return full_told_ = true;
    }

    void read_word(const Token& token) {
        const auto raw = token.raw;
        if (raw == ".") return read_dot(token);
        if (raw == "/" || raw == "%") return add_sign(token, raw == "/");
        const bool stray_parenthesis =
            raw.front() == '(' && !cell_.chords.empty() && cell_.chords.back().kind == ChordWord::Kind::chord;
        if (stray_parenthesis) return join(token);
        ChordWord word;
        word.span = token.span;
        std::string_view rest = raw;
        read_push(word, rest);
        if (rest.empty()) {  // "< C7": the push waits for its chord
            held_push_ = word.push;
            push_span_ = token.span;
            return;
        }
        read_tail(word, rest);
        if (!word.symbol.empty()) return add(std::move(word));
        // "C7 *2", "C7 !": meant for the chord before.
        if (cell_.chords.empty() || cell_.chords.back().kind != ChordWord::Kind::chord) return;
        auto& chord = cell_.chords.back();
        if (word.beats) chord.beats = word.beats;
        chord.locked |= word.locked;
    }

    void add(ChordWord word) {
        if (held_push_ != Push::none) {
            const Span gap{push_span_.source, push_span_.end, word.span.begin};
            complain(Code::chord_sign_misplaced, push_span_,
                     "A push stands right before its chord, without a blank.")
                .fix(gap, "", "join them");
            word.push = held_push_;
            held_push_ = Push::none;
        }
        cell_.chords.push_back(std::move(word));
    }

    void complain_of_push(Span span) {
        complain(Code::chord_sign_misplaced, span, "This push has no chord after it.")
            .fix(span, "", "take it out");
    }

    void add_sign(const Token& token, bool slash) {
        ChordWord word;
        word.kind = slash ? ChordWord::Kind::slash : ChordWord::Kind::simile;
        word.span = word.symbol_span = token.span;
        word.symbol = token.raw;
        if (held_push_ != Push::none) complain_of_push(push_span_);
        held_push_ = Push::none;
        cell_.chords.push_back(std::move(word));
    }

    void read_dot(const Token& token) {
        if (cell_.chords.empty() && at_cell_end(line_, context_.kind)) {
            dot_ = true;
            cell_.empty = context_.kind != RowKind::changes;
            return;
        }
        complain(Code::chord_unknown, token.span,
                 "A dot is no beat; a further beat of the same chord is written /.")
            .fix(token.span, "/", "one more beat");
        add_sign(token, true);
        cell_.chords.back().symbol = "/";
    }

    /// "C7 (b9)": the parenthesis belongs to the chord before.
    void join(const Token& token) {
        auto& chord = cell_.chords.back();
        const Span gap{token.span.source, chord.span.end, token.span.begin};
        complain(
            Code::chord_spacing, token.span,
            fmt::format("What stands in parentheses belongs to its chord: {}{}.", chord.symbol, token.raw))
            .fix(gap, "", "join them");
        ChordWord tail;
        tail.span = token.span;
        read_tail(tail, token.raw);
        chord.symbol += tail.symbol;
        chord.symbol_span.end = tail.symbol_span.end;
        chord.span.end = token.span.end;
        if (tail.beats) chord.beats = tail.beats;
        chord.locked |= tail.locked;
    }

    void read_push(ChordWord& word, std::string_view& rest) {
        std::size_t signs = 0;
        while (signs < rest.size() && (rest[signs] == '<' || rest[signs] == '>')) ++signs;
        const auto push = rest.substr(0, signs);
        rest.remove_prefix(signs);
        if (push == "<") word.push = Push::eighth_early;
        if (push == "<<") word.push = Push::quarter_early;
        if (push == ">") word.push = Push::eighth_late;
        if (push.empty() || word.push != Push::none) return;
        complain(
            Code::chord_sign_misplaced, word.span,
            fmt::format("“{}” is no push: < comes an eighth early, << a quarter early, > an eighth late.",
                        push));
        word.push = push.front() == '<' ? Push::quarter_early : Push::eighth_late;
    }

    /// Symbol, `*beats`, `!`.
    void read_tail(ChordWord& word, std::string_view rest) {
        const auto end = word.span.end;
        const auto begin = end - static_cast<std::uint32_t>(rest.size());
        const auto span_of = [&](std::string_view part) {
            const auto at = begin + static_cast<std::uint32_t>(part.data() - rest.data());
            return Span{word.span.source, at, at + static_cast<std::uint32_t>(part.size())};
        };
        std::string_view symbol = rest;
        if (symbol.back() == '!') {
            word.locked = true;
            symbol.remove_suffix(1);
        }
        std::string_view beats;
        const auto star = symbol.find('*');
        if (star != std::string_view::npos) {
            beats = symbol.substr(star);
            symbol = symbol.substr(0, star);
        }
        const bool early_lock = !symbol.empty() && symbol.back() == '!';
        if (early_lock) {
            complain(Code::chord_sign_misplaced, word.span, "The lock ! comes last in a chord word.")
                .fix(span_of(rest), fmt::format("{}{}!", symbol.substr(0, symbol.size() - 1), beats),
                     "put ! at the end");
            symbol.remove_suffix(1);
            word.locked = true;
        }
        word.symbol = symbol;
        word.symbol_span = span_of(symbol);
        if (!beats.empty()) read_beats(word, beats, span_of(beats));
        if (symbol.empty())
            complain(Code::chord_sign_misplaced, word.span,
                     "Beats (*2) and the lock (!) stand right behind a chord, without a blank.");
        if (symbol == "/" || symbol == "%") {
            complain(Code::chord_sign_misplaced, word.span,
                     fmt::format("{} takes no push, beats or lock; they belong to chords.", symbol));
            word.kind = symbol == "/" ? ChordWord::Kind::slash : ChordWord::Kind::simile;
            word.beats.reset();
            word.locked = false;
            word.push = Push::none;
        }
    }

    void read_beats(ChordWord& word, std::string_view beats, Span span) {
        const auto text = beats.substr(1);
        word.beats_span = span;
        word.beats = parse_fraction(text);
        if (word.beats && *word.beats > Beats(0) && *word.beats <= Beats(1000)) return;
        word.beats.reset();
        auto note = complain(
            Code::beats_unreadable, span,
            fmt::format("“{}” is no number of beats; write {}*2 or {}*3/2.", text, word.symbol, word.symbol));
        const auto slash = text.find('/');
        if (slash == std::string_view::npos || slash == 0) return;
        const auto count = parse_fraction(text.substr(0, slash));
        if (!count || parse_fraction(text.substr(slash + 1))) return;
        word.beats = count;
        note.fix({span.source, word.symbol_span.begin, span.end},
                 fmt::format("{}{}*{}", word.symbol, text.substr(slash), text.substr(0, slash)),
                 "put the bass note before the beats");
        word.symbol += text.substr(slash);
    }

    void check_simile() {
        if (cell_.chords.size() < 2) return;
        for (std::size_t i = 0; i < cell_.chords.size(); ++i) {
            if (cell_.chords[i].kind != ChordWord::Kind::simile) continue;
            complain(Code::simile_not_alone, cell_.chords[i].span,
                     "% repeats the whole bar before and stands alone in its bar.")
                .fix(cell_.chords[i].span, "/", "one more beat of the chord before");
            cell_.chords[i].kind = ChordWord::Kind::slash;
            cell_.chords[i].symbol = "/";
        }
    }

    void check_empty() {
        if (!cell_.chords.empty() || cell_.empty) return;
        cell_.empty = true;
        const bool dot = dot_ && context_.kind == RowKind::changes;
        if (!dot) return;
        complain(Code::cell_empty, cell_.span,
                 "A bar of changes needs a chord; % repeats the bar before, N.C. is no chord.")
            .fix(cell_.span, "%", "repeat the bar before")
            .fix(cell_.span, "N.C.", "no chord");
    }

    LineParser& line_;
    const CellContext& context_;
    Cell& cell_;
    Push held_push_ = Push::none;
    Span push_span_;
    bool full_told_ = false;
    bool dot_ = false;  ///< the cell is a lone `.`
};

}  // namespace

void parse_chord_cell(LineParser& line, const CellContext& context, Cell& cell) {
    ChordCellReader(line, context, cell).read();
}

}  // namespace relead::syntax
