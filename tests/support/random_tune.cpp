#include "support/random_tune.h"

#include <iterator>

#include "syntax/plan_ranges.h"

namespace relead::testing {
namespace {

using namespace relead::syntax;

/// Makes the parts of a tree from one generator.
class Maker {
public:
    explicit Maker(std::mt19937& random) : random_(random) {}

    TuneTree tune() {
        TuneTree tree;
        tree.top = comments();
        tree.header = header();
        for (int i = number(1, 4); i > 0; --i)
            tree.sections.push_back(section(static_cast<int>(tree.sections.size())));
        for (int i = number(0, 2); i > 0; --i) tree.plans.push_back(plan());
        if (chance(4)) tree.bottom = {{"the end", {}, false}};
        return tree;
    }

private:
    int number(int low, int high) {
        return low + static_cast<int>(random_() % static_cast<unsigned>(high - low + 1));
    }
    Fraction fraction(int most_above, int most_below) {
        const int above = number(1, most_above);
        return Fraction(above, number(1, most_below));
    }
    bool chance(int in) { return random_() % static_cast<unsigned>(in) == 0; }
    template <class List>
    auto one_of(const List& list) {
        return list[static_cast<std::size_t>(number(0, static_cast<int>(std::size(list)) - 1))];
    }

    std::string text() {
        static const char* const texts[] = {
            "Ferry at First Light", "", "a \"b\" \\ c", "שלום", "日本 -- x", "e\xCC\x81te\xCC\x81", "| : [1"};
        return one_of(texts);
    }
    std::vector<Comment> comments() {
        std::vector<Comment> list;
        for (int i = number(-3, 2); i > 0; --i)
            list.push_back({one_of(std::vector<std::string>{"why", "", "-- \"x", "♭5"}), {}, chance(3)});
        return list;
    }
    Trivia trivia() {
        Trivia result;
        result.before = comments();
        if (chance(6)) result.after = Comment{"behind", {}, false};
        return result;
    }
    std::optional<TextLine> text_line() {
        if (chance(3)) return std::nullopt;
        TextLine line;
        line.text.text = text();
        line.trivia = trivia();
        return line;
    }
    Words section_name() {
        return {one_of(std::vector<std::string>{"A", "B", "melody", "Außen", "1", "x-y"}), {}};
    }

    KeyLine key() {
        KeyLine line;
        static const char* const tonics[] = {"C", "F", "Bb", "Eb", "G", "D", "A"};
        static constexpr theory::Mode modes[] = {theory::Mode::major, theory::Mode::minor,
                                                 theory::Mode::blues, theory::Mode::dorian,
                                                 theory::Mode::mixolydian};
        if (!chance(6)) line.key = theory::Key{*theory::parse_note_name(one_of(tonics)), one_of(modes)};
        line.trivia = trivia();
        return line;
    }
    MeterLine meter() {
        MeterLine line;
        line.beats = number(1, 12);
        line.unit = 1 << number(1, 4);
        if (line.beats == 7) line.groups = {2, 2, 3};
        line.trivia = trivia();
        return line;
    }
    TempoLine tempo() {
        TempoLine line;
        line.beats_per_minute = number(40, 320);
        line.feel = one_of(std::vector<std::string>{"", "swing", "bossa", "ballad"});
        line.words = text();
        line.trivia = trivia();
        return line;
    }
    Address address() {
        Address result;
        result.section = section_name();
        result.first_bar = result.last_bar = number(1, 32);
        if (chance(3))
            result.last_bar += number(1, 8);
        else if (chance(2))
            result.beat = Beats(number(2, 9), 2);
        return result;
    }
    RunningItem running_item() {
        RunningItem item;
        item.name.text = one_of(std::vector<std::string>{"Head", "Solos", "open", "Shout chorus",
                                                         "Last call, please", "3", "solo on cue"});
        if (chance(2)) item.times = number(1, 5);
        item.open = chance(3);
        item.on_cue = chance(4);
        item.each_soloist = chance(3);
        if (chance(4)) item.soloist = Words{text(), {}};
        item.written_changes = chance(3);
        if (chance(4)) item.plan = Words{"mild", {}};
        item.last = chance(3);
        if (chance(4)) item.vamp = section_name();
        if (chance(4)) {
            item.tag = address();
            item.tag_times = number(1, 4);
        }
        return item;
    }
    Header header() {
        Header head;
        head.tune = TextLine{{text(), {}}, {}, {}};
        if (chance(2)) head.tune->trivia.after = Comment{"title", {}, false};
        head.by = text_line();
        head.words = text_line();
        head.rights = text_line();
        head.note = text_line();
        if (!chance(3)) head.key = key();
        if (!chance(3)) head.meter = meter();
        if (!chance(3)) head.tempo = tempo();
        if (!chance(3)) head.form = FormLine{{section_name(), section_name()}, {}, trivia()};
        if (chance(2)) {
            head.running = RunningLine{{}, {}, trivia()};
            for (int i = number(1, 3); i > 0; --i) head.running->items.push_back(running_item());
        }
        return head;
    }

