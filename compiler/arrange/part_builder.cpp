#include "arrange/part_builder.h"

#include <algorithm>
#include <optional>

#include "arrange/accidentals.h"
#include "arrange/beams.h"
#include "arrange/chord_spelling.h"
#include "arrange/guide_notes.h"
#include "arrange/harmony_row.h"
#include "arrange/layout.h"
#include "arrange/melody_notes.h"
#include "arrange/sheet_marks.h"
#include "arrange/slash_notes.h"
#include "arrange/symbols.h"

namespace relead::arrange {

namespace {

using score::Element;
using score::Measure;
using score::SlashStyle;

class Builder {
public:
    Builder(const tune::Tune& tune, const SheetForm& form, const Reading& reading, const SheetWish& wish)
        : tune_(tune),
          form_(form),
          reading_(reading),
          wish_(wish),
          measures_(sign_measures(tune, form)),
          succession_(measures_),
          symbols_(place_symbols(tune, form, measures_, succession_)) {
        for (const auto& at : form.bars) keys_.push_back(key_of(at));
        rows_ = read_symbols(symbols_, keys_, reading_, wish_.changed);
        if (wish.guide_tones != GuideTones::none)
            guides_ = guide_notes({tune, form, symbols_, rows_, keys_, succession_, wish}, reading);
    }

    BuiltPart build() {
        for (std::size_t i = 0; i < measures_.size(); ++i) {
            set_attributes(i);
            set_voices(i);
            set_words(i);
            for (const auto& read : rows_[i]) measures_[i].harmonies.push_back(read.harmony);
        }
        join_ties(measures_, [&](std::size_t i) { return succession_.follows(i, i + 1); });
        set_accidentals(measures_);
        finish_voices();
        BuiltPart part;
        const auto count = lay_out(form_, measures_, wish_.guide_tones == GuideTones::none ? 1 : 2);
        part.pages = count.pages;
        part.systems_a_page = count.systems;
        drop_continued_symbols();
        part.measures = std::move(measures_);
        return part;
    }

private:
    [[nodiscard]] const tune::Section& section_of(const SheetBar& at) const {
        return tune_.sections[static_cast<std::size_t>(at.section)];
    }
    [[nodiscard]] const tune::Bar& bar_of(std::size_t i) const {
        const auto& at = form_.bars[i];
        return section_of(at).bars[static_cast<std::size_t>(at.bar)];
    }
    [[nodiscard]] KeyReading key_of(const SheetBar& at) const {
        return read_key(reading_, tune::key_at(section_of(at), at.bar), tune_.open_key);
    }
    [[nodiscard]] static score::TimeSignature time_of(const tune::Meter& meter) {
        return {meter.beats, meter.unit, meter.groups};
    }

    void set_attributes(std::size_t i) {
        auto& measure = measures_[i];
        const auto time = time_of(bar_of(i).meter);
        const auto& key = keys_[i];
        if (i == 0) set_clefs(measure);
        if (i == 0 || !(keys_[i - 1].signature == key.signature)) measure.key = key.signature;
        if (i == 0 || !(time_of(bar_of(i - 1).meter) == time)) measure.time = time;
        const auto before = i == 0 ? theory::Interval{} : keys_[i - 1].written_to_sounding;
        if (!(before == key.written_to_sounding)) measure.transposition = key.written_to_sounding;
        const auto& at = form_.bars[i];
        if (at.closes_section || bar_of(i).double_bar_after) measure.right = score::BarStyle::double_bar;
        if (i + 1 == measures_.size()) measure.right = score::BarStyle::final_bar;
    }

    void set_clefs(Measure& measure) const {
        measure.clef = reading_.clef;
        if (wish_.guide_tones == GuideTones::none) return;
        if (wish_.guide_tones == GuideTones::staves) measure.clef = guides_.clef;
        measure.second_clef = guides_.clef;
    }
    /// A voice of the guide-tone line on the second staff or, of two staves, on both.
    void add_guide_voice(std::size_t i, int number, int staff, GuideVoice which) {
        score::Voice voice;
        voice.number = number;
        voice.staff = staff;
        const bool silent = wish_.guide_tones == GuideTones::small;
        voice.elements = guide_elements(guides_.bars[i], measures_[i].length, which, silent);
        measures_[i].voices.push_back(std::move(voice));
    }

