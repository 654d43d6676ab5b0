// How the composer of a tune spells chord symbols, and new chords in the same hand.
#pragma once

#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "theory/chord.h"
#include "tune/tune.h"

namespace relead::reharm {

/// What the written changes of a tune teach about its symbols: the spelling of each quality, the spelling of
/// the parts of grammar/symbol-words.txt, brackets around tensions, ♭ or b. Of two spellings the one that
/// stands more often counts, of equals the one that comes first; a key changes nothing.
class SymbolHabits {
public:
    SymbolHabits() = default;  ///< the spelling of the chord table
    explicit SymbolHabits(const tune::Tune& tune);

    /// Sets the chord's spelling, never what it is: it parses back to an equal chord.
    void dress(theory::Chord& chord) const;

private:
    [[nodiscard]] std::string suffix_for(const theory::Chord& chord, const std::string& house) const;
    [[nodiscard]] std::string in_parts(std::string house) const;
    [[nodiscard]] std::string with_signs(std::string_view suffix) const;

    std::map<std::string, std::string> known_;       ///< suffix of the chord table -> the tune's
    std::map<std::string_view, std::string> parts_;  ///< part of the table -> the tune's sign
    bool brackets_ = false;                          ///< C7(b9), not C7b9
    bool unicode_roots_ = false;
    bool unicode_degrees_ = false;
    bool plain_ = true;  ///< nothing differs from the chord table
};

/// Rows of grammar/symbol-words.txt.
struct SymbolWord {
    enum class Where { head, tail, kind };
    std::string_view part, house;
    Where where = Where::head;
    std::vector<std::string_view> signs;
    std::vector<std::string_view> kin;  ///< signs of other parts that suggest `then`
    std::string_view then;
};
[[nodiscard]] std::vector<SymbolWord> symbol_words();

}  // namespace relead::reharm
