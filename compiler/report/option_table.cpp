#include "report/option_table.h"

#include <algorithm>
#include <cstddef>
#include <iterator>

#include "base/fmt.h"
#include "report/change_table.h"
#include "text/render.h"
#include "theory/signs.h"

namespace relead::report {

namespace {

std::string chords_text(const std::vector<theory::Chord>& chords, const std::vector<Beats>& beats) {
    const bool even =
        beats.size() != chords.size() ||
        std::all_of(beats.begin(), beats.end(), [&](const Beats& b) { return b == beats.front(); });
    std::string text;
    for (std::size_t i = 0; i < chords.size(); ++i) {
        if (i > 0) text += ' ';
        text += theory::to_string(chords[i]);
        if (!even) text += fmt::format("*{}", beats[i].to_string());
    }
    return text;
}

}  // namespace

std::vector<OptionRow> near_options(const std::vector<OptionRow>& rows) {
    const bool chosen =
        std::any_of(rows.begin(), rows.end(), [](const OptionRow& row) { return !row.in_use; });
    const int misses = chosen ? 2 : 0;
    std::vector<OptionRow> near;
    std::copy_if(rows.begin(), rows.end(), std::back_inserter(near), [&](const OptionRow& row) {
        return row.allowed || (row.in_use && row.rule_refusals <= misses);
    });
    return near;
}

std::vector<OptionRow> option_table(const std::vector<reharm::Option>& options) {
    std::string chords;
    for (const auto& option : options)
        chords += chords_text(option.old_chords, {}) + chords_text(option.new_chords, {});
    const auto in_hand = [&](std::string_view sentence) { return theory::in_hand_of(chords, sentence); };
    std::vector<OptionRow> rows;
    for (const auto& option : options) {
        OptionRow row;
        row.place = text::to_string(option.place);
        row.old_changes = chords_text(option.old_chords, {});
        row.new_changes = chords_text(option.new_chords, option.new_beats);
        row.rule = option.rule;
        row.title = option.title;
        row.outside = option.outside;
        row.allowed = option.verdict.allowed();
        row.reason = in_hand(option.reason);
        row.arrival = in_hand(motion_text(option.verdict.arrival));
        row.melody = in_hand(option.verdict.melody.sentence);
        row.melody_heard = option.verdict.melody.known && option.verdict.melody.played;
        row.sounding = in_hand(option.verdict.sounding);
        for (const auto& refusal : option.verdict.refusals) {
            row.refusals.push_back(in_hand(refusal.sentence));
            row.in_use = row.in_use && refusal.kind != reharm::Refusal::Kind::not_used;
            row.rule_refusals += refusal.kind == reharm::Refusal::Kind::rule ? 1 : 0;
        }
        for (const auto& term : option.verdict.terms) row.terms.emplace_back(term.name, term.value);
        row.cost = option.verdict.cost;
        rows.push_back(std::move(row));
    }
    return rows;
}

}  // namespace relead::report
