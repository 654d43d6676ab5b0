#include "arrange/layout.h"

#include <algorithm>
#include <array>
#include <cstdlib>
#include <map>
#include <optional>

#include "theory/chord.h"

namespace relead::arrange {

namespace {

// Widths in tenths of a staff space (40 tenths = 7 mm, a staff's height).
constexpr int line_width = 1060;
constexpr int first_attributes = 70;  // clef and meter
constexpr int accidental_width = 11;
constexpr int bars_a_line = 4;
constexpr int most_bars = 6;
/// Four bars make the best line, then five and three; a lone bar is the worst.
constexpr std::array<int, most_bars + 1> cost_of_count{20, 14, 5, 2, 0, 4, 9};
constexpr std::size_t many_symbols = 6;
constexpr int many_notes = 16;
constexpr int systems_a_page = 11;
constexpr int systems_of_two_staves = 6;  // seven run over the page of readers that ignore the staff size
constexpr int systems_lost_to_lyrics = 3;

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

/// Moment by moment, the widest of what stands there on any staff.
int notes_width(const score::Measure& measure) {
    std::map<Time, int> widest;
    int width = 0;
    for (const auto& voice : measure.voices) {
        for (const auto& element : voice.elements) {
            if (element.grace)
                width += element_width(element);
            else
                widest[element.at] = std::max(widest[element.at], element_width(element));
        }
    }
    for (const auto& [at, wide] : widest) width += wide;
    return width;
}

int bar_width(const score::Measure& measure) {
    int notes = 26 + notes_width(measure), symbols = 10;
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
    Layout(const SheetForm& form, std::vector<score::Measure>& measures, int staves)
        : form_(form), measures_(measures), staves_(staves) {}

    PageCount set() {
        for (const auto& stretch : stretches()) break_lines(stretch);
        return break_pages();
    }

private:
    [[nodiscard]] bool opens_stretch(std::size_t i) const {
        if (i == 0) return true;
        if (measures_[i - 1].implicit) return false;  // the pickup stands before the first bar
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

    /// How badly bars [first, last) of a stretch make a line; nothing when they do not fit.
    [[nodiscard]] std::optional<int> line_cost(const Stretch& stretch, std::size_t first,
                                               std::size_t last) const {
        int count = 0, limit = most_bars;
        for (auto i = first; i < last; ++i) {
            if (!measures_[i].implicit) ++count;
            if (is_dense(measures_[i])) limit = 3;
        }
        const bool one = last - first == 1;
        if (!one && (count > limit || width(first, last) > room())) return std::nullopt;
        int cost = cost_of_count[static_cast<std::size_t>(std::min(count, most_bars))];
        const bool after_ending =
            first > 0 && measures_[first].ending && measures_[first - 1].repeat_ends > 0;
        if (after_ending) return cost - 1;
        if (phrase_position(stretch, first) % bars_a_line != 0) cost += 3;
        return cost;
    }
    /// Bars of the stretch before this one, a pickup not counted.
    [[nodiscard]] int phrase_position(const Stretch& stretch, std::size_t bar) const {
        int position = 0;
        for (auto i = stretch.first; i < bar; ++i) position += measures_[i].implicit ? 0 : 1;
        return position;
    }
    /// The cheapest way to cut a stretch into lines.
    void break_lines(const Stretch& stretch) {
        const auto count = stretch.last - stretch.first;
        std::vector<int> rest(count + 1, 0);
        std::vector<std::size_t> next(count, count);
        for (auto from = count; from-- > 0;) {
            bool any = false;
            for (auto to = from + 1; to <= std::min(count, from + most_bars + 1); ++to) {
                const auto cost = line_cost(stretch, stretch.first + from, stretch.first + to);
                if (!cost || (any && *cost + rest[to] >= rest[from])) continue;
                any = true;
                rest[from] = *cost + rest[to];
                next[from] = to;
            }
        }
        for (std::size_t at = 0; at < count; at = next[at]) {
            if (stretch.first + at > 0) measures_[stretch.first + at].before = score::Break::system;
        }
    }

    /// Pages of about equal length; a page begins with a section where one is near.
    PageCount break_pages() {
        std::vector<std::size_t> systems{0};
        for (std::size_t i = 1; i < measures_.size(); ++i) {
            if (measures_[i].before == score::Break::system) systems.push_back(i);
        }
        const int most = staves_ == 1 ? systems_a_page : systems_of_two_staves;
        const int limit = has_lyrics() ? most - systems_lost_to_lyrics : most;
        const int count = static_cast<int>(systems.size());
        const int pages = std::max(1, (count + limit - 1) / limit);
        const int even_share = (count + pages - 1) / pages;
        PageCount count_of;
        int& page = count_of.pages;
        int on_page = 0;
        for (const auto first : systems) {
            const bool good_place = page < pages && on_page >= even_share && form_.bars[first].opens_section;
            if (on_page >= limit || good_place) {
                measures_[first].before = score::Break::page;
                ++page;
                on_page = 0;
            }
            count_of.systems = std::max(count_of.systems, ++on_page);
        }
        return count_of;
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
    int staves_;
};

}  // namespace

PageCount lay_out(const SheetForm& form, std::vector<score::Measure>& measures, int staves) {
    return Layout(form, measures, staves).set();
}

}  // namespace relead::arrange
