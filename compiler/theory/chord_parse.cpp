// Reads a chord symbol. The grammar is grammar/chord.ebnf, the vocabulary grammar/chord-table.txt:
// root, longest spelling of the table, further degrees, upper structure, bass.
#include <algorithm>

#include "theory/chord.h"
#include "theory/chord_degrees.h"
#include "theory/chord_suggest.h"
#include "theory/chord_table.h"

namespace relead::theory {

namespace {

using Kind = ChordProblem::Kind;

// Bytes; no symbol that anybody writes comes near.
constexpr std::size_t longest_symbol = 80;

struct Root {
    NoteName name;
    std::size_t length = 0;
};

// A letter A-G with the accidentals that follow it, as many of one sign as there are.
std::optional<Root> read_root(std::string_view text) {
    if (text.empty() || text.front() < 'A' || text.front() > 'G') return std::nullopt;
    std::size_t length = 1;
    while (length < text.size() && (text[length] == 'b' || text[length] == '#') && text[length] == text[1] &&
           length < 3)
        ++length;
    const int sign = length == 1 ? 0 : (text[1] == 'b' ? -1 : 1);
    return Root{note_from(text.front(), sign * static_cast<int>(length - 1)), length};
}

// The parts of a folded chord word.
struct Parts {
    std::string_view body;  // quality and degrees
    std::string_view upper, bass;
    std::size_t body_at = 0, upper_at = 0, bass_at = 0;
    bool has_upper = false, has_bass = false;
};

bool starts_degree(std::string_view text) {
    const auto digit = text.find_first_not_of("b#+-");
    return digit != std::string_view::npos && digit <= 1 && text[digit] >= '0' && text[digit] <= '9';
}

// A space outside parentheses: "C7 (b9)".
std::size_t outer_space(std::string_view word) {
    int depth = 0;
    for (std::size_t i = 0; i < word.size(); ++i) {
        if (word[i] == '(') ++depth;
        if (word[i] == ')') --depth;
        if (word[i] == ' ' && depth <= 0) return i;
    }
    return std::string_view::npos;
}

// The slash before a bass: outside parentheses and braces, not before a degree (6/9, 7/b9).
std::size_t bass_slash(std::string_view text, std::size_t from) {
    int depth = 0;
    for (std::size_t i = from; i < text.size(); ++i) {
        if (text[i] == '(' || text[i] == '{') ++depth;
        if (text[i] == ')' || text[i] == '}') --depth;
        if (text[i] == '/' && depth == 0 && !starts_degree(text.substr(i + 1))) return i;
    }
    return std::string_view::npos;
}

Parts split_parts(std::string_view folded, std::size_t root_length) {
    Parts parts;
    std::string_view rest = folded;
    if (const auto slash = bass_slash(rest, root_length); slash != std::string_view::npos) {
        parts.has_bass = true;
        parts.bass_at = slash + 1;
        parts.bass = rest.substr(slash + 1);
        rest = rest.substr(0, slash);
    }
    if (const auto brace = rest.find('{', root_length); brace != std::string_view::npos) {
        parts.has_upper = true;
        parts.upper_at = brace;
        parts.upper = rest.substr(brace);
        rest = rest.substr(0, brace);
    }
    parts.body_at = root_length;
    parts.body = rest.substr(root_length);
    return parts;
}

// "{D}" or "{F#m}"
std::optional<UpperStructure> read_upper(std::string_view text) {
    if (text.size() < 3 || text.back() != '}') return std::nullopt;
    const std::string_view inner = text.substr(1, text.size() - 2);
    const auto root = read_root(inner);
    if (!root) return std::nullopt;
    const std::string_view quality = inner.substr(root->length);
    const auto found = find_spelling(quality);
    const auto minor = find_spelling("m"), major = find_spelling("");
    if (!found || (found != minor && found != major)) return std::nullopt;
    return UpperStructure{root->name, found == minor};
}

std::string upper_cased(std::string_view word) {
    std::string out(word);
    out.front() = static_cast<char>(out.front() - 'a' + 'A');
    return out;
}

// With `suggest` a refusal says what may have been meant; that costs a search through the table.
ChordReading read_symbol(std::string_view word, bool suggest);

bool is_readable(std::string_view word) {
    return read_symbol(word, false).chord.has_value();
}

std::string if_readable(const std::string& word) {
    return is_readable(word) ? word : std::string();
}

ChordReading refusal(Kind kind, std::size_t at, std::string nearest = {}, std::string other = {}) {
    return {std::nullopt, ChordProblem{kind, at, std::move(nearest), std::move(other)}, {}};
}

// A word without a root that can be read.
ChordReading refuse_root(std::string_view word) {
    const char first = word.front();
    if (first == '(') return refusal(Kind::detached_degrees, 0);
    if (first == 'h' || first == 'H')
        return refusal(Kind::h_root, 0, if_readable("B" + std::string(word.substr(1))));
    if (first >= 'a' && first <= 'g')
        return refusal(Kind::lower_case_root, 0, if_readable(upper_cased(word)));
    return refusal(Kind::unknown_root, 0);
}

// The part after the slash is no note name.
ChordReading refuse_bass(std::string_view word, const FoldedWord& folded, const Parts& parts) {
    const std::size_t at = folded.origin[parts.bass_at];
    const std::string before(word.substr(0, at - 1)), after(word.substr(at));
    if (after.empty()) return refusal(Kind::space_before_slash, at - 1, if_readable(before));
    if (after.front() == '/' || before.empty()) return refusal(Kind::bad_bass, at);
    if (const auto root = read_root(parts.bass); root && is_readable(after) && is_readable(before)) {
        const std::size_t length = folded.origin[parts.bass_at + root->length] - at;
        return refusal(Kind::two_chords_or_bass, at - 1, before + ' ' + after,
                       before + '/' + after.substr(0, length));
    }
    if (after.front() >= 'a' && after.front() <= 'g')
        return refusal(Kind::bad_bass, at, if_readable(before + '/' + upper_cased(after)));
    return refusal(Kind::bad_bass, at, if_readable(before));
}

ChordReading refuse_body(std::string_view word, const FoldedWord& folded, const Parts& parts,
                         const BodyReading& body) {
    const std::size_t at = parts.body_at + body.failed_at;
    std::size_t end = parts.body_at + parts.body.size();
    const std::string head(word.substr(0, folded.origin[parts.body_at]));
    const std::string tail(word.substr(folded.origin[end]));
    std::string nearest;
    if (const auto repaired = nearest_body(parts.body, body); !repaired.empty())
        nearest = if_readable(head + repaired + tail);
    return refusal(body.problem, folded.origin[at], std::move(nearest));
}

std::string filled_in(std::string_view sentence, const std::string& chord, const std::string& root) {
    std::string out(sentence);
    for (const auto& [mark, value] :
         {std::pair<std::string_view, const std::string&>{"{chord}", chord}, {"{root}", root}})
        for (auto at = out.find(mark); at != std::string::npos; at = out.find(mark, at + value.size()))
            out.replace(at, mark.size(), value);
    return out;
}

void add_remarks(ChordReading& reading, std::string_view word, const FoldedWord& folded, const Parts& parts,
                 const BodyReading& body) {
    const std::string written(word), root(word.substr(0, folded.origin[parts.body_at]));
    for (const auto sign : folded.noticed)
        reading.remarks.push_back("The sign \"" + std::string(sign) + "\" in \"" + written +
                                  "\" is read as \"" + fold_chord_signs(sign).text + "\".");
    if (const auto sentence = remark_for(body.spelling); !sentence.empty())
        reading.remarks.push_back(filled_in(sentence, written, root));
    for (const auto& remark : body.remarks) reading.remarks.push_back(filled_in(remark, written, root));
    const int alter = alteration(reading.chord->root);
    const bool digit_follows = !parts.body.empty() && parts.body.front() >= '0' && parts.body.front() <= '9';
    if ((alter != 0 && parts.body == "5") || ((alter < -1 || alter > 1) && digit_follows)) {
        const char sign = alter < 0 ? 'b' : '#';
        const std::string shorter = to_string(NoteName{reading.chord->root.fifths + (alter < 0 ? 7 : -7)});
        reading.remarks.push_back("Accidentals belong to the root: \"" + written + "\" is on " + root +
                                  "; write " + shorter + "(" + sign + std::string(parts.body) +
                                  ") for the other reading.");
    }
}

bool has_unicode_accidental(std::string_view text) {
    for (const std::string_view sign : {"♭", "♯", "𝄫", "𝄪"})
        if (text.find(sign) != std::string_view::npos) return true;
    return false;
}

// Upper structure and bass into `chord`; a refusal when one of them cannot be read.
std::optional<ChordReading> read_ends(Chord& chord, ChordReading& reading, std::string_view word,
                                      const FoldedWord& folded, const Parts& parts, bool suggest) {
    if (parts.has_upper) {
        chord.upper = read_upper(parts.upper);
        if (!chord.upper) return refusal(Kind::bad_upper_structure, folded.origin[parts.upper_at]);
    }
    if (!parts.has_bass) return std::nullopt;
    const auto bass = read_root(parts.bass);
    if (!bass || bass->length != parts.bass.size())
        return suggest ? refuse_bass(word, folded, parts) : refusal(Kind::bad_bass, 0);
    if (bass->name == chord.root) {
        reading.remarks.push_back("The bass of \"" + std::string(word) + "\" is its root anyway.");
    } else {
        chord.bass = bass->name;
    }
    return std::nullopt;
}

ChordReading refuse_space(std::string_view word, std::size_t at) {
    std::string joined(word);
    std::erase(joined, ' ');
    return refusal(Kind::detached_degrees, at, if_readable(joined));
}

ChordReading no_chord(std::string_view word, const FoldedWord& folded) {
    Chord none;
    if (folded.text != quality_name({0})) none.suffix = word;
    return {none, std::nullopt, {}};
}

void keep_spelling(Chord& chord, std::string_view word, const FoldedWord& folded, const Parts& parts) {
    const std::size_t begin = folded.origin[parts.body_at];
    const std::size_t end = folded.origin[parts.body_at + parts.body.size()];
    chord.suffix = word.substr(begin, end - begin);
    if (chord.suffix == canonical_suffix(chord)) chord.suffix.clear();
    chord.unicode_accidentals =
        has_unicode_accidental(word.substr(0, begin)) || has_unicode_accidental(word.substr(end));
}

ChordReading read_symbol(std::string_view word, bool suggest) {
    if (word.empty()) return refusal(Kind::empty, 0);
    if (word.size() > longest_symbol) return refusal(Kind::unknown_quality, 0);
    const FoldedWord folded = fold_chord_signs(word);
    if (find_spelling(folded.text) == QualityId{0}) return no_chord(word, folded);
    const auto root = read_root(folded.text);
    if (!root) return suggest ? refuse_root(word) : refusal(Kind::unknown_root, 0);
    if (const auto space = outer_space(word); space != std::string_view::npos)
        return suggest ? refuse_space(word, space) : refusal(Kind::detached_degrees, space);
    const Parts parts = split_parts(folded.text, root->length);
    ChordReading reading;
    Chord chord;
    chord.root = root->name;
    if (const auto refused = read_ends(chord, reading, word, folded, parts, suggest)) return *refused;
    const BodyReading body = read_body(parts.body);
    if (body.problem != Kind::empty)
        return suggest ? refuse_body(word, folded, parts, body) : refusal(body.problem, 0);
    chord.quality = body.quality;
    chord.extra = body.extra;
    chord.omitted = body.omitted;
    keep_spelling(chord, word, folded, parts);
    reading.chord = std::move(chord);
    add_remarks(reading, word, folded, parts, body);
    return reading;
}

}  // namespace

ChordReading parse_chord(std::string_view word) {
    return read_symbol(word, true);
}

}  // namespace relead::theory
