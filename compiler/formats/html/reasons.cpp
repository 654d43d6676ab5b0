#include "formats/html/reasons.h"

#include "base/fmt.h"
#include "formats/html/escape.h"
#include "theory/signs.h"

namespace relead::formats::html {

namespace {

std::string item(std::string_view term, std::string_view words) {
    if (words.empty()) return "";
    return fmt::format("<div><dt>{}</dt><dd>{}</dd></div>", term, escape(words));
}

std::string words(std::string_view prose) {
    return escape(theory::with_signs(prose));
}
std::string motion(std::string_view tones) {
    return escape(theory::motion_with_signs(tones));
}

std::string one_reason(const report::ChangeRow& change, std::size_t row, std::size_t index) {
    auto out = fmt::format("<li id=\"r{}-{}\"><h3>{}: <b class=\"new\">{}</b> instead of {} · {}</h3>", row,
                           index, escape(change.place), words(change.new_changes), words(change.old_changes),
                           words(change.rule));
    if (!change.sounding.empty()) out += fmt::format("<p>{}</p>", words(change.sounding));
    if (!change.reason.empty()) out += fmt::format("<p>{}</p>", words(change.reason));
    if (!change.new_motion.empty()) {
        out += fmt::format("<p class=\"move\">Guide tones: {}{}</p>", motion(change.new_motion),
                           change.old_motion.empty() ? "" : " (written: " + motion(change.old_motion) + ")");
    }
    if (!change.melody.empty() && change.melody_says != report::MelodySays::fits) {
        const bool says_so = change.melody.find("elody") != std::string::npos;
        out += fmt::format("<p class=\"move\">{}{}</p>", says_so ? "" : "Melody: ", words(change.melody));
    }
    return out + fmt::format("<p class=\"move\">Outside: {} of 5</p></li>\n", change.outside);
}

std::string one_row(const report::Comparison& comparison, std::size_t row) {
    const auto& version = comparison.rows[row];
    auto out = fmt::format("<section data-row=\"{}\"><h2>{}</h2>\n", row, escape(version.name));
    if (!version.idea.empty()) out += fmt::format("<p>{}</p>\n", words(version.idea));
    out += "<dl class=\"sum\">";
    if (row > 0) {
        out += item("Changes", fmt::format("{}, in {} bars", version.changes.size(), version.bars_changed));
        if (version.highest_outside > 0)
            out += item("Outside up to", fmt::format("{} of 5", version.highest_outside));
    }
    out += item("Guide-tone line", report::guide_sentence(version.guide_line));
    if (row > 0) out += item("Search", version.search);
    out += "</dl>\n";
    if (version.soloist) {
        out += "<p class=\"note\">For the soloist: the rhythm section stays on the written changes.</p>\n";
    }
    if (!version.changes.empty()) {
        out += "<ol>\n";
        for (std::size_t i = 0; i < version.changes.size(); ++i)
            out += one_reason(version.changes[i], row, i);
        out += "</ol>";
    }
    return out + "</section>\n";
}

}  // namespace

std::string reasons(const report::Comparison& comparison) {
    std::string out = "<div class=\"reasons\">\n";
    for (std::size_t row = 0; row < comparison.rows.size(); ++row) out += one_row(comparison, row);
    return out + "</div>\n";
}

std::string footer_text(const report::Comparison& comparison) {
    std::string out;
    for (const auto& note : comparison.notes) out += fmt::format("<p>{}</p>", words(note));
    for (const auto& row : comparison.rows) {
        if (!row.stamp.empty()) out += fmt::format("<p>{}</p>", escape(row.stamp));
    }
    return out;
}

}  // namespace relead::formats::html