    ChordWord chord() {
        static const char* const symbols[] = {"Cmaj7", "F7",    "B♭△7", "Bb5",   "C#9", "C7(b9, #11)", "D/F#",
                                              "Gm7b5", "C7{D}", "N.C.", "Eb6/9", "A-7", "Am(maj7)"};
        ChordWord word;
        word.symbol = one_of(symbols);
        word.push = static_cast<Push>(number(0, 3));
        if (chance(3)) word.beats = fraction(6, 2);
        word.locked = chance(5);
        return word;
    }
    void fill_chords(Cell& cell, bool may_be_empty) {
        if (may_be_empty && chance(2)) {
            cell.empty = true;
            return;
        }
        ChordWord sign;
        if (chance(6)) {
            sign.kind = ChordWord::Kind::simile;
            sign.symbol = "%";
            cell.chords.push_back(sign);
            return;
        }
        sign.kind = ChordWord::Kind::slash;
        sign.symbol = "/";
        for (int i = number(1, 4); i > 0; --i) cell.chords.push_back(chance(4) && i > 1 ? sign : chord());
    }

    theory::Pitch pitch() {
        const theory::NoteName name{number(-6, 8)};
        return theory::pitch_from(name, number(2, 6));
    }
    NoteWord note(RowKind kind) {
        NoteWord word;
        if (kind == RowKind::hits) {
            word.kind = one_of(std::vector<NoteWord::Kind>{NoteWord::Kind::rest, NoteWord::Kind::brief,
                                                           NoteWord::Kind::held});
        } else if (!chance(4)) {
            word.pitch = pitch();
            if (chance(6)) word.grace = {{pitch(), {}}, {pitch(), {}}};
        } else {
            word.kind = chance(2) ? NoteWord::Kind::rest : NoteWord::Kind::unknown;
        }
        const bool silent = word.kind == NoteWord::Kind::rest || word.kind == NoteWord::Kind::unknown;
        word.tied = !silent && chance(4);
        if (chance(2)) word.duration = DurationWord{1 << number(0, 5), number(0, 3), {}};
        return word;
    }
    void fill_notes(Cell& cell, RowKind kind) {
        if (chance(4)) {
            cell.empty = true;
            return;
        }
        for (int i = number(1, 6); i > 0; --i) cell.notes.push_back(note(kind));
        auto& first = cell.notes.front();
        auto& last = cell.notes.back();
        if (chance(3)) {
            first.tuplets_begin.push_back({number(2, 5), number(6, 8), {}});
            if (chance(3)) {
                first.tuplets_begin.push_back({3, 2, {}});
                ++first.tuplets_end;
            }
            ++last.tuplets_end;
        }
        if (chance(3) && kind != RowKind::hits) {
            ++first.slurs_begin;
            ++last.slurs_end;
        }
    }
    void fill_words(Cell& cell, RowKind kind) {
        cell.empty = chance(3);
        if (cell.empty) return;
        static const char* const syllables[] = {"Fer", "it's", "to the", ".", "_",     "-",
                                                "a-",  "“so”", "x|y",    "",  "don\"t"};
        for (int i = number(1, 4); i > 0; --i) {
            if (kind == RowKind::marks) {
                const auto mark = static_cast<MarkKind>(number(0, static_cast<int>(MarkKind::text)));
                cell.marks.push_back({mark, mark == MarkKind::text ? text() : "", {}});
            } else {
                const bool hold = chance(4);
                cell.lyrics.push_back({hold ? "" : one_of(syllables), hold, !hold && chance(3), {}});
            }
        }
    }
    Cell cell(RowKind kind) {
        Cell result;
        switch (kind) {
            case RowKind::changes:
            case RowKind::ossia:
            case RowKind::soloist:
                fill_chords(result, kind != RowKind::changes);
                break;
            case RowKind::lyrics:
            case RowKind::marks:
                fill_words(result, kind);
                break;
            default:
                fill_notes(result, kind);
        }
        return result;
    }

