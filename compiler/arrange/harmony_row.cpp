#include "arrange/harmony_row.h"

#include <algorithm>

#include "arrange/chord_spelling.h"

namespace relead::arrange {

namespace {

bool is_changed(const std::vector<ChangedChord>& changed, const tune::ChordRef& ref) {
    return std::any_of(changed.begin(), changed.end(),
                       [&](const ChangedChord& one) { return one.ref == ref; });
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
