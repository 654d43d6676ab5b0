#include "report/form_notes.h"

#include <algorithm>
#include <cstddef>

#include "base/fmt.h"
#include "tune/spot.h"

namespace relead::report {

namespace {

std::string form_words(const tune::Tune& tune, const RowLine& line) {
    std::vector<std::string> names;
    for (std::size_t i = 0; i < line.bars.size(); ++i) {
        const auto& bar = line.bars[i];
        const bool begins =
            i == 0 || line.bars[i - 1].section != bar.section || line.bars[i - 1].playing != bar.playing;
        if (begins) names.push_back(tune.sections[static_cast<std::size_t>(bar.section)].name);
    }
    std::string text;
    for (const auto& name : names) text += (text.empty() ? "" : " ") + name;
    return text;
}

/// Bars of a line that are not its pickup.
std::vector<LineBar> full_bars(const RowLine& line) {
    auto bars = line.bars;
    if (line.pickup > Time(0)) bars.erase(bars.begin());
    return bars;
}

std::string place_of(const tune::Tune& tune, const LineBar& at) {
    const auto& section = tune.sections[static_cast<std::size_t>(at.section)];
    return fmt::format("{}:{}", section.name, section.bars[static_cast<std::size_t>(at.bar)].number);
}

std::string counted_bars(std::size_t count) {
    return tune::count_of(Fraction(static_cast<std::int64_t>(count)), "bar");
}

/// Bars of each section in playing order, pickups left out.
std::vector<std::size_t> bars_of_sections(const RowLine& line) {
    std::vector<std::size_t> counts;
    const auto bars = full_bars(line);
    for (std::size_t i = 0; i < bars.size(); ++i) {
        const bool begins =
            i == 0 || bars[i - 1].section != bars[i].section || bars[i - 1].playing != bars[i].playing;
        if (begins) counts.push_back(0);
        ++counts.back();
    }
    return counts;
}

/// `alone`: bars of the written tune that begin after the other one's end.
std::string shorter_note(const std::string& name, std::size_t alone) {
    if (alone == 0) return fmt::format("{} is shorter: it ends within the last bar of this tune.", name);
    return fmt::format("{} is shorter: the last {} of this tune {} alone.", name, counted_bars(alone),
                       alone == 1 ? "stands" : "stand");
}

/// "148 swing".
std::string tempo_words(const tune::Tempo& tempo) {
    return tempo.feel.empty() ? fmt::format("{}", tempo.beats_per_minute)
                              : fmt::format("{} {}", tempo.beats_per_minute, tempo.feel);
}

}  // namespace

std::vector<std::string> form_notes(const tune::Tune& written, const RowLine& written_line,
                                    const tune::Tune& other, const RowLine& other_line,
                                    const std::string& name) {
    std::vector<std::string> notes;
    if (!written.open_key && !other.open_key && !(written.key == other.key)) {
        const auto key = theory::to_string(written.key);
        notes.push_back(
            fmt::format("{} is in {}, this tune in {}: its chords stand as they sound. To compare "
                        "them in one key, first move one of them with: relead tidy --to.",
                        name, theory::to_string(other.key), key));
    }
    const auto ours = full_bars(written_line);
    const auto theirs = full_bars(other_line);
    const auto differ =
        std::mismatch(ours.begin(), ours.end(), theirs.begin(), theirs.end(),
                      [](const LineBar& a, const LineBar& b) { return a.length == b.length; });
    if (differ.first != ours.end() && differ.second != theirs.end()) {
        notes.push_back(
            fmt::format("The bars of {} have another length from {} on: its chords are cut at the "
                        "bar lines of this tune.",
                        name, place_of(written, *differ.first)));
    }
    const auto form = form_words(written, written_line);
    const auto other_form = form_words(other, other_line);
    if (bars_of_sections(written_line) != bars_of_sections(other_line))
        notes.push_back(
            form == other_form
                ? fmt::format("The sections of {} hold other numbers of bars: bars are compared in the order "
                              "in which they are played.",
                              name)
                : fmt::format("The form of {} is {}, of this tune {}: bars are compared in the order in "
                              "which they are played.",
                              name, other_form, form));
    const auto length = written_line.length - written_line.pickup;
    const auto other_length = other_line.length - other_line.pickup;
    if (other_length > length) {
        const auto hidden = std::count_if(theirs.begin(), theirs.end(), [&](const LineBar& bar) {
            return bar.start + bar.length - other_line.pickup > length;
        });
        notes.push_back(fmt::format("{} goes on for {} more, not shown.", name,
                                    counted_bars(static_cast<std::size_t>(hidden))));
    } else if (other_length < length) {
        const auto empty = std::count_if(ours.begin(), ours.end(), [&](const LineBar& bar) {
            return bar.start - written_line.pickup >= other_length;
        });
        notes.push_back(shorter_note(name, static_cast<std::size_t>(empty)));
    }
    if (other_line.pickup > written_line.pickup && other_line.pickup > Time(0) &&
        !other_line.chords.empty() &&
        other_line.chords.front().start < other_line.pickup - written_line.pickup)
        notes.push_back(fmt::format("The pickup of {} is longer: its beginning is not shown.", name));
    if (written.tempo.beats_per_minute != other.tempo.beats_per_minute ||
        written.tempo.feel != other.tempo.feel)
        notes.push_back(fmt::format("{} is marked {}, this tune {}: each is played as it is marked.", name,
                                    tempo_words(other.tempo), tempo_words(written.tempo)));
    return notes;
}

}  // namespace relead::report
