#include "reharm/symbol_habits.h"

#include <algorithm>
#include <optional>

#include "reharm/tables/symbol_words.h"
#include "rules/kind.h"

namespace relead::reharm {
namespace {

constexpr std::string_view flat = "♭", sharp = "♯";

bool starts_with(std::string_view text, std::string_view start) {
    return text.substr(0, start.size()) == start;
}
bool ends_with(std::string_view text, std::string_view end) {
    return text.size() >= end.size() && text.substr(text.size() - end.size()) == end;
}

/// The chord's own symbol on C, without the root: what the chord table writes.
std::string house_suffix(theory::Chord chord) {
    chord.root = {};
    chord.bass.reset();
    chord.upper.reset();
    return theory::to_string(chord, theory::SymbolStyle::plain).substr(1);
}

std::string written_suffix(const theory::Chord& chord, const std::string& house) {
    return chord.suffix.empty() ? house : chord.suffix;
}

bool reads_as(const std::string& suffix, const theory::Chord& chord) {
    const auto read = theory::parse_chord("C" + suffix).chord;
    return read && read->quality == chord.quality && read->extra == chord.extra &&
           read->omitted == chord.omitted && !read->bass && !read->upper;
}

/// Where the tensions of 7b9, maj7#11, 13#11 begin: the first b or # behind the figure.
std::size_t first_tension(std::string_view house) {
    for (std::size_t i = 1; i + 1 < house.size(); ++i) {
        const bool digit_before = house[i - 1] >= '0' && house[i - 1] <= '9';
        if (digit_before && (house[i] == 'b' || house[i] == '#')) return i;
    }
    return std::string_view::npos;
}

bool carries_tensions(const theory::Chord& chord) {
    const auto kind = theory::chord_class(chord);
    return kind == theory::ChordClass::dominant || kind == theory::ChordClass::major ||
           kind == theory::ChordClass::suspended;
}

/// b9#11 as (b9,#11)
std::string in_brackets(std::string_view tensions) {
    std::string out = "(";
    for (std::size_t i = 0; i < tensions.size(); ++i) {
        const bool next_one = i > 0 && (tensions[i] == 'b' || tensions[i] == '#');
        if (next_one) out += ',';
        out += tensions[i];
    }
    return out + ")";
}

bool is_digit(char c) {
    return c >= '0' && c <= '9';
}

/// The part with which a house spelling begins, the longest that fits (maj7 is no m); null for none.
const SymbolWord* head_of(const std::vector<SymbolWord>& words, std::string_view house) {
    const SymbolWord* best = nullptr;
    for (const auto& word : words) {
        const bool fits = word.where == SymbolWord::Where::head && starts_with(house, word.house);
        if (fits && (best == nullptr || word.house.size() > best->house.size())) best = &word;
    }
    return best;
}

/// Does a symbol of the chord table have this part?
bool has_part(const std::vector<SymbolWord>& words, const SymbolWord& word, const theory::Chord& chord,
              std::string_view house) {
    switch (word.where) {
        case SymbolWord::Where::kind:
            return rules::is_a(chord, rules::find_kinds(word.part).value_or(0));
        case SymbolWord::Where::tail:
            return ends_with(house, word.house);
        case SymbolWord::Where::head:
            break;
    }
    return head_of(words, house) == &word;
}

/// Its sign in a written symbol, the longest that fits.
std::string_view sign_in(const SymbolWord& word, std::string_view written) {
    const bool at_end = word.where == SymbolWord::Where::tail;
    std::string_view best;
    for (const auto sign : word.signs) {
        const bool fits = at_end ? ends_with(written, sign) : starts_with(written, sign);
        if (fits && sign.size() > best.size()) best = sign;
    }
    return best.empty() && word.where == SymbolWord::Where::kind ? word.house : best;
}

/// A symbol of the kind that a row names, in its sign: m9b5 as ø9. The house spelling lays its parts around
/// the figure, m7b5. Nothing for another symbol.
std::optional<std::string> in_one_sign(const std::vector<SymbolWord>& words, const SymbolWord& kind,
                                       const std::string& house, const std::string& sign) {
    const auto* head = head_of(words, kind.house);
    const auto tail_at = first_tension(kind.house);
    if (head == nullptr || tail_at == std::string_view::npos || head != head_of(words, house))
        return std::nullopt;
    const auto tail = kind.house.substr(tail_at);
    const auto figure = head->house.size(), at = house.find(tail);
    if (figure >= house.size() || !is_digit(house[figure]) || at == std::string::npos) return std::nullopt;
    return sign + house.substr(figure, at - figure) + house.substr(at + tail.size());
}

/// Counts spellings; the first of equals wins.
class Ballot {
public:
    void vote(std::string_view spelling) {
        for (auto& [name, votes] : counted_) {
            if (name == spelling) {
                ++votes;
                return;
            }
        }
        counted_.emplace_back(spelling, 1);
    }
    [[nodiscard]] std::optional<std::string> winner() const {
        if (counted_.empty()) return std::nullopt;
        return std::max_element(counted_.begin(), counted_.end(),
                                [](const auto& a, const auto& b) { return a.second < b.second; })
            ->first;
    }

private:
    std::vector<std::pair<std::string, int>> counted_;
};

std::optional<bool> unicode_in(std::string_view text) {
    if (text.find(flat) != std::string_view::npos || text.find(sharp) != std::string_view::npos) return true;
    if (text.find_first_of("b#") != std::string_view::npos) return false;
    return std::nullopt;
}

/// What all written chords say.
struct Count {
    std::map<std::string, Ballot> suffixes;
    std::map<std::string_view, Ballot> parts;
    Ballot brackets, roots, degrees;

