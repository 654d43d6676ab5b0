#include "rules/kind.h"

#include <array>
#include <vector>

#include "tune/spot.h"

namespace relead::rules {
namespace {

struct Word {
    std::string_view word;
    KindSet kinds;
    std::string_view sentence;
};
constexpr std::array words{
#define RELEAD_KIND(word, kinds, sentence) Word{word, kinds, sentence},
#include "rules/kinds.def"
#undef RELEAD_KIND
};

constexpr KindSet all_major = major_triad | major_sixth | major_seventh;
constexpr KindSet all_minor = minor_triad | minor_sixth | minor_seventh | minor_major;

struct Above {
    bool sixth = false, major_seventh = false, minor_seventh = false;
};
Above above_fifth(const theory::Chord& chord) {
    Above above;
    for (const auto degree : theory::degrees(chord)) {
        if (degree == theory::Degree{6, 0}) above.sixth = true;
        if (degree == theory::Degree{7, 0}) above.major_seventh = true;
        if (degree == theory::Degree{7, -1}) above.minor_seventh = true;
    }
    return above;
}

/// The fewest of our words that name the kinds together.
std::vector<std::string> sentences(KindSet kinds) {
    std::vector<std::string> named;
    for (const auto& row : words) {
        if (row.word == "any" || row.word == "m7" || (row.kinds & ~kinds) != 0 || row.kinds == 0) continue;
        named.emplace_back(row.sentence);
        kinds &= ~row.kinds;
    }
    return named;
}

}  // namespace

Kind kind_of(const theory::Chord& chord) {
    const auto above = above_fifth(chord);
    switch (theory::chord_class(chord)) {
        case theory::ChordClass::none:
            return no_chord;
        case theory::ChordClass::major:
            return above.major_seventh ? major_seventh : above.sixth ? major_sixth : major_triad;
        case theory::ChordClass::minor:
            if (above.minor_seventh) return minor_seventh;
            return above.major_seventh ? minor_major : above.sixth ? minor_sixth : minor_triad;
        case theory::ChordClass::dominant:
            return dominant;
        case theory::ChordClass::suspended:
            return suspended;
        case theory::ChordClass::half_diminished:
            return half_diminished;
        case theory::ChordClass::diminished:
            return diminished;
        case theory::ChordClass::augmented:
            return augmented;
        case theory::ChordClass::power:
            return power;
    }
    return no_chord;
}

Heard heard_as(const theory::Chord& chord) {
    constexpr int whole_step = 2, fifth = 7;
    const auto type = theory::chord_class(chord);
    const int above = chord.bass ? theory::semitones_up(chord.root, *chord.bass) : 0;
    const bool four_over_dominant = above == whole_step && type == theory::ChordClass::major;
    const bool six_four =
        above == fifth && (type == theory::ChordClass::major || type == theory::ChordClass::minor);
    if (four_over_dominant || six_four || theory::is_two_over_dominant(chord))
        return {*chord.bass, suspended};
    return {chord.root, kind_of(chord)};
}

std::optional<KindSet> find_kinds(std::string_view word) {
    for (const auto& row : words) {
        if (row.word == word) return row.kinds;
    }
    return std::nullopt;
}

KindSet kinds_named_by(const theory::Chord& chord) {
    const auto kind = kind_of(chord);
    if ((kind & all_major) != 0) return all_major;
    if (kind == minor_triad) return all_minor;
    if (kind == minor_seventh) return minor_triad | minor_seventh;
    return kind;
}

std::string describe(KindSet kinds) {
    for (const auto& row : words) {
        if (row.kinds == kinds) return std::string(row.sentence);
    }
    const auto named = sentences(kinds);
    const auto others = sentences(any_chord & ~kinds);
    if (named.empty()) return "another kind of chord";
    if (named.size() > 3 && others.size() < named.size())
        return "any chord but " + tune::listed(others, "or");
    return tune::listed(named, "or");
}

std::string describe_others(KindSet kinds) {
    const auto named = sentences(kinds);
    const auto others = sentences(any_chord & ~kinds);
    return named.size() > 3 && others.size() < named.size() ? tune::listed(others, "or") : "";
}

}  // namespace relead::rules