    void set_voices(std::size_t i) {
        constexpr int first_of_second_staff = 5;
        if (wish_.guide_tones == GuideTones::staves) {
            add_guide_voice(i, 1, 1, GuideVoice::upper);
            add_guide_voice(i, first_of_second_staff, 2, GuideVoice::lower);
            return;
        }
        set_own_voices(i);
        if (wish_.guide_tones == GuideTones::small)
            add_guide_voice(i, first_of_second_staff, 2, GuideVoice::both);
    }
    void set_own_voices(std::size_t i) {
        const auto& bar = bar_of(i);
        const bool hits = bar.hits && wish_.show_hits;
        score::Voice voice;
        if (bar.melody && wish_.show_melody) {
            voice.elements = melody(i);
            if (hits && !accent_melody(*bar.hits, voice.elements)) add_hits_above(i, voice);
        } else {
            auto slashes = hits ? hit_bar(*bar.hits, middle(i)) : plain_slashes(i);
            measures_[i].slashes = slashes.style;
            voice.elements = std::move(slashes.elements);
        }
        measures_[i].voices.insert(measures_[i].voices.begin(), std::move(voice));
    }
    [[nodiscard]] theory::Pitch middle(std::size_t i) const {
        return slash_pitch(reading_.clef, keys_[i].signature);
    }
    void add_hits_above(std::size_t i, score::Voice& melody) {
        score::Voice hits;
        hits.number = 2;
        std::optional<theory::Pitch> highest;
        for (const auto& element : melody.elements) {
            for (const auto& head : element.heads) {
                if (!highest || head.pitch.above_c0.steps() > highest->above_c0.steps()) highest = head.pitch;
            }
        }
        hits.elements = hits_above(*bar_of(i).hits, pitch_above(reading_.clef, keys_[i].signature, highest));
        for (auto& element : melody.elements) {
            element.stem = score::Stem::down;
            element.rest_at = middle(i);
        }
        measures_[i].voices.push_back(std::move(hits));
    }

    [[nodiscard]] std::vector<Element> melody(std::size_t i) {
        auto elements = melody_elements(bar_of(i), middle(i), wish_.show_lyrics);
        for (auto& element : elements) {
            if (element.notehead == score::Notehead::slash) continue;
            for (auto& head : element.heads) head.pitch = written(i, element.at, head.pitch);
        }
        return elements;
    }
    [[nodiscard]] theory::Pitch written(std::size_t i, Time at, theory::Pitch sounding) const {
        const auto strict = read_pitch(reading_, keys_[i], sounding);
        if (!reading_.transposes()) return strict;
        const auto* symbol = symbol_at(rows_, i, at);
        if (symbol == nullptr) return spell_pitch(strict, keys_[i].key, nullptr, 0);
        return spell_pitch(strict, keys_[i].key, &symbol->harmony.chord, symbol->shift);
    }

    [[nodiscard]] SlashBar plain_slashes(std::size_t i) const {
        std::vector<Time> moments;
        for (const auto& symbol : symbols_[i]) moments.push_back(symbol.at);
        auto slashes = slash_bar(bar_of(i).meter, measures_[i].length, moments, middle(i));
        for (const auto& symbol : symbols_[i]) {
            if (symbol.early) hold_over(symbol.at, slashes);
        }
        return slashes;
    }
    /// An early chord is played early and held: its slash shows the rhythm and is tied.
    static void hold_over(Time at, SlashBar& slashes) {
        for (auto& element : slashes.elements) {
            if (element.at != at) continue;
            element.stem = score::Stem::automatic;
            element.heads[0].tie_begins = true;
            slashes.style = SlashStyle::rhythm;
        }
    }

