#include "reharm/choice_effects.h"

#include <algorithm>

#include "reharm/kept_places.h"
#include "reharm/takes.h"

namespace relead::reharm {

ChoiceEffects::ChoiceEffects(const Situation& situation, const std::vector<Judged>& placements,
                             const TuneLattice& lattice, const LatticeGraph& graph)
    : graph_(graph), rules_(situation.rules.rules.size()), grid_(situation.chart) {
    for (const auto& choice : graph.choices) {
        const auto& meaning = lattice.meaning(choice);
        Effect effect;
        effect.plays = lattice.plays(choice);
        if (meaning.placement < 0) {
            effect.cells = grid_.written(meaning.spot);
        } else {
            effect.judged = &placements[static_cast<std::size_t>(meaning.placement)];
            effect.cells = grid_.placed(effect.judged->placement);
            effect.taken = is_taken(situation, effect.judged->placement);
            effect.lost = places_lost(situation.chart, effect.judged->placement);
        }
        for (const auto& cell : effect.cells) {
            if (cell.sound != grid_.as_written()[static_cast<std::size_t>(cell.cell)])
                effect.changed += grid_.plays(cell.cell);
        }
        effects_.push_back(std::move(effect));
    }
}

int ChoiceEffects::changed(const GraphPath& path) const {
    int sum = 0;
    for (const auto arc : path.arcs) {
        if (const auto* effect = effect_of(arc)) sum += effect->changed;
    }
    return sum;
}

std::vector<int> ChoiceEffects::sound_of(const GraphPath& path) const {
    auto sound = grid_.as_written();
    for (const auto arc : path.arcs) {
        const auto* effect = effect_of(arc);
        if (effect == nullptr) continue;
        for (const auto& cell : effect->cells) sound[static_cast<std::size_t>(cell.cell)] = cell.sound;
    }
    return sound;
}

int ChoiceEffects::differing(const std::vector<int>& a, const std::vector<int>& b) const {
    int sum = 0;
    for (std::size_t cell = 0; cell < a.size(); ++cell) {
        if (a[cell] != b[cell]) sum += grid_.plays(static_cast<int>(cell));
    }
    return sum;
}

std::vector<std::size_t> ChoiceEffects::changes_of(const GraphPath& path) const {
    std::vector<std::size_t> labels;
    for (const auto arc : path.arcs) {
        const auto* effect = effect_of(arc);
        if (effect == nullptr || effect->judged == nullptr) continue;
        labels.push_back(static_cast<std::size_t>(effect - effects_.data()));
    }
    std::sort(labels.begin(), labels.end());
    labels.erase(std::unique(labels.begin(), labels.end()), labels.end());
    return labels;
}

int ChoiceEffects::touched(const GraphPath& path) const {
    int sum = 0;
    for (const auto label : changes_of(path)) sum += effects_[label].judged->touched;
    return sum;
}

int ChoiceEffects::lost(const GraphPath& path) const {
    int sum = 0;
    for (const auto label : changes_of(path)) sum += effects_[label].lost;
    return sum;
}

std::vector<int> ChoiceEffects::uses_of(const GraphPath& path) const {
    std::vector<int> uses(rules_, 0);
    for (const auto label : changes_of(path)) {
        if (!effects_[label].taken) ++uses[effects_[label].rule()];
    }
    return uses;
}

}  // namespace relead::reharm
