#include "arrange/symbols.h"

#include <algorithm>

#include "score/play_order.h"

namespace relead::arrange {

namespace {

Time displacement(tune::Push push) {
    switch (push) {
        case tune::Push::eighth_early:
            return {-1, 8};
        case tune::Push::quarter_early:
            return {-1, 4};
        case tune::Push::eighth_late:
            return {1, 8};
        case tune::Push::none:
            break;
    }
    return 0;
}

void insert_once(std::vector<std::size_t>& list, std::size_t value) {
    if (std::find(list.begin(), list.end(), value) == list.end()) list.push_back(value);
}

const tune::Bar& bar_of(const tune::Tune& tune, const SheetBar& at) {
    return tune.sections[static_cast<std::size_t>(at.section)].bars[static_cast<std::size_t>(at.bar)];
}

class Placing {
public:
    Placing(const tune::Tune& tune, const SheetForm& form, const std::vector<score::Measure>& measures,
            const Succession& succession)
        : tune_(tune), form_(form), measures_(measures), succession_(succession), symbols_(measures.size()) {}

    std::vector<std::vector<Symbol>> place() {
        for (std::size_t i = 0; i < measures_.size(); ++i) place_bar(i);
        for (auto& list : symbols_) tidy(list);
        return std::move(symbols_);
    }

private:
    void place_bar(std::size_t measure) {
        const auto& at = form_.bars[measure];
        const auto& bar = bar_of(tune_, at);
        for (std::size_t i = 0; i < bar.changes.size(); ++i) {
            const auto& event = bar.changes[i];
            Symbol symbol;
            symbol.chord = event.chord;
            symbol.ref = {at.section, at.bar, static_cast<int>(i)};
            symbol.continues = bar.simile && bar.changes.size() == 1 && goes_on(measure, event.chord);
            symbol.early = displacement(event.push) < Time(0);
            place_event(measure, event.at + displacement(event.push), event.push != tune::Push::none, symbol);
        }
    }
    /// The bar before on the sheet ends with the same chord.
    [[nodiscard]] bool goes_on(std::size_t measure, const theory::Chord& chord) const {
        if (measure == 0 || !succession_.follows(measure - 1, measure)) return false;
        const auto& before = bar_of(tune_, form_.bars[measure - 1]).changes;
        return !before.empty() && before.back().chord == chord;
    }
    void place_event(std::size_t measure, Time at, bool moved, Symbol symbol) {
        if (at >= Time(0)) {
            symbol.at = at;
            symbol.pushed = moved;
            symbols_[measure].push_back(std::move(symbol));
            return;
        }
        const bool early = succession_.always_led_to(measure);
        if (!early || succession_.starts_with(measure)) {
            Symbol on_beat = symbol;
            on_beat.early = false;
            on_beat.push_in_words = !early && !succession_.starts_with(measure);
            symbols_[measure].push_back(std::move(on_beat));
        }
        if (!early) return;
        symbol.pushed = true;
        for (const auto before : succession_.before(measure)) {
            symbol.at = measures_[before].length + at;
            symbols_[before].push_back(symbol);
        }
    }
    /// By time; of two at one moment the pushed one stays, for it is what sounds.
    static void tidy(std::vector<Symbol>& list) {
        std::stable_sort(list.begin(), list.end(), [](const Symbol& a, const Symbol& b) {
            if (a.at != b.at) return a.at < b.at;
            return a.pushed && !b.pushed;
        });
        const auto same_time = [](const Symbol& a, const Symbol& b) { return a.at == b.at; };
        list.erase(std::unique(list.begin(), list.end(), same_time), list.end());
    }

    const tune::Tune& tune_;
    const SheetForm& form_;
    const std::vector<score::Measure>& measures_;
    const Succession& succession_;
    std::vector<std::vector<Symbol>> symbols_;
};

}  // namespace

Succession::Succession(const std::vector<score::Measure>& measures)
    : before_(measures.size()), after_(measures.size()) {
    score::Part part;
    part.measures = measures;
    const auto order = score::play_order(part);
    if (!order.empty()) first_ = static_cast<std::size_t>(order.front());
    for (std::size_t i = 1; i < order.size(); ++i) {
        const auto from = static_cast<std::size_t>(order[i - 1]);
        const auto to = static_cast<std::size_t>(order[i]);
        insert_once(after_[from], to);
        insert_once(before_[to], from);
    }
}

bool Succession::always_led_to(std::size_t measure) const {
    const auto& before = before_[measure];
    return !before.empty() && std::all_of(before.begin(), before.end(),
                                          [&](std::size_t from) { return after_[from].size() == 1; });
}

bool Succession::follows(std::size_t measure, std::size_t next) const {
    const auto& after = after_[measure];
    return std::find(after.begin(), after.end(), next) != after.end();
}

std::vector<std::vector<Symbol>> place_symbols(const tune::Tune& tune, const SheetForm& form,
                                               const std::vector<score::Measure>& measures,
                                               const Succession& succession) {
    return Placing(tune, form, measures, succession).place();
}

}  // namespace relead::arrange
