#include "arrange/comping_part.h"

#include <algorithm>
#include <optional>

#include "arrange/feel.h"
#include "arrange/strokes.h"
#include "arrange/tables/comping_patterns.h"
#include "voicing/comping.h"

namespace relead::arrange {
namespace {

constexpr Time eighth(1, 8);
constexpr int soft = 54;
constexpr int usual = 62;
constexpr int accent = 88;

/// A stroke in the time of the whole performance.
struct Struck {
    Time at;
    Time end;
    int loudness = usual;
    std::size_t bar = 0;
    bool hit = false;  ///< written by the tune: it stays as it is
    bool takes_next = false;
};

std::vector<std::string_view> patterns_for(std::string_view style, Time length) {
    std::vector<std::string_view> found;
    for (const auto& row : tables::comping_pattern_rows)
        if (row.style == style && Time(row.eighths, 8) == length) found.push_back(row.strokes);
    return found;
}

class Hands {
public:
    Hands(const BandBars& bars, const std::vector<HeardChord>& chords) : bars_(bars), chords_(chords) {}

    [[nodiscard]] std::vector<score::SoundingNote> play() {
        for (std::size_t i = 0; i < bars_.bars.size(); ++i) {
            if (!bars_.bars[i].pickup) strike_bar(i);
        }
        std::stable_sort(struck_.begin(), struck_.end(),
                         [](const Struck& a, const Struck& b) { return a.at < b.at; });
        return sound();
    }

private:
    [[nodiscard]] const BandBar* bar_before(std::size_t bar) const {
        while (bar > 0)
            if (!bars_.bars[--bar].pickup) return &bars_.bars[bar];
        return nullptr;
    }

    void strike_bar(std::size_t i) {
        const auto& bar = bars_.bars[i];
        if (bar.head && bar.bar->hits) {
            strike_hits(i);
        } else if (!bar.hits_only) {
            if (!bar.ends && !bar.fermata) strike_pattern(i);
            strike_chords(i);
        }
    }

    void strike_hits(std::size_t i) {
        const auto& bar = bars_.bars[i];
        const auto* before = bar_before(i);
        const bool tied =
            before != nullptr && before->head && before->bar->hits && ties_over(*before->bar->hits);
        if (tied && !struck_.empty()) {
            const auto& first = bar.bar->hits->front();
            if (first.kind != tune::HitEvent::Kind::rest)
                struck_.back().end = bar.at + first.at + first.length;
        }
        for (const auto& stroke : strokes_of_hits(*bar.bar->hits, tied))
            struck_.push_back(
                {bar.at + stroke.at, bar.at + stroke.at + stroke.length, accent, i, true, false});
    }

    void strike_pattern(std::size_t i) {
        const auto& bar = bars_.bars[i];
        const auto patterns = patterns_for(feel_of(bar.tempo).comping, bar.length);
        if (patterns.empty()) return;
        const auto turn = i + i / 4;  // four-bar phrases do not begin alike
        const bool early = !struck_.empty() && struck_.back().takes_next;
        for (const auto& stroke : read_strokes(patterns[turn % patterns.size()], bar.length)) {
            if (early && stroke.at == Time(0)) continue;  // its chord came early
            if (stroke.takes_next && !can_take_next(i)) continue;
            const auto at = bar.at + stroke.at;
            const auto end = at + stroke.length + (stroke.takes_next ? Time(1, 4) : Time(0));
            struck_.push_back({at, end, stroke.loud ? usual : soft, i, false, stroke.takes_next});
        }
    }

    /// The bar after plays a pattern too, and its first chord comes on the beat.
    [[nodiscard]] bool can_take_next(std::size_t i) const {
        if (i + 1 >= bars_.bars.size()) return false;
        const auto& next = bars_.bars[i + 1];
        if (next.pickup || next.hits_only || next.ends || next.fermata || (next.head && next.bar->hits))
            return false;
        return !next.bar->changes.empty() && !next.bar->changes.front().chord.is_none() &&
               next.bar->changes.front().push == tune::Push::none;
    }

