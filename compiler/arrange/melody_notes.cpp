#include "arrange/melody_notes.h"

#include <algorithm>

namespace relead::arrange {

namespace {

using score::Element;

score::NoteValue value_of(const tune::NoteValue& value) {
    return {value.denominator, value.dots};
}

std::optional<score::Tuplet> tuplet_of(const std::optional<tune::Tuplet>& tuplet) {
    if (!tuplet) return std::nullopt;
    return score::Tuplet{tuplet->actual, tuplet->normal, tuplet->begins, tuplet->ends};
}

void add_graces(const tune::NoteEvent& event, std::vector<Element>& elements) {
    using score::Beam;
    const auto count = event.grace.size();
    for (std::size_t i = 0; i < count; ++i) {
        Element grace;
        grace.grace = true;
        grace.at = event.at;
        grace.value = {count > 1 ? 16 : 8, 0};
        score::Head head;
        head.pitch = event.grace[i];
        grace.heads.push_back(head);
        if (count > 1) {
            const auto beam = i == 0 ? Beam::begin : i + 1 == count ? Beam::end : Beam::middle;
            grace.beams = {beam, beam};
        }
        elements.push_back(std::move(grace));
    }
}

Element timed(const tune::NoteEvent& event) {
    Element element;
    element.at = event.at;
    element.length = event.length;
    element.value = value_of(event.value);
    element.tuplet = tuplet_of(event.tuplet);
    return element;
}

void add_note(const tune::NoteEvent& event, std::vector<Element>& elements) {
    add_graces(event, elements);
    Element note = timed(event);
    score::Head head;
    head.pitch = event.pitch;
    head.tie_begins = event.tied_to_next;
    note.heads.push_back(head);
    note.slurs_begin = event.slurs_begin;
    note.slurs_end = event.slurs_end;
    elements.push_back(std::move(note));
}

/// An unknown stretch: one slash for each beat that it touches.
void add_unknown(const tune::NoteEvent& event, const tune::Meter& meter, theory::Pitch middle,
                 std::vector<Element>& elements) {
    Time at = event.at;
    const Time end = event.at + event.length;
    while (at < end) {
        const auto beat = meter.beat_length();
        const Time beat_end = Fraction((at / beat).floor() + 1) * beat;
        for (const auto& value : values_of(std::min(beat_end, end) - at)) {
            Element slash;
            slash.at = at;
            slash.value = value;
            slash.length = value.length();
            slash.notehead = score::Notehead::slash;
            slash.stem = score::Stem::none;
            slash.silent = true;
            score::Head head;
            head.pitch = middle;
            slash.heads.push_back(head);
            at += slash.length;
            elements.push_back(std::move(slash));
        }
    }
}

void add_lyrics(const tune::Bar& bar, const std::vector<std::size_t>& element_of_note,
                std::vector<Element>& elements) {
    int verse = 0;
    for (const auto& syllables : bar.lyrics) {
        ++verse;
        for (const auto& syllable : syllables) {
            const auto note = static_cast<std::size_t>(syllable.note);
            if (note >= element_of_note.size() || syllable.text.empty()) continue;
            score::Lyric lyric;
            lyric.verse = verse;
            lyric.text = syllable.text;
            lyric.syllabic =
                static_cast<score::Lyric::Syllabic>(syllable.part == tune::Syllable::Part::single   ? 0
                                                    : syllable.part == tune::Syllable::Part::begin  ? 1
                                                    : syllable.part == tune::Syllable::Part::middle ? 2
                                                                                                    : 3);
            lyric.extends = syllable.extends;
            elements[element_of_note[note]].lyrics.push_back(std::move(lyric));
        }
    }
}

bool is_empty_bar(const tune::Bar& bar) {
    const auto& events = *bar.melody;
    return events.size() == 1 && events.front().kind == tune::NoteEvent::Kind::rest && bar.number > 0;
}

}  // namespace

std::vector<score::NoteValue> values_of(Time length) {
    std::vector<score::NoteValue> values;
    for (int denominator = 1; denominator <= 64 && length > Time(0); denominator *= 2) {
        for (const int dots : {1, 0}) {
            const score::NoteValue value{denominator, dots};
            while (value.length() <= length) {
                values.push_back(value);
                length -= value.length();
            }
        }
    }
    return values;
}

std::vector<Element> melody_elements(const tune::Bar& bar, theory::Pitch middle, bool lyrics) {
    std::vector<Element> elements;
    if (is_empty_bar(bar)) {
        Element rest;
        rest.kind = Element::Kind::bar_rest;
        rest.length = bar.length;
        elements.push_back(std::move(rest));
        return elements;
    }
    std::vector<std::size_t> element_of_note;
    for (const auto& event : *bar.melody) {
        switch (event.kind) {
            case tune::NoteEvent::Kind::note:
                add_note(event, elements);
                break;
            case tune::NoteEvent::Kind::unknown:
                add_unknown(event, bar.meter, middle, elements);
                break;
            case tune::NoteEvent::Kind::rest: {
                elements.push_back(timed(event));
                elements.back().kind = Element::Kind::rest;
                break;
            }
        }
        element_of_note.push_back(elements.empty() ? 0 : elements.size() - 1);
    }
    if (lyrics) add_lyrics(bar, element_of_note, elements);
    return elements;
}

}  // namespace relead::arrange