    void set_words(std::size_t i) {
        auto& measure = measures_[i];
        const auto* tempo = i == 0 ? nullptr : &tempo_at(tune_, form_.bars[i - 1]);
        add_marks(tune_, form_.bars[i], tempo, measure);
        const auto& bar = bar_of(i);
        if (bar.ossia && wish_.show_ossia) add_row(i, *bar.ossia, "(", ")");
        if (bar.soloist && wish_.show_soloist) {
            const bool first = i == 0 || !bar_of(i - 1).soloist;
            add_row(i, *bar.soloist, first ? "solo: " : "", "");
        }
        for (const auto& symbol : symbols_[i]) {
            if (symbol.push_in_words) measure.directions.push_back(small_words(symbol.at, "push"));
            if (wish_.show_replaced) add_replaced(i, symbol);
        }
        for (const auto& read : rows_[i]) add_upper_structure(measure, read.harmony);
        std::stable_sort(measure.directions.begin(), measure.directions.end(),
                         [](const auto& a, const auto& b) { return a.at < b.at; });
    }
    void add_row(std::size_t i, const std::vector<tune::ChordEvent>& row, std::string before,
                 const std::string& after) {
        const auto chords = read_row(row, i, rows_, keys_, reading_);
        for (std::size_t k = 0; k < row.size(); ++k) {
            const auto name = theory::to_string(chords[k], theory::SymbolStyle::unicode);
            measures_[i].directions.push_back(small_words(row[k].at, before + name + after));
            if (after.empty()) before.clear();
        }
    }
    /// The symbol says which tensions; the words say which triad the author means.
    static void add_upper_structure(Measure& measure, const score::Harmony& harmony) {
        if (!harmony.chord.upper) return;
        const auto& upper = *harmony.chord.upper;
        const auto triad = theory::to_string(upper.root, true) + (upper.minor ? "m" : "");
        measure.directions.push_back(small_words(harmony.at, "(" + triad + " triad)"));
    }
    void add_replaced(std::size_t i, const Symbol& symbol) {
        for (const auto& changed : wish_.changed) {
            if (!(changed.ref == symbol.ref) || changed.was.empty()) continue;
            std::string text = "was";
            for (const auto& chord : changed.was) text += " " + chord_words(chord, keys_[i], reading_);
            measures_[i].directions.push_back(small_words(symbol.at, text, false));
        }
    }

    void finish_voices() {
        for (std::size_t i = 0; i < measures_.size(); ++i) {
            auto& measure = measures_[i];
            for (auto& voice : measure.voices) set_beams(bar_of(i).meter, measure.length, voice.elements);
            auto& elements = measure.voices.front().elements;
            for (auto& element : elements) {
                if (element.notehead != score::Notehead::slash) continue;
                const auto* symbol = symbol_at(rows_, i, element.at);
                element.highlighted = symbol != nullptr && symbol->harmony.changed;
                const bool stem = element.stem != score::Stem::none;
                if (stem && measure.slashes == SlashStyle::beats) measure.slashes = SlashStyle::rhythm;
            }
        }
    }

    /// The chord of a `%` bar is printed again only where a line begins.
    void drop_continued_symbols() {
        for (std::size_t i = 1; i < measures_.size(); ++i) {
            const bool line_begins = measures_[i].before != score::Break::none;
            if (line_begins || symbols_[i].size() != 1 || !symbols_[i][0].continues) continue;
            if (measures_[i].harmonies.size() == 1 && !measures_[i].harmonies[0].changed)
                measures_[i].harmonies.clear();
        }
    }

    const tune::Tune& tune_;
    const SheetForm& form_;
    const Reading& reading_;
    const SheetWish& wish_;
    GuideNotes guides_;
    std::vector<Measure> measures_;
    Succession succession_;
    std::vector<std::vector<Symbol>> symbols_;
    std::vector<KeyReading> keys_;
    SymbolRows rows_;
};

}  // namespace

BuiltPart build_part(const tune::Tune& tune, const SheetForm& form, const Reading& reading,
                     const SheetWish& wish) {
    return Builder(tune, form, reading, wish).build();
}

}  // namespace relead::arrange
