#include "arrange/harmony_row.h"

#include <algorithm>

#include "arrange/chord_spelling.h"

namespace relead::arrange {

namespace {

bool is_changed(const std::vector<ChangedChord>& changed, const tune::ChordRef& ref) {
    return std::any_of(changed.begin(), changed.end(),
                       [&](const ChangedChord& one) { return one.ref == ref; });
}

/// The last symbol that stands in a measure or before it.
const ReadSymbol* last_symbol(const SymbolRows& rows, std::size_t measure) {
    for (auto i = measure + 1; i-- > 0;) {
        if (!rows[i].empty()) return &rows[i].back();
    }
    return nullptr;
}

}  // namespace

SymbolRows read_symbols(const std::vector<std::vector<Symbol>>& symbols, const std::vector<KeyReading>& keys,
                        const Reading& reading, const std::vector<ChangedChord>& changed) {
    SymbolRows rows(symbols.size());
    std::vector<ChordToSpell> row;
    for (std::size_t i = 0; i < symbols.size(); ++i) {
        for (const auto& symbol : symbols[i]) {
            ReadSymbol read;
            read.harmony.chord = theory::transpose(symbol.chord, keys[i].to_written);
            read.harmony.at = symbol.at;
            read.harmony.pushed = symbol.pushed;
            read.harmony.changed = is_changed(changed, symbol.ref);
            row.push_back({read.harmony.chord, keys[i].key});
            rows[i].push_back(std::move(read));
        }
    }
    if (!reading.transposes()) return rows;
    auto spelled = spell_chords(row);
    std::size_t next = 0;
    for (auto& symbols_of_measure : rows) {
        for (auto& read : symbols_of_measure) {
            read.shift = spelled[next].root - read.harmony.chord.root;
            read.harmony.chord = std::move(spelled[next++]);
        }
    }
    return rows;
}

std::vector<theory::Chord> read_row(const std::vector<tune::ChordEvent>& row, std::size_t measure,
                                    const SymbolRows& rows, const std::vector<KeyReading>& keys,
                                    const Reading& reading) {
    std::vector<theory::Chord> chords;
    for (const auto& event : row) chords.push_back(theory::transpose(event.chord, keys[measure].to_written));
    if (!reading.transposes()) return chords;
    std::vector<ChordToSpell> spelled;
    const auto* before = measure > 0 ? last_symbol(rows, measure - 1) : nullptr;
    if (before != nullptr) spelled.push_back({before->harmony.chord, keys[measure].key});
    for (const auto& chord : chords) spelled.push_back({chord, keys[measure].key});
    for (auto next = measure + 1; next < rows.size(); ++next) {
        if (rows[next].empty()) continue;
        spelled.push_back({rows[next].front().harmony.chord, keys[next].key});
        break;
    }
    const auto names = spell_chords(spelled);
    const std::ptrdiff_t first = before != nullptr ? 1 : 0;
    return {names.begin() + first, names.begin() + first + static_cast<std::ptrdiff_t>(chords.size())};
}

std::string chord_words(const theory::Chord& concert, const KeyReading& key, const Reading& reading) {
    auto chord = theory::transpose(concert, key.to_written);
    if (reading.transposes()) chord = spell_chords({{chord, key.key}}).front();
    return theory::to_string(chord, theory::SymbolStyle::unicode);
}

const ReadSymbol* symbol_at(const SymbolRows& rows, std::size_t measure, Time at) {
    for (auto i = measure + 1; i-- > 0;) {
        for (auto read = rows[i].rbegin(); read != rows[i].rend(); ++read) {
            if (i < measure || read->harmony.at <= at) return &*read;
        }
    }
    return nullptr;
}

}  // namespace relead::arrange
