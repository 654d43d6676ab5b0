#include "report/side_by_side.h"

#include <algorithm>
#include <cstddef>

#include "base/fmt.h"
#include "tune/unfold.h"

namespace relead::report {

namespace {

/// The row in which a version differs: a soloist's plan writes the `soloist` row. One that the author wrote
/// and the version keeps is nothing new to the band.
std::string new_row(const tune::Bar& was, const tune::Bar& now, Reader reader) {
    const auto text = [](const tune::Bar& bar) {
        return bar.soloist ? cell_text(*bar.soloist, bar.meter) : std::string();
    };
    const bool shown = reader == Reader::soloist || text(now) != text(was);
    return now.soloist && shown ? text(now) : cell_text(now.changes, now.meter);
}

std::string ending_text(const std::vector<int>& numbers) {
    std::string text;
    for (const int number : numbers) {
        if (!text.empty()) text += ',';
        text += number == 0 ? "last" : std::to_string(number);
    }
    return text;
}

BarPair pair_of(const tune::Bar& was, const tune::Bar& now, Reader reader) {
    BarPair pair{was.number, cell_text(was.changes, was.meter), "", ending_text(was.ending_begins)};
    if (auto text = new_row(was, now, reader); text != pair.was) pair.now = std::move(text);
    return pair;
}

bool same_shape(const tune::Tune& a, const tune::Tune& b) {
    return std::equal(a.sections.begin(), a.sections.end(), b.sections.begin(), b.sections.end(),
                      [](const tune::Section& x, const tune::Section& y) {
                          return x.name == y.name && x.bars.size() == y.bars.size();
                      });
}

std::vector<SectionPair> by_section(const tune::Tune& written, const tune::Tune& version, Reader reader) {
    std::vector<SectionPair> pairs;
    for (std::size_t s = 0; s < written.sections.size(); ++s) {
        SectionPair pair{written.sections[s].name, 0, {}};
        for (std::size_t b = 0; b < written.sections[s].bars.size(); ++b) {
            pair.bars.push_back(pair_of(written.sections[s].bars[b], version.sections[s].bars[b], reader));
        }
        pairs.push_back(std::move(pair));
    }
    return pairs;
}

const tune::Bar& bar_of(const tune::Tune& tune, const tune::PlayedBar& played) {
    return tune.sections[static_cast<std::size_t>(played.section)].bars[static_cast<std::size_t>(played.bar)];
}

std::vector<SectionPair> by_playing(const tune::Tune& written, const tune::Tune& version, Reader reader) {
    const auto was = tune::one_chorus(written);
    const auto now = tune::one_chorus(version);
    std::vector<SectionPair> pairs;
    for (std::size_t i = 0; i < std::min(was.size(), now.size()); ++i) {
        const auto& section = written.sections[static_cast<std::size_t>(was[i].section)];
        const bool begins =
            i == 0 || was[i].section != was[i - 1].section || was[i].playing != was[i - 1].playing;
        if (begins) pairs.push_back({section.name, was[i].playing + 1, {}});
        pairs.back().bars.push_back(pair_of(bar_of(written, was[i]), bar_of(version, now[i]), reader));
    }
    return pairs;
}

}  // namespace

std::string cell_text(const std::vector<tune::ChordEvent>& chords, const tune::Meter& meter) {
    const bool even = std::all_of(chords.begin(), chords.end(), [&](const tune::ChordEvent& event) {
        return event.length == chords.front().length;
    });
    std::string text;
    for (const auto& event : chords) {
        if (!text.empty()) text += ' ';
        text += theory::to_string(event.chord);
        if (!even) text += fmt::format("*{}", meter.in_beats(event.length).to_string());
    }
    return text;
}

std::vector<SectionPair> side_by_side(const tune::Tune& written, const tune::Tune& version, Reader reader) {
    return same_shape(written, version) ? by_section(written, version, reader)
                                        : by_playing(written, version, reader);
}

bool has_second_row(const std::vector<SectionPair>& sections) {
    return std::any_of(sections.begin(), sections.end(), [](const SectionPair& section) {
        return std::any_of(section.bars.begin(), section.bars.end(),
                           [](const BarPair& bar) { return !bar.now.empty(); });
    });
}

}  // namespace relead::report
