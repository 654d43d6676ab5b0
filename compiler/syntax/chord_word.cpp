#include "syntax/chord_word.h"

#include "base/fmt.h"

namespace relead::syntax {
using text::Code;
using Problem = theory::ChordProblem;

namespace {

std::string reason(Problem::Kind kind) {
    switch (kind) {
        case Problem::Kind::empty:
            return "is no chord";
        case Problem::Kind::lower_case_root:
            return "is no chord; roots are capital letters";
        case Problem::Kind::h_root:
            return "is no chord; the root H is written B, and B is written Bb";
        case Problem::Kind::unknown_root:
            return "is no chord; a chord begins with its root, A to G";
        case Problem::Kind::unknown_quality:
            return "is no chord that is known here";
        case Problem::Kind::bad_degree:
            return "has a degree in it that no chord has";
        case Problem::Kind::space_before_slash:
            return "ends with a slash; a further beat is a / by itself";
        case Problem::Kind::bad_bass:
            return "has no note name behind its slash";
        case Problem::Kind::two_chords_or_bass:
            return "could be two chords, or a chord over a bass note";
        case Problem::Kind::bad_upper_structure:
            return "has an upper structure that cannot be read; write C7{D}";
        case Problem::Kind::unclosed_parenthesis:
            return "has a parenthesis that is not closed";
        case Problem::Kind::detached_degrees:
            return "has a blank before its degrees";
        case Problem::Kind::contradicting_degrees:
            return "has degrees that contradict each other";
    }
    return "is no chord";
}

Code code_of(Problem::Kind kind) {
    if (kind == Problem::Kind::two_chords_or_bass) return Code::chord_or_bass;
    return kind == Problem::Kind::space_before_slash ? Code::chord_spacing : Code::chord_unknown;
}

/// "Em7/A7": both readings.
void offer_both(text::Sink::Note& note, const ChordWord& word) {
    const auto slash = word.symbol.rfind('/');
    if (slash == std::string::npos) return;
    const auto left = word.symbol.substr(0, slash), right = word.symbol.substr(slash + 1);
    note.fix(word.symbol_span, fmt::format("{} {}", left, right), "two chords");
    std::size_t name = 0;
    for (std::size_t end = 1; end <= right.size(); ++end)
        if (theory::parse_note_name(right.substr(0, end))) name = end;
    // "C/E/G": over a bass note there is no further one.
    const auto with_bass = fmt::format("{}/{}", left, right.substr(0, name));
    if (name > 0 && theory::parse_chord(with_bass).chord)
        note.fix(word.symbol_span, with_bass, "a bass note");
}

void offer(text::Sink::Note& note, const ChordWord& word, const Problem& problem) {
    if (problem.kind == Problem::Kind::two_chords_or_bass) return offer_both(note, word);
    const auto& symbol = word.symbol;
    if (problem.kind == Problem::Kind::space_before_slash && symbol.size() > 1 && symbol.back() == '/') {
        const auto at = word.symbol_span.end - 1;
        note.fix({word.symbol_span.source, at, at}, " ", "put a blank before the slash");
    } else if (!problem.nearest.empty()) {
        note.fix(word.symbol_span, problem.nearest, fmt::format("write {}", problem.nearest));
    }
}

}  // namespace

std::optional<theory::Chord> read_chord(const ChordWord& word, const Place& place, text::Sink& sink) {
    constexpr std::size_t longest = 60;
    const auto shown =
        word.symbol.size() > longest ? std::string("This word") : fmt::format("“{}”", word.symbol);
    auto reading = theory::parse_chord(word.symbol);
    for (auto& remark : reading.remarks)
        sink.emit(Code::chord_reading, word.symbol_span, std::move(remark)).at(place);
    if (reading.chord) return std::move(reading.chord);
    const auto problem = reading.problem.value_or(Problem{});
    const bool suggest = !problem.nearest.empty() && problem.kind != Problem::Kind::two_chords_or_bass;
    auto note =
        sink.emit(code_of(problem.kind), word.symbol_span,
                  fmt::format("{} {}.{}", shown, reason(problem.kind),
                              suggest ? fmt::format(" Did you mean {}?", problem.nearest) : std::string()));
    note.at(place);
    offer(note, word, problem);
    return std::nullopt;
}

}  // namespace relead::syntax