    /// Repeats and endings over a row; an ending may stay open for the next row.
    void add_signs(std::vector<Cell>& cells, bool& open, bool last_row) {
        for (std::size_t i = 0; i < cells.size(); ++i) {
            auto& signs = cells[i].signs;
            signs.repeat_begins = chance(6);
            if (chance(6)) signs.repeat_ends = number(2, 4);
            signs.double_bar_after = chance(6);
            if (!open && chance(4)) {
                signs.ending_begins = chance(3) ? std::vector<int>{0} : std::vector<int>{number(1, 2), 3, 5};
                open = true;
            }
            const bool must_close = last_row && i + 1 == cells.size();
            if (open && (must_close || chance(2))) {
                signs.ending_ends = true;
                open = false;
            }
        }
    }
    RowGroup group(int first_bar, bool first, bool last, bool& open) {
        RowGroup result;
        result.first_bar = first_bar;
        result.gap_before = chance(4);
        if (chance(5)) result.key = key();
        if (chance(5)) result.meter = meter();
        if (chance(5)) result.tempo = tempo();
        const auto bars = static_cast<std::size_t>(number(1, 5));
        static constexpr RowKind kinds[] = {
            RowKind::changes, RowKind::ossia,  RowKind::soloist, RowKind::melody, RowKind::long_notes,
            RowKind::lyrics,  RowKind::lyrics, RowKind::bass,    RowKind::hits,   RowKind::marks};
        for (const auto kind : kinds) {
            if (kind != RowKind::changes && chance(2)) continue;
            Row row;
            row.kind = kind;
            row.trivia = trivia();
            while (row.cells.size() < bars) row.cells.push_back(cell(kind));
            if (kind == RowKind::changes) add_signs(row.cells, open, last);
            if (first && chance(3)) {
                auto pickup = cell(kind);
                if (!pickup.empty) row.pickup = std::move(pickup);
            }
            result.rows.push_back(std::move(row));
        }
        return result;
    }
    Section section(int index) {
        Section result;
        result.name.text = std::string(1, static_cast<char>('A' + index));
        if (chance(3)) result.title = Words{text(), {}};
        result.trivia = trivia();
        bool open = false;
        int bar = 1;
        for (int left = number(0, 3); left > 0; --left) {
            result.groups.push_back(group(bar, bar == 1, left == 1, open));
            bar += static_cast<int>(result.groups.back().rows.front().cells.size());
        }
        return result;
    }

    PlanLine plan_line(PlanLine::Kind kind) {
        using Kind = PlanLine::Kind;
        PlanLine line;
        line.kind = kind;
        line.trivia = trivia();
        const bool rules = kind == Kind::use || kind == Kind::avoid || kind == Kind::take ||
                           (kind == Kind::never && chance(2));
        if (rules) line.rules = {{"related-ii", {}}};
        if (kind == Kind::use) line.rules.push_back({"tritone", {}});
        if (kind == Kind::hold || kind == Kind::take || kind == Kind::never) line.places = {address()};
        if (kind == Kind::hold) line.places.push_back(address());
        if (kind == Kind::at_most || kind == Kind::outside || kind == Kind::around || kind == Kind::depth)
            line.number = number(1, kind == Kind::depth ? depth_range.most : level_range.most);
        if (kind == Kind::at_most) line.each_section = chance(2);
        if (kind == Kind::melody) line.melody_warns = chance(2);
        if (kind == Kind::shortest) line.seconds = fraction(9, 8);
        return line;
    }
    Plan plan() {
        Plan result;
        result.name.text = one_of(std::vector<std::string>{"mild", "open water", "a \"b\""});
        result.who = chance(2) ? PlanWho::band : PlanWho::soloist;
        result.where = static_cast<PlanWhere>(number(0, 2));
        result.trivia = trivia();
        for (int kind = 0; kind <= static_cast<int>(PlanLine::Kind::shortest); ++kind)
            if (chance(2)) result.lines.push_back(plan_line(static_cast<PlanLine::Kind>(kind)));
        return result;
    }

    std::mt19937& random_;
};

}  // namespace

syntax::TuneTree random_tune(std::mt19937& random) {
    return Maker(random).tune();
}

}  // namespace relead::testing
