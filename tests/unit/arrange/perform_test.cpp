// compiler/arrange/perform.cpp and its parts: what the band plays, bar by bar.
#include "arrange/perform.h"

#include <algorithm>
#include <map>

#include "arrange/band_bars.h"
#include "arrange/feel.h"
#include "arrange/strokes.h"
#include "unit/arrange/tunes.h"

using namespace relead;
using namespace relead::arrange;
using Role = score::SoundingVoice::Role;

namespace {

const score::SoundingVoice* voice_of(const score::Performance& performance, Role role) {
    for (const auto& voice : performance.voices)
        if (voice.role == role) return &voice;
    return nullptr;
}

std::vector<score::SoundingNote> notes_of(const score::Performance& performance, Role role) {
    const auto* voice = voice_of(performance, role);
    return voice == nullptr ? std::vector<score::SoundingNote>{} : voice->notes;
}

/// The moments in [from, to) at which a voice begins something.
std::vector<Time> onsets(const score::Performance& performance, Role role, Time from, Time to) {
    std::vector<Time> times;
    for (const auto& note : notes_of(performance, role))
        if (note.at >= from && note.at < to && (times.empty() || times.back() != note.at))
            times.push_back(note.at);
    return times;
}

unsigned classes_at(const score::Performance& performance, Role role, Time at) {
    unsigned classes = 0;
    for (const auto& note : notes_of(performance, role))
        if (note.at <= at && at < note.at + note.length) classes |= 1U << (note.key % 12);
    return classes;
}

score::Performance chorus_of(const tune::Tune& tune) {
    PerformWish wish;
    wish.one_chorus = true;
    return perform(tune, wish);
}

bool has(unsigned classes, int pitch_class) {
    return (classes >> pitch_class & 1U) != 0;
}

/// Whether the hands begin both guide tones of a chord in its time, or an eighth before it.
bool guide_tones_struck(const score::Performance& performance, const theory::Chord& chord, Time begin,
                        Time end) {
    for (const auto at : onsets(performance, Role::comping, begin - Time(1, 8), end)) {
        const auto classes = classes_at(performance, Role::comping, at);
        for (const auto& tones : theory::guide_tone_choices(chord)) {
            if (has(classes, theory::pitch_class(theory::tone(chord, tones.third))) &&
                has(classes, theory::pitch_class(theory::tone(chord, tones.seventh))))
                return true;
        }
    }
    return false;
}

}  // namespace

TEST_CASE("One chorus has no count-in and the chorus' length", "[arrange]") {
    const auto performance =
        chorus_of(short_tune("tempo 120 swing\nform A A\nrunning Head | Solos open | Head last\n"
                             "section A\nchanges | Dm7 | G7 | C6 | % |\n"));
    CHECK(performance.count_in == Time(0));
    CHECK(performance.length == Time(8));
    CHECK(performance.markers.size() == 2);
    CHECK(performance.tempi.size() == 1);
    CHECK(std::abs(performance.swing - 2.0 / 3) < 0.001);
}

TEST_CASE("Count-in: one bar, or two where a bar is short", "[arrange]") {
    const struct {
        const char* meter;
        const char* tempo;
        Time count_in;
        std::size_t clicks;
    } rows[] = {
        {"4/4", "100 swing", 1, 4},        {"4/4", "200 swing", 2, 6},
        {"3/4", "160 waltz", {3, 2}, 4},   {"3/4", "80 waltz", {3, 4}, 3},
        {"12/8", "60 shuffle", {3, 2}, 4}, {"7/8 2+2+3", "300 even", {7, 4}, 4},
    };
    for (const auto& row : rows) {
        INFO(row.meter << " " << row.tempo);
        const auto performance = perform(short_tune(
            std::string("tempo ") + row.tempo + "\nsection A\nchanges | C6 | C6 |\n", "C major", row.meter));
        CHECK(performance.count_in == row.count_in);
        CHECK(onsets(performance, Role::time, 0, row.count_in).size() == row.clicks);
        CHECK(onsets(performance, Role::comping, 0, row.count_in).empty());
    }
}

