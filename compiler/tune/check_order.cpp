#include <algorithm>
#include <array>

#include "base/fmt.h"
#include "tune/check.h"
#include "tune/dump.h"
#include "tune/signs.h"
#include "tune/spot.h"
#include "tune/unfold.h"

namespace relead::tune {
namespace {

using Kind = Mark::Kind;

/// A sign that steers the order of playing, where it stands.
struct PlacedSign {
    const Mark* mark;
    BarRef bar;
};

class SignCheck {
public:
    SignCheck(const Tune& tune, text::Sink& sink) : tune_(tune), sink_(sink), signs_(find_signs(tune)) {
        for (std::size_t s = 0; s < tune.sections.size(); ++s)
            for (std::size_t b = 0; b < tune.sections[s].bars.size(); ++b)
                for (const auto& mark : tune.sections[s].bars[b].marks)
                    if (steers(mark.kind))
                        placed_.push_back({&mark, {static_cast<int>(s), static_cast<int>(b)}});
    }

    /// True when the signs give one clear order.
    bool run() {
        if (placed_.empty()) return true;
        check_twice();
        check_segno();
        check_fine();
        check_coda();
        if (!faulty_) check_way();
        return !faulty_;
    }
    [[nodiscard]] const PlacedSign* first() const { return placed_.empty() ? nullptr : &placed_.front(); }

private:
    static bool steers(Kind kind) {
        return kind == Kind::segno || kind == Kind::coda || kind == Kind::to_coda || kind == Kind::fine ||
               is_jump(kind);
    }

    [[nodiscard]] Place place(BarRef bar) const {
        return Spot{
            tune_.sections[static_cast<std::size_t>(bar.section)].name, bar_at(tune_, bar).number, {}, 0}
            .place();
    }
    [[nodiscard]] std::string name(BarRef bar) const {
        return Spot{
            tune_.sections[static_cast<std::size_t>(bar.section)].name, bar_at(tune_, bar).number, {}, 0}
            .name();
    }

    template <class Predicate>
    [[nodiscard]] const PlacedSign* find(Predicate is) const {
        const auto found = std::find_if(placed_.begin(), placed_.end(),
                                        [&](const PlacedSign& sign) { return is(sign.mark->kind); });
        return found == placed_.end() ? nullptr : &*found;
    }
    [[nodiscard]] const PlacedSign* find(Kind kind) const {
        return find([kind](Kind other) { return other == kind; });
    }

    text::Sink::Note report(text::Code code, const PlacedSign& sign, std::string sentence) {
        if (text::info(code).severity == Severity::error) faulty_ = true;
        auto note = sink_.emit(code, sign.mark->span, std::move(sentence));
        note.at(place(sign.bar));
        return note;
    }

    void check_twice() {
        for (std::size_t i = 0; i < placed_.size(); ++i) {
            const auto& sign = placed_[i];
            const auto same = [&](Kind kind) {
                return kind == sign.mark->kind || (is_jump(kind) && is_jump(sign.mark->kind));
            };
            const auto* earliest = find(same);
            if (earliest == &sign) continue;
            auto note = report(text::Code::sign_twice, sign,
                               fmt::format("There is such a sign at {} already; one tune has one of each.",
                                           name(earliest->bar)));
            if (sign.mark->kind == Kind::coda && !signs_.to_coda)
                note.fix(earliest->mark->span, "to coda",
                         fmt::format("Leave for the coda at {}", name(earliest->bar)));
        }
    }

    void check_segno() {
        const auto* segno = find(Kind::segno);
        const auto* jump = find(is_jump);
        const bool to_segno = signs_.jump && signs_.jumps_to_segno();
        if (to_segno && segno == nullptr)
            report(text::Code::segno_missing, *jump,
                   fmt::format("The D.S. at {} has no segno to go back to.", name(jump->bar)))
                .fix(jump->mark->span, capo_phrase(), "Go back to the beginning instead");
        if (segno != nullptr && !to_segno)
            report(text::Code::segno_unused, *segno,
                   fmt::format("No D.S. leads to the segno at {}.", name(segno->bar)));
    }

    [[nodiscard]] std::string capo_phrase() const {
        if (signs_.jump_kind == Kind::dal_segno_al_fine) return "D.C. al fine";
        if (signs_.jump_kind == Kind::dal_segno_al_coda) return "D.C. al coda";
        return "D.C.";
    }

    void check_fine() {
        const auto* fine = find(Kind::fine);
        const auto* jump = find(is_jump);
        const bool al_fine = signs_.jump && (signs_.jump_kind == Kind::da_capo_al_fine ||
                                             signs_.jump_kind == Kind::dal_segno_al_fine);
        if (al_fine && fine == nullptr)
            report(text::Code::fine_missing, *jump,
                   fmt::format("The sign at {} plays to a fine, but there is none.", name(jump->bar)));
        if (fine != nullptr && (jump == nullptr || !signs_.returns_to_fine()))
            report(text::Code::fine_unused, *fine,
                   fmt::format("No D.C. or D.S. al fine leads to the fine at {}.", name(fine->bar)));
    }

    void check_coda() {
        const auto* coda = find(Kind::coda);
        const auto* to_coda = find(Kind::to_coda);
        const auto* jump = find(is_jump);
        const bool al_coda = signs_.jump && (signs_.jump_kind == Kind::da_capo_al_coda ||
                                             signs_.jump_kind == Kind::dal_segno_al_coda);
        const auto* asks = to_coda != nullptr ? to_coda : al_coda ? jump : nullptr;
        if (asks != nullptr && coda == nullptr)
            report(
                text::Code::coda_missing, *asks,
                fmt::format("The sign at {} leads to a coda, but no bar is marked coda.", name(asks->bar)));
        if (to_coda == nullptr && (coda != nullptr || al_coda)) {
            const auto& at = coda != nullptr ? *coda : *jump;
            report(text::Code::to_coda_missing, at,
                   fmt::format("No bar is marked to coda, so nothing leads to the coda{}.",
                               coda != nullptr ? " at " + name(coda->bar) : ""));
        }
    }

