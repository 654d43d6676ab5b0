#include "report/summary.h"

#include "base/fmt.h"
#include "tune/unfold.h"

namespace relead::report {

namespace {

std::string counted(std::size_t count, std::string_view noun) {
    return fmt::format("{} {}{}", count, noun, count == 1 ? "" : "s");
}

std::string order_words(const tune::Tune& tune) {
    std::string words;
    for (const int index : tune.order.form) {
        words += (words.empty() ? "" : " ") + tune.sections[static_cast<std::size_t>(index)].name;
    }
    return words;
}

}  // namespace

std::string summary(const tune::Tune& tune) {
    std::size_t bars = 0;
    for (const auto& played : tune::one_chorus(tune)) {
        const auto& section = tune.sections[static_cast<std::size_t>(played.section)];
        if (section.bars[static_cast<std::size_t>(played.bar)].number > 0) ++bars;
    }
    std::string line = tune.title.empty() ? "untitled" : tune.title;
    line += tune.open_key ? ", open key" : fmt::format(", {}", theory::to_string(tune.key));
    line += fmt::format(", {}/{}", tune.meter.beats, tune.meter.unit);
    if (tune.has_tempo) {
        line += fmt::format(", {}", tune.tempo.beats_per_minute);
        if (!tune.tempo.feel.empty()) line += " " + tune.tempo.feel;
    }
    line += fmt::format(": {} in {}", counted(bars, "bar"), order_words(tune));
    if (!tune.plans.empty()) line += fmt::format(", {}", counted(tune.plans.size(), "plan"));
    return line + ".";
}

}  // namespace relead::report
