#include "analysis/heard.h"

#include <algorithm>
#include <map>

#include "theory/chord_table.h"
#include "tune/unfold.h"

namespace relead::analysis {
namespace {

using theory::ChordClass;

bool sounds(const theory::Chord& chord, theory::Degree degree) {
    const auto all = theory::degrees(chord);
    return std::find(all.begin(), all.end(), degree) != all.end();
}

/// How strong a boundary is before the bar `bar` of a section, counted from the section's start.
int bar_level(int bar, int chorus_bar) {
    if (bar == 0) return chorus_bar % 16 == 0 ? 5 : 4;
    if (bar % 2 != 0) return 1;
    if (bar % 4 != 0) return 2;
    if (bar % 8 != 0) return 3;
    return bar % 16 != 0 ? 4 : 5;
}

class Listener {
public:
    Listener(const tune::Tune& tune, bool last) : tune_(tune) {
        chorus_.last = last;
        const auto refs = tune::written_chords(tune);
        for (std::size_t i = 0; i < refs.size(); ++i) index_[refs[i]] = static_cast<int>(i);
    }

    Chorus run() {
        for (const auto& played : tune::play_chorus(tune_, {chorus_.last, true}).bars) {
            const auto& bar = bar_of(played);
            if (played.section != section_ || played.playing != playing_) in_section_ = 0;
            section_ = played.section;
            playing_ = played.playing;
            if (bar.number > 0 && in_section_ % 4 == 0) ++phrase_;
            if (bar.number > 0 && in_section_ % 8 == 0) ++period_;
            add_bar(played, bar);
            if (bar.number > 0) {
                ++chorus_.bars;
                ++in_section_;
            }
        }
        for (std::size_t i = 0; i < chorus_.chords.size(); ++i) {
            auto& chord = chorus_.chords[i];
            const double end = i + 1 < chorus_.chords.size() ? chorus_.chords[i + 1].start
                                                             : static_cast<double>(chorus_.bars);
            chord.length = std::max(0.25, end - chord.start);
        }
        return std::move(chorus_);
    }

private:
    const tune::Bar& bar_of(const tune::PlayedBar& played) const {
        return tune_.sections[static_cast<std::size_t>(played.section)]
            .bars[static_cast<std::size_t>(played.bar)];
    }

    /// The key of a section that states another one than the tune.
    std::optional<Tonality> stated_key(const tune::PlayedBar& played) const {
        const auto& section = tune_.sections[static_cast<std::size_t>(played.section)];
        if (section.open_key || tune_.open_key || section.key == tune_.key) return std::nullopt;
        return Tonality{theory::pitch_class(section.key.tonic), theory::is_minor_like(section.key)};
    }

    void add_bar(const tune::PlayedBar& played, const tune::Bar& bar) {
        for (std::size_t c = 0; c < bar.changes.size(); ++c) {
            const auto& event = bar.changes[c];
            if (event.chord.is_none()) continue;
            Heard heard;
            heard.written = index_.at({played.section, played.bar, static_cast<int>(c)});
            heard.playing = played.playing;
            heard.chord = &event.chord;
            heard.root = theory::pitch_class(event.chord.root);
            heard.sound = sound_of(event.chord);
            heard.simile = bar.simile;
            heard.bar = chorus_.bars;
            const bool pickup = bar.number == 0;
            heard.on_one = !pickup && event.at == Time(0);
            heard.to_bar_end = event.at + event.length == bar.length;
            const double within = event.at.to_double() / std::max(Time(1, 64), bar.length).to_double();
            heard.start = pickup ? (within - 1) / 4 : chorus_.bars + within;
            heard.opens_section = heard.on_one && in_section_ == 0;
            heard.level = heard.on_one ? bar_level(in_section_, chorus_.bars) : 0;
            heard.phrase = phrase_;
            heard.period = period_;
            heard.in_period = (pickup ? 0 : in_section_ % 8) + within;
            heard.stated = stated_key(played);
            chorus_.chords.push_back(heard);
        }
    }

    const tune::Tune& tune_;
    std::map<tune::ChordRef, int> index_;
    Chorus chorus_;
    int section_ = -1;
    int playing_ = -1;
    int in_section_ = 0;  // bars of this playing of the section so far
    int phrase_ = -1;     // groups of four and of eight bars so far
    int period_ = -1;
};

}  // namespace

Sound sound_of(const theory::Chord& chord) {
    switch (theory::chord_class(chord)) {
        case ChordClass::minor:
            return sounds(chord, {7, -1}) ? Sound::minor_seventh : Sound::minor;
        case ChordClass::dominant:
            return Sound::dominant;
        case ChordClass::suspended:
            return Sound::suspended;
        case ChordClass::half_diminished:
            return Sound::half_diminished;
        case ChordClass::diminished:
            return Sound::diminished;
        case ChordClass::augmented:
            return sounds(chord, {7, 0}) ? Sound::major : Sound::dominant;
        default:
            return Sound::major;
    }
}

bool is_dominant_like(Sound sound) {
    return sound == Sound::dominant || sound == Sound::suspended;
}

bool is_minor_seventh_like(Sound sound) {
    return sound == Sound::minor_seventh || sound == Sound::half_diminished;
}

bool is_tonic_chord(const Heard& chord, const Tonality& key) {
    if (chord.root != key.tonic) return false;
    if (!key.minor) return chord.sound == Sound::major;
    return chord.sound == Sound::minor || chord.sound == Sound::minor_seventh;
}

bool lies_in(const Heard& chord, const ModeScale& scale) {
    const auto holds = [&](int pitch_class) { return scale[static_cast<std::size_t>(pitch_class % 12)]; };
    if (!holds(chord.root)) return false;
    if (chord.chord->bass && !holds(theory::pitch_class(*chord.chord->bass))) return false;
    const auto degrees = theory::degrees(*chord.chord);
    return std::all_of(degrees.begin(), degrees.end(), [&](theory::Degree degree) {
        return holds(chord.root + theory::semitones_above_root(degree));
    });
}

Chorus hear(const tune::Tune& tune, bool last) {
    return Listener(tune, last).run();
}

}  // namespace relead::analysis
