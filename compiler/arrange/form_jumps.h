// D.C. and D.S. al Fine or al Coda in place of music written out again.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "arrange/form_units.h"
#include "arrange/sheet_form.h"

namespace relead::arrange {

struct FormJump {
    std::size_t segno = 0;    ///< bar of the sheet that the jump leads to
    std::size_t leave = 0;    ///< bar after which Fine or To Coda stands
    std::size_t matched = 0;  ///< played bars that need not be written again
};

/// The jump that replaces most of `rest` (played bars that come next) by bars already on the sheet.
/// `sheet` holds what is written so far; the jump stands at its end.
[[nodiscard]] std::optional<FormJump> find_jump(const std::vector<SheetBar>& sheet,
                                                const std::vector<FormBar>& rest);

/// Puts segno, jump and Fine or To Coda on the sheet. `has_coda`: bars follow that are the coda.
/// `from_start`: the sheet begins with the bar that the jump leads to, so that it is a D.C.
void set_jump(std::vector<SheetBar>& sheet, const FormJump& jump, bool has_coda, bool from_start);

/// A sign of the form as a direction without time.
[[nodiscard]] score::Direction form_sign(score::Direction::Kind kind, std::string words);

}  // namespace relead::arrange
