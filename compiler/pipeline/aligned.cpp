#include "pipeline/aligned.h"

#include <algorithm>
#include <cstddef>
#include <map>
#include <set>
#include <utility>

#include "base/fmt.h"
#include "report/guide_line.h"
#include "theory/signs.h"
#include "tune/unfold.h"

namespace relead::pipeline {

namespace {

tune::Bar& bar_at(tune::Tune& tune, int section, int bar) {
    return tune.sections[static_cast<std::size_t>(section)].bars[static_cast<std::size_t>(bar)];
}
const tune::Bar& bar_at(const tune::Tune& tune, int section, int bar) {
    return tune.sections[static_cast<std::size_t>(section)].bars[static_cast<std::size_t>(bar)];
}

bool same_bar_shape(const tune::Bar& a, const tune::Bar& b) {
    return a.number == b.number && a.length == b.length && a.meter == b.meter &&
           a.repeat_begins == b.repeat_begins && a.repeat_ends == b.repeat_ends &&
           a.ending_begins == b.ending_begins && a.ending_ends == b.ending_ends;
}

bool same_section_shape(const tune::Section& a, const tune::Section& b) {
    return a.name == b.name &&
           std::equal(a.bars.begin(), a.bars.end(), b.bars.begin(), b.bars.end(), same_bar_shape);
}

/// The chords that a row sounds, in its changes, written out in every bar.
tune::Tune sounding(tune::Tune tune, bool soloist) {
    for (auto& section : tune.sections) {
        for (auto& bar : section.bars) {
            if (soloist && bar.soloist) bar.changes = *bar.soloist;
            bar.soloist.reset();
            bar.ossia.reset();
            bar.simile = false;
        }
    }
    return tune;
}

/// The written tune with one section for each stretch of its chorus, without signs.
tune::Tune write_out(const tune::Tune& written, const std::vector<tune::PlayedBar>& chorus) {
    auto tune = sounding(written, false);
    tune.sections.clear();
    tune.order = {};
    for (std::size_t i = 0; i < chorus.size(); ++i) {
        const auto& at = chorus[i];
        const auto& section = written.sections[static_cast<std::size_t>(at.section)];
        const bool goes_on = i > 0 && chorus[i - 1].section == at.section &&
                             chorus[i - 1].playing == at.playing && chorus[i - 1].bar < at.bar;
        if (!goes_on) {
            tune.order.form.push_back(static_cast<int>(tune.sections.size()));
            tune.sections.push_back(section);
            auto& opened = tune.sections.back();
            opened.bars.clear();
            opened.key = tune::key_at(section, at.bar);
            if (at.playing > 0) opened.name += std::to_string(at.playing + 1);
        }
        auto bar = bar_at(written, at.section, at.bar);
        bar.repeat_begins = bar.ending_ends = bar.simile = false;
        bar.repeat_ends = 0;
        bar.ending_begins.clear();
        bar.marks.clear();
        bar.soloist.reset();
        bar.ossia.reset();
        if (!goes_on) bar.new_key.reset();
        tune.sections.back().bars.push_back(std::move(bar));
    }
    return tune;
}

/// Where each bar of the chorus stands in a tune of the sheet.
std::vector<std::pair<int, int>> places_of(const tune::Tune& tune, const std::vector<tune::PlayedBar>& chorus,
                                           bool unfolded) {
    std::vector<std::pair<int, int>> places;
    if (!unfolded) {
        for (const auto& played : chorus) places.emplace_back(played.section, played.bar);
        return places;
    }
    for (std::size_t s = 0; s < tune.sections.size(); ++s) {
        for (std::size_t b = 0; b < tune.sections[s].bars.size(); ++b)
            places.emplace_back(static_cast<int>(s), static_cast<int>(b));
    }
    return places;
}

std::string counted(std::size_t count, std::string_view noun) {
    return fmt::format("{} {}{}", count, noun, count == 1 ? "" : "s");
}

/// "mild 2 \u00b7 174225a7: Dominants from a half step above. 6 changes; 12 of 32 bars differ \u2026"
std::string row_sentence(const report::Comparison& comparison, const report::ComparedRow& row,
                         const ComparedTune& from) {
    auto text = stamp_of(from) + (row.soloist ? " (for the soloist): " : ": ") + row.idea;
    if (!row.idea.empty()) text += row.idea.back() == '.' ? " " : ". ";
    if (from.version != nullptr) text += counted(row.changes.size(), "change") + "; ";
    text += fmt::format("{} of {} differ", row.bars_changed, counted(comparison.bars.size(), "bar"));
    if (row.highest_outside > 0) text += fmt::format("; outside {} at most", row.highest_outside);
    return text + fmt::format("; guide-tone line {}.", report::guide_sentence(row.guide_line));
}

class Aligning {
public:
    explicit Aligning(const Compared& compared)
        : compared_(compared), comparison_(compared.comparison), chorus_(tune::one_chorus(compared.tune)) {}

    Aligned run() {
        const auto others = compared_.rows();
        result_.unfolded = std::any_of(others.begin(), others.end(), [&](const ComparedTune& other) {
            return !same_shape(compared_.tune, *other.tune);
        });
        result_.written =
            result_.unfolded ? write_out(compared_.tune, chorus_) : sounding(compared_.tune, false);
        places_ = places_of(result_.written, chorus_, result_.unfolded);
        for (std::size_t row = 0; row < comparison_.rows.size(); ++row)
            add_row(row, row == 0 ? compared_.tune : *others[row - 1].tune);
        number_changes();
        add_end_notes();
        return std::move(result_);
    }

private:
    void add_row(std::size_t row, const tune::Tune& tune) {
        const auto& compared = comparison_.rows[row];
        arrange::SheetRow sheet_row;
        sheet_row.name = row == 0 ? "Written" : compared.name;
        sheet_row.soloist = compared.soloist;
        sheet_row.tune = row == 0           ? result_.written
                         : result_.unfolded ? with_chords(row)
                                            : sounding(tune, compared.soloist);
        if (row > 0) mark_changes(sheet_row);
        result_.rows.push_back(std::move(sheet_row));
    }

