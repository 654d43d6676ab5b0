#include "theory/chord_degrees.h"

#include <algorithm>
#include <array>

#include "theory/chord_table.h"

namespace relead::theory {

namespace {

using Kind = ChordProblem::Kind;

// What the table's quality already has; decides what a bare number means.
struct Context {
    bool sixth = false, seventh = false, diminished_seventh = false, suspended = false;
};

Context context_of(QualityId quality) {
    Context out;
    const QualityRow row = quality_row(quality);
    for (const Degree d : row.degrees) {
        out.sixth |= d.number == 6;
        out.seventh |= d.number == 7;
        out.diminished_seventh |= d.number == 7 && d.alteration == -2;
    }
    out.suspended = row.chord_class == ChordClass::suspended;
    return out;
}

bool take(std::string_view& text, std::string_view word) {
    if (text.substr(0, word.size()) != word) return false;
    text.remove_prefix(word.size());
    return true;
}

// 13, 11 and 10 before 1.
int take_number(std::string_view& text) {
    std::size_t digits = 0;
    while (digits < text.size() && digits < 2 && text[digits] >= '0' && text[digits] <= '9') ++digits;
    if (digits == 2 && text[0] != '1') digits = 1;
    int value = 0;
    for (std::size_t i = 0; i < digits; ++i) value = 10 * value + (text[i] - '0');
    text.remove_prefix(digits);
    return value;
}

int take_accidental(std::string_view& text) {
    if (take(text, "b") || take(text, "-")) return -1;
    if (take(text, "#") || take(text, "+")) return 1;
    return 0;
}

class DegreeReader {
public:
    DegreeReader(std::string_view all, QualityId quality, BodyReading& out)
        : rest_(all), context_(context_of(quality)), out_(out) {}

    // Everything that follows the table's spelling. False: `rest()` begins with what was not understood.
    bool read() {
        while (!rest_.empty()) {
            if (rest_.front() == '(' ? !read_group() : !read_bare()) return false;
        }
        return true;
    }
    std::string_view rest() const { return rest_; }

private:
    bool read_group() {
        std::string_view before = rest_;
        rest_.remove_prefix(1);
        do {
            while (take(rest_, " ")) {
            }
            if (!read_entry(true)) return false;
            while (take(rest_, " ")) before = rest_;
        } while (take(rest_, ",") || take(rest_, "/") || (!rest_.empty() && rest_.front() != ')'));
        return take(rest_, ")");
    }

    // b9 #11 add9 no5; a natural number only after a slash: 7/13
    bool read_bare() {
        const bool slash = take(rest_, "/") || take(rest_, ",");
        if (slash && !context_.seventh && !context_.sixth) return false;
        return read_entry(slash);
    }

    bool read_entry(bool natural_allowed) {
        const std::string_view before = rest_;
        if (read_omission() || read_major_seventh() || read_degree(natural_allowed)) return true;
        rest_ = before;
        return false;
    }

    bool read_omission() {
        const std::string_view before = rest_;
        if (take(rest_, "no") || take(rest_, "omit")) {
            const int number = take_number(rest_);
            if (number == 3 || number == 5) {
                out_.omitted.push_back(number);
                return true;
            }
        }
        rest_ = before;
        return false;
    }

    // C6(maj7), Cdim7(M7)
    bool read_major_seventh() {
        const std::string_view before = rest_;
        for (const std::string_view word : {"maj", "ma", "MA", "Maj", "M", "△"}) {
            if (take(rest_, word) && take(rest_, "7")) {
                out_.extra.push_back({7, 0});
                return true;
            }
            rest_ = before;
        }
        return false;
    }

    bool read_degree(bool natural_allowed) {
        const bool added = take(rest_, "add");
        const int alteration = take_accidental(rest_);
        if (alteration == 0 && !added && !natural_allowed) return false;
        const auto degree = meaning(take_number(rest_), alteration);
        if (!degree) return false;
        if (*degree != Degree{1, 0}) out_.extra.push_back(*degree);
        return true;
    }