TEST_CASE("Swing shrinks with the tempo and is even from 300 on", "[arrange]") {
    // A. Friberg and A. Sundstrom, Music Perception 19 (2002): long-short ratios fall with tempo.
    CHECK(std::abs(swing_ratio(60) - 2.0 / 3) < 0.001);
    CHECK(std::abs(swing_ratio(160) - 2.0 / 3) < 0.001);
    CHECK(swing_ratio(300) == 0.5);
    CHECK(swing_ratio(400) == 0.5);
    for (int tempo = 40; tempo < 360; tempo += 10) CHECK(swing_ratio(tempo) >= swing_ratio(tempo + 10));
    CHECK(swing_of({148, "even", ""}, {4, 4, {}}) == 0.5);
    CHECK(swing_of({148, "bossa", ""}, {4, 4, {}}) == 0.5);
    CHECK(swing_of({60, "shuffle", ""}, {12, 8, {}}) == 0.5);  // written as it sounds
    CHECK(swing_of({148, "waltz", ""}, {3, 4, {}}) > 0.6);
}

TEST_CASE("Strokes as text", "[arrange]") {
    CHECK(read_strokes("X--x....", 1) ==
          std::vector<Stroke>{{0, {3, 8}, true, false}, {{3, 8}, {1, 16}, false, false}});
    CHECK(read_strokes("......>-", 1) == std::vector<Stroke>{{{3, 4}, {1, 4}, true, true}});
    CHECK(read_strokes("..X-..", {3, 4}) == std::vector<Stroke>{{{1, 4}, {1, 4}, true, false}});
}

TEST_CASE("Two chords in a bar are both struck, whichever pattern has its turn", "[arrange]") {
    std::string text = "section A\n";
    for (int line = 0; line < 4; ++line) text += "changes | Am7 D7 | Gm7 C7 | Fmaj7 Bb7 | Em7b5 A7 |\n";
    for (const auto* tempo : {"120 swing", "200 swing", "70 ballad", "130 bossa", "110 funk", "150 latin"}) {
        INFO(tempo);
        const auto tune = short_tune(std::string("tempo ") + tempo + "\n" + text);
        const auto performance = chorus_of(tune);
        for (std::size_t b = 0; b < 16; ++b) {
            const auto& bar = tune.sections[0].bars[b];
            for (const auto& chord : bar.changes) {
                const auto begin = Time(static_cast<int>(b)) + chord.at;
                INFO("bar " << b + 1 << ": " << theory::to_string(chord.chord));
                CHECK(guide_tones_struck(performance, chord.chord, begin, begin + chord.length));
            }
        }
    }
}

TEST_CASE("Every chord is struck and has its root in the bass", "[arrange]") {
    for (const auto& [name, tune] : sample_tunes()) {
        INFO(name);
        const auto performance = chorus_of(tune);
        PerformWish wish;
        wish.one_chorus = true;
        const auto bars = band_bars(tune, wish);
        const tune::ChordEvent* before = nullptr;
        for (const auto& bar : bars.bars) {
            if (bar.pickup || bar.bar->hits || bar.hits_only || bar.bar->bass) continue;
            for (const auto& chord : bar.bar->changes) {
                const bool sounds_on = before != nullptr && before->chord == chord.chord;
                before = &chord;
                if (chord.chord.is_none() || chord.push != tune::Push::none) continue;
                const auto begin = bar.at + chord.at;
                const auto end = begin + chord.length;
                INFO(theory::to_string(chord.chord) << " at " << begin.to_string());
                CHECK(
                    (chord.length < Time(1, 4) || guide_tones_struck(performance, chord.chord, begin, end)));
                const auto bass = theory::pitch_class(theory::bass_of(chord.chord));
                bool reached = false;
                for (const auto& note : notes_of(performance, Role::bass))
                    reached = reached || (note.at >= begin && note.at < end && note.key % 12 == bass);
                CHECK((reached || sounds_on));
            }
        }
    }
}

