#include "report/guide_line.h"

#include "base/fmt.h"

namespace relead::report {

namespace {

std::string counted(int count, std::string_view one) {
    if (count == 0) return fmt::format("no {}", one);
    return fmt::format("{} {}{}", count, one, count == 1 ? "" : "s");
}

}  // namespace

GuideCounts guide_counts(const voicing::LineReport& report) {
    return {report.moves.held,     report.moves.step, report.moves.skip, report.moves.leap,
            report.tendency_tones, report.resolved,   report.delayed,    report.exact};
}

GuidePairOfCounts guide_counts(const tune::Tune& written, const tune::Tune& version, bool for_soloist) {
    const auto row = for_soloist ? voicing::ChordRow::soloist : voicing::ChordRow::changes;
    return {guide_counts(voicing::report_line(written, row)),
            guide_counts(voicing::report_line(version, row))};
}

std::string guide_sentence(const GuideCounts& counts) {
    auto text = fmt::format("{} held, {}, {}, {}", counts.held, counted(counts.step, "step"),
                            counted(counts.skip, "skip"), counted(counts.leap, "leap"));
    if (counts.tendency_tones > 0)
        text += fmt::format("; {} of {} tendency tones resolve", counts.resolved, counts.tendency_tones);
    if (counts.delayed > 0) text += fmt::format(", {} later", counts.delayed);
    return text;
}

}  // namespace relead::report