    /// The written tune, written out, with the chords of a row.
    [[nodiscard]] tune::Tune with_chords(std::size_t row) const {
        auto tune = result_.written;
        for (std::size_t i = 0; i < comparison_.bars.size(); ++i) {
            auto& changes = bar_at(tune, places_[i].first, places_[i].second).changes;
            changes.clear();
            for (const auto& chord : comparison_.bars[i].rows[row]) {
                tune::ChordEvent event;
                event.chord = chord.chord;
                event.at = chord.at;
                event.length = chord.length;
                event.push = chord.push;
                changes.push_back(std::move(event));
            }
        }
        return tune;
    }

    void mark_changes(arrange::SheetRow& row) const {
        for (std::size_t s = 0; s < row.tune.sections.size(); ++s) {
            for (std::size_t b = 0; b < row.tune.sections[s].bars.size(); ++b)
                mark_bar(static_cast<int>(s), static_cast<int>(b), row);
        }
    }
    void mark_bar(int section, int bar, arrange::SheetRow& row) const {
        const auto& now = bar_at(row.tune, section, bar).changes;
        const auto& was = bar_at(result_.written, section, bar).changes;
        for (std::size_t i = 0; i < now.size(); ++i) {
            arrange::ChangedChord changed{{section, bar, static_cast<int>(i)}, {}};
            bool differs = was.empty();
            for (const auto& before : was) {
                if (before.at >= now[i].at + now[i].length || now[i].at >= before.at + before.length)
                    continue;
                changed.was.push_back(before.chord);
                differs = differs || !report::sounds_alike(before.chord, now[i].chord, row.soloist);
            }
            if (differs) row.changed.push_back(std::move(changed));
        }
    }

    /// A number for each change, in the order of the sheet, over its first chord wherever the sheet shows it.
    /// Rows that make the same change for the same reason share it. A change that no chorus but the last
    /// plays has only its reason, among the end notes.
    void number_changes() {
        std::set<std::pair<std::size_t, int>> placed;  // row, change
        std::vector<int> before(comparison_.rows.size(), -1);
        for (std::size_t i = 0; i < comparison_.bars.size(); ++i) {
            for (std::size_t row = 1; row < comparison_.rows.size(); ++row) {
                const auto& chords = comparison_.bars[i].rows[row];
                for (std::size_t c = 0; c < chords.size(); ++c) {
                    const int change = std::exchange(before[row], chords[c].change);
                    if (chords[c].change < 0 || chords[c].change == change) continue;
                    placed.emplace(row, chords[c].change);
                    number({places_[i].first, places_[i].second, static_cast<int>(c)}, row, chords[c].change);
                }
            }
        }
        for (std::size_t row = 1; row < comparison_.rows.size(); ++row) {
            for (std::size_t change = 0; change < comparison_.rows[row].changes.size(); ++change) {
                if (placed.count({row, static_cast<int>(change)}) == 0)
                    unplaced_.push_back(fmt::format("{}, {}", comparison_.rows[row].name,
                                                    why(row, static_cast<int>(change))));
            }
        }
    }
    [[nodiscard]] std::string why(std::size_t row, int change) const {
        const auto& reason = comparison_.rows[row].changes[static_cast<std::size_t>(change)];
        return fmt::format("{}  {} \u2192 {}: {}", reason.place, reason.old_changes, reason.new_changes,
                           reason.reason.empty() ? reason.sounding : reason.reason);
    }
    void number(const tune::ChordRef& ref, std::size_t row, int change) {
        const auto text = theory::with_signs(why(row, change));
        const auto [found, is_new] = numbers_.try_emplace(text, static_cast<int>(result_.reasons.size()) + 1);
        if (is_new) result_.reasons.push_back(text);
        auto& notes = result_.rows[row].notes;
        // A place that is played several times stands on the sheet once.
        const bool known =
            std::any_of(notes.begin(), notes.end(), [&](const auto& note) { return note.ref == ref; });
        if (!known) notes.push_back({ref, found->second});
    }

    void add_end_notes() {
        const auto& rows = comparison_.rows;
        const auto others = compared_.rows();
        for (std::size_t row = 1; row < rows.size(); ++row)
            result_.end_notes.push_back(
                theory::with_signs(row_sentence(comparison_, rows[row], others[row - 1])));
        result_.end_notes.push_back(
            fmt::format("Guide-tone line as written: {}.", report::guide_sentence(rows[0].guide_line)));
        for (const auto& note : unplaced_) result_.end_notes.push_back(theory::with_signs(note));
        for (const auto& note : comparison_.notes) result_.end_notes.push_back(theory::with_signs(note));
    }

    const Compared& compared_;
    const report::Comparison& comparison_;
    std::vector<tune::PlayedBar> chorus_;
    std::vector<std::pair<int, int>> places_;
    Aligned result_;
    std::map<std::string, int> numbers_;  // of reasons
    std::vector<std::string> unplaced_;
};

}  // namespace

bool same_shape(const tune::Tune& a, const tune::Tune& b) {
    return a.order.form == b.order.form && a.order.by_signs == b.order.by_signs &&
           std::equal(a.sections.begin(), a.sections.end(), b.sections.begin(), b.sections.end(),
                      same_section_shape);
}

Aligned align(const Compared& compared) {
    return Aligning(compared).run();
}

}  // namespace relead::pipeline
