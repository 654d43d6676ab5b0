// Where a cell of a bass line may stand: a column of grammar/bass-cells.txt.
#pragma once

namespace relead::voicing {

enum class CellPlace {
    change,  ///< on a chord that begins
    same,    ///< on a chord that sounds on from the bar before
    any,
};

}  // namespace relead::voicing
