#include "arrange/bass_part.h"

#include <algorithm>

#include "arrange/feel.h"
#include "arrange/sounding_notes.h"
#include "arrange/strokes.h"
#include "voicing/bass_line.h"

namespace relead::arrange {
namespace {

constexpr int usual = 82;
constexpr int pushed = 90;
constexpr int accent = 96;

bool keeps_its_beats(std::string_view style) {
    return style == "walking" || style == "two" || style == "waltz-one";
}

class Bass {
public:
    Bass(const BandBars& bars, const std::vector<HeardChord>& chords) : bars_(bars), chords_(chords) {}

    [[nodiscard]] std::vector<score::SoundingNote> play() {
        for (const auto& chord : chords_) add_span(chord);
        for (const auto& note : voicing::bass_line(spans_))
            notes_.push_back({note.at, note.length, note.key, usual});
        for (const auto& chord : chords_) push(chord);
        for (const auto& bar : bars_.bars)
            if (bar.hits_only && !bar.bar->bass && bar.bar->hits) add_hits(bar);
        add_written();
        make_one_line();
        return std::move(notes_);
    }

private:
    void add_span(const HeardChord& chord) {
        const auto& bar = bars_.bars[chord.bar];
        if (bar.bar->bass || bar.hits_only || chord.end <= chord.at) return;
        auto style = bass_style(bar.tempo, bar.bar->meter, bar.head);
        if (bar.ends || bar.fermata) style = "hold";
        spans_.push_back({chord.event->chord, bar.key, chord.at, chord.end - chord.at,
                          bar.bar->meter.beat_length(), chord.begins, style});
    }

    /// Moves the first note of a pushed chord; what sounds there before it gives way.
    void push(const HeardChord& chord) {
        const auto& bar = bars_.bars[chord.bar];
        if (chord.heard == chord.at || keeps_its_beats(bass_style(bar.tempo, bar.bar->meter, bar.head)))
            return;
        const auto note = std::lower_bound(notes_.begin(), notes_.end(), chord.at,
                                           [](const score::SoundingNote& n, Time at) { return n.at < at; });
        if (note == notes_.end() || note->at != chord.at) return;
        note->length = std::max(note->length + note->at - chord.heard, Time(1, 16));
        note->at = chord.heard;
        note->loudness = pushed;
        const auto gives_way = [&](const score::SoundingNote& n) {
            return n.loudness != pushed && n.at >= std::min(chord.heard, chord.at) &&
                   n.at <= std::max(chord.heard, chord.at);
        };
        const auto from = note - std::min<std::ptrdiff_t>(note - notes_.begin(), 16);
        const auto until = note + std::min<std::ptrdiff_t>(notes_.end() - note, 16);
        notes_.erase(std::remove_if(from, until, gives_way), until);
    }

    /// In order of time, one note after the other.
    void make_one_line() {
        std::stable_sort(notes_.begin(), notes_.end(),
                         [](const auto& a, const auto& b) { return a.at < b.at; });
        std::vector<score::SoundingNote> line;
        for (const auto& note : notes_) {
            if (!line.empty() && line.back().at == note.at) continue;
            if (!line.empty()) line.back().length = std::min(line.back().length, note.at - line.back().at);
            line.push_back(note);
        }
        notes_ = std::move(line);
    }

    void add_hits(const BandBar& bar) {
        for (const auto& stroke : strokes_of_hits(*bar.bar->hits, false)) {
            const auto at = bar.at + stroke.at;
            const auto chord = std::find_if(chords_.begin(), chords_.end(),
                                            [&](const HeardChord& c) { return c.at <= at && at < c.end; });
            if (chord == chords_.end() || chord->event->chord.is_none()) continue;
            notes_.push_back({at, stroke.length, low_key(theory::bass_of(chord->event->chord)), accent});
        }
    }

    static int low_key(theory::NoteName name) {
        const auto range = voicing::bass_range();
        int key = theory::pitch_class(name);
        while (key < range.low) key += 12;
        return key;
    }

    void add_written() {
        std::vector<score::SoundingNote> written;
        bool tied = false;
        for (const auto& bar : bars_.bars) {
            if (!bar.bar->bass) {
                tied = false;
                continue;
            }
            tied = add_notes(*bar.bar->bass, bar.at, usual, tied, written);
        }
        notes_.insert(notes_.end(), written.begin(), written.end());
    }

    const BandBars& bars_;
    const std::vector<HeardChord>& chords_;
    std::vector<voicing::BassSpan> spans_;
    std::vector<score::SoundingNote> notes_;
};

}  // namespace

std::vector<score::SoundingNote> bass_part(const BandBars& bars, const std::vector<HeardChord>& chords) {
    return Bass(bars, chords).play();
}

}  // namespace relead::arrange
