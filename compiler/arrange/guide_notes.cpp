#include "arrange/guide_notes.h"

#include <algorithm>
#include <cstdlib>

#include "arrange/melody_notes.h"

namespace relead::arrange {

namespace {

using score::Element;

/// A tone of a written chord at a written sound. Double accidentals are read as the natural name of the
/// sound: the seventh of Cdim7 is A.
theory::Pitch written_pitch(const theory::Chord& written, theory::Degree degree, int midi) {
    auto name = theory::tone(written, degree);
    while (theory::alteration(name) > 1) name.fifths -= 12;
    while (theory::alteration(name) < -1) name.fifths += 12;
    auto pitch = theory::pitch_from(name, midi / 12 - 1);
    while (theory::midi_number(pitch) < midi) pitch = pitch + theory::Interval{0, 1};
    while (theory::midi_number(pitch) > midi) pitch = pitch - theory::Interval{0, 1};
    return pitch;
}

class Notes {
public:
    Notes(const GuidePage& page, const Reading& reading) : page_(page), reading_(reading) {
        const auto walk = voicing::walk_chords(page.tune, page.wish.guide_row);
        const auto line = voicing::guide_line(walk);
        for (std::size_t i = 0; i < walk.refs.size(); ++i) pairs_[walk.refs[i]] = line.pairs[i];
        reading_ = guide_reading(page.tune, reading, walk, line, page.wish.instrument);
    }

    GuideNotes run() {
        GuideNotes notes;
        notes.clef = reading_.clef;
        for (std::size_t i = 0; i < page_.form.bars.size(); ++i) {
            notes.bars.push_back(moments_of(i));
            begin_with_last(i, notes.bars);
        }
        return notes;
    }

private:
    [[nodiscard]] const tune::Bar& bar_of(std::size_t measure) const {
        const auto& at = page_.form.bars[measure];
        return page_.tune.sections[static_cast<std::size_t>(at.section)]
            .bars[static_cast<std::size_t>(at.bar)];
    }
    [[nodiscard]] GuideMoment moment(std::size_t measure, Time at, const tune::ChordRef& ref,
                                     const theory::Chord& written) const {
        GuideMoment moment;
        moment.at = at;
        const auto found = pairs_.find(ref);
        if (found == pairs_.end() || !found->second) return moment;
        const auto sound = [&](const voicing::GuideTone& tone) {
            return theory::midi_number(read_pitch(reading_, page_.keys[measure], tone.pitch));
        };
        moment.sounds = true;
        moment.lower = written_pitch(written, found->second->lower.degree, sound(found->second->lower));
        moment.upper = written_pitch(written, found->second->upper.degree, sound(found->second->upper));
        return moment;
    }
    [[nodiscard]] std::vector<GuideMoment> moments_of(std::size_t measure) {
        const auto& bar = bar_of(measure);
        if (page_.wish.guide_row == voicing::ChordRow::soloist && bar.soloist)
            return soloists_moments(measure, bar, *bar.soloist);
        std::vector<GuideMoment> moments;
        for (std::size_t k = 0; k < page_.symbols[measure].size(); ++k) {
            const auto& symbol = page_.symbols[measure][k];
            const auto& harmony = page_.rows[measure][k].harmony;
            moments.push_back(moment(measure, symbol.at, symbol.ref, harmony.chord));
            moments.back().changed = harmony.changed;
        }
        return moments;
    }
    [[nodiscard]] std::vector<GuideMoment> soloists_moments(std::size_t measure, const tune::Bar& bar,
                                                            const std::vector<tune::ChordEvent>& row) const {
        std::vector<GuideMoment> moments;
        const auto& at = page_.form.bars[measure];
        const auto written = read_row(row, measure, page_.rows, page_.keys, reading_);
        for (std::size_t k = 0; k < row.size(); ++k) {
            moments.push_back(
                moment(measure, row[k].at, {at.section, at.bar, static_cast<int>(k)}, written[k]));
            moments.back().changed = !sounds_in(bar, row[k]);
        }
        return moments;
    }
    /// The band plays the soloist's chord too.
    static bool sounds_in(const tune::Bar& bar, const tune::ChordEvent& chord) {
        return std::any_of(bar.changes.begin(), bar.changes.end(), [&](const tune::ChordEvent& one) {
            return one.at <= chord.at && chord.at < one.at + one.length && one.chord == chord.chord;
        });
    }
    /// Until its first chord a bar goes on with the last one of the bar before.
    void begin_with_last(std::size_t measure, GuideBars& bars) const {
        auto& moments = bars[measure];
        if (!moments.empty() && moments.front().at == Time(0)) return;
        const bool follows = measure > 0 && page_.succession.follows(measure - 1, measure) &&
                             page_.succession.always_led_to(measure);
        GuideMoment first;
        if (measure > 0 && !bars[measure - 1].empty()) {
            auto& last = bars[measure - 1].back();
            first = last;
            first.at = 0;
            first.continues = last.goes_on = follows && last.sounds;
            first.goes_on = false;
        }
        moments.insert(moments.begin(), first);
    }

