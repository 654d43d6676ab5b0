// Chord symbols where they sound. A pushed chord stands at its early moment: in the bar before when
// that bar always leads to it, else it stays on its beat with the word "push". A late chord stands at
// its late moment.
#pragma once

#include <vector>

#include "arrange/sheet_form.h"
#include "score/measure.h"

namespace relead::arrange {

struct Symbol {
    Time at;
    theory::Chord chord;  ///< concert
    tune::ChordRef ref;
    bool pushed = false;         ///< moved off its beat
    bool early = false;          ///< moved before it: held over into the beat
    bool push_in_words = false;  ///< could not be moved
    bool continues = false;      ///< a `%` bar: the chord of the bar before goes on
};

/// Which measures follow which when the sheet is played.
class Succession {
public:
    explicit Succession(const std::vector<score::Measure>& measures);
    /// Every bar that is played right before `measure` leads nowhere else.
    [[nodiscard]] bool always_led_to(std::size_t measure) const;
    [[nodiscard]] const std::vector<std::size_t>& before(std::size_t measure) const {
        return before_[measure];
    }
    [[nodiscard]] bool follows(std::size_t measure, std::size_t next) const;
    [[nodiscard]] bool starts_with(std::size_t measure) const { return first_ == measure; }

private:
    std::vector<std::vector<std::size_t>> before_, after_;
    std::size_t first_ = 0;
};

/// One list per measure, by time.
[[nodiscard]] std::vector<std::vector<Symbol>> place_symbols(const tune::Tune& tune, const SheetForm& form,
                                                             const std::vector<score::Measure>& measures,
                                                             const Succession& succession);

}  // namespace relead::arrange
