#include "arrange/feel.h"

#include <algorithm>
#include <iterator>

#include "arrange/tables/feels.h"
#include "arrange/tables/swing_ratios.h"

namespace relead::arrange {
namespace {

bool counted_in_eighths(const tune::Meter& meter) {
    return meter.unit > 4 && !meter.is_compound();
}

}  // namespace

Feel feel_of(const tune::Tempo& tempo) {
    const auto row_of = [](std::string_view word) {
        return std::find_if(std::begin(tables::feel_rows), std::end(tables::feel_rows),
                            [&](const auto& row) { return row.feel == word; });
    };
    auto row = row_of(tempo.feel);
    if (row == std::end(tables::feel_rows)) row = row_of("unstated");
    return {row->feel,       row->swing / 100.0, row->comping, row->bass_head,
            row->head_up_to, row->bass,          row->drums,   row->kit};
}

double quarters_per_minute(const tune::Tempo& tempo, const tune::Meter& meter) {
    return tempo.beats_per_minute * (meter.beat_length() * 4).to_double();
}

double swing_ratio(double quarters) {
    const auto* before = std::begin(tables::swing_ratio_rows);
    for (const auto& row : tables::swing_ratio_rows) {
        if (quarters <= row.quarters) {
            if (row.quarters == before->quarters) return row.place / 1000.0;
            const double along = (quarters - before->quarters) / (row.quarters - before->quarters);
            return (before->place + along * (row.place - before->place)) / 1000.0;
        }
        before = &row;
    }
    return before->place / 1000.0;
}

double swing_of(const tune::Tempo& tempo, const tune::Meter& meter) {
    if (meter.is_compound() || counted_in_eighths(meter)) return 0.5;
    const double full = swing_ratio(quarters_per_minute(tempo, meter));
    return 0.5 + (full - 0.5) * feel_of(tempo).swing;
}

std::string_view bass_style(const tune::Tempo& tempo, const tune::Meter& meter, bool head) {
    const auto feel = feel_of(tempo);
    if (counted_in_eighths(meter) && feel.bass != "hold") return "odd";
    return head && tempo.beats_per_minute <= feel.head_up_to ? feel.bass_head : feel.bass;
}

}  // namespace relead::arrange
