#include "arrange/slash_notes.h"

#include <algorithm>

#include "arrange/melody_notes.h"

namespace relead::arrange {

namespace {

using score::Articulation;
using score::Element;

Element slash(Time at, const score::NoteValue& value, theory::Pitch pitch) {
    Element element;
    element.at = at;
    element.value = value;
    element.length = value.length();
    element.notehead = score::Notehead::slash;
    element.silent = true;
    score::Head head;
    head.pitch = pitch;
    element.heads.push_back(head);
    return element;
}

/// Slashes for [at, end); tied to each other when one value is not enough.
void add_slashes(Time at, Time end, theory::Pitch middle, bool stems, std::vector<Element>& elements) {
    const auto values = values_of(end - at);
    for (std::size_t i = 0; i < values.size(); ++i) {
        auto element = slash(at, values[i], middle);
        if (!stems) element.stem = score::Stem::none;
        element.heads[0].tie_begins = stems && i + 1 < values.size();
        at += element.length;
        elements.push_back(std::move(element));
    }
}

bool is_continuation(const std::vector<tune::HitEvent>& hits, std::size_t i) {
    return i > 0 && i < hits.size() && hits[i].kind != tune::HitEvent::Kind::rest &&
           hits[i - 1].tied_to_next && hits[i - 1].kind != tune::HitEvent::Kind::rest;
}

std::vector<Articulation> articulation_of(const std::vector<tune::HitEvent>& hits, std::size_t i) {
    if (is_continuation(hits, i)) return {};
    return {hits[i].kind == tune::HitEvent::Kind::brief ? Articulation::strong_accent : Articulation::accent};
}

Element hit_element(const std::vector<tune::HitEvent>& hits, std::size_t i, theory::Pitch pitch) {
    const auto& hit = hits[i];
    auto element = slash(hit.at, {hit.value.denominator, hit.value.dots}, pitch);
    element.length = hit.length;
    if (hit.kind == tune::HitEvent::Kind::rest) {
        element.kind = Element::Kind::rest;
        element.heads.clear();
        element.notehead = score::Notehead::normal;
        return element;
    }
    element.heads[0].tie_begins = hit.tied_to_next;
    element.articulations = articulation_of(hits, i);
    return element;
}

/// Start of every hit that is struck anew.
std::vector<Time> onsets(const std::vector<tune::HitEvent>& hits) {
    std::vector<Time> found;
    for (std::size_t i = 0; i < hits.size(); ++i) {
        if (hits[i].kind != tune::HitEvent::Kind::rest && !is_continuation(hits, i))
            found.push_back(hits[i].at);
    }
    return found;
}

}  // namespace

std::vector<Time> beats_of(const tune::Meter& meter, Time length) {
    std::vector<Time> beats;
    const bool grouped = meter.unit >= 8 && !meter.groups.empty() && length == meter.bar_length();
    if (grouped) {
        for (const int group : meter.groups) beats.emplace_back(group, meter.unit);
        return beats;
    }
    Time left = length;
    // A pickup's beats are counted from its end: it leads into a bar line.
    if (const Time odd = left - Fraction((left / meter.beat_length()).floor()) * meter.beat_length();
        odd > Time(0)) {
        beats.push_back(odd);
        left -= odd;
    }
    for (; left > Time(0); left -= meter.beat_length()) beats.push_back(meter.beat_length());
    return beats;
}

SlashBar slash_bar(const tune::Meter& meter, Time length, const std::vector<Time>& chords,
                   theory::Pitch middle) {
    SlashBar bar;
    Time at = 0;
    for (const Time beat : beats_of(meter, length)) {
        const Time end = at + beat;
        std::vector<Time> cuts{at};
        for (const Time chord : chords) {
            if (chord > at && chord < end) cuts.push_back(chord);
        }
        std::sort(cuts.begin(), cuts.end());
        cuts.erase(std::unique(cuts.begin(), cuts.end()), cuts.end());
        const bool split = cuts.size() > 1;
        if (split) bar.style = score::SlashStyle::rhythm;
        cuts.push_back(end);
        for (std::size_t i = 0; i + 1 < cuts.size(); ++i) {
            add_slashes(cuts[i], cuts[i + 1], middle, split, bar.elements);
        }
        at = end;
    }
    return bar;
}

SlashBar hit_bar(const std::vector<tune::HitEvent>& hits, theory::Pitch middle) {
    SlashBar bar;
    bar.style = score::SlashStyle::rhythm;
    for (std::size_t i = 0; i < hits.size(); ++i) bar.elements.push_back(hit_element(hits, i, middle));
    return bar;
}

std::vector<Element> hits_above(const std::vector<tune::HitEvent>& hits, theory::Pitch above) {
    std::vector<Element> elements;
    for (std::size_t i = 0; i < hits.size(); ++i) {
        auto element = hit_element(hits, i, above);
        if (element.kind == Element::Kind::rest) {
            element.kind = Element::Kind::gap;
        } else {
            element.cue = true;
            element.stem = score::Stem::up;
            element.heads[0].tie_ends = is_continuation(hits, i);
            element.heads[0].tie_begins = is_continuation(hits, i + 1);
        }
        elements.push_back(std::move(element));
    }
    return elements;
}

bool accent_melody(const std::vector<tune::HitEvent>& hits, std::vector<Element>& melody) {
    const auto wanted = onsets(hits);
    std::vector<Element*> struck;
    bool tied = false;
    for (auto& element : melody) {
        if (element.grace) continue;
        if (element.is_note() && !tied) struck.push_back(&element);
        tied = element.is_note() && element.heads[0].tie_begins;
    }
    const bool same = std::equal(struck.begin(), struck.end(), wanted.begin(), wanted.end(),
                                 [](const Element* element, Time at) { return element->at == at; });
    if (!same) return false;
    for (std::size_t i = 0, note = 0; i < hits.size(); ++i) {
        if (hits[i].kind == tune::HitEvent::Kind::rest || is_continuation(hits, i)) continue;
        struck[note++]->articulations = articulation_of(hits, i);
    }
    return true;
}

}  // namespace relead::arrange
