// relead-theory-dump: the chord table on every root, one line a chord, for checks in other languages.
//
//     ROOT <tab> QUALITY <tab> SPELLINGS, separated by spaces <tab> TONES, separated by spaces
#include <iostream>
#include <string_view>

#include "theory/chord_table.h"

using namespace relead::theory;

int main() {
    for (const char letter : std::string_view("CDEFGAB")) {
        for (int alteration = -1; alteration <= 1; ++alteration) {
            for (std::uint16_t i = 1; i < quality_count(); ++i) {
                const auto row = quality_row({i});
                Chord chord;
                chord.root = note_from(letter, alteration);
                chord.quality = {i};
                std::cout << to_string(chord.root) << '\t' << row.name << '\t' << row.name;
                for (const auto spelling : row.spellings) std::cout << ' ' << spelling;
                std::cout << '\t';
                const char* separator = "";
                for (const NoteName name : tones(chord)) {
                    std::cout << separator << to_string(name);
                    separator = " ";
                }
                std::cout << '\n';
            }
        }
    }
    return 0;
}
