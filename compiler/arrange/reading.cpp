#include "arrange/reading.h"

#include <algorithm>
#include <cstdlib>

namespace relead::arrange {

namespace {

/// One enharmonic step: the same sound, twelve fifths down the line (C sharp to D flat).
constexpr theory::Interval flatwards{-12, 7};

std::vector<SoundingNote> melody_of(const tune::Tune& tune) {
    std::vector<SoundingNote> notes;
    for (const auto& section : tune.sections) {
        for (const auto& bar : section.bars) {
            if (!bar.melody) continue;
            for (const auto& event : *bar.melody) {
                if (event.kind != tune::NoteEvent::Kind::note) continue;
                notes.push_back({theory::midi_number(event.pitch), event.length.to_double()});
            }
        }
    }
    return notes;
}

/// Lower is better (an octave away from the sounding pitch costs a little more): mostly how far and how long
/// the melody leaves the comfortable range, then how far its middle lies from where a melody speaks best.
double discomfort(const theory::Instrument& instrument, const std::vector<SoundingNote>& notes, int shift) {
    double outside = 0, sum = 0, total = 0;
    int beyond = 0, farthest = 0;
    for (const auto& note : notes) {
        const int written = note.midi + shift;
        const int out =
            std::max({0, instrument.low_comfortable - written, written - instrument.high_comfortable});
        const int off = std::max({0, instrument.low_written - written, written - instrument.high_written});
        outside += out * note.length;
        farthest = std::max(farthest, out);
        beyond = std::max(beyond, off);
        sum += written * note.length;
        total += note.length;
    }
    if (total <= 0) return 0;  // no melody
    const double low = instrument.low_comfortable, high = instrument.high_comfortable;
    // A melody sings in the upper part of the range, on a low instrument more than on a high one.
    const double aim = low + (instrument.clef == theory::Clef::bass ? 0.8 : 0.6) * (high - low);
    return 100 * beyond + 6 * outside / total + 0.5 * farthest + 0.25 * std::abs(sum / total - aim);
}

/// The pitch on the staff position of `letter` and `octave` that needs no accidental.
theory::Pitch in_signature(char letter, int octave, int fifths) {
    for (int alteration = -1; alteration <= 1; ++alteration) {
        const auto name = theory::note_from(letter, alteration);
        if (name.fifths >= fifths - 1 && name.fifths <= fifths + 5) return theory::pitch_from(name, octave);
    }
    return theory::pitch_from(theory::note_from(letter, 0), octave);
}

}  // namespace

int comfortable_octaves(const theory::Instrument& instrument, const std::vector<SoundingNote>& notes) {
    if (notes.empty()) return 0;
    const int to_written = -instrument.written_to_sounding.semitones();
    int best = 0;
    double least = -1;
    for (const int octaves : {0, -1, 1, -2, 2, -3}) {
        const double cost =
            discomfort(instrument, notes, to_written + 12 * octaves) + 1.0 * std::abs(octaves);
        if (least >= 0 && cost >= least) continue;
        least = cost;
        best = octaves;
    }
    return best;
}

Reading reading_for(const theory::Instrument* instrument, const tune::Tune& tune) {
    Reading reading;
    if (instrument == nullptr) return reading;
    reading.clef = instrument->clef == theory::Clef::bass ? theory::Clef::bass : theory::Clef::treble;
    reading.sounding_to_written = -instrument->written_to_sounding;
    reading.octaves = comfortable_octaves(*instrument, melody_of(tune));
    return reading;
}

KeyReading read_key(const Reading& reading, const theory::Key& concert, bool open_key) {
    KeyReading result;
    result.to_written = reading.sounding_to_written;
    result.key = theory::transpose(concert, result.to_written);
    int fifths = open_key ? reading.sounding_to_written.fifths : theory::signature(result.key);
    if (reading.transposes() && std::abs(fifths) > 6) {
        result.to_written = fifths > 6 ? result.to_written + flatwards : result.to_written - flatwards;
        result.key = theory::transpose(concert, result.to_written);
        fifths = fifths > 6 ? fifths - 12 : fifths + 12;
    }
    result.signature.fifths = fifths;
    if (!open_key) {
        const bool blues = concert.mode == theory::Mode::blues;
        result.signature.mode = blues ? "major" : std::string(theory::mode_name(concert.mode));
    }
    result.written_to_sounding = -result.to_written;
    return result;
}

theory::Pitch read_pitch(const Reading& reading, const KeyReading& key, theory::Pitch sounding) {
    return sounding + key.to_written + theory::Interval{0, reading.octaves};
}

theory::Pitch slash_pitch(theory::Clef clef, const score::KeySignature& signature) {
    if (clef == theory::Clef::bass) return in_signature('D', 3, signature.fifths);
    return in_signature('B', 4, signature.fifths);
}

theory::Pitch pitch_above(theory::Clef clef, const score::KeySignature& signature,
                          std::optional<theory::Pitch> highest) {
    constexpr int top_of_treble = 5 * 7 + 4;  // G5, in steps above C0
    constexpr int top_of_bass = 3 * 7 + 6;    // B3
    int step = clef == theory::Clef::bass ? top_of_bass : top_of_treble;
    if (highest) step = std::max(step, highest->above_c0.steps() + 4);
    return in_signature("CDEFGAB"[step % 7], step / 7, signature.fifths);
}

}  // namespace relead::arrange
