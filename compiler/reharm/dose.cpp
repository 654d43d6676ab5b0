#include "reharm/dose.h"

#include <algorithm>

#include "reharm/aims.h"

namespace relead::reharm {

bool is_dense(const rules::Chart& chart) {
    Fraction bars = 0;
    int chords = 0;
    const theory::Chord* before = nullptr;
    for (const int i : chart.chorus) {
        const auto& spot = chart.at(i);
        bars += spot.beats() / Fraction(std::max(1, spot.beats_in_bar));
        chords += before == nullptr || !(*before == spot.chord) ? 1 : 0;
        before = &spot.chord;
    }
    return Fraction(chords) * 2 >= bars * 3;
}

Dose dose_of(int number, const rules::Chart& chart) {
    const Dose dose = number <= 0   ? Dose{aim("first-least"), aim("first-most")}
                      : number == 1 ? Dose{aim("second-least"), aim("second-most")}
                                    : Dose{aim("third-least"), aim("third-most")};
    const int share = is_dense(chart) ? aim("dense-share") : 100;
    return {dose.least * share / 100, dose.most * share / 100};
}

double apart_of(const rules::Chart& chart) {
    return is_dense(chart) ? aim("apart") * aim("dense-share") / 100.0 : aim("apart");
}

SoundGrid::SoundGrid(const rules::Chart& chart) : chart_(chart) {
    std::vector<int> played(chart.spots.size(), 0);
    for (const int spot : chart.chorus) ++played[static_cast<std::size_t>(spot)];
    for (std::size_t i = 0; i < chart.spots.size(); ++i) {
        const auto& spot = chart.spots[i];
        first_cell_.push_back(static_cast<int>(written_.size()));
        const int sound = sound_of(spot.chord);
        for (Beats beat = 0; beat < spot.beats(); beat += Beats(1, 2)) {
            written_.push_back(sound);
            plays_.push_back(played[i]);
            size_ += played[i];
        }
    }
    first_cell_.push_back(static_cast<int>(written_.size()));
}

int SoundGrid::sound_of(const theory::Chord& chord) {
    auto key = std::to_string(theory::pitch_class(chord.root)) + " ";
    if (chord.bass) key += std::to_string(theory::pitch_class(*chord.bass));
    auto quality = chord;
    quality.root = {};
    quality.bass.reset();
    key += theory::to_string(quality, theory::SymbolStyle::plain);
    const auto [at, fresh] = sounds_.emplace(std::move(key), static_cast<int>(sounds_.size()));
    if (fresh) chords_.push_back(chord);
    return at->second;
}

std::vector<SoundGrid::Cell> SoundGrid::written(int spot) const {
    std::vector<Cell> cells;
    for (int c = first_cell_[static_cast<std::size_t>(spot)];
         c < first_cell_[static_cast<std::size_t>(spot) + 1]; ++c)
        cells.push_back({c, written_[static_cast<std::size_t>(c)]});
    return cells;
}

std::vector<SoundGrid::Cell> SoundGrid::placed(const rules::Placement& placement) {
    std::vector<Cell> cells;
    const auto start = chart_.at(placement.begin).start;
    for (int i = placement.begin; i < placement.end; ++i) {
        const auto& spot = chart_.at(i);
        auto time = spot.start - start;
        for (auto cell : written(i)) {
            for (const auto& chord : placement.chords) {
                if (chord.at <= time && time < chord.at + chord.length) cell.sound = sound_of(chord.chord);
            }
            cells.push_back(cell);
            time += spot.beat_length / Fraction(2);
        }
    }
    return cells;
}

}  // namespace relead::reharm