    // The degree that a number stands for in this chord; {1, 0} = nothing new.
    std::optional<Degree> meaning(int number, int alteration) {
        switch (number) {
            case 2:
            case 9:
                return Degree{9, alteration};
            case 3:
                return context_.suspended && alteration == 0 ? std::optional<Degree>{{3, 0}} : std::nullopt;
            case 4:
            case 11:
                return alteration >= 0 ? std::optional<Degree>{{11, alteration}} : std::nullopt;
            case 5:
                return alteration != 0 ? std::optional<Degree>{{5, alteration}} : std::nullopt;
            case 6:
            case 13:
                return thirteenth(number, alteration);
            case 7:
                return seventh(alteration);
            default:
                return std::nullopt;
        }
    }

    std::optional<Degree> thirteenth(int number, int alteration) const {
        if (alteration > 0) return std::nullopt;
        if (context_.sixth && alteration == 0) return Degree{1, 0};
        return Degree{number == 6 && context_.seventh ? 13 : number, alteration};
    }

    std::optional<Degree> seventh(int alteration) {
        if (alteration > 0) return Degree{7, 0};
        if (alteration < 0) return Degree{7, -1};
        if (context_.sixth || context_.diminished_seventh) {
            out_.remarks.emplace_back(
                "The 7 in \"{chord}\" is read as the major seventh; write (maj7) to say so plainly.");
            return Degree{7, 0};
        }
        return context_.seventh ? std::nullopt : std::optional<Degree>{{7, -1}};
    }

    std::string_view rest_;
    Context context_;
    BodyReading& out_;
};

// What was not understood: a degree, or a word that is no quality?
bool looks_like_degree(std::string_view body, std::size_t at) {
    constexpr std::string_view first_signs = "0123456789b#+-(/,";
    const std::string_view rest = body.substr(at);
    if (body.substr(0, at).find('(') != std::string_view::npos) return true;
    for (const std::string_view word : {"add", "no", "omit"})
        if (rest.substr(0, word.size()) == word) return true;
    return at > 0 && !rest.empty() && first_signs.find(rest.front()) != std::string_view::npos;
}

bool unclosed(std::string_view body) {
    return std::count(body.begin(), body.end(), '(') != std::count(body.begin(), body.end(), ')');
}

}  // namespace

BodyReading read_body(std::string_view body) {
    BodyReading failure;
    failure.problem = Kind::unknown_quality;
    for (std::size_t length = body.size() + 1; length-- > 0;) {
        const auto quality = find_spelling(body.substr(0, length));
        if (!quality || quality->row == 0) continue;
        BodyReading out;
        out.spelling = body.substr(0, length);
        DegreeReader degrees(body.substr(length), *quality, out);
        if (!degrees.read()) {
            const std::size_t at = body.size() - degrees.rest().size();
            if (failure.problem == Kind::contradicting_degrees || at < failure.failed_at) continue;
            failure.failed_at = at;
            failure.problem = looks_like_degree(body, at) ? Kind::bad_degree : Kind::unknown_quality;
            continue;
        }
        Chord chord;
        chord.quality = *quality;
        chord.extra = out.extra;
        chord.omitted = out.omitted;
        if (normalise(chord)) {
            out.quality = chord.quality;
            out.extra = chord.extra;
            out.omitted = chord.omitted;
            return out;
        }
        if (failure.problem != Kind::contradicting_degrees) failure.failed_at = length;
        failure.problem = Kind::contradicting_degrees;
    }
    if (unclosed(body)) {
        failure.problem = Kind::unclosed_parenthesis;
        failure.failed_at = std::min(body.find('('), body.find(')'));
    }
    return failure;
}

std::string canonical_suffix(const Chord& chord) {
    std::string out(quality_name(chord.quality));
    if (chord.extra.empty() && chord.omitted.empty()) return out;
    const Context context = context_of(chord.quality);
    char separator = '(';
    for (const Degree degree : chord.extra) {
        out += separator;
        const bool major_seventh = degree == Degree{7, 0};
        if (degree.alteration == 0 && !major_seventh && !context.seventh && !context.sixth) out += "add";
        out += major_seventh ? "maj7" : to_string(degree);
        separator = ',';
    }
    for (const int number : chord.omitted) {
        out += separator;
        out += "no" + std::to_string(number);
        separator = ',';
    }
    return out + ')';
}

}  // namespace relead::theory
