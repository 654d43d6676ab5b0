// The whole compiler as one readable function: text → tune → analysis → versions → files in memory.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include <relead/outcome.h>

#include "analysis/analysis.h"
#include "arrange/lead_sheet.h"
#include "reharm/reharmonise.h"
#include "rules/rule.h"
#include "text/limits.h"
#include "text/source.h"
#include "theory/instrument.h"
#include "tune/tune.h"

namespace relead::pipeline {

/// A file in memory; where it goes is the caller's matter.
struct File {
    std::string name;
    std::string bytes;
};

struct SheetChoice {
    std::vector<const theory::Instrument*> instruments;  ///< besides concert pitch; each gets its own sheet
    bool compressed = false;                             ///< .mxl instead of .musicxml
    /// small: on every sheet; staves: beside every sheet one more, stem.plan.guide-tones.musicxml.
    arrange::GuideTones guide_tones = arrange::GuideTones::none;
};

struct Compiled {
    tune::Tune tune;
    analysis::Analysis analysis;
    reharm::Choices choices;
};

/// Reads, analyses and reharmonises. The value is absent when the tune has errors: a version of a
/// tune that was not wholly understood would lose bars.
[[nodiscard]] Outcome<Compiled> compile(const text::Source& source, const rules::RuleSet& rules,
                                        const reharm::Wish& wish, const Limits& limits = {});

/// The versions put their chords into the soloist's row.
[[nodiscard]] bool is_for_soloist(const Compiled& compiled);

/// The guide-tone line of a sheet.
struct GuideSheet {
    arrange::GuideTones kind = arrange::GuideTones::none;
    voicing::ChordRow row = voicing::ChordRow::changes;
};

/// The lead sheet of a tune; with `written`, chords that differ from it are marked as changed.
/// `instrument` null = concert pitch.
[[nodiscard]] Outcome<File> sheet_file(const tune::Tune& tune, const tune::Tune* written,
                                       const std::string& name, const theory::Instrument* instrument,
                                       bool compressed, GuideSheet guide = {});

/// The version as an editable tune and its lead sheets. `stem` names the files: stem.plan.tune,
/// stem.plan.musicxml, stem.plan.alto-sax.musicxml.
[[nodiscard]] Outcome<std::vector<File>> version_files(const Compiled& compiled, std::size_t version,
                                                       const std::string& stem, const SheetChoice& choice);

/// Letters, digits and hyphens only: "Mild, too" becomes "mild-too"; "version" when nothing is left.
[[nodiscard]] std::string file_word(const std::string& name);

}  // namespace relead::pipeline