    void add(const theory::Chord& chord, const std::vector<SymbolWord>& words) {
        if (chord.is_none()) return;
        const auto house = house_suffix(chord);
        const auto written = written_suffix(chord, house);
        suffixes[house].vote(written);
        for (const auto& word : words) {
            if (!has_part(words, word, chord, house)) continue;
            if (const auto sign = sign_in(word, written); !sign.empty()) parts[word.part].vote(sign);
        }
        if (carries_tensions(chord) && first_tension(house) != std::string::npos)
            brackets.vote(written.find('(') != std::string::npos ? "yes" : "no");
        if (theory::alteration(chord.root) != 0 || (chord.bass && theory::alteration(*chord.bass) != 0))
            roots.vote(chord.unicode_accidentals ? "yes" : "no");
        if (const auto unicode = unicode_in(written)) degrees.vote(*unicode ? "yes" : "no");
    }
};

SymbolWord::Where where_of(std::string_view word) {
    if (word == "kind") return SymbolWord::Where::kind;
    return word == "tail" ? SymbolWord::Where::tail : SymbolWord::Where::head;
}

}  // namespace

std::vector<SymbolWord> symbol_words() {
    std::vector<SymbolWord> all;
    for (const auto& row : tables::symbol_word_rows)
        all.push_back({row.part,
                       row.house,
                       where_of(row.where),
                       {row.signs.begin(), row.signs.end()},
                       {row.kin.begin(), row.kin.end()},
                       row.then});
    return all;
}

SymbolHabits::SymbolHabits(const tune::Tune& tune) {
    const auto words = symbol_words();
    Count count;
    for (const auto& section : tune.sections) {
        for (const auto& bar : section.bars) {
            if (bar.simile) continue;
            for (const auto& event : bar.changes) count.add(event.chord, words);
        }
    }
    for (const auto& [house, ballot] : count.suffixes) known_[house] = *ballot.winner();
    std::vector<std::string_view> signs;
    for (const auto& word : words) {
        const auto own = count.parts[word.part].winner();
        parts_[word.part] = own.value_or(std::string(word.house));
        if (own) signs.emplace_back(parts_[word.part]);
    }
    for (const auto& word : words) {
        const bool has_kin = std::find_first_of(word.kin.begin(), word.kin.end(), signs.begin(),
                                                signs.end()) != word.kin.end();
        if (has_kin && !count.parts[word.part].winner()) parts_[word.part] = word.then;
        plain_ = plain_ && parts_[word.part] == word.house;
    }
    brackets_ = count.brackets.winner() == "yes";
    const auto roots = count.roots.winner(), degrees = count.degrees.winner();
    unicode_roots_ = roots.value_or(degrees.value_or("no")) == "yes";
    unicode_degrees_ = degrees.value_or(roots.value_or("no")) == "yes";
    plain_ = plain_ && !brackets_ && !unicode_roots_ && !unicode_degrees_ &&
             std::all_of(known_.begin(), known_.end(), [](const auto& k) { return k.first == k.second; });
}

void SymbolHabits::dress(theory::Chord& chord) const {
    if (plain_ || chord.is_none()) return;
    const auto house = house_suffix(chord);
    chord.suffix = suffix_for(chord, house);
    if (chord.suffix == house) chord.suffix.clear();
    chord.unicode_accidentals = unicode_roots_ && (theory::alteration(chord.root) != 0 ||
                                                   (chord.bass && theory::alteration(*chord.bass) != 0));
}

std::string SymbolHabits::suffix_for(const theory::Chord& chord, const std::string& house) const {
    if (const auto known = known_.find(house); known != known_.end()) return known->second;
    const auto parts = in_parts(house);
    if (const auto at = first_tension(parts); brackets_ && carries_tensions(chord) &&
                                              at != std::string::npos &&
                                              parts.find('(') == std::string::npos) {
        const auto bracketed = with_signs(parts.substr(0, at) + in_brackets(parts.substr(at)));
        if (reads_as(bracketed, chord)) return bracketed;
    }
    for (const auto& suffix : {with_signs(parts), with_signs(house)}) {
        if (reads_as(suffix, chord)) return suffix;
    }
    return house;
}

/// The house spelling with the tune's own parts: m9b5 as ø9, m(maj7) as -(Δ7).
std::string SymbolHabits::in_parts(std::string house) const {
    const auto words = symbol_words();
    const auto exchange = [&](std::size_t at, const SymbolWord& word) {
        house.replace(at, word.house.size(), parts_.at(word.part));
    };
    for (const auto& word : words) {
        if (word.where != SymbolWord::Where::kind || parts_.at(word.part) == word.house) continue;
        if (const auto one = in_one_sign(words, word, house, parts_.at(word.part))) return *one;
    }
    for (const auto& word : words) {
        if (word.where == SymbolWord::Where::tail && ends_with(house, word.house))
            exchange(house.size() - word.house.size(), word);
    }
    const auto* head = head_of(words, house);
    if (head == nullptr) return house;
    const auto bracket = house.find('(');
    if (bracket != std::string::npos) {
        const auto* inner = head_of(words, std::string_view(house).substr(bracket + 1));
        if (inner != nullptr) exchange(bracket + 1, *inner);
    }
    exchange(0, *head);
    return house;
}

/// ♭ and ♯ before the digits of degrees, where the tune writes them so.
std::string SymbolHabits::with_signs(std::string_view suffix) const {
    if (!unicode_degrees_) return std::string(suffix);
    std::string out;
    for (std::size_t i = 0; i < suffix.size(); ++i) {
        const bool before_digit = i + 1 < suffix.size() && suffix[i + 1] >= '0' && suffix[i + 1] <= '9';
        if (before_digit && suffix[i] == 'b') {
            out += flat;
        } else if (before_digit && suffix[i] == '#') {
            out += sharp;
        } else {
            out += suffix[i];
        }
    }
    return out;
}

}  // namespace relead::reharm
