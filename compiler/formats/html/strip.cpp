#include "formats/html/strip.h"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <optional>

#include "base/fmt.h"
#include "formats/html/escape.h"
#include "theory/signs.h"

namespace relead::formats::html {

namespace {

// The picture's own units: a bar is 240 wide.
constexpr double width = 240;
constexpr int height = 90;
constexpr double anchor = 7;        ///< from a chord's moment to its symbol and thread node
constexpr double slope = 22;        ///< a thread leaves its tone this long before it arrives
constexpr double symbol_base = 27;  ///< base line of the symbols
constexpr double threads_top = 44;
constexpr double threads_bottom = 77;

using report::ListenedChord;
using report::ThreadPoint;

/// Numbers without needless digits keep the page small.
std::string number(double value) {
    const double rounded = std::round(value * 10) / 10;
    auto text = fmt::format("{:.1f}", rounded);
    if (text.ends_with(".0")) text.resize(text.size() - 2);
    return text == "-0" ? "0" : text;
}

double x_of(Time at, Time length) {
    return width * (at / length).to_double() + anchor;
}

struct Picture {
    const report::Listening& page;
    const report::ComparedBar& bar;
    std::size_t bar_index;
    std::size_t row;
    HeightRange range;

    [[nodiscard]] const std::vector<ListenedChord>& listened() const { return page.chords[bar_index][row]; }
    [[nodiscard]] const std::vector<report::ComparedChord>& chords() const { return bar.rows[row]; }
    [[nodiscard]] double y_of(double semitones) const {
        const double share = (semitones - range.low) / std::max(1, range.high - range.low);
        return threads_bottom - share * (threads_bottom - threads_top);
    }
    [[nodiscard]] double end_of(std::size_t chord) const {
        return chord + 1 < chords().size() ? x_of(chords()[chord + 1].at, bar.length) : width + anchor;
    }
};

std::string time_line(const Picture& picture) {
    const bool begins = picture.bar.section_begins;
    std::string out = begins ? "<path class=\"t e\" d=\"M0 0v10\"/>" : "";
    out += fmt::format("<path class=\"t\" d=\"M0 1h{}{}", width, begins ? "" : "M0 0v9");
    // Counted back from the bar line: a pickup ends on it and may begin between two beats.
    const Time beat(1, picture.bar.unit);
    for (Time at = picture.bar.length - beat; at > Time(0); at -= beat) {
        out += fmt::format("M{} 0v4", number(width * (at / picture.bar.length).to_double()));
    }
    out += "\"/>";
    const bool last = picture.bar_index + 1 == picture.page.comparison.bars.size();
    return last ? out + fmt::format("<path class=\"t e\" d=\"M{} 0v10M{} 0v10\"/>", width, width - 5) : out;
}

/// A thread from a chord's node to the next: level, then the way to where it arrives. What lies beyond
/// the bar line is drawn by the next bar (`tail`).
std::string thread(const Picture& picture, std::size_t chord, const ThreadPoint& point) {
    const double from = x_of(picture.chords()[chord].at, picture.bar.length);
    const double to = picture.end_of(chord);
    const double level = picture.y_of(point.height);
    auto path = fmt::format("M{} {}", number(from), number(level));
    if (!point.goes) return path + fmt::format("H{}", number(std::min(width, to - slope)));
    const double turn = std::max(from, to - slope);
    const double arrival = picture.y_of(point.goes_to);
    path += fmt::format("H{}", number(turn));
    if (to <= width) return path + fmt::format("L{} {}", number(to), number(arrival));
    const double share = (width - turn) / (to - turn);
    return path + fmt::format("L{} {}", number(width), number(level + share * (arrival - level)));
}

/// The end of a thread that comes over the bar line.
std::string tail(const Picture& picture, const ThreadPoint& point, double turn) {
    if (!point.goes) return "";
    const double level = picture.y_of(point.height);
    const double arrival = picture.y_of(point.goes_to);
    const double share = -turn / (anchor - turn);
    return fmt::format("M0 {}L{} {}", number(level + share * (arrival - level)), number(anchor),
                       number(arrival));
}

/// The last chord before this bar in the same row, and where its threads turn, counted from this bar's start.
struct Before {
    const ListenedChord* chord = nullptr;
    double turn = 0;
};
Before before(const Picture& picture) {
    if (picture.bar_index == 0 || picture.chords().empty()) return {};
    const auto& bar = picture.page.comparison.bars[picture.bar_index - 1];
    const auto& chords = picture.page.chords[picture.bar_index - 1][picture.row];
    if (chords.empty()) return {};
    const double from = x_of(bar.rows[picture.row].back().at, bar.length) - width;
    return {&chords.back(), std::max(from, anchor - slope)};
}

std::string threads(const Picture& picture) {
    std::array<std::string, 2> calm;
    std::array<std::string, 2> jumps;
    const auto add = [&](std::size_t voice, const ThreadPoint& point, const std::string& path) {
        (point.move == "skip" || point.move == "leap" ? jumps : calm)[voice] += path;
    };
    const auto previous = before(picture);
    if (previous.chord != nullptr) {
        for (std::size_t i = 0; i < previous.chord->threads.size(); ++i) {
            add(i, previous.chord->threads[i], tail(picture, previous.chord->threads[i], previous.turn));
        }
    }
    for (std::size_t chord = 0; chord < picture.listened().size(); ++chord) {
        const auto& points = picture.listened()[chord].threads;
        for (std::size_t i = 0; i < points.size(); ++i) add(i, points[i], thread(picture, chord, points[i]));
    }
    std::string out;
    for (std::size_t i = 0; i < 2; ++i) {
        const char* voice = i == 0 ? "h" : "v";
        if (!calm[i].empty()) out += fmt::format("<path class=\"{}\" d=\"{}\"/>", voice, calm[i]);
        if (!jumps[i].empty()) out += fmt::format("<path class=\"{} j\" d=\"{}\"/>", voice, jumps[i]);
    }
    return out;
}

std::size_t letters(const std::string& text) {
    return static_cast<std::size_t>(
        std::count_if(text.begin(), text.end(), [](char c) { return (c & 0xC0) != 0x80; }));
}

/// The widest that any reader sees, roughly: digits and letters of the fonts at hand are near these widths.
double symbol_width(const ListenedChord& chord) {
    double widest = 0;
    for (const auto& pieces : chord.symbols) {
        const auto small = letters(pieces.suffix) + (pieces.bass.empty() ? 0 : letters(pieces.bass) + 1);
        widest = std::max(
            widest, 15.0 * static_cast<double>(letters(pieces.root)) + 9.8 * static_cast<double>(small));
    }
    return widest;
}

std::string symbol_text(const ListenedChord& chord, double x, double room, int id) {
    const auto& pieces = chord.symbols.front();
    const double share = std::min(1.0, room / std::max(1.0, symbol_width(chord)));
    const auto bass = pieces.bass.empty() ? "" : "/" + pieces.bass;
    std::string out = fmt::format("<text class=\"s{}\" x=\"{}\" y=\"{}\" data-i=\"{}\">{}",
                                  share < 0.5    ? " s3"
                                  : share < 0.7  ? " s2"
                                  : share < 0.95 ? " s1"
                                                 : "",
                                  number(x), number(symbol_base), id, escape(pieces.root));
    if (!pieces.suffix.empty()) out += fmt::format("<tspan class=\"q\">{}</tspan>", escape(pieces.suffix));
    if (!bass.empty()) out += fmt::format("<tspan class=\"q\">{}</tspan>", escape(bass));
    return out + "</text>";
}

/// The upper voice's name stands over its thread, the lower one's under it.
std::string tone_names(const Picture& picture, const ListenedChord& chord, double x) {
    std::string out;
    for (std::size_t i = 0; i < chord.threads.size(); ++i) {
        const auto& point = chord.threads[i];
        out += fmt::format("<text class=\"g\" x=\"{}\" y=\"{}\" aria-hidden=\"true\">{}</text>", number(x),
                           number(picture.y_of(point.height) + (i == 1 ? -2.5 : 9.5)), escape(point.name));
    }
    return out;
}

const report::ChangeRow* reason_of(const Picture& picture, const report::ComparedChord& chord) {
    const auto& changes = picture.page.comparison.rows[picture.row].changes;
    if (chord.change < 0 || static_cast<std::size_t>(chord.change) >= changes.size()) return nullptr;
    return &changes[static_cast<std::size_t>(chord.change)];
}

/// One stop of the tab key for a change of several chords: its first.
bool goes_on(const Picture& picture, std::size_t index) {
    const int change = picture.chords()[index].change;
    if (index > 0) return picture.chords()[index - 1].change == change;
    if (picture.bar_index == 0) return false;
    const auto& bar = picture.page.comparison.bars[picture.bar_index - 1];
    if (bar.section != picture.bar.section || bar.playing != picture.bar.playing) return false;
    const auto& chords = bar.rows[picture.row];
    return !chords.empty() && chords.back().changed && chords.back().change == change;
}

std::string chord_group(const Picture& picture, std::size_t index, SymbolIds& symbols) {
    const auto& chord = picture.chords()[index];
    const auto& listened = picture.listened()[index];
    const double x = x_of(chord.at, picture.bar.length);
    const double room = picture.end_of(index) - x - 4;
    const auto text = symbol_text(listened, x, room, symbols.id_of(listened.symbols));
    if (!chord.changed) return text;
    const double line = std::min(room, std::max(24.0, symbol_width(listened)));
    const auto mark =
        fmt::format("<path d=\"M{} {}h{}\"/>", number(x), number(symbol_base + 5), number(line));
    const auto* reason = reason_of(picture, chord);
    if (reason == nullptr) return fmt::format("<g class=\"c\">{}{}</g>", text, mark);
    // What is seen comes first: who speaks to the page says what they see.
    const auto& seen = listened.symbols.front();
    const auto label = fmt::format("{}{}{}, {}: {} instead of {}, {}", seen.root, seen.suffix,
                                   seen.bass.empty() ? "" : "/" + seen.bass, reason->place,
                                   theory::with_signs(reason->new_changes),
                                   theory::with_signs(reason->old_changes), theory::with_signs(reason->rule));
    // The tones of a change are what the eye looks for first; the other rows' names would only crowd it.
    return fmt::format(
        "<g class=\"c\" tabindex=\"{}\" role=\"button\" data-r=\"{}\" data-c=\"{}\" "
        "aria-label=\"{}\">{}{}</g>{}",
        goes_on(picture, index) ? -1 : 0, picture.row, chord.change, escape(label), text, mark,
        tone_names(picture, listened, x));
}

}  // namespace

HeightRange height_range(const report::Listening& page) {
    std::optional<HeightRange> range;
    for (const auto& bar : page.chords) {
        for (const auto& row : bar) {
            for (const auto& chord : row) {
                for (const auto& point : chord.threads) {
                    if (!range) range = HeightRange{point.height, point.height};
                    range->low = std::min({range->low, point.height, point.goes_to});
                    range->high = std::max({range->high, point.height, point.goes_to});
                }
            }
        }
    }
    return range.value_or(HeightRange{});
}

std::string bar_svg(const report::Listening& page, std::size_t bar, std::size_t row, const HeightRange& range,
                    SymbolIds& symbols) {
    const Picture picture{page, page.comparison.bars[bar], bar, row, range};
    const auto& compared = picture.bar;
    const auto& name = page.comparison.rows[row].name;
    auto out = fmt::format("<svg viewBox=\"0 0 {} {}\" data-row=\"{}\" role=\"group\" aria-label=\"{}\">",
                           width, height, row, escape(name));
    out += time_line(picture);
    out += threads(picture);
    // The written row's name stands beside the bar's address.
    if (compared.section_begins && row > 0)
        out += fmt::format("<text class=\"n\" y=\"-3\" aria-hidden=\"true\">{}</text>", escape(name));
    for (std::size_t i = 0; i < picture.chords().size(); ++i) out += chord_group(picture, i, symbols);
    return out + "</svg>";
}

}  // namespace relead::formats::html
