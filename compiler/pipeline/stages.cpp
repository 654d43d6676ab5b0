#include "pipeline/stages.h"

#include <algorithm>
#include <array>
#include <utility>

#include "analysis/analysis.h"
#include "arrange/lead_sheet.h"
#include "formats/musicxml/write.h"
#include "pipeline/dumps.h"
#include "pipeline/midi_file.h"
#include "pipeline/read.h"
#include "rules/read_rules.h"
#include "score/dump.h"
#include "syntax/dump.h"
#include "syntax/parse_tune.h"
#include "tune/dump.h"
#include "tune/unfold.h"

namespace relead::pipeline {

namespace {

Outcome<std::string> tokens(const text::Source& source, const Limits& /*limits*/) {
    return {syntax::dump_tokens(source), {}};
}

Outcome<std::string> tree(const text::Source& source, const Limits& limits) {
    auto parsed = syntax::parse_tune(source, limits);
    if (!parsed.value) return {std::nullopt, std::move(parsed.diagnostics)};
    return {syntax::dump(*parsed.value, true), std::move(parsed.diagnostics)};
}

/// A stage after the tune was read: `make` gets the tune and returns its text.
template <class Make>
Outcome<std::string> from_tune(const text::Source& source, const Limits& limits, Make make) {
    auto tune = read_tune(source, limits);
    if (!tune.value) return {std::nullopt, std::move(tune.diagnostics)};
    return {make(*tune.value), std::move(tune.diagnostics)};
}

Outcome<std::string> tune_stage(const text::Source& source, const Limits& limits) {
    return from_tune(source, limits, [](const tune::Tune& tune) { return tune::dump(tune); });
}

Outcome<std::string> order(const text::Source& source, const Limits& limits) {
    return from_tune(source, limits, [&](const tune::Tune& tune) {
        return tune::dump(tune, tune::one_chorus(tune, limits));
    });
}

Outcome<std::string> analysis_stage(const text::Source& source, const Limits& limits) {
    return from_tune(source, limits,
                     [](const tune::Tune& tune) { return dump_analysis(tune, analysis::analyse(tune)); });
}

Outcome<std::string> candidates(const text::Source& source, const Limits& limits) {
    return from_tune(source, limits, [](const tune::Tune& tune) {
        return dump_candidates(tune, analysis::analyse(tune), rules::built_in_rules());
    });
}

Outcome<std::string> score_stage(const text::Source& source, const Limits& limits) {
    return from_tune(source, limits,
                     [](const tune::Tune& tune) { return score::dump(arrange::lead_sheet(tune)); });
}

Outcome<std::string> guide_tones(const text::Source& source, const Limits& limits) {
    return from_tune(source, limits, [](const tune::Tune& tune) {
        arrange::SheetWish wish;
        wish.guide_tones = arrange::GuideTones::staves;
        return score::dump(arrange::lead_sheet(tune, wish));
    });
}

Outcome<std::string> musicxml(const text::Source& source, const Limits& limits) {
    return from_tune(source, limits, [](const tune::Tune& tune) {
        return formats::write_musicxml(arrange::lead_sheet(tune));
    });
}

Outcome<std::string> band(const text::Source& source, const Limits& limits) {
    return from_tune(source, limits,
                     [](const tune::Tune& tune) { return score::dump(performance_of(tune)); });
}

constexpr std::array all_stages{
    Stage{"tokens", "the lines of the text, each with its mode and its words", tokens},
    Stage{"tree", "the syntax tree with byte spans", tree},
    Stage{"tune", "the tune model after all checks", tune_stage},
    Stage{"order", "one chorus in playing order", order},
    Stage{"analysis", "key, numeral, function and target of every chord", analysis_stage},
    Stage{"candidates", "every place where a built-in rule fits", candidates},
    Stage{"score", "the written tune's lead sheet before any format", score_stage},
    Stage{"guide-tones", "the written tune's guide-tone line on two staves", guide_tones},
    Stage{"musicxml", "the written tune's lead sheet as MusicXML", musicxml},
    Stage{"band", "what the band plays, note by note", band},
};

}  // namespace

std::span<const Stage> stages() {
    return all_stages;
}

const Stage* find_stage(std::string_view name) {
    const auto found =
        std::find_if(all_stages.begin(), all_stages.end(), [&](const Stage& s) { return s.name == name; });
    return found == all_stages.end() ? nullptr : &*found;
}

}  // namespace relead::pipeline
