#include "tune/tune.h"

#include "text/source.h"

namespace relead::tune {

std::vector<ChordRef> written_chords(const Tune& tune) {
    std::vector<ChordRef> refs;
    for (std::size_t s = 0; s < tune.sections.size(); ++s) {
        const auto& bars = tune.sections[s].bars;
        for (std::size_t b = 0; b < bars.size(); ++b)
            for (std::size_t c = 0; c < bars[b].changes.size(); ++c)
                refs.push_back({static_cast<int>(s), static_cast<int>(b), static_cast<int>(c)});
    }
    return refs;
}

const ChordEvent& chord_at(const Tune& tune, ChordRef ref) {
    return tune.sections[static_cast<std::size_t>(ref.section)]
        .bars[static_cast<std::size_t>(ref.bar)]
        .changes[static_cast<std::size_t>(ref.chord)];
}

Place place_of(const Tune& tune, ChordRef ref) {
    const auto& section = tune.sections[static_cast<std::size_t>(ref.section)];
    const auto& bar = section.bars[static_cast<std::size_t>(ref.bar)];
    Place place;
    place.section = section.name;
    place.bar = bar.number;
    place.beat = bar.meter.in_beats(bar.changes[static_cast<std::size_t>(ref.chord)].at) + 1;
    return place;
}

std::optional<int> find_section(const Tune& tune, const std::string& name) {
    for (std::size_t i = 0; i < tune.sections.size(); ++i)
        if (text::same_text(tune.sections[i].name, name)) return static_cast<int>(i);
    return std::nullopt;
}

theory::Key key_at(const Section& section, int bar) {
    auto key = section.key;
    for (std::size_t i = 0; i < section.bars.size() && static_cast<int>(i) <= bar; ++i)
        if (section.bars[i].new_key) key = *section.bars[i].new_key;
    return key;
}

}  // namespace relead::tune
