#include "score/play_order.h"

#include <algorithm>
#include <optional>

namespace relead::score {

namespace {

using Kind = Direction::Kind;

class Reader {
public:
    explicit Reader(const Part& part) : measures_(part.measures) {}

    std::vector<int> read(std::size_t limit) {
        while (here_ < measures_.size() && order_.size() < limit && !at_coda_of_the_last_time()) {
            if (enter()) leave();
        }
        return std::move(order_);
    }

private:
    [[nodiscard]] const Measure& measure() const { return measures_[here_]; }

    /// A coda that no D.C. or D.S. leads to is for the last time through.
    [[nodiscard]] bool at_coda_of_the_last_time() const {
        const auto* coda = find(measure(), Kind::coda);
        if (coda == nullptr || jumped_) return false;
        return find_sign(Kind::to_coda, coda->target) && !has_jump();
    }
    [[nodiscard]] bool has_jump() const {
        return std::any_of(measures_.begin(), measures_.end(), [&](const Measure& m) {
            return find(m, Kind::da_capo) != nullptr || find(m, Kind::dal_segno) != nullptr;
        });
    }

    [[nodiscard]] const Direction* find(const Measure& in, Kind kind) const {
        const auto at = std::find_if(in.directions.begin(), in.directions.end(),
                                     [&](const Direction& d) { return d.kind == kind; });
        return at == in.directions.end() ? nullptr : &*at;
    }
    [[nodiscard]] std::optional<std::size_t> find_sign(Kind kind, const std::string& target) const {
        for (std::size_t i = 0; i < measures_.size(); ++i) {
            const auto* sign = find(measures_[i], kind);
            if (sign != nullptr && sign->target == target) return i;
        }
        return std::nullopt;
    }
    /// First measure after the bracket that begins here.
    [[nodiscard]] std::size_t after_ending() const {
        std::size_t i = here_;
        while (i < measures_.size() && measures_[i].ending_stop == EndingStop::none) ++i;
        return i + 1;
    }
    [[nodiscard]] bool another_ending_follows() const {
        const auto next = after_ending();
        return next < measures_.size() && measures_[next].ending.has_value();
    }
    [[nodiscard]] bool ending_is_ours() const {
        if (!another_ending_follows()) return true;
        if (returning_) return false;
        const auto& passes = measure().ending->passes;
        return std::find(passes.begin(), passes.end(), pass_) != passes.end();
    }

    /// Plays the measure, or steps over an ending of another pass and returns false.
    bool enter() {
        if (measure().repeat_begins && repeat_start_ != here_) {
            repeat_start_ = here_;
            pass_ = 1;
        }
        if (measure().ending && !ending_is_ours()) {
            here_ = after_ending();
            return false;
        }
        if (measure().ending) in_ending_ = another_ending_follows() ? Within::earlier : Within::last;
        order_.push_back(static_cast<int>(here_));
        return true;
    }

    [[nodiscard]] bool repeats() const {
        if (measure().repeat_ends == 0 || returning_) return false;
        return in_ending_ == Within::earlier || pass_ < measure().repeat_ends;
    }

    void leave() {
        const bool again = repeats();
        const bool ends_repeat = measure().repeat_ends > 0;
        const bool ends_last_ending = measure().ending_stop != EndingStop::none && in_ending_ == Within::last;
        if (measure().ending_stop != EndingStop::none) in_ending_ = Within::none;
        if (again) {
            ++pass_;
            here_ = repeat_start_ ? *repeat_start_ : first_full_measure();
            repeat_start_ = here_;
            return;
        }
        if (jump()) return;
        if (ends_repeat || ends_last_ending) {
            repeat_start_ = here_ + 1;
            pass_ = 1;
        }
        ++here_;
    }

    [[nodiscard]] std::size_t first_full_measure() const {
        std::size_t i = 0;
        while (i + 1 < measures_.size() && measures_[i].implicit) ++i;
        return i;
    }

    /// Follows the sign at the end of this measure, if there is one that counts now.
    bool jump() {
        std::optional<std::size_t> target;
        if (jumped_) {
            if (find(measure(), Kind::fine) != nullptr) target = measures_.size();
            const auto* sign = returning_ ? find(measure(), Kind::to_coda) : nullptr;
            if (sign != nullptr) target = find_sign(Kind::coda, sign->target);
            if (sign != nullptr && target) returning_ = false;  // repeats of the coda are still to come
        } else {
            if (find(measure(), Kind::da_capo) != nullptr) target = first_full_measure();
            if (const auto* sign = find(measure(), Kind::dal_segno))
                target = find_sign(Kind::segno, sign->target);
            jumped_ = returning_ = target.has_value();
        }
        if (!target) return false;
        here_ = *target;
        return true;
    }

    enum class Within { none, earlier, last };

    const std::vector<Measure>& measures_;
    std::vector<int> order_;
    std::size_t here_ = 0;
    std::optional<std::size_t> repeat_start_;
    int pass_ = 1;
    Within in_ending_ = Within::none;
    bool jumped_ = false;
    bool returning_ = false;  ///< between the jump and the coda
};

}  // namespace

std::vector<int> play_order(const Part& part, std::size_t limit) {
    return Reader(part).read(limit);
}

}  // namespace relead::score
