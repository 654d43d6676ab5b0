// The guide-tone line on paper: as small notes below a lead sheet, and as a sheet of two staves.
#include "arrange/guide_notes.h"
#include "arrange/lead_sheet.h"
#include "score/dump.h"
#include "tunes.h"

namespace {

using namespace relead;
using arrange::GuideTones;

std::string sheet_text(const tune::Tune& tune, GuideTones guide_tones, const char* instrument = nullptr,
                       voicing::ChordRow row = voicing::ChordRow::changes) {
    arrange::SheetWish wish;
    wish.guide_tones = guide_tones;
    wish.guide_row = row;
    if (instrument != nullptr) wish.instrument = theory::find_instrument(instrument);
    const auto text = score::dump(arrange::lead_sheet(tune, wish));
    return text.substr(text.find("part "));
}

const char* const two_fives =
    "section A\nchanges | Dm7 | Db7 | Cmaj7 | N.C. |\nmelody | w A4 | Ab4 | G4 | r |\n";

}  // namespace

TEST_CASE(
    "small notes: both voices below the melody, spelled by their chords, a rest where no chord sounds") {
    CHECK(sheet_text(short_tune(two_fives), GuideTones::small) ==
          "part Lead staves 2\n"
          "1 key 0 major 4/4  <mark@0 \"A\">  | Dm7@0  : w A4  5: staff 2 w C4F4\n"
          "2  | Db7@0  : w Ab4(b)  5: staff 2 w Cb4(b)F4\n"
          "3  | Cmaj7@0  : w G4  5: staff 2 w B3E4\n"
          "4  | N.C.@0  : R  5: staff 2 R |||\n");
}

TEST_CASE("two staves: the upper voice and the lower, in the player's key and octave") {
    // A tenor reads a ninth higher; Db7 is Eb7 to it, its seventh Db.
    CHECK(sheet_text(short_tune(two_fives), GuideTones::staves, "tenor") ==
          "part Tenor Sax staves 2\n"
          "1 key 2 major 4/4 transpose -14  <mark@0 \"A\">  | Em7@0  : w G5  5: staff 2 w D5\n"
          "2  | Eb7@0  : w G5  5: staff 2 w Db5(b)\n"
          "3  | Dmaj7@0  : w F#5  5: staff 2 w C#5\n"
          "4  | N.C.@0  : R  5: staff 2 R |||\n");
}

TEST_CASE("clefs and staves of guide-tone sheets") {
    struct Row {
        const char* instrument;
        GuideTones kind;
        theory::Clef first, second;
        int small;
    };
    const Row row = GENERATE(values<Row>({
        {nullptr, GuideTones::small, theory::Clef::treble, theory::Clef::tenor_treble, 70},
        {nullptr, GuideTones::staves, theory::Clef::tenor_treble, theory::Clef::tenor_treble, 100},
        {"alto", GuideTones::small, theory::Clef::treble, theory::Clef::treble, 70},
        {"trombone", GuideTones::staves, theory::Clef::bass, theory::Clef::bass, 100},
    }));
    arrange::SheetWish wish;
    wish.guide_tones = row.kind;
    if (row.instrument != nullptr) wish.instrument = theory::find_instrument(row.instrument);
    const auto sheet = arrange::lead_sheet(short_tune(two_fives), wish);
    const auto& part = sheet.parts[0];
    CHECK(part.staves == 2);
    CHECK(part.second_staff_size == row.small);
    CHECK(part.measures[0].clef == row.first);
    CHECK(part.measures[0].second_clef == row.second);
    const bool own_sheet = row.kind == GuideTones::staves;
    CHECK((sheet.corner.find("guide tones") != std::string::npos) == own_sheet);
    // A program that plays the sheet plays the melody, or else the line; never one over the other.
    CHECK(part.measures[0].voices.back().elements[0].silent != own_sheet);
}

TEST_CASE("tones come with a pushed chord and are tied over the bar line; a late chord leaves the old ones") {
    CHECK(sheet_text(short_tune("section A\nchanges | Dm7 | <G7 | >Cmaj7 | F6 |\n"), GuideTones::staves) ==
          "part Lead staves 2\n"
          "1 key 0 major 4/4  <mark@0 \"A\">  | Dm7@0 G7@7/8<  : h. F4~ e ~F4{<} e F4~{>}  5: staff 2 h. C4~ "
          "e ~C4{<} e B3~{>}\n"
          "2  : w ~F4~  5: staff 2 w ~B3~\n"
          "3  | Cmaj7@1/8<  : e ~F4 h. E4~ e ~E4  5: staff 2 e ~B3 h. B3~ e ~B3\n"
          "4  | F6@0  : w D4  5: staff 2 w A3 |||\n");
}