TEST_CASE("All notes lie in range, in time and in order", "[arrange]") {
    for (const auto& [name, tune] : sample_tunes()) {
        INFO(name);
        PerformWish wish;
        wish.guide_tones = true;
        const auto performance = perform(tune, wish);
        REQUIRE(performance.voices.size() >= 4);
        for (const auto& voice : performance.voices) {
            INFO(voice.name);
            Time before;
            for (const auto& note : voice.notes) {
                CHECK(note.at >= before);
                CHECK(note.length > Time(0));
                CHECK(note.at + note.length <= performance.length);
                CHECK((note.key >= 20 && note.key <= 108));
                CHECK((note.loudness >= 1 && note.loudness <= 127));
                before = note.at;
            }
        }
        CHECK(performance.tempi.front().at == Time(0));
        CHECK(performance.meters.front().at == Time(0));
    }
}

TEST_CASE("A push comes early in hands and even-feel bass, a walking bass keeps its beats", "[arrange]") {
    const std::string rows = "section A\nchanges | Dm7 | <G7 | C6 | <<F6 |\n";
    const auto bossa = chorus_of(short_tune("tempo 130 bossa\n" + rows));
    const auto pushed = Time(1) - Time(1, 8);
    const auto struck = onsets(bossa, Role::comping, pushed, Time(1));
    REQUIRE_FALSE(struck.empty());
    CHECK(struck.front() == pushed);
    CHECK(has(classes_at(bossa, Role::comping, pushed), 11));  // B: the third of G7
    CHECK(classes_at(bossa, Role::bass, pushed) == 1U << 7);
    CHECK(onsets(bossa, Role::comping, 1, Time(17, 16)).empty());
    CHECK(classes_at(bossa, Role::bass, Time(3) - Time(1, 4)) == 1U << 5);

    const auto swing = chorus_of(short_tune("tempo 200 swing\n" + rows));
    CHECK(has(classes_at(swing, Role::comping, pushed), 11));
    CHECK(classes_at(swing, Role::bass, 1) == 1U << 7);
    CHECK(onsets(swing, Role::bass, 0, 4).size() == 16);
}

TEST_CASE("Hits are played by hands and drums, a break by nobody else", "[arrange]") {
    const auto performance = chorus_of(short_tune(
        "tempo 120 swing\nsection A\nchanges | Dm7 | G7 | C6 | N.C. |\nhits | . | q x e r X~ h X | . | . |\n"
        "marks | . | . | . | break |\n"));
    CHECK(onsets(performance, Role::comping, 1, 2) == std::vector<Time>{1, {11, 8}});
    const auto held = notes_of(performance, Role::comping);
    CHECK(std::any_of(held.begin(), held.end(),
                      [](const auto& note) { return note.at == Time(11, 8) && note.length == Time(5, 8); }));
    CHECK(onsets(performance, Role::comping, 3, 4).empty());
    CHECK(onsets(performance, Role::bass, 3, 4).empty());
    CHECK(onsets(performance, Role::time, 3, 4).empty());
    CHECK_FALSE(onsets(performance, Role::time, 2, 3).empty());
}

TEST_CASE("A hit tied over the bar line takes the chord that it is held into", "[arrange]") {
    const auto performance =
        chorus_of(short_tune("tempo 120 swing\nsection A\nchanges | Dm7 | Db7 | C6 | % |\nhits | q. r e r q. "
                             "r e X~ | h X h r | . | . |\n"));
    const auto at = Time(7, 8);
    CHECK(onsets(performance, Role::comping, 0, 1) == std::vector<Time>{at});
    CHECK(has(classes_at(performance, Role::comping, at), 5));   // F: the third of Db7
    CHECK(has(classes_at(performance, Role::comping, at), 11));  // Cb: its seventh
    CHECK(has(classes_at(performance, Role::comping, Time(5, 4)), 11));
}

