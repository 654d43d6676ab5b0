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

std::vector<std::vector<score::Harmony>> read_symbols(const std::vector<std::vector<Symbol>>& symbols,
                                                      const std::vector<KeyReading>& keys,
                                                      const Reading& reading,
                                                      const std::vector<ChangedChord>& changed) {
    std::vector<std::vector<score::Harmony>> rows(symbols.size());
    std::vector<ChordToSpell> row;
    for (std::size_t i = 0; i < symbols.size(); ++i) {
        for (const auto& symbol : symbols[i]) {
            score::Harmony harmony;
            harmony.chord = theory::transpose(symbol.chord, keys[i].to_written);
            harmony.at = symbol.at;
            harmony.pushed = symbol.pushed;
            harmony.changed = is_changed(changed, symbol.ref);
            row.push_back({harmony.chord, keys[i].key});
            rows[i].push_back(std::move(harmony));
        }
    }
    if (!reading.transposes()) return rows;
    const auto spelled = spell_chords(row);
    std::size_t next = 0;
    for (auto& harmonies : rows) {
        for (auto& harmony : harmonies) harmony.chord = spelled[next++];
    }
    return rows;
}

std::string chord_words(const theory::Chord& concert, const KeyReading& key, const Reading& reading) {
    auto chord = theory::transpose(concert, key.to_written);
    if (reading.transposes()) chord = spell_chords({{chord, key.key}}).front();
    return theory::to_string(chord, theory::SymbolStyle::unicode);
}

const score::Harmony* harmony_at(const std::vector<std::vector<score::Harmony>>& rows, std::size_t measure,
                                 Time at) {
    for (auto i = measure + 1; i-- > 0;) {
        for (auto harmony = rows[i].rbegin(); harmony != rows[i].rend(); ++harmony) {
            if (i < measure || harmony->at <= at) return &*harmony;
        }
    }
    return nullptr;
}

}  // namespace relead::arrange