    /// Chords that are pushed, held, or that no stroke of the pattern reaches.
    void strike_chords(std::size_t i) {
        const auto& bar = bars_.bars[i];
        while (next_chord_ < chords_.size() && chords_[next_chord_].bar < i) ++next_chord_;
        for (; next_chord_ < chords_.size() && chords_[next_chord_].bar == i; ++next_chord_) {
            const auto& chord = chords_[next_chord_];
            if (bar.ends || bar.fermata) {
                struck_.push_back({chord.heard, chord.end, usual, i, false, false});
            } else if (chord.heard != chord.at) {
                clear_around(chord);
                struck_.push_back(
                    {chord.heard, std::min(chord.end, chord.heard + Time(3, 8)), usual + 8, i, false, false});
            } else if (!reached(next_chord_)) {
                struck_.push_back(
                    {chord.at, std::min(chord.end, chord.at + Time(3, 8)), usual, i, false, false});
            }
        }
    }

    /// A push stands alone: no stroke of a pattern from it to an eighth after the beat that it belongs to.
    void clear_around(const HeardChord& chord) {
        const auto from = std::min(chord.heard, chord.at) - Time(1, 16);
        const auto to = std::max(chord.heard, chord.at) + Time(3, 16);
        const auto near = std::remove_if(recent(), struck_.end(),
                                         [&](const Struck& s) { return !s.hit && s.at > from && s.at < to; });
        struck_.erase(near, struck_.end());
    }

    /// The strokes of this bar and the one before.
    [[nodiscard]] std::vector<Struck>::iterator recent() {
        constexpr std::ptrdiff_t most = 128;
        return struck_.end() - std::min(most, static_cast<std::ptrdiff_t>(struck_.size()));
    }

    /// A stroke that is held into the next chord plays that one, and leaves out the one it begins in.
    [[nodiscard]] bool reached(std::size_t index) {
        const auto& chord = chords_[index];
        const auto begin = index > 0 ? chords_[index - 1].heard : chord.heard;
        return std::any_of(recent(), struck_.end(), [&](const Struck& s) {
            if (s.takes_next) return s.at < chord.at && chord.at - s.at <= eighth;
            if (s.at >= chord.at) return s.at < chord.end && chord_of(s, index) == index;
            return s.at >= begin && index > 0 && chord_of(s, index - 1) == index;
        });
    }

    /// The chord that a stroke plays: the one heard at its time, or the next one where it is an eighth or
    /// less away and the stroke is held into it.
    [[nodiscard]] std::size_t chord_of(const Struck& stroke, std::size_t from) const {
        while (from + 1 < chords_.size() && chords_[from + 1].heard <= stroke.at) ++from;
        if (from + 1 < chords_.size()) {
            const auto next = chords_[from + 1].heard;
            if (next - stroke.at <= eighth && stroke.end > next) ++from;
        }
        return from;
    }

    [[nodiscard]] std::vector<score::SoundingNote> sound() const {
        const auto voicings = voice_all();
        std::vector<score::SoundingNote> notes;
        std::size_t now = 0;
        for (std::size_t i = 0; i < struck_.size(); ++i) {
            const auto& stroke = struck_[i];
            if (chords_.empty()) break;
            while (now + 1 < chords_.size() && chords_[now + 1].heard <= stroke.at) ++now;
            const auto chord = chord_of(stroke, now);
            auto end = stroke.end;
            if (i + 1 < struck_.size()) end = std::min(end, struck_[i + 1].at);
            if (chord + 1 < chords_.size() && chords_[chord + 1].heard > stroke.at)
                end = std::min(end, chords_[chord + 1].heard);
            if (end <= stroke.at) continue;
            for (const int key : voicings[chord].keys)
                notes.push_back({stroke.at, end - stroke.at, key, stroke.loudness});
        }
        return notes;
    }

    [[nodiscard]] std::vector<voicing::Voicing> voice_all() const {
        std::vector<voicing::ChordToVoice> wanted;
        wanted.reserve(chords_.size());
        for (const auto& chord : chords_)
            wanted.push_back({chord.event->chord, bars_.bars[chord.bar].key, chord.melody});
        return voicing::comping(wanted);
    }

    const BandBars& bars_;
    const std::vector<HeardChord>& chords_;
    std::vector<Struck> struck_;
    std::size_t next_chord_ = 0;
};

}  // namespace

std::vector<score::SoundingNote> comping_part(const BandBars& bars, const std::vector<HeardChord>& chords) {
    return Hands(bars, chords).play();
}

}  // namespace relead::arrange
