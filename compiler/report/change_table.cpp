#include "report/change_table.h"

#include <algorithm>

#include "base/fmt.h"
#include "text/render.h"
#include "theory/signs.h"

namespace relead::report {
namespace {

std::string symbols(const std::vector<theory::Chord>& chords) {
    std::string text;
    for (const auto& chord : chords) text += (text.empty() ? "" : " ") + theory::to_string(chord);
    return text;
}

}  // namespace

std::string motion_text(const std::vector<reharm::Motion>& motions) {
    std::string text;
    for (const auto& motion : motions) {
        if (!text.empty()) text += ", ";
        text += theory::to_string(motion.from);
        if (motion.semitones == 0 && motion.from == motion.to) {
            text += " held";
        } else {
            text += (motion.semitones == 0 ? "=" : ">") + theory::to_string(motion.to);
        }
    }
    return text;
}

MelodySays melody_says(const reharm::MelodyVerdict& melody) {
    if (!melody.known || !melody.played) return MelodySays::unchecked;
    return melody.sentence == reharm::melody_fits ? MelodySays::fits : MelodySays::of_itself;
}

std::vector<ChangeRow> change_table(const reharm::Version& version) {
    std::string chords;
    for (const auto& change : version.changes)
        chords += symbols(change.old_chords) + symbols(change.new_chords);
    const auto in_hand = [&](std::string_view sentence) { return theory::in_hand_of(chords, sentence); };
    std::vector<ChangeRow> rows;
    for (const auto& change : version.changes) {
        ChangeRow row;
        row.place = text::to_string(change.place);
        row.old_changes = symbols(change.old_chords);
        row.new_changes = symbols(change.new_chords);
        row.rule = change.title;
        row.old_motion = in_hand(motion_text(change.old_motion));
        row.new_motion = in_hand(motion_text(change.new_motion));
        row.reason = in_hand(change.reason);
        row.melody = in_hand(change.melody.sentence);
        row.melody_says = melody_says(change.melody);
        row.sounding = in_hand(change.sounding);
        row.outside = change.outside;
        row.rules = change.derivation;
        for (const auto& term : change.terms) row.terms.emplace_back(term.name, term.value);
        row.cost = change.cost;
        rows.push_back(std::move(row));
    }
    return rows;
}

SearchRow search_row(const reharm::SearchReport& report) {
    return {report.exact, std::string(reharm::to_string(report.stop)), report.built, report.dropped,
            report.notes};
}

std::string search_words(const reharm::SearchReport& report) {
    constexpr std::size_t few = 3;
    if (report.notes.size() <= few) return reharm::to_string(report);
    auto shorter = report;
    const auto is_drop = [](const std::string& note) {
        return note.find(" dropped at ") != std::string::npos;
    };
    const auto drops = std::count_if(shorter.notes.begin(), shorter.notes.end(), is_drop);
    std::erase_if(shorter.notes, is_drop);
    if (drops > 0) shorter.notes.push_back(fmt::format("{} dropped at {} places", report.dropped, drops));
    return reharm::to_string(shorter);
}

std::string headline(const reharm::Version& version) {
    const auto count = version.changes.size();
    return fmt::format("{} ({} {}): {}", version.name, count, count == 1 ? "change" : "changes",
                       version.idea);
}

}  // namespace relead::report