    const GuidePage& page_;
    Reading reading_;
    std::map<tune::ChordRef, std::optional<voicing::GuidePair>> pairs_;
};

Element element_at(Time at, const score::NoteValue& value, bool silent) {
    Element element;
    element.at = at;
    element.value = value;
    element.length = value.length();
    element.silent = silent;
    return element;
}

Element bar_rest(Time length) {
    Element rest;
    rest.kind = Element::Kind::bar_rest;
    rest.length = length;
    rest.value = {1, 0};
    return rest;
}

/// One moment until `end`, tied where one value is not enough.
void add_moment(const GuideMoment& moment, Time end, GuideVoice voice, bool silent,
                std::vector<Element>& elements) {
    const auto values = values_of(end - moment.at);
    Time at = moment.at;
    for (std::size_t i = 0; i < values.size(); ++i) {
        auto element = element_at(at, values[i], silent);
        at += element.length;
        if (!moment.sounds) element.kind = Element::Kind::rest;
        for (const auto part : {GuideVoice::lower, GuideVoice::upper}) {
            if (!moment.sounds || (voice != GuideVoice::both && voice != part)) continue;
            score::Head head;
            head.pitch = part == GuideVoice::lower ? moment.lower : moment.upper;
            head.tie_ends = i > 0 || moment.continues;
            head.tie_begins = i + 1 < values.size() || moment.goes_on;
            element.heads.push_back(head);
        }
        element.highlighted = moment.sounds && moment.changed;
        elements.push_back(std::move(element));
    }
}

}  // namespace

Reading guide_reading(const tune::Tune& tune, const Reading& reading, const voicing::ChordWalk& walk,
                      const voicing::GuideLine& line, const theory::Instrument* instrument) {
    Reading guide = reading;
    guide.octaves = 0;
    if (instrument == nullptr) {
        guide.clef = theory::Clef::tenor_treble;
        return guide;
    }
    std::vector<SoundingNote> notes;
    for (std::size_t i = 0; i < walk.refs.size(); ++i) {
        if (!line.pairs[i]) continue;
        const auto& ref = walk.refs[i];
        const auto& bar =
            tune.sections[static_cast<std::size_t>(ref.section)].bars[static_cast<std::size_t>(ref.bar)];
        const double length = bar.length.to_double();
        notes.push_back({theory::midi_number(line.pairs[i]->lower.pitch), length});
        notes.push_back({theory::midi_number(line.pairs[i]->upper.pitch), length});
    }
    guide.octaves = comfortable_octaves(*instrument, notes);
    return guide;
}

GuideNotes guide_notes(const GuidePage& page, const Reading& reading) {
    return Notes(page, reading).run();
}

std::vector<Element> guide_elements(const std::vector<GuideMoment>& moments, Time length, GuideVoice voice,
                                    bool silent) {
    if (moments.size() == 1 && !moments[0].sounds) return {bar_rest(length)};
    std::vector<Element> elements;
    for (std::size_t i = 0; i < moments.size(); ++i) {
        const auto end = i + 1 < moments.size() ? moments[i + 1].at : length;
        add_moment(moments[i], end, voice, silent, elements);
    }
    return elements;
}

}  // namespace relead::arrange
