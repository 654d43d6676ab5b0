#include "pipeline/tidy.h"

#include <optional>
#include <utility>

#include "base/fmt.h"
#include "pipeline/read.h"
#include "syntax/keywords.h"
#include "syntax/parse_tune.h"
#include "syntax/tidy.h"
#include "syntax/transpose_tree.h"
#include "text/diagnose.h"
#include "theory/key.h"

namespace relead::pipeline {

namespace {

/// "Bb", "Bb major", "G Aeolian".
struct Target {
    theory::NoteName tonic;
    std::optional<theory::Mode> mode;
};

/// Nothing where it is no tonic, or where what follows is no mode.
std::optional<Target> read_target(std::string_view to_key) {
    const auto blank = to_key.find(' ');
    const auto tonic = theory::parse_note_name(to_key.substr(0, blank));
    if (!tonic) return std::nullopt;
    if (blank == std::string_view::npos) return Target{*tonic, std::nullopt};
    const auto mode = theory::parse_mode(syntax::lower_case(to_key.substr(blank + 1)));
    if (!mode) return std::nullopt;
    return Target{*tonic, mode};
}

/// The smaller way from one tonic to the other: at most a tritone up or down.
theory::Interval way(theory::NoteName from, theory::NoteName to) {
    theory::Interval up{to.fifths - from.fifths, 0};
    while (up.semitones() > 6) --up.octaves;
    while (up.semitones() <= -6) ++up.octaves;
    return up;
}

}  // namespace

Outcome<std::string> tidy(const text::Source& source, std::string_view to_key, const Limits& limits) {
    auto tree = syntax::parse_tune(source, limits);
    if (!tree.value) return {std::nullopt, std::move(tree.diagnostics)};
    if (to_key.empty()) return {syntax::tidy(*tree.value), std::move(tree.diagnostics)};

    // The way to go is measured from the tune's key, which may be an estimate: that needs the model.
    auto tune = read_tune(source, limits);
    const auto target = read_target(to_key);
    text::Sink sink(limits);
    sink.append(std::move(tune.diagnostics));
    if (!target) {
        sink.emit(text::Code::unknown_target_key, nowhere,
                  fmt::format("{} is no key to move to; write a tonic such as Bb, or Bb major.", to_key));
    }
    if (!tune.value || !target) return {std::nullopt, sink.take()};
    const auto& key = tune.value->key;
    if (!tune.value->open_key && target->mode && !theory::is_same_mode(*target->mode, key.mode)) {
        sink.emit(
            text::Code::unknown_target_key, nowhere,
            fmt::format("The tune is in {}: it can be moved to another tonic, such as {}, not to another "
                        "mode.",
                        theory::to_string(key), theory::to_string(target->tonic)));
        return {std::nullopt, sink.take()};
    }
    const auto moved =
        syntax::transpose(*tree.value, way(key.tonic, target->tonic), syntax::Spelling::practical);
    return {syntax::tidy(moved), sink.take()};
}

}  // namespace relead::pipeline
