#include "arrange/layout.h"

#include <algorithm>
#include <cstdlib>

#include "theory/chord.h"

namespace relead::arrange {

namespace {

// Widths in tenths of a staff space (40 tenths = 7 mm, a staff's height).
constexpr int line_width = 1060;
constexpr int first_attributes = 70;  // clef and meter
constexpr int accidental_width = 11;
constexpr int bars_a_line = 4;
constexpr std::size_t many_symbols = 6;
constexpr int many_notes = 16;
constexpr int systems_a_page = 11;

int symbol_width(const score::Harmony& harmony) {
    return 14 + 11 * static_cast<int>(theory::to_string(harmony.chord, theory::SymbolStyle::plain).size());
}

int element_width(const score::Element& element) {
    int width = element.grace ? 14 : element.length < Time(1, 4) ? 24 : element.length < Time(1, 2) ? 34 : 48;
    for (const auto& head : element.heads) {
        if (head.accidental) width += accidental_width;
    }
    int syllables = 0;
    for (const auto& lyric : element.lyrics)
        syllables = std::max(syllables, 10 + 8 * static_cast<int>(lyric.text.size()));
    return std::max(width, syllables);
}

int note_count(const score::Measure& measure) {
    return measure.voices.empty() ? 0 : static_cast<int>(measure.voices.front().elements.size());
}

int bar_width(const score::Measure& measure) {
    int notes = 26, symbols = 10;
    if (!measure.voices.empty()) {
        for (const auto& element : measure.voices.front().elements) notes += element_width(element);
    }
    for (const auto& harmony : measure.harmonies) symbols += symbol_width(harmony);
    if (measure.repeat_begins || measure.repeat_ends > 0) notes += 20;
    if (measure.key) notes += 20 + accidental_width * std::abs(measure.key->fifths);
    if (measure.time) notes += 20;
    return std::max({notes, symbols, 110});
}

bool is_dense(const score::Measure& measure) {
    return measure.harmonies.size() > many_symbols || note_count(measure) > many_notes;
}

/// Bars [first, last) that go on lines of their own.
struct Stretch {
    std::size_t first = 0, last = 0;
};

class Layout {
public:
    Layout(const SheetForm& form, std::vector<score::Measure>& measures) : form_(form), measures_(measures) {}

    int set() {
        for (const auto& stretch : stretches()) break_lines(stretch);
        return break_pages();
    }

private:
    [[nodiscard]] bool opens_stretch(std::size_t i) const {
        if (i == 0) return true;
        if (measures_[i - 1].implicit) return false;
        const bool has_sign =
            std::any_of(measures_[i].directions.begin(), measures_[i].directions.end(),
                        [](const auto& d) { return d.kind == score::Direction::Kind::coda; });
        return form_.bars[i].opens_section || has_sign;
    }
    [[nodiscard]] std::vector<Stretch> stretches() const {
        std::vector<Stretch> found;
        for (std::size_t i = 0; i < measures_.size(); ++i) {
            if (opens_stretch(i)) found.push_back({i, i});
            found.back().last = i + 1;
        }
        return found;
    }
    [[nodiscard]] int width(std::size_t first, std::size_t last) const {
        int sum = 0;
        for (auto i = first; i < last; ++i) sum += bar_width(measures_[i]);
        return sum;
    }
    [[nodiscard]] int room() const { return line_width - first_attributes - 5 * accidental_width; }

    /// End of the line that begins at `first`.
    [[nodiscard]] std::size_t line_end(std::size_t first, std::size_t last) const {
        std::size_t end = first;
        int count = 0;
        int limit = bars_a_line;
        while (end < last) {
            const auto& measure = measures_[end];
            if (is_dense(measure)) limit = std::min(limit, 3);
            const bool later_ending =
                end > first && measure.ending && measures_[end - 1].ending_stop != score::EndingStop::none;
            if (later_ending && count + ending_length(end) > limit) break;
            if (count == limit || (count > 0 && width(first, end + 1) > room())) break;
            if (!measure.implicit) ++count;
            ++end;
        }
        // A lone bar left over joins the line before it when there is room.
        if (last - end == 1 && !is_dense(measures_[end]) && width(first, last) <= room()) return last;
        return end;
    }
    [[nodiscard]] int ending_length(std::size_t first) const {
        int length = 1;
        for (auto i = first; i < measures_.size() && measures_[i].ending_stop == score::EndingStop::none; ++i)
            ++length;
        return length;
    }
    void break_lines(const Stretch& stretch) {
        for (auto at = stretch.first; at < stretch.last;) {
            if (at > 0) measures_[at].before = score::Break::system;
            at = line_end(at, stretch.last);
        }
    }

    /// Pages of about equal length; a page begins with a section where one is near.
    int break_pages() {
        std::vector<std::size_t> systems{0};
        for (std::size_t i = 1; i < measures_.size(); ++i) {
            if (measures_[i].before == score::Break::system) systems.push_back(i);
        }
        const int limit = has_lyrics() ? systems_a_page - 3 : systems_a_page;
        const int count = static_cast<int>(systems.size());
        const int pages = std::max(1, (count + limit - 1) / limit);
        const int even_share = (count + pages - 1) / pages;
        int page = 1;
        int on_page = 0;
        for (const auto first : systems) {
            const bool good_place = page < pages && on_page >= even_share && form_.bars[first].opens_section;
            if (on_page >= limit || good_place) {
                measures_[first].before = score::Break::page;
                ++page;
                on_page = 0;
            }
            ++on_page;
        }
        return page;
    }
    [[nodiscard]] bool has_lyrics() const {
        for (const auto& measure : measures_) {
            for (const auto& voice : measure.voices) {
                for (const auto& element : voice.elements) {
                    if (!element.lyrics.empty()) return true;
                }
            }
        }
        return false;
    }

    const SheetForm& form_;
    std::vector<score::Measure>& measures_;
};

}  // namespace

int lay_out(const SheetForm& form, std::vector<score::Measure>& measures) {
    return Layout(form, measures).set();
}

}  // namespace relead::arrange