TEST_CASE("no tie into one of two endings: the other one has none") {
    const auto text =
        sheet_text(short_tune("section A\nchanges |: Dm7 | [1 >G7 ] :| [2 Cmaj7 ] |\n"), GuideTones::staves);
    CHECK(text.find("w F4  5: staff 2 w C4\n") != std::string::npos);
    CHECK(text.find(": e F4 h. F4~ e ~F4") != std::string::npos);
}

TEST_CASE("a chord over the whole of an odd bar is tied together; double flats get their plain name") {
    const auto text = sheet_text(short_tune("section A\nchanges | Cdim7 | Cmaj7 |\n", "C major", "5/4"),
                                 GuideTones::staves);
    CHECK(text.find("w A3~ q ~A3") != std::string::npos);
    CHECK(text.find("w Eb4(b)~ q ~Eb4") != std::string::npos);
}

TEST_CASE("the soloist's chords, where the line follows them") {
    const auto tune = short_tune("section A\nchanges | Dm7 | G7 | Cmaj7 |\nsoloist | . | Abm7 Db7 | . |\n");
    const auto line = sheet_text(tune, GuideTones::staves, nullptr, voicing::ChordRow::soloist);
    CHECK(line.find("h Gb4(b) h F4") != std::string::npos);
    CHECK(line.find("h Cb4(b) h Cb4") != std::string::npos);
    const auto band = sheet_text(tune, GuideTones::staves);
    CHECK(band.find("Gb4") == std::string::npos);
}

TEST_CASE("a soloist's chords are named by what comes after, and only new ones stand out") {
    const auto tune = short_tune("section A\nchanges | F7 | Bbmaj7 |\nsoloist | F7 B7 | . |\n");
    arrange::SheetWish wish;
    wish.guide_tones = GuideTones::staves;
    wish.guide_row = voicing::ChordRow::soloist;
    wish.instrument = theory::find_instrument("alto");
    const auto sheet = arrange::lead_sheet(tune, wish);
    const auto& bar = sheet.parts[0].measures[0];
    // Strictly G#7; it falls a half step to Gmaj7.
    std::string words;
    for (const auto& direction : bar.directions) words += direction.text + " ";
    CHECK(words == "A solo: D7 A\u266d7 ");
    REQUIRE(bar.voices.size() == 2);
    REQUIRE(bar.voices[0].elements.size() == 2);
    CHECK_FALSE(bar.voices[0].elements[0].highlighted);
    CHECK(bar.voices[0].elements[1].highlighted);
    CHECK(theory::to_string(bar.voices[0].elements[1].heads[0].pitch) == "C5");
    CHECK(theory::to_string(bar.voices[1].elements[1].heads[0].pitch) == "Gb4");
}

TEST_CASE("without guide tones a sheet has one staff") {
    const auto sheet = arrange::lead_sheet(short_tune(two_fives));
    CHECK(sheet.parts[0].staves == 1);
    CHECK_FALSE(sheet.parts[0].measures[0].second_clef);
    CHECK(sheet.parts[0].measures[0].voices.size() == 1);
}

TEST_CASE("guide-tone sheets of all samples: voices fill their bars, few systems a page") {
    for (const auto& [name, tune] : sample_tunes()) {
        for (const auto kind : {GuideTones::small, GuideTones::staves}) {
            arrange::SheetWish wish;
            wish.guide_tones = kind;
            const auto sheet = arrange::lead_sheet(tune, wish);
            INFO(name);
            CHECK(sheet.systems_a_page <= 7);
            for (const auto& measure : sheet.parts[0].measures) {
                INFO("measure " << measure.number);
                for (const auto& voice : measure.voices) {
                    Time at = 0;
                    for (const auto& element : voice.elements) {
                        if (element.grace) continue;
                        REQUIRE(element.at == at);
                        at += element.length;
                    }
                    REQUIRE(at == measure.length);
                }
            }
        }
    }
}
