#include "property/analysis/made_changes.h"

#include <vector>

#include "property/tune/made_tune.h"
#include "support/small_tunes.h"
#include "theory/note.h"

namespace relead::testing {
namespace {

using tune::testing::Dice;

constexpr const char* sounds[] = {"",     "6", "maj7", "m",    "m6",    "m7",     "m7b5",
                                  "dim7", "7", "9",    "7alt", "7sus4", "m(maj7)"};

std::string named(int fifths, const char* sound) {
    while (fifths > 6) fifths -= 12;
    while (fifths < -6) fifths += 12;
    return theory::to_string(theory::NoteName{fifths}) + sound;
}

/// A chord that has nothing to do with the others.
std::string made_accident(Dice& dice) {
    const int root = dice.between(-6, 6);
    return named(root, dice.any(sounds));
}

/// A few chords that belong together, around `tonic` on the line of fifths.
std::vector<std::string> made_cell(Dice& dice, int tonic) {
    const int goal = dice.one_in(2) ? tonic : tonic + dice.between(-1, 4);
    switch (dice.below(10)) {
        case 0:
            return {named(goal + 2, "m7"), named(goal + 1, "7"), named(goal, "maj7")};
        case 1:
            return {named(goal + 2, "m7b5"), named(goal + 1, "7b9"), named(goal, "m6")};
        case 2:
            return {named(goal + 2, "m7"), named(goal - 5, "7"), named(goal, "6")};
        case 3:
            return {named(goal - 1, "m7"), named(goal - 2, "7"), named(goal, "maj7")};
        case 4:
            return {named(goal, "maj7"), named(goal + 7, "dim7"), named(goal + 2, "m7"),
                    named(goal + 1, "7")};
        case 5:
            return {named(goal + 4, "7"), named(goal + 3, "7"), named(goal + 2, "7"), named(goal + 1, "7")};
        case 6:
            return {named(tonic, "7"), named(tonic - 1, "7"), named(tonic, "7")};
        case 7:
            return {named(tonic, "maj7"), named(tonic, "maj7")};
        case 8:
            return {named(goal - 4, "7"), named(goal - 5, "7"), named(goal, "6")};
        default:
            return {made_accident(dice)};
    }
}

}  // namespace

std::string made_changes(std::uint64_t seed, int bars) {
    Dice dice(seed);
    const int tonic = dice.between(-5, 6);
    std::vector<std::string> chords;
    std::string row;
    for (int bar = 0; bar < bars; ++bar) {
        const int count = dice.one_in(3) ? 2 : 1;
        while (static_cast<int>(chords.size()) < count) {
            const auto cell =
                seed % 4 == 3 ? std::vector<std::string>{made_accident(dice)} : made_cell(dice, tonic);
            chords.insert(chords.end(), cell.begin(), cell.end());
        }
        row += bar == 0 ? "" : " | ";
        for (int i = 0; i < count; ++i) row += (i == 0 ? "" : " ") + chords[static_cast<std::size_t>(i)];
        chords.erase(chords.begin(), chords.begin() + count);
    }
    return row;
}

tune::Tune made_changes_tune(std::uint64_t seed, int bars) {
    return read_whole("tune \"Made\"\nmeter 4/4\n\nsection A\nchanges | " + made_changes(seed, bars) +
                      " |\n");
}

}  // namespace relead::testing
