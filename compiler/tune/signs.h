// The signs of a tune without `form`: where D.C. or D.S., segno, coda and fine stand.
#pragma once

#include <optional>

#include "tune/tune.h"

namespace relead::tune {

/// A written bar: indices into sections and bars.
struct BarRef {
    int section = 0;
    int bar = 0;
    friend auto operator<=>(const BarRef&, const BarRef&) = default;
};
[[nodiscard]] const Bar& bar_at(const Tune& tune, BarRef ref);
[[nodiscard]] bool has_mark(const Bar& bar, Mark::Kind kind);

/// First place of each sign. Segno and coda stand at the start of their bar, the others at its end.
struct Signs {
    std::optional<BarRef> segno;
    std::optional<BarRef> coda;
    std::optional<BarRef> to_coda;
    std::optional<BarRef> fine;
    std::optional<BarRef> jump;  ///< D.C. or D.S.
    Mark::Kind jump_kind = Mark::Kind::da_capo;

    [[nodiscard]] bool any() const { return segno || coda || to_coda || fine || jump; }
    [[nodiscard]] bool jumps_to_segno() const;
    /// A plain D.C. or D.S. ends at the fine where there is one, else goes to the coda.
    [[nodiscard]] bool returns_to_fine() const;
    [[nodiscard]] bool returns_to_coda() const;
    /// Where the D.C. or D.S. leads; the beginning when the segno is missing.
    [[nodiscard]] BarRef jump_target(const Tune& tune) const;
};
[[nodiscard]] bool is_jump(Mark::Kind kind);
[[nodiscard]] Signs find_signs(const Tune& tune);

}  // namespace relead::tune
