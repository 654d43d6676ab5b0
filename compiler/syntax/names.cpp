#include "syntax/tune_tree.h"

namespace relead::syntax {

const char* row_word(RowKind kind) {
    static constexpr const char* words[] = {
#define RELEAD_ROW(name, word, mode) word,
#include "syntax/rows.def"
#undef RELEAD_ROW
    };
    return words[static_cast<int>(kind)];
}

const char* mark_phrase(MarkKind kind) {
    static constexpr const char* phrases[] = {
#define RELEAD_MARK(name, phrase) phrase,
#include "syntax/marks.def"
#undef RELEAD_MARK
        "",
    };
    return phrases[static_cast<int>(kind)];
}

}  // namespace relead::syntax
