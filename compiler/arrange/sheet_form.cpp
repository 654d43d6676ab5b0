#include "arrange/sheet_form.h"

#include <algorithm>

#include "arrange/form_bars.h"
#include "arrange/form_blocks.h"
#include "arrange/form_jumps.h"
#include "tune/unfold.h"

namespace relead::arrange {

namespace {

using Kind = score::Direction::Kind;
using MarkKind = tune::Mark::Kind;

constexpr std::size_t bars_on_a_page = 44;  // eleven systems of four

std::optional<score::Direction> sign_of(const tune::Mark& mark, bool jumps) {
    switch (mark.kind) {
        case MarkKind::segno:
            return form_sign(Kind::segno, "");
        case MarkKind::coda:
            return form_sign(Kind::coda, "Coda");
        case MarkKind::to_coda:
            return form_sign(Kind::to_coda, jumps ? "To Coda" : "Last time to Coda");
        case MarkKind::fine:
            return form_sign(Kind::fine, "Fine");
        case MarkKind::da_capo:
            return form_sign(Kind::da_capo, "D.C.");
        case MarkKind::da_capo_al_fine:
            return form_sign(Kind::da_capo, "D.C. al Fine");
        case MarkKind::da_capo_al_coda:
            return form_sign(Kind::da_capo, "D.C. al Coda");
        case MarkKind::dal_segno:
            return form_sign(Kind::dal_segno, "D.S.");
        case MarkKind::dal_segno_al_fine:
            return form_sign(Kind::dal_segno, "D.S. al Fine");
        case MarkKind::dal_segno_al_coda:
            return form_sign(Kind::dal_segno, "D.S. al Coda");
        default:
            return std::nullopt;
    }
}

bool is_jump(MarkKind kind) {
    return kind >= MarkKind::da_capo && kind <= MarkKind::dal_segno_al_coda;
}

const tune::Bar& bar_of(const tune::Tune& tune, const SheetBar& at) {
    return tune.sections[static_cast<std::size_t>(at.section)].bars[static_cast<std::size_t>(at.bar)];
}

bool has_jump(const tune::Tune& tune) {
    for (const auto& section : tune.sections) {
        for (const auto& bar : section.bars) {
            for (const auto& mark : bar.marks) {
                if (is_jump(mark.kind)) return true;
            }
        }
    }
    return false;
}

SheetForm form_by_signs(const tune::Tune& tune) {
    FormWriter writer(tune);
    for (const int section : tune.order.form) writer.write_section_by_signs(section);
    SheetForm form;
    form.bars = std::move(writer.bars());
    const bool jumps = has_jump(tune);
    for (auto& bar : form.bars) {
        for (const auto& mark : bar_of(tune, bar).marks) {
            if (auto sign = sign_of(mark, jumps)) bar.signs.push_back(std::move(*sign));
        }
    }
    for (const auto& played : tune::one_chorus(tune)) form.playing.push_back({played.section, played.bar});
    return form;
}

std::vector<SheetBar> write_units(const tune::Tune& tune, std::span<const FormUnit> units) {
    FormWriter writer(tune);
    for (const auto& block : form_blocks(units)) writer.write(units, block);
    return std::move(writer.bars());
}

std::vector<FormBar> flat(std::span<const FormUnit> units) {
    std::vector<FormBar> bars;
    for (const auto& unit : units) bars.insert(bars.end(), unit.played.begin(), unit.played.end());
    return bars;
}

/// The bars after the jump that the sheet does not hold yet.
void write_coda(const tune::Tune& tune, std::span<const FormUnit> units, std::size_t skip,
                std::vector<SheetBar>& sheet) {
    FormWriter writer(tune);
    std::size_t position = 0;
    for (const auto& unit : units) {
        for (std::size_t i = 0; i < unit.played.size(); ++i, ++position) {
            if (position < skip) continue;
            writer.write_plain(unit.played[i], i == 0, i + 1 == unit.played.size());
        }
    }
    auto& coda = writer.bars();
    if (coda.empty()) return;
    coda.front().signs.insert(coda.front().signs.begin(), form_sign(Kind::coda, "Coda"));
    sheet.insert(sheet.end(), coda.begin(), coda.end());
}

bool repeats_inside(std::span<const FormUnit> units) {
    return std::any_of(units.begin(), units.end(), [](const FormUnit& unit) { return unit.repeats_inside; });
}

std::size_t pages(std::size_t bars) {
    return (bars + bars_on_a_page - 1) / bars_on_a_page;
}

/// The sheet with the D.S. that saves most, or the music written out when none is wanted or found.
std::vector<SheetBar> write_form(const tune::Tune& tune, std::span<const FormUnit> units, Jumps jumps,
                                 bool first_on_sheet) {
    auto best = write_units(tune, units);
    const auto written_out = best.size();
    if (jumps == Jumps::never || repeats_inside(units)) return best;
    if (jumps == Jumps::when_it_saves_a_page && pages(written_out) < 2) return best;
    for (std::size_t cut = 1; cut < units.size(); ++cut) {
        auto sheet = write_units(tune, units.first(cut));
        const auto rest = flat(units.subspan(cut));
        const auto jump = find_jump(sheet, rest);
        if (!jump || sheet.size() + rest.size() - jump->matched >= best.size()) continue;
        set_jump(sheet, *jump, jump->matched < rest.size(), jump->segno == 0 && first_on_sheet);
        write_coda(tune, units.subspan(cut), jump->matched, sheet);
        best = std::move(sheet);
    }
    const bool saves_page = pages(best.size()) < pages(written_out);
    if (jumps == Jumps::when_it_saves_a_page && !saves_page) return write_units(tune, units);
    return best;
}

void append(SheetForm& form, std::vector<SheetBar> bars, std::span<const FormUnit> units) {
    form.bars.insert(form.bars.end(), std::make_move_iterator(bars.begin()),
                     std::make_move_iterator(bars.end()));
    const auto played = flat(units);
    form.playing.insert(form.playing.end(), played.begin(), played.end());
}

}  // namespace

SheetForm work_out_form(const tune::Tune& tune, Jumps jumps) {
    if (tune.order.by_signs) return form_by_signs(tune);
    const auto units = form_units(tune);
    SheetForm form;
    append(form, write_units(tune, units.before), units.before);
    if (units.pickup) {
        FormWriter writer(tune);
        writer.write_pickup(*units.pickup);
        form.bars.push_back(writer.bars().front());
        form.playing.push_back(*units.pickup);
    }
    append(form, write_form(tune, units.form, jumps, units.before.empty()), units.form);
    append(form, write_units(tune, units.after), units.after);
    return form;
}

std::vector<score::Measure> sign_measures(const tune::Tune& tune, const SheetForm& form) {
    std::vector<score::Measure> measures;
    int number = 1;
    for (const auto& bar : form.bars) {
        score::Measure measure;
        measure.implicit = bar_of(tune, bar).number == 0;
        measure.number = measure.implicit ? "0" : std::to_string(number++);
        measure.length = bar_of(tune, bar).length;
        measure.repeat_begins = bar.repeat_begins;
        measure.repeat_ends = bar.repeat_ends;
        measure.ending = bar.ending;
        measure.ending_stop = bar.ending_stop;
        for (auto sign : bar.signs) {
            const bool at_start = sign.kind == Kind::segno || sign.kind == Kind::coda ||
                                  sign.kind == Kind::words || sign.kind == Kind::rehearsal;
            sign.at = at_start ? Time(0) : measure.length;
            measure.directions.push_back(std::move(sign));
        }
        measures.push_back(std::move(measure));
    }
    return measures;
}

}  // namespace relead::arrange
