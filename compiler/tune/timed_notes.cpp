#include "tune/timed_notes.h"

#include <algorithm>

#include "tune/note_value.h"

namespace relead::tune {
namespace {

struct OpenTuplet {
    Tuplet sign;
    Span begin;
    Time written = 0;  // sum inside, before this tuplet's own factor
    NoteValue first;
};

bool is_power_of_two(std::int64_t number) {
    return number > 0 && (number & (number - 1)) == 0;
}

/// `actual` equal notes of some plain or dotted value fill the tuplet.
bool is_filled(const OpenTuplet& tuplet) {
    const auto unit = tuplet.written / Fraction(tuplet.sign.actual);
    return (unit.numerator() == 1 || unit.numerator() == 3) && is_power_of_two(unit.denominator());
}

class Clock {
public:
    explicit Clock(NoteValue running) { cell_.running = running; }

    void add(const syntax::NoteWord& word) {
        if (word.duration) cell_.running = {word.duration->denominator, word.duration->dots};
        for (const auto& sign : word.tuplets_begin)
            open_.push_back({{sign.actual, sign.normal, true, false}, sign.span, 0, cell_.running});
        TimedNote note;
        note.word = &word;
        note.value = cell_.running;
        note.at = cell_.total;
        note.length = time_of(note.value);
        if (!open_.empty()) note.tuplet = open_.back().sign;
        if (open_.size() > 1) note.outer_tuplet = open_[open_.size() - 2].sign;
        for (auto tuplet = open_.rbegin(); tuplet != open_.rend(); ++tuplet) {
            tuplet->written += note.length;
            note.length = note.length * Fraction(tuplet->sign.normal, tuplet->sign.actual);
            tuplet->sign.begins = false;
        }
        cell_.total += note.length;
        cell_.notes.push_back(note);
        for (int i = 0; i < word.tuplets_end && !open_.empty(); ++i) close(word, i);
    }

    TimedCell take() { return std::move(cell_); }

private:
    void close(const syntax::NoteWord& word, int nth) {
        const auto& tuplet = open_.back();
        auto& last = cell_.notes.back();
        auto& mine = nth == 0 ? last.tuplet : last.outer_tuplet;
        if (mine) mine->ends = true;
        if (!is_filled(tuplet))
            cell_.unfilled.push_back({{tuplet.begin.source, tuplet.begin.begin, word.span.end},
                                      tuplet.sign.actual,
                                      tuplet.sign.normal,
                                      tuplet.first,
                                      tuplet.written / time_of(tuplet.first)});
        open_.pop_back();
    }

    TimedCell cell_;
    std::vector<OpenTuplet> open_;
};

}  // namespace

TimedCell time_notes(const syntax::Cell& cell, NoteValue running) {
    Clock clock(running);
    for (const auto& word : cell.notes) clock.add(word);
    return clock.take();
}

}  // namespace relead::tune
