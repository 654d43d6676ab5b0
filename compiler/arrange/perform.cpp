#include "arrange/perform.h"

#include <algorithm>
#include <map>

#include "arrange/bass_part.h"
#include "arrange/comping_part.h"
#include "arrange/drum_part.h"
#include "arrange/feel.h"
#include "arrange/sounding_notes.h"
#include "voicing/guide_line.h"

namespace relead::arrange {
namespace {

using score::SoundingNote;
using score::SoundingVoice;
using Role = SoundingVoice::Role;

constexpr double slowest = 0.75;    // at the end of a ritard
constexpr double held_tempo = 0.5;  // a fermata doubles its note

std::vector<SoundingNote> melody_part(const BandBars& bars) {
    std::vector<SoundingNote> notes;
    bool tied = false;
    for (const auto& bar : bars.bars) {
        const auto& row = bar.bar->melody ? bar.bar->melody : bar.bar->longs;
        tied = bar.head && row && add_notes(*row, bar.at, 92, tied, notes);
    }
    return notes;
}

using Places = std::map<tune::ChordRef, voicing::GuidePair>;

Places guide_places_of(const tune::Tune& tune) {
    Places places;
    const auto walk = voicing::walk_chords(tune, voicing::ChordRow::soloist);
    const auto line = voicing::guide_line(walk);
    for (std::size_t i = 0; i < walk.refs.size(); ++i)
        if (line.pairs[i]) places.emplace(walk.refs[i], *line.pairs[i]);
    return places;
}

std::vector<SoundingNote> guide_part(const tune::Tune& tune, const BandBars& bars) {
    const auto places = guide_places_of(tune);
    std::vector<SoundingNote> notes;
    for (const auto& bar : bars.bars) {
        if (bar.pickup || bar.tune != &tune) continue;
        const auto& chords = voicing::chords_in(*bar.bar, voicing::ChordRow::soloist);
        for (std::size_t i = 0; i < chords.size(); ++i) {
            const auto found = places.find({bar.section, bar.index, static_cast<int>(i)});
            if (found == places.end()) continue;
            for (const auto& tone : {found->second.lower, found->second.upper})
                notes.push_back(
                    {bar.at + chords[i].at, chords[i].length, theory::midi_number(tone.pitch), 74});
        }
    }
    return notes;
}

/// Tempo, meter and key of every bar where they change.
class Marks {
public:
    Marks(const BandBars& bars, const PerformWish& wish, score::Performance& out)
        : bars_(bars), wish_(wish), out_(out) {}

    void write() {
        for (const auto& bar : bars_.bars) {
            add_markers(bar);
            // A pickup takes the time of the bar before it, but at the very start.
            if (bar.pickup && (bar.at > Time(0) || bars_.count_in > Time(0))) continue;
            const auto at = out_.meters.empty() ? Time(0) : bar.at;
            add_meter(at, bar.pickup ? short_meter(bar.length) : bar.bar->meter);
            add_key(at, bar);
            add_swing(at, bar);
            add_tempi(at, bar);
        }
    }

private:
    void add_markers(const BandBar& bar) {
        if (bar.opens_chorus && !wish_.one_chorus && !bar.tune->order.running.empty())
            out_.markers.push_back({bar.at, bars_.choruses[static_cast<std::size_t>(bar.chorus)].name});
        const auto& section = bar.tune->sections[static_cast<std::size_t>(bar.section)];
        if (bar.opens_section) out_.markers.push_back({bar.at, section.name});
    }

    /// A pickup of three eighths is a bar of 3/8.
    static tune::Meter short_meter(Time length) {
        tune::Meter meter{1, 4, {}};
        while (!(length * meter.unit).is_whole() && meter.unit < 64) meter.unit *= 2;
        meter.beats = static_cast<int>(std::max<std::int64_t>((length * meter.unit).floor(), 1));
        return meter;
    }

    void add_meter(Time at, const tune::Meter& meter) {
        if (out_.meters.empty() || out_.meters.back().beats != meter.beats ||
            out_.meters.back().unit != meter.unit)
            out_.meters.push_back({at, meter.beats, meter.unit});
    }

    void add_key(Time at, const BandBar& bar) {
        const int fifths = bar.key ? theory::signature(*bar.key) : 0;
        const bool minor = bar.key && theory::is_minor_like(*bar.key);
        if (out_.keys.empty() || out_.keys.back().fifths != fifths || out_.keys.back().minor != minor)
            out_.keys.push_back({at, fifths, minor});
    }

    void add_swing(Time at, const BandBar& bar) {
        const double swing = swing_of(bar.tempo, bar.bar->meter);
        if (out_.swings.empty() || out_.swings.back().swing != swing) out_.swings.push_back({at, swing});
    }

    void add_tempo(Time at, double quarters) {
        if (!out_.tempi.empty() && out_.tempi.back().quarters_per_minute == quarters) return;
        if (!out_.tempi.empty() && out_.tempi.back().at == at) out_.tempi.pop_back();
        out_.tempi.push_back({at, quarters});
    }

    void add_tempi(Time at, const BandBar& bar) {
        const double full = quarters_per_minute(bar.tempo, bar.bar->meter);
        const double begins = bar.slowed ? slowest : 1.0;
        add_tempo(at, full * begins);
        double now = begins;
        if (bar.ritard_ends) {
            const auto beats = counted_beats(bar.bar->meter);
            for (std::size_t i = 0; i < beats.size(); ++i) {
                if (bar.fermata && beats[i] >= *bar.fermata) break;
                now = 1.0 - (1.0 - slowest) * static_cast<double>(i + 1) / static_cast<double>(beats.size());
                add_tempo(bar.at + beats[i], full * now);
            }
        }
        if (bar.fermata) add_tempo(bar.at + *bar.fermata, full * now * held_tempo);
    }

    const BandBars& bars_;
    const PerformWish& wish_;
    score::Performance& out_;
};

void add_voice(score::Performance& out, SoundingVoice voice) {
    if (!voice.notes.empty()) out.voices.push_back(std::move(voice));
}

}  // namespace

score::Performance perform(const tune::Tune& tune, const PerformWish& wish) {
    const auto bars = band_bars(tune, wish);
    const auto chords = heard_chords(bars);
    score::Performance out;
    out.title = tune.title;
    out.name = wish.name;
    out.count_in = bars.count_in;
    out.length = bars.length;
    out.grid = bars.first_bar;
    Marks(bars, wish, out).write();
    if (!out.swings.empty()) out.swing = out.swings.front().swing;
    const int kit = bars.bars.empty() ? 1 : feel_of(bars.bars.front().tempo).kit;
    if (wish.melody) add_voice(out, {Role::melody, "Melody", 66, melody_part(bars), 1});
    add_voice(out, {Role::comping, "Piano", 1, comping_part(bars, chords), 1});
    add_voice(out, {Role::bass, "Bass", 33, bass_part(bars, chords), 1});
    if (wish.guide_tones) add_voice(out, {Role::guide_tones, "Guide tones", 12, guide_part(tune, bars), 1});
    add_voice(out, {Role::time, "Drums", 0, drum_part(bars), kit});
    return out;
}

}  // namespace relead::arrange
