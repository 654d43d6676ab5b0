#include "voicing/bass_line.h"

#include <algorithm>
#include <cstdlib>

#include "theory/instrument.h"
#include "voicing/bass_degrees.h"
#include "voicing/cell_place.h"
#include "voicing/choose.h"
#include "voicing/tables/bass_cells.h"

namespace relead::voicing {
namespace {

/// A cell over a span at one height.
struct PlacedCell {
    int row = 0;  ///< of the table; -1 = one long note
    std::vector<BassNote> notes;
    bool leads = false;  ///< its last note asks for a half step into the next
    int cost = 0;
};

/// What leaps cost, by semitones.
int leap_cost(int semitones) {
    constexpr int costs[] = {4, 0, 0, 1, 1, 1, 5, 1, 4, 4, 7, 9, 6};
    return semitones < static_cast<int>(std::size(costs)) ? costs[semitones] : 20;
}

constexpr int missed_lead = 14;     // an approach note that does not arrive by a half step
constexpr int same_cell_again = 5;  // the ear tires
constexpr int middle = 40;          // E2: lines circle around it
constexpr int low_or_high = 3;      // semitones away from it for each unit of cost
constexpr int varieties = 3;        // a cell's charm comes and goes, so that repeats differ

bool fits(const BassSpan& span, const tables::BassCellRow& row) {
    if (row.style != span.style || span.length != span.beat * Time(row.beats)) return false;
    return row.place == CellPlace::any || (row.place == CellPlace::change) == span.begins;
}

/// The longest cell of the style that is not longer than the span; nothing when there is none.
std::optional<Time> longest_cell(const BassSpan& span) {
    std::optional<Time> longest;
    for (const auto& row : tables::bass_cell_rows) {
        const auto length = span.beat * Time(row.beats);
        if (row.style == span.style && length <= span.length && (!longest || *longest < length))
            longest = length;
    }
    return longest;
}

std::vector<BassSpan> cut_to_cells(std::span<const BassSpan> spans) {
    std::vector<BassSpan> pieces;
    for (auto span : spans) {
        while (true) {
            const auto length = longest_cell(span);
            if (!length || *length == span.length) break;
            auto piece = span;
            piece.length = *length;
            pieces.push_back(piece);
            span.at += *length;
            span.length -= *length;
            span.begins = false;
        }
        pieces.push_back(span);
    }
    return pieces;
}

class Cells {
public:
    Cells(const BassSpan& span, const BassSpan* next, std::size_t step, BassRange range)
        : span_(span), next_(next), step_(static_cast<int>(step)), range_(range) {}

    [[nodiscard]] std::vector<PlacedCell> all() {
        if (span_.chord.is_none()) return {PlacedCell{}};
        const int root = theory::pitch_class(bass_of(span_.chord));
        for (int key = root; key <= range_.high; key += 12) {
            int index = 0;
            for (const auto& row : tables::bass_cell_rows) {
                if (fits(span_, row)) place(row, index, key);
                ++index;
            }
        }
        if (!found_.empty()) return std::move(found_);
        for (int key = root; key <= range_.high; key += 12)
            if (key >= range_.low) found_.push_back(rate({-1, {{span_.at, span_.length, key}}, false, 0}));
        return std::move(found_);
    }

private:
    void place(const tables::BassCellRow& row, int index, int root) {
        PlacedCell cell{index, {}, false, row.cost};
        const auto unit = span_.length / Time(static_cast<std::int64_t>(row.notes.size()));
        Time at = span_.at;
        bool sounding = false;
        for (const auto word : row.notes) {
            const bool holds = word == "-";
            if (holds && sounding) cell.notes.back().length += unit;
            if (!holds && word != ".") {
                const auto key = pitch(word, root, cell);
                if (!key || *key < range_.low || *key > range_.high) return;
                cell.notes.push_back({at, unit, *key});
            }
            sounding = word != "." && (sounding || !holds);
            at += unit;
        }
        found_.push_back(rate(std::move(cell)));
    }

    [[nodiscard]] std::optional<int> pitch(std::string_view word, int root, PlacedCell& cell) const {
        if (word != "^" && word != "v" && word != "d") {
            const auto step = bass_step(span_.chord, span_.key, word);
            return step ? std::optional(root + *step) : std::nullopt;
        }
        if (next_ == nullptr || next_->chord.is_none() || cell.notes.empty()) return std::nullopt;
        cell.leads = word != "d";
        const int shift = word == "^" ? 11 : word == "v" ? 1 : 7;
        const int wanted = (theory::pitch_class(bass_of(next_->chord)) + shift) % 12;
        return near(cell.notes.back().key, wanted);
    }

    /// The key of that pitch class that lies nearest to another, inside the register.
    [[nodiscard]] std::optional<int> near(int key, int pitch_class) const {
        std::optional<int> best;
        for (int other = pitch_class; other <= range_.high; other += 12)
            if (other >= range_.low && other != key &&
                (!best || std::abs(other - key) < std::abs(*best - key)))
                best = other;
        return best;
    }

    [[nodiscard]] PlacedCell rate(PlacedCell cell) const {
        int sum = 0;
        for (std::size_t i = 0; i < cell.notes.size(); ++i) {
            sum += cell.notes[i].key;
            if (i > 0 && cell.notes[i].key != cell.notes[i - 1].key)
                cell.cost += leap_cost(std::abs(cell.notes[i].key - cell.notes[i - 1].key));
        }
        const int mean = cell.notes.empty() ? middle : sum / static_cast<int>(cell.notes.size());
        cell.cost += std::abs(mean - middle) / low_or_high;
        cell.cost += (step_ * 5 + cell.row * 7) % varieties;
        return cell;
    }

    const BassSpan& span_;
    const BassSpan* next_;
    int step_;
    BassRange range_;
    std::vector<PlacedCell> found_;
};

std::int64_t between(const PlacedCell& cell, const PlacedCell& next) {
    if (cell.notes.empty() || next.notes.empty()) return 0;
    const int gap = std::abs(cell.notes.back().key - next.notes.front().key);
    const int again = cell.row == next.row && cell.row >= 0 ? same_cell_again : 0;
    if (cell.leads) return (gap == 1 ? 0 : missed_lead) + again;
    return leap_cost(gap) + again;
}

}  // namespace

BassRange bass_range() {
    const auto* bass = theory::find_instrument("bass");
    const int shift = bass->written_to_sounding.semitones();
    return {bass->low_comfortable + shift, bass->high_comfortable + shift};
}

std::vector<BassNote> bass_line(std::span<const BassSpan> spans) {
    const auto range = bass_range();
    const auto pieces = cut_to_cells(spans);
    std::vector<std::vector<PlacedCell>> cells;
    std::vector<std::size_t> counts;
    for (std::size_t i = 0; i < pieces.size(); ++i) {
        const auto* next = i + 1 < pieces.size() ? &pieces[i + 1] : nullptr;
        cells.push_back(Cells(pieces[i], next, i, range).all());
        counts.push_back(cells.back().size());
    }
    const auto chosen = choose_cheapest(
        counts, {[&](std::size_t step, std::size_t one) { return std::int64_t{cells[step][one].cost}; },
                 [&](std::size_t step, std::size_t one, std::size_t next) {
                     return between(cells[step][one], cells[step + 1][next]);
                 }});
    std::vector<BassNote> line;
    for (std::size_t step = 0; step < chosen.size(); ++step) {
        const auto& notes = cells[step][chosen[step]].notes;
        line.insert(line.end(), notes.begin(), notes.end());
    }
    return line;
}

}  // namespace relead::voicing
