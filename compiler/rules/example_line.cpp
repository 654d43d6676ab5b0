#include "rules/example_line.h"

#include <algorithm>
#include <string_view>

#include "rules/lower_condition.h"
#include "rules/numeral.h"

namespace relead::rules {
namespace {

constexpr std::string_view blanks = " \t";

class ExampleReader {
public:
    ExampleReader(const syntax::RuleWord& line, text::Sink& sink) : line_(line), sink_(sink) {}

    std::optional<std::string> run() {
        std::string changes;
        for (std::size_t begin = 0; begin <= line_.text.size();) {
            const auto end = std::min(line_.text.find('|', begin), line_.text.size());
            if (!read_bar(begin, end, changes)) return std::nullopt;
            begin = end + 1;
        }
        return changes;
    }

private:
    /// Bytes `begin` to `end` of the text; all of it where escapes or typographic quotes move the places.
    Span place(std::size_t begin, std::size_t end) const {
        auto span = line_.span;
        if (span.end - span.begin != line_.text.size() + 2) return span;
        return {span.source, span.begin + 1 + static_cast<std::uint32_t>(begin),
                span.begin + 1 + static_cast<std::uint32_t>(end)};
    }
    void complain(const syntax::RuleWord& word) {
        if (complain_of_signs(word, text::Code::rules_bad_example, sink_)) return;
        sink_.emit(text::Code::rules_bad_example, word.span,
                   word.text +
                       " is no chord of an example: write changes in numerals with their qualities, such as "
                       "`ii7 | V7 | Imaj7`.");
    }
    bool read_bar(std::size_t begin, std::size_t end, std::string& changes) {
        changes += begin == 0 ? "" : " |";
        int chords = 0;
        std::size_t last = begin;
        const auto from = std::min(line_.text.find_first_not_of(blanks, begin), end);
        for (auto at = from; at < end; ++chords) {
            const auto stop = std::min(line_.text.find_first_of(blanks, at), end);
            const auto word = line_.text.substr(at, stop - at);
            if (!parse_numeral(word)) {
                complain({word, place(at, stop)});
                return false;
            }
            changes += (changes.empty() ? "" : " ") + word;
            last = stop;
            at = std::min(line_.text.find_first_not_of(blanks, stop), end);
        }
        return divides_bar(chords, place(chords > 0 ? from : last, last));
    }
    bool divides_bar(int chords, Span bar) {
        if (chords == 1 || chords == 2 || chords == 4) return true;
        if (chords > 0) {
            sink_.emit(text::Code::rules_bad_example, bar,
                       "A bar of an example has one, two or four chords, since they share its four beats "
                       "evenly; this one has " +
                           std::to_string(chords) + ".");
            return false;
        }
        sink_.emit(text::Code::rules_bad_example, bar,
                   "A bar of this example has no chord; | stands between two bars only.");
        return false;
    }

    const syntax::RuleWord& line_;
    text::Sink& sink_;
};

}  // namespace

std::optional<std::string> read_example(const syntax::RuleWord& line, text::Sink& sink) {
    return ExampleReader(line, sink).run();
}

}  // namespace relead::rules
