#include "report/listening.h"

#include <algorithm>
#include <cstddef>
#include <cstdlib>
#include <utility>

#include "arrange/chord_spelling.h"
#include "base/fmt.h"

namespace relead::report {

namespace {

int note_class(const theory::Instrument& instrument) {
    return ((instrument.written_to_sounding.semitones() % 12) + 12) % 12;
}

std::vector<Reader> all_readers() {
    std::vector<Reader> readers;
    for (const auto& instrument : theory::instruments()) {
        if (instrument.clef == theory::Clef::percussion) continue;
        const auto same = std::find_if(readers.begin(), readers.end(), [&](const Reader& reader) {
            return note_class(*reader.instrument) == note_class(instrument);
        });
        if (same == readers.end()) {
            readers.push_back({&instrument, {std::string(instrument.name)}});
        } else {
            same->names.emplace_back(instrument.name);
        }
    }
    return readers;
}

/// The guide-tone line of a row as it sounds.
void draw_threads(Listening& page, std::size_t row) {
    for (std::size_t bar = 0; bar < page.chords.size(); ++bar) {
        const auto& chords = page.comparison.bars[bar].rows[row];
        for (std::size_t i = 0; i < chords.size(); ++i) {
            for (const auto& tone : chords[i].guide_tones) {
                page.chords[bar][row][i].threads.push_back(
                    {tone.name, tone.pitch, tone.pitch + tone.semitones, !tone.move.empty(), tone.move});
            }
        }
    }
}

/// Every row's symbols as one reader sees them, spelled as a row from the first bar to the last.
void letter_row(Listening& page, std::size_t row, const Reader& reader, const theory::Key& concert) {
    const auto key = theory::part_key(concert, *reader.instrument);
    std::vector<arrange::ChordToSpell> strict;
    for (const auto& bar : page.comparison.bars) {
        for (const auto& chord : bar.rows[row]) {
            strict.push_back({theory::transpose(chord.chord, -key.written_to_sounding), key.written});
        }
    }
    const bool transposes = note_class(*reader.instrument) != 0;
    auto spelled = transposes ? arrange::spell_chords(strict) : std::vector<theory::Chord>{};
    std::size_t next = 0;
    for (auto& bar : page.chords) {
        for (auto& chord : bar[row]) {
            chord.symbols.push_back(symbol_pieces(transposes ? spelled[next] : strict[next].chord));
            ++next;
        }
    }
}

std::string nth(int number) {
    if (number == 2) return "2nd";
    if (number == 3) return "3rd";
    return fmt::format("{}th", number);
}

std::vector<Stretch> stretches_of(const Comparison& comparison) {
    std::vector<Stretch> stretches;
    for (std::size_t i = 0; i < comparison.bars.size(); ++i) {
        const auto& bar = comparison.bars[i];
        if (bar.section_begins || stretches.empty()) {
            stretches.push_back(
                {bar.playing > 1 ? fmt::format("{}, {} time", bar.section, nth(bar.playing)) : bar.section,
                 static_cast<int>(i), static_cast<int>(i)});
        }
        stretches.back().last = static_cast<int>(i);
    }
    return stretches;
}

void replace_all(std::string& text, std::string_view old, std::string_view now) {
    for (auto at = text.find(old); at != std::string::npos; at = text.find(old, at + now.size())) {
        text.replace(at, old.size(), now);
    }
}

/// "7(b9,#11)" reads "7(♭9,♯11)": a flat or sharp always stands before a digit.
std::string with_signs(std::string suffix) {
    for (char digit = '1'; digit <= '9'; ++digit) {
        replace_all(suffix, std::string("b") + digit, std::string("♭") + digit);
        replace_all(suffix, std::string("#") + digit, std::string("♯") + digit);
    }
    return suffix;
}

}  // namespace

SymbolPieces symbol_pieces(const theory::Chord& chord) {
    if (chord.is_none()) return {"N.C.", "", ""};
    SymbolPieces pieces;
    pieces.root = theory::to_string(chord.root, true);
    if (chord.bass) pieces.bass = theory::to_string(*chord.bass, true);
    auto plain = chord;
    plain.bass.reset();
    const auto whole = theory::to_string(plain, theory::SymbolStyle::plain);
    pieces.suffix = with_signs(whole.substr(theory::to_string(chord.root).size()));
    return pieces;
}

Listening listening(Comparison comparison, const theory::Key& key,
                    std::vector<score::Performance> performances) {
    Listening page;
    page.comparison = std::move(comparison);
    page.performances = std::move(performances);
    page.readers = all_readers();
    page.stretches = stretches_of(page.comparison);
    for (const auto& bar : page.comparison.bars) {
        auto& rows = page.chords.emplace_back();
        for (const auto& row : bar.rows) rows.emplace_back(row.size());
    }
    for (std::size_t row = 0; row < page.comparison.rows.size(); ++row) {
        for (const auto& reader : page.readers) letter_row(page, row, reader, key);
        draw_threads(page, row);
    }
    return page;
}

}  // namespace relead::report
