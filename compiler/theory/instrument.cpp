#include "theory/instrument.h"

#include <algorithm>
#include <array>
#include <iterator>
#include <vector>

#include "theory/tables/instruments.h"

namespace relead::theory {

namespace {

// Solves steps = 4 fifths + 7 octaves, semitones = 7 fifths + 12 octaves.
constexpr Interval interval_from(int steps, int semitones) {
    return {7 * semitones - 12 * steps, 7 * steps - 4 * semitones};
}

constexpr auto make_instruments() {
    std::array<Instrument, std::size(tables::instrument_rows)> out{};
    for (std::size_t i = 0; i < out.size(); ++i) {
        const auto& row = tables::instrument_rows[i];
        out[i] = {row.id,
                  row.name,
                  row.abbreviation,
                  row.clef,
                  interval_from(row.steps, row.semitones) + Interval{0, row.octaves},
                  row.low,
                  row.high,
                  row.low_comfortable,
                  row.high_comfortable,
                  row.sound,
                  row.program};
    }
    return out;
}

constexpr auto all_instruments = make_instruments();

// "Alto Sax", "alto_sax" and "alto-sax" are one word.
std::string folded(std::string_view word) {
    std::string out;
    for (const char c : word) {
        if (c == ' ' || c == '_' || c == '-') {
            if (!out.empty() && out.back() != '-') out += '-';
        } else if (c != '.') {
            out += c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
        }
    }
    while (!out.empty() && out.back() == '-') out.pop_back();
    return out;
}

std::size_t edit_distance(std::string_view a, std::string_view b) {
    std::vector<std::size_t> row(b.size() + 1);
    for (std::size_t k = 0; k <= b.size(); ++k) row[k] = k;
    for (std::size_t i = 1; i <= a.size(); ++i) {
        std::size_t diagonal = row[0]++;
        for (std::size_t k = 1; k <= b.size(); ++k) {
            const std::size_t swapped = diagonal + (a[i - 1] == b[k - 1] ? 0 : 1);
            diagonal = row[k];
            row[k] = std::min({swapped, row[k] + 1, row[k - 1] + 1});
        }
    }
    return row[b.size()];
}

}  // namespace

std::span<const Instrument> instruments() {
    return all_instruments;
}

const Instrument* find_instrument(std::string_view word) {
    const std::string wanted = folded(word);
    for (const auto& entry : tables::instrument_by_name)
        if (entry.text == wanted) return &all_instruments[entry.row];
    for (const auto& instrument : all_instruments)
        if (folded(instrument.name) == wanted || folded(instrument.abbreviation) == wanted)
            return &instrument;
    return nullptr;
}

std::string_view nearest_instrument(std::string_view word) {
    const std::string wanted = folded(word);
    const auto* best = std::begin(tables::instrument_by_name);
    for (const auto& entry : tables::instrument_by_name)
        if (edit_distance(wanted, entry.text) < edit_distance(wanted, best->text)) best = &entry;
    if (edit_distance(wanted, best->text) >= (wanted.size() + 1) / 2) return {};
    return all_instruments[best->row].id;
}

PartKey part_key(const Key& concert, const Instrument& instrument) {
    PartKey out{transpose(concert, -instrument.written_to_sounding), instrument.written_to_sounding};
    if (instrument.written_to_sounding.fifths == 0) return out;  // reads the concert key as it stands
    constexpr Interval diminished_second{-12, 7};
    while (signature(out.written) > 6) {
        out.written = transpose(out.written, diminished_second);
        out.written_to_sounding = out.written_to_sounding - diminished_second;
    }
    while (signature(out.written) < -6) {
        out.written = transpose(out.written, -diminished_second);
        out.written_to_sounding = out.written_to_sounding + diminished_second;
    }
    return out;
}

}  // namespace relead::theory
