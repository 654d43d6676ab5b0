// compiler/syntax/transpose_tree.cpp: there and back again, and what must not move.
#include <cstdlib>
#include <string>
#include <utility>

#include "support/catch.h"
#include "support/random_tune.h"
#include "syntax/dump.h"
#include "syntax/parse_tune.h"
#include "syntax/tidy.h"
#include "syntax/transpose_tree.h"
#include "theory/chord.h"

using namespace relead;
using syntax::Spelling;

namespace {

/// Signs as b and #: on the way through a natural name (B♭ to A and back) it is lost how they were written.
std::string plain_signs(std::string text) {
    for (const auto& [sign, plain] : {std::pair<std::string_view, char>{"♭", 'b'}, {"♯", '#'}})
        for (auto at = text.find(sign); at != std::string::npos; at = text.find(sign, at))
            text.replace(at, sign.size(), 1, plain);
    return text;
}

}  // namespace

TEST_CASE("Strict transposition and its inverse give the tree back", "[property]") {
    for (unsigned seed = 1; seed <= 200; ++seed) {
        std::mt19937 random(seed);
        const auto tree = testing::random_tune(random);
        const theory::Interval by{static_cast<int>(random() % 13) - 6, static_cast<int>(random() % 3) - 1};
        const auto back = syntax::transpose(syntax::transpose(tree, by), -by);
        const auto there = syntax::transpose(tree, by);
        CHECK(syntax::dump(syntax::transpose(there, {})) == syntax::dump(there));
        if (plain_signs(syntax::dump(back)) != plain_signs(syntax::dump(tree)))
            FAIL("seed " << seed << "\n" << syntax::tidy(tree) << syntax::tidy(back));
    }
}

TEST_CASE("Practical transposition sounds the same as strict and needs no double accidentals", "[property]") {
    for (unsigned seed = 1; seed <= 200; ++seed) {
        std::mt19937 random(seed);
        const auto tree = testing::random_tune(random);
        const theory::Interval by{static_cast<int>(random() % 13) - 6, 0};
        const auto strict = syntax::transpose(tree, by),
                   easy = syntax::transpose(tree, by, Spelling::practical);
        for (std::size_t s = 0; s < strict.sections.size(); ++s)
            for (std::size_t g = 0; g < strict.sections[s].groups.size(); ++g) {
                const auto& rows = strict.sections[s].groups[g].rows;
                const auto& others = easy.sections[s].groups[g].rows;
                for (std::size_t r = 0; r < rows.size(); ++r)
                    for (std::size_t c = 0; c < rows[r].cells.size(); ++c) {
                        const auto &one = rows[r].cells[c], &other = others[r].cells[c];
                        for (std::size_t n = 0; n < one.notes.size(); ++n) {
                            CHECK(theory::midi_number(one.notes[n].pitch) ==
                                  theory::midi_number(other.notes[n].pitch));
                            CHECK(std::abs(theory::alteration(theory::name_of(other.notes[n].pitch))) < 2);
                        }
                        for (std::size_t n = 0; n < one.chords.size(); ++n) {
                            if (one.chords[n].kind != syntax::ChordWord::Kind::chord) continue;
                            const auto a = theory::parse_chord(one.chords[n].symbol).chord;
                            const auto b = theory::parse_chord(other.chords[n].symbol).chord;
                            REQUIRE((a && b));
                            CHECK(theory::pitch_class_set(*a) == theory::pitch_class_set(*b));
                        }
                    }
            }
    }
}
