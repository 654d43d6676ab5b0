#include "report/row_threads.h"

#include "theory/guide_motion.h"
#include "voicing/guide_moves.h"

namespace relead::report {

namespace {

GuideTone named(const theory::Pitch& pitch) {
    const auto name = theory::name_of(pitch);
    GuideTone tone;
    tone.name = theory::to_string(name, true);
    tone.pitch_class = theory::pitch_class(name);
    tone.pitch = theory::midi_number(pitch);
    return tone;
}

}  // namespace

RowThreads::RowThreads(const tune::Tune& tune, bool soloist) {
    const auto walk =
        voicing::walk_chords(tune, soloist ? voicing::ChordRow::soloist : voicing::ChordRow::changes);
    const auto line = voicing::guide_line(walk);
    counts_ = guide_counts(voicing::report_line(walk, line));
    for (std::size_t i = 0; i < walk.refs.size(); ++i) {
        if (line.pairs[i]) pairs_.emplace(walk.refs[i], *line.pairs[i]);
    }
}

std::vector<GuideTone> RowThreads::tones_of(const tune::ChordRef& ref) const {
    const auto found = pairs_.find(ref);
    if (found == pairs_.end()) return {};
    return {named(found->second.lower.pitch), named(found->second.upper.pitch)};
}

void lead_threads(Comparison& comparison, std::size_t row) {
    std::vector<GuideTone>* before = nullptr;
    for (auto& bar : comparison.bars) {
        for (auto& chord : bar.rows[row]) {
            auto& tones = chord.guide_tones;
            for (std::size_t i = 0; before != nullptr && i < before->size() && i < tones.size(); ++i) {
                auto& from = (*before)[i];
                from.to = tones[i].name;
                from.semitones = tones[i].pitch - from.pitch;
                from.move = theory::to_string(theory::move_of(from.semitones));
            }
            before = &tones;
        }
    }
}

}  // namespace relead::report
