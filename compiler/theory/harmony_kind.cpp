// MusicXML's <kind> and <degree>s, both ways. The facts are the last columns of the chord table and
// grammar/harmony-kinds.txt.
#include <algorithm>

#include "theory/chord.h"
#include "theory/chord_degrees.h"
#include "theory/chord_table.h"
#include "theory/tables/harmony_kinds.h"

namespace relead::theory {

namespace {

using Type = HarmonyDegree::Type;
using KindRow = tables::HarmonyKindRow;

const KindRow* find_kind(std::string_view kind) {
    for (const auto& row : tables::harmony_kind_rows)
        if (row.kind == kind) return &row;
    return nullptr;
}

// `add` counts from a dominant chord: its seventh is minor.
int dominant_alteration(int number) {
    return number == 7 ? -1 : 0;
}

HarmonyDegree added(Degree degree) {
    return {degree.number, degree.alteration - dominant_alteration(degree.number), Type::add, true};
}

// The natural degree of the quality that a further degree replaces: the fifth of C9(b5).
bool replaces_natural(const QualityRow& row, Degree extra) {
    return extra.alteration != 0 &&
           std::find(row.degrees.begin(), row.degrees.end(), Degree{extra.number, 0}) != row.degrees.end();
}

bool is_triad(std::string_view kind) {
    return kind == "major" || kind == "minor" || kind == "augmented" || kind == "diminished" ||
           kind == "power";
}

bool same_harmony(std::span<const HarmonyDegree> a, std::span<const HarmonyDegree> b) {
    return a.size() == b.size() && std::all_of(a.begin(), a.end(), [&](const HarmonyDegree& x) {
               return std::any_of(b.begin(), b.end(), [&](const HarmonyDegree& y) {
                   return x.value == y.value && x.alter == y.alter && x.type == y.type;
               });
           });
}

std::optional<QualityId> row_with(const HarmonyKind& kind) {
    for (std::size_t row = 0; row < quality_count(); ++row) {
        const QualityRow candidate = quality_row(quality_at(row));
        if (candidate.kind == kind.kind && same_harmony(candidate.harmony, kind.degrees))
            return quality_at(row);
    }
    return std::nullopt;
}

// Small numbers name the same tones as large ones, outside suspended chords.
Degree as_tension(Degree degree, bool suspended, bool seventh) {
    if (!suspended && (degree.number == 2 || degree.number == 4))
        return {degree.number + 7, degree.alteration};
    if (degree.number == 6 && seventh) return {13, degree.alteration};
    return degree;
}

void apply(std::vector<Degree>& sounding, const HarmonyDegree& change, bool suspended) {
    const auto at =
        std::find_if(sounding.begin(), sounding.end(), [&](Degree d) { return d.number == change.value; });
    const bool seventh =
        std::any_of(sounding.begin(), sounding.end(), [](Degree d) { return d.number == 7; });
    switch (change.type) {
        case Type::subtract:
            if (at != sounding.end()) sounding.erase(at);
            return;
        case Type::alter:
            if (at != sounding.end()) {
                at->alteration += change.alter;
                return;
            }
            [[fallthrough]];
        case Type::add:
            sounding.push_back(as_tension({change.value, change.alter + dominant_alteration(change.value)},
                                          suspended, seventh));
    }
}

// The degrees of a kind with its changes, as players hear them: no natural 11 in 13ths, a dominant
// 11th without its third.
std::vector<Degree> sounding_degrees(const KindRow& row, const HarmonyKind& kind) {
    std::vector<Degree> out(row.content.begin(), row.content.end());
    if (out.empty()) out.push_back({1, 0});
    const bool suspended = row.kind == "suspended-second" || row.kind == "suspended-fourth";
    for (const auto& change : kind.degrees) apply(out, change, suspended);
    const bool says_11 = std::any_of(kind.degrees.begin(), kind.degrees.end(), [](const HarmonyDegree& d) {
        return d.type == Type::add && d.value == 11 && d.alter == 0;
    });
    if (!says_11 && (row.kind == "dominant-13th" || row.kind == "major-13th")) std::erase(out, Degree{11, 0});
    if (row.kind == "dominant-11th") {
        if (std::erase(out, Degree{11, 0}) > 0)
            std::replace(out.begin(), out.end(), Degree{3, 0}, Degree{4, 0});
    }
    std::sort(out.begin(), out.end());
    out.erase(std::unique(out.begin(), out.end()), out.end());
    return out;
}

// Some programs put all of the symbol into the text: kind "dominant", text "7b9".
std::optional<Chord> chord_from_text(NoteName root, std::string_view text) {
    auto body = read_body(fold_chord_signs(text).text);
    if (body.problem != ChordProblem::Kind::empty) return std::nullopt;
    Chord chord;
    chord.root = root;
    chord.quality = body.quality;
    chord.extra = std::move(body.extra);
    chord.omitted = std::move(body.omitted);
    return chord;
}

// Does the text's chord have what the kind says? Its fifth may be altered (7alt).
bool agrees(std::span<const Degree> text, std::span<const Degree> kind) {
    return std::all_of(kind.begin(), kind.end(), [&](Degree wanted) {
        return std::any_of(text.begin(), text.end(),
                           [&](Degree d) { return d == wanted || (d.number == 5 && wanted.number == 5); });
    });
}

std::optional<Chord> read_kind(NoteName root, const HarmonyKind& kind) {
    if (kind.kind == "none") return Chord{};
    const KindRow* const row = find_kind(kind.kind);
    auto text = kind.text.empty() ? std::nullopt : chord_from_text(root, kind.text);
    if (row == nullptr || row->content.empty()) {
        if (text) return text;
        if (row == nullptr || kind.degrees.empty()) return std::nullopt;
    }
    const QualityId reads = find_spelling(row->reads).value_or(QualityId{1});
    if (kind.degrees.empty()) {
        const Chord plain{root, reads, {}, std::nullopt, std::nullopt, {}, {}, false};
        if (text && text->quality != reads && agrees(degrees(*text), row->content)) return text;
        return plain;
    }
    if (const auto exact = row_with(kind))
        return Chord{root, *exact, {}, std::nullopt, std::nullopt, {}, {}, false};
    return chord_of_degrees(root, sounding_degrees(*row, kind), reads);
}

}  // namespace

HarmonyKind harmony_kind(const Chord& chord) {
    const QualityRow row = quality_row(chord.quality);
    HarmonyKind out{std::string(row.kind), std::string(row.text), {row.harmony.begin(), row.harmony.end()}};
    if (chord.is_none()) return out;
    for (const Degree extra : chord.extra) {
        if (replaces_natural(row, extra)) {
            out.degrees.push_back({extra.number, extra.alteration, Type::alter, true});
        } else {
            out.degrees.push_back(added(extra));
        }
    }
    for (const int number : chord.omitted) out.degrees.push_back({number, 0, Type::subtract, true});
    if (chord.upper) {
        Chord below = chord;
        below.upper.reset();
        const auto own = degrees(below);
        for (const Degree d : degrees(chord))
            if (std::find(own.begin(), own.end(), d) == own.end()) out.degrees.push_back(added(d));
    }
    for (auto& degree : out.degrees)
        degree.says_add = is_triad(row.kind) && degree.type == Type::add && degree.printed;
    return out;
}

std::optional<Chord> chord_from_harmony(NoteName root, const HarmonyKind& kind,
                                        std::optional<NoteName> bass) {
    auto chord = read_kind(root, kind);
    if (chord && !chord->is_none() && bass && *bass != root) chord->bass = bass;
    return chord;
}

}  // namespace relead::theory
