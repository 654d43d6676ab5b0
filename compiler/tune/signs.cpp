#include "tune/signs.h"

#include <algorithm>

namespace relead::tune {

using Kind = Mark::Kind;

const Bar& bar_at(const Tune& tune, BarRef ref) {
    return tune.sections[static_cast<std::size_t>(ref.section)].bars[static_cast<std::size_t>(ref.bar)];
}

bool has_mark(const Bar& bar, Kind kind) {
    return std::any_of(bar.marks.begin(), bar.marks.end(),
                       [kind](const Mark& mark) { return mark.kind == kind; });
}

bool is_jump(Kind kind) {
    switch (kind) {
        case Kind::da_capo:
        case Kind::da_capo_al_fine:
        case Kind::da_capo_al_coda:
        case Kind::dal_segno:
        case Kind::dal_segno_al_fine:
        case Kind::dal_segno_al_coda:
            return true;
        default:
            return false;
    }
}

bool Signs::jumps_to_segno() const {
    return jump_kind == Kind::dal_segno || jump_kind == Kind::dal_segno_al_fine ||
           jump_kind == Kind::dal_segno_al_coda;
}

bool Signs::returns_to_fine() const {
    const bool plain = jump_kind == Kind::da_capo || jump_kind == Kind::dal_segno;
    return jump_kind == Kind::da_capo_al_fine || jump_kind == Kind::dal_segno_al_fine ||
           (plain && fine.has_value());
}

bool Signs::returns_to_coda() const {
    const bool plain = jump_kind == Kind::da_capo || jump_kind == Kind::dal_segno;
    return jump_kind == Kind::da_capo_al_coda || jump_kind == Kind::dal_segno_al_coda || (plain && !fine);
}

BarRef Signs::jump_target(const Tune& tune) const {
    if (jumps_to_segno() && segno) return *segno;
    return {tune.order.form.empty() ? 0 : tune.order.form.front(), 0};
}

Signs find_signs(const Tune& tune) {
    Signs signs;
    const auto keep = [](std::optional<BarRef>& place, BarRef bar) {
        if (!place) place = bar;
    };
    for (std::size_t s = 0; s < tune.sections.size(); ++s) {
        const auto& bars = tune.sections[s].bars;
        for (std::size_t b = 0; b < bars.size(); ++b)
            for (const auto& mark : bars[b].marks) {
                const BarRef bar{static_cast<int>(s), static_cast<int>(b)};
                if (mark.kind == Kind::segno) keep(signs.segno, bar);
                if (mark.kind == Kind::coda) keep(signs.coda, bar);
                if (mark.kind == Kind::to_coda) keep(signs.to_coda, bar);
                if (mark.kind == Kind::fine) keep(signs.fine, bar);
                if (is_jump(mark.kind) && !signs.jump) {
                    signs.jump = bar;
                    signs.jump_kind = mark.kind;
                }
            }
    }
    return signs;
}

}  // namespace relead::tune