    /// The way back must pass the sign that it is played to.
    void check_way() {
        if (!signs_.jump) return;
        const auto from = signs_.jump_target(tune_);
        const auto* to_coda = find(Kind::to_coda);
        if (to_coda != nullptr && signs_.returns_to_coda() && to_coda->bar < from)
            report(text::Code::to_coda_missing, *to_coda,
                   fmt::format("The way back begins at {}, behind the to coda at {}.", name(from),
                               name(to_coda->bar)));
        const auto* fine = find(Kind::fine);
        if (fine != nullptr && signs_.returns_to_fine() && fine->bar < from)
            report(text::Code::fine_missing, *fine,
                   fmt::format("The way back begins at {}, behind the fine at {}.", name(from),
                               name(fine->bar)));
    }

    const Tune& tune_;
    text::Sink& sink_;
    Signs signs_;
    std::vector<PlacedSign> placed_;
    bool faulty_ = false;
};

bool same_bars(const std::vector<PlayedBar>& a, const std::vector<PlayedBar>& b) {
    return std::equal(a.begin(), a.end(), b.begin(), b.end(), [](const PlayedBar& x, const PlayedBar& y) {
        return x.section == y.section && x.bar == y.bar;
    });
}

/// Form and signs: they may say the same, never two things.
void compare_orders(const Tune& tune, const PlacedSign& sign, const Limits& limits, text::Sink& sink) {
    Tune by_signs = tune;
    by_signs.order.by_signs = true;
    by_signs.order.form.clear();
    for (std::size_t i = 0; i < tune.sections.size(); ++i) by_signs.order.form.push_back(static_cast<int>(i));
    const auto form_bars = one_chorus(tune, limits);
    const auto sign_bars = one_chorus(by_signs, limits);
    if (same_bars(form_bars, sign_bars)) {
        sink.emit(
            text::Code::signs_repeat_form, sign.mark->span,
            "The signs say what the form says already; the sheet's signs are worked out from the form.");
        return;
    }
    sink.emit(text::Code::two_orders, tune.order.span,
              fmt::format("Form and signs disagree: the form plays {}, the signs play {}. Keep one of them.",
                          bar_runs(tune, form_bars), bar_runs(tune, sign_bars)))
        .fix(tune.order.span, "", "Play by the signs: take the form line out");
}

void check_played(const Tune& tune, text::Sink& sink) {
    const auto& order = tune.order;
    for (std::size_t i = 0; i < tune.sections.size(); ++i) {
        const auto index = static_cast<int>(i);
        const auto& section = tune.sections[i];
        const bool in_form = std::find(order.form.begin(), order.form.end(), index) != order.form.end();
        const bool in_running =
            std::any_of(order.running.begin(), order.running.end(), [&](const auto& item) {
                return section_of_item(tune, item) == index ||
                       (!item.vamp.empty() && find_section(tune, item.vamp) == index) ||
                       (item.tag && find_section(tune, item.tag->section) == index);
            });
        if (in_form || in_running || find_section(tune, section.name) != index) continue;
        sink.emit(text::Code::section_never_played, section.span,
                  fmt::format("The section {} is never played: the form leaves it out.", section.name));
    }
}

/// Only what is played first can have a pickup.
void check_pickups(const Tune& tune, const Limits& limits, text::Sink& sink) {
    const auto choruses = performance(tune, limits);
    const auto* first = choruses.empty() || choruses.front().bars.empty() ? nullptr : &choruses.front();
    for (std::size_t i = 0; i < tune.sections.size(); ++i) {
        const auto& section = tune.sections[i];
        if (section.bars.empty() || section.bars.front().number > 0) continue;
        const bool played =
            first != nullptr && std::any_of(first->bars.begin(), first->bars.end(), [&](const auto& bar) {
                return bar.section == static_cast<int>(i) && bar.bar == 0;
            });
        if (played) continue;
        const auto& pickup = section.bars.front();
        sink.emit(text::Code::pickup_never_played, pickup.span,
                  fmt::format(
                      "The pickup of {} is never played, since the tune begins elsewhere; write it into the "
                      "bar before.",
                      section.name))
            .at(Spot{section.name, 0, {}, 0}.place());
    }
}

void check_length(const Tune& tune, const Limits& limits, text::Sink& sink) {
    Limits wider = limits;
    wider.unfolded_bars = limits.unfolded_bars + 1;
    std::size_t total = 0;
    for (const auto& chorus : performance(tune, wider)) total += chorus.bars.size();
    if (total <= static_cast<std::size_t>(limits.unfolded_bars)) return;
    const auto& running = tune.order.running;
    const auto span = running.empty() ? tune.order.span : running.front().span;
    sink.emit(text::Code::unfolds_too_long, span,
              fmt::format("Played out the tune has more than {} bars.", limits.unfolded_bars));
}

}  // namespace

void check_order(const Tune& tune, const Limits& limits, text::Sink& sink) {
    SignCheck signs(tune, sink);
    const bool clear = signs.run();
    if (clear && !tune.order.by_signs && signs.first() != nullptr)
        compare_orders(tune, *signs.first(), limits, sink);
    if (!tune.order.by_signs) check_played(tune, sink);
    check_pickups(tune, limits, sink);
    check_length(tune, limits, sink);
}

}  // namespace relead::tune