TEST_CASE("Melody in heads only; a pickup sounds in the count-in", "[arrange]") {
    const auto performance =
        perform(short_tune("tempo 100 swing\nform A\nrunning Head | Solos open | Head last\nsection A\n"
                           "changes | C6 | G7 |\nmelody q G4 | h C5 E5 | w D5 |\n"));
    CHECK(performance.count_in == Time(1));
    CHECK(performance.length == Time(7));
    CHECK(onsets(performance, Role::melody, 0, 7) == std::vector<Time>{{3, 4}, 1, {3, 2}, 2, 5, {11, 2}, 6});
    const auto& markers = performance.markers;
    REQUIRE(markers.size() == 6);
    CHECK(markers[0].text == "Head");
    CHECK(markers[0].at == Time(1));
    CHECK(markers[2].text == "Solos");
    CHECK(markers[2].at == Time(3));
}

TEST_CASE("A pickup alone comes before the first bar", "[arrange]") {
    const auto performance = chorus_of(
        short_tune("tempo 100 swing\nsection A\nchanges | C6 | G7 |\nmelody e G4 | h C5 E5 | w D5 |\n"));
    CHECK(performance.grid == Time(1, 8));
    CHECK(performance.length == Time(17, 8));
    REQUIRE(performance.meters.size() == 2);
    CHECK(performance.meters[0].beats == 1);
    CHECK(performance.meters[0].unit == 8);
    CHECK(performance.meters[1].at == Time(1, 8));
    CHECK(classes_at(performance, Role::bass, {1, 8}) == 1U << 0);
}

TEST_CASE("Ties are one note, grace notes come before the beat", "[arrange]") {
    const auto performance = chorus_of(short_tune(
        "tempo 100 swing\nsection A\nchanges | C6 | G7 |\nmelody | h C5 E5~ | q E5 {D#5} E5 h D5 |\n"));
    const auto notes = notes_of(performance, Role::melody);
    REQUIRE(notes.size() == 5);
    CHECK(notes[1].at == Time(1, 2));
    CHECK(notes[1].length == Time(3, 4) - Time(1, 32));  // the grace note takes its end
    CHECK(notes[2].key == 75);
    CHECK(notes[2].at == Time(5, 4) - Time(1, 32));
    CHECK(notes[3].at == Time(5, 4));
}

TEST_CASE("A written bass is played as written", "[arrange]") {
    const auto performance =
        chorus_of(short_tune("tempo 120 even\nsection A\nchanges | Dm7 | G7 |\nbass | q D2 A2 h D3 | . |\n"));
    const auto notes = notes_of(performance, Role::bass);
    REQUIRE(notes.size() >= 4);
    CHECK(notes[0].key == 38);
    CHECK(notes[1].key == 45);
    CHECK(notes[2].key == 50);
    CHECK(notes[2].length == Time(1, 2));
    CHECK(notes[3].key % 12 == 7);
}

TEST_CASE("A soloist's superimposed changes sound in the guide tones, the band stays", "[arrange]") {
    const auto tune = short_tune(
        "tempo 120 swing\nsection A\nchanges | Dm7 | G7 | C6 | % |\nsoloist | . | Db7 | . | . |\n");
    PerformWish wish;
    wish.one_chorus = true;
    wish.guide_tones = true;
    const auto performance = perform(tune, wish);
    CHECK(classes_at(performance, Role::guide_tones, 1) == (1U << 5 | 1U << 11));  // F and Cb
    CHECK(classes_at(performance, Role::bass, 1) == 1U << 7);
    wish.guide_tones = false;
    CHECK(voice_of(perform(tune, wish), Role::guide_tones) == nullptr);
}

