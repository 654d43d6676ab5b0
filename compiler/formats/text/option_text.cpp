#include <algorithm>

#include "base/fmt.h"
#include "formats/text/columns.h"
#include "formats/text/tables.h"
#include "text/source.h"

namespace relead::formats::text {

namespace {

std::string terms_text(const report::OptionRow& row) {
    std::string text = fmt::format("cost {}", row.cost);
    for (std::size_t i = 0; i < row.terms.size(); ++i) {
        text += fmt::format("{}{} {}", i == 0 ? ": " : ", ", row.terms[i].first, row.terms[i].second);
    }
    return text + ".";
}

std::string print_option(const report::OptionRow& row, int new_width, const TextStyle& style) {
    std::string text = fmt::format("  {}  {} ({}, outside {})\n", pad(row.new_changes, new_width), row.title,
                                   row.rule, row.outside);
    text += wrap(row.reason, 6, style.width);
    if (!row.arrival.empty()) text += wrap("Guide tones: " + row.arrival + ".", 6, style.width);
    for (const auto& sentence : {row.melody, row.sounding}) text += wrap(sentence, 6, style.width);
    for (const auto& sentence : row.refusals) text += wrap("Refused: " + sentence, 6, style.width);
    if (row.allowed) text += wrap(terms_text(row), 6, style.width);
    return text;
}

}  // namespace

std::string print_options(const std::vector<report::OptionRow>& rows, const TextStyle& style) {
    if (rows.empty()) return "No rule has anything to offer there.\n";
    int new_width = 0;
    for (const auto& row : rows)
        new_width = std::max(new_width, relead::text::display_width(row.new_changes));
    std::string text;
    std::string place;
    bool allowed = false;
    for (const auto& row : rows) {
        const auto heading = fmt::format("{}  {}", row.place, row.old_changes);
        if (text.empty() || heading != place || row.allowed != allowed) {
            if (!text.empty()) text += "\n";
            text += fmt::format("{}{}\n", heading, row.allowed ? "" : "  (refused)");
        }
        place = heading;
        allowed = row.allowed;
        text += print_option(row, new_width, style);
    }
    return text;
}

std::string print_held_notes(const std::vector<report::OptionRow>& rows, double beat,
                             const TextStyle& style) {
    const auto heard = [](const report::OptionRow& row) { return row.melody_heard; };
    if (std::none_of(rows.begin(), rows.end(), heard)) return {};
    return "\n" +
           wrap(fmt::format("A melody note is held when it sounds with a chord for a beat ({:.2f} seconds) "
                            "or more, or for half of a chord that is shorter than two beats. What is held "
                            "has to fit; shorter notes may go by in steps.",
                            beat),
                0, style.width);
}

std::string print_options_left_out(const TextStyle& style) {
    return "\n" +
           wrap(
               "Rules that are not in use, or that ask for what is not here, are not listed; --as json lists "
               "them too. A rule that looks for other chords is in neither list.",
               0, style.width);
}

}  // namespace relead::formats::text