TEST_CASE("Choruses that a plan is not for stay on the written changes", "[arrange]") {
    const std::string head =
        "tempo 120 swing\nform A\nrunning Head | Solos open, written changes | Head last\n";
    const auto written = short_tune(head + "section A\nchanges | G7 | C6 |\n");
    const auto version = short_tune(head + "section A\nchanges | Db7 | C6 |\n");
    const auto roots = [&](tune::Plan::Where where, const tune::Tune* from) {
        PerformWish wish;
        wish.count_in = false;
        wish.written = from;
        wish.where = where;
        const auto performance = perform(version, wish);
        std::vector<unsigned> found;
        for (const int bar : {0, 2, 4}) found.push_back(classes_at(performance, Role::bass, bar));
        return found;
    };
    constexpr unsigned g = 1U << 7;
    constexpr unsigned db = 1U << 1;
    CHECK(roots(tune::Plan::Where::all, nullptr) == std::vector<unsigned>{db, db, db});
    CHECK(roots(tune::Plan::Where::all, &written) == std::vector<unsigned>{db, g, db});
    CHECK(roots(tune::Plan::Where::head, &written) == std::vector<unsigned>{db, g, db});
    CHECK(roots(tune::Plan::Where::solos, &written) == std::vector<unsigned>{g, db, g});
}

TEST_CASE("The last chord is held; a ritard and a fermata slow down where the music stops", "[arrange]") {
    const std::string rows =
        "section A\nchanges | G7 | C6 |\nmelody | w D5 | h E5 C5 |\nmarks | ritard | fermata |\n";
    const auto once = perform(short_tune("tempo 120 swing\n" + rows));
    const auto begin = once.count_in;
    const auto comping = notes_of(once, Role::comping);
    CHECK(std::any_of(comping.begin(), comping.end(), [&](const auto& note) {
        return note.at == begin + Time(1) && note.length == Time(1);
    }));
    std::vector<std::pair<Time, double>> tempi;
    for (const auto& mark : once.tempi) tempi.emplace_back(mark.at - begin, mark.quarters_per_minute);
    CHECK(tempi == std::vector<std::pair<Time, double>>{
                       {-begin, 120}, {0, 112.5}, {{1, 4}, 105}, {{1, 2}, 97.5}, {{3, 4}, 90}, {{3, 2}, 45}});
    const auto twice = perform(short_tune("tempo 120 swing\nform A\nrunning Head 2 times\n" + rows));
    const auto second = twice.count_in + Time(2);
    CHECK(std::none_of(twice.tempi.begin(), twice.tempi.end(),
                       [&](const auto& mark) { return mark.at > Time(0) && mark.at < second; }));
    CHECK(twice.tempi.size() == once.tempi.size());
}

TEST_CASE("Meters and feels that change inside a tune", "[arrange]") {
    const auto performance =
        chorus_of(short_tune("tempo 120 even\nsection A\nchanges | Dm7 | G7 |\nsection B\nmeter 3/4\ntempo "
                             "160 waltz\nchanges | C6 | F6 |\n"));
    REQUIRE(performance.meters.size() == 2);
    CHECK(performance.meters[1].at == Time(2));
    CHECK(performance.meters[1].beats == 3);
    REQUIRE(performance.tempi.size() == 2);
    CHECK(performance.tempi[1].quarters_per_minute == 160);
    REQUIRE(performance.swings.size() == 2);
    CHECK(performance.swings[0].swing == 0.5);
    CHECK(performance.swings[1].swing > 0.6);
    CHECK(performance.length == Time(7, 2));
}

TEST_CASE("Every row of the pattern tables has the length that it says", "[arrange]") {
    // All lengths that a style states are played: no sample bar falls back to nothing.
    for (const char* feel :
         {"swing", "shuffle", "waltz", "ballad", "even", "bossa", "samba", "latin", "funk", "rubato"}) {
        INFO(feel);
        CHECK(feel_of({120, feel, ""}).feel == feel);
        const auto performance = chorus_of(short_tune(std::string("tempo 120 ") + feel +
                                                      "\nsection A\nchanges | Dm7 | G7 | Cmaj7 | A7 |\n"));
        CHECK_FALSE(onsets(performance, Role::comping, 0, 4).empty());
        CHECK(onsets(performance, Role::bass, 0, 4).size() >= 4);
        CHECK((std::string(feel) == "rubato") == onsets(performance, Role::time, 0, 4).empty());
    }
    CHECK(feel_of({120, "", ""}).feel == "unstated");
}
