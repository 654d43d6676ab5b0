#include "formats/json/write.h"

#include <nlohmann/json.hpp>

#include "formats/json/guide_counts.h"

namespace relead::formats::json {

namespace {

using Json = nlohmann::ordered_json;

/// File names may hold any bytes; JSON may not.
std::string print(const Json& document) {
    return document.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

std::string_view severity_word(Severity severity) {
    constexpr std::string_view words[] = {"remark", "warning", "error"};
    return words[static_cast<std::size_t>(severity)];
}

Json place_json(const Place& place) {
    Json json = Json::object();
    if (!place.section.empty()) json["section"] = place.section;
    if (place.bar > 0) json["bar"] = place.bar;
    if (place.beat > 0) json["beat"] = place.beat.to_string();
    return json;
}

Json span_json(const Span& span, const std::optional<text::Source>& source) {
    Json json{{"begin", span.begin}, {"end", span.end}};
    if (source) {
        const auto begin = source->locate(span.begin);
        const auto end = source->locate(span.end);
        json["line"] = begin.line;
        json["column"] = begin.column;
        json["endLine"] = end.line;
        json["endColumn"] = end.column;
    }
    return json;
}

Json diagnostic_json(const Diagnostic& diagnostic, const std::optional<text::Source>& source) {
    Json json{{"code", diagnostic.code},
              {"severity", severity_word(diagnostic.severity)},
              {"sentence", diagnostic.sentence},
              {"place", place_json(diagnostic.place)},
              {"span", span_json(diagnostic.span, source)}};
    Json fixes = Json::array();
    for (const auto& fix : diagnostic.fixes) {
        fixes.push_back({{"label", fix.label}, {"text", fix.text}, {"span", span_json(fix.where, source)}});
    }
    json["fixes"] = std::move(fixes);
    return json;
}

Json terms_json(const std::vector<std::pair<std::string, int>>& terms) {
    Json json = Json::object();
    // A term that is charged at both ends counts twice.
    for (const auto& [name, value] : terms) json[name] = json.value(name, 0) + value;
    return json;
}

Json change_json(const report::ChangeRow& row) {
    Json json{{"place", row.place},
              {"old", row.old_changes},
              {"new", row.new_changes},
              {"rule", row.rule},
              {"rules", row.rules},
              {"outside", row.outside},
              {"guideTonesBefore", row.old_motion},
              {"guideTonesNow", row.new_motion},
              {"reason", row.reason},
              {"melody", row.melody},
              {"terms", terms_json(row.terms)},
              {"cost", row.cost}};
    if (!row.sounding.empty()) json["sounding"] = row.sounding;
    return json;
}

Json rule_json(const report::RuleRow& row) {
    return {{"name", row.name},        {"title", row.title},   {"family", row.family},
            {"outside", row.outside},  {"for", row.audience},  {"why", row.why},
            {"threads", row.threads},  {"source", row.source}, {"example", row.example},
            {"builtIn", row.built_in}, {"file", row.file},     {"line", row.line},
            {"text", row.text}};
}

Json example_json(const report::RuleExample& example) {
    Json was = Json::array();
    Json now = Json::array();
    for (const auto& section : example.bars) {
        for (const auto& bar : section.bars) {
            was.push_back(bar.was);
            now.push_back(bar.now.empty() ? bar.was : bar.now);
        }
    }
    return {{"key", example.key},
            {"written", std::move(was)},
            {"now", std::move(now)},
            {"change", change_json(example.change)},
            {"refusals", example.refusals}};
}

}  // namespace

std::string check_document(const std::vector<CheckedFile>& files) {
    Json rows = Json::array();
    for (const auto& file : files) {
        Json diagnostics = Json::array();
        for (const auto& diagnostic : file.diagnostics)
            diagnostics.push_back(diagnostic_json(diagnostic, file.source));
        rows.push_back({{"name", file.name},
                        {"clean", !has_errors(file.diagnostics)},
                        {"diagnostics", std::move(diagnostics)}});
    }
    return print({{"files", std::move(rows)}});
}

std::string reharm_document(const std::vector<VersionRow>& versions, const report::SearchRow& search,
                            const std::vector<std::string>& files) {
    Json rows = Json::array();
    for (const auto& version : versions) {
        Json changes = Json::array();
        for (const auto& row : version.changes) changes.push_back(change_json(row));
        rows.push_back({{"name", version.name},
                        {"hash", version.hash},
                        {"headline", version.headline},
                        {"cost", version.cost},
                        {"changes", std::move(changes)},
                        {"guideLine",
                         {{"written", guide_counts_json<Json>(version.guide_line.written)},
                          {"version", guide_counts_json<Json>(version.guide_line.version)}}}});
    }
    return print({{"versions", std::move(rows)},
                  {"search",
                   {{"exact", search.exact},
                    {"stop", search.stop},
                    {"built", search.built},
                    {"dropped", search.dropped},
                    {"notes", search.notes}}},
                  {"files", files}});
}

std::string options_document(const std::string& at, const std::vector<report::OptionRow>& rows) {
    Json options = Json::array();
    for (const auto& row : rows) {
        options.push_back({{"place", row.place},
                           {"old", row.old_changes},
                           {"new", row.new_changes},
                           {"rule", row.rule},
                           {"title", row.title},
                           {"outside", row.outside},
                           {"allowed", row.allowed},
                           {"reason", row.reason},
                           {"guideTones", row.arrival},
                           {"melody", row.melody},
                           {"refusals", row.refusals},
                           {"terms", terms_json(row.terms)},
                           {"cost", row.cost}});
        if (!row.sounding.empty()) options.back()["sounding"] = row.sounding;
    }
    return print({{"at", at}, {"options", std::move(options)}});
}

std::string explain_document(const report::Explanation& explanation) {
    Json chords = Json::array();
    for (const auto& chord : explanation.chords) {
        Json row{{"index", chord.index}, {"section", chord.section}, {"bar", chord.bar}};
        if (chord.beat.denominator() == 1) {
            row["beat"] = chord.beat.numerator();
        } else {
            row["beat"] = chord.beat.to_double();
        }
        row["symbol"] = chord.symbol;
        row["key"] = chord.key;
        row["numeral"] = chord.numeral;
        row["function"] = chord.function;
        row["target"] = chord.target ? Json(*chord.target) : Json(nullptr);
        row["relation"] = chord.relation;
        if (chord.back) row["back"] = true;
        row["notes"] = chord.notes;
        row["guideTones"] = chord.guide_tones;
        chords.push_back(std::move(row));
    }
    const Json given = explanation.given ? Json(*explanation.given) : Json(nullptr);
    Json document{{"key", {{"given", given}, {"estimated", explanation.estimated}}},
                  {"blues", explanation.blues},
                  {"exact", explanation.exact}};
    if (!explanation.exact) document["window"] = explanation.window;
    document["guideLine"] = guide_counts_json<Json>(explanation.guide_line);
    document["chords"] = std::move(chords);
    return print(document);
}

std::string rules_document(const std::vector<report::RuleRow>& rows) {
    Json rules = Json::array();
    for (const auto& row : rows) rules.push_back(rule_json(row));
    return print({{"rules", std::move(rules)}});
}

std::string rule_document(const report::RuleRow& row, const std::optional<report::RuleExample>& example) {
    auto rule = rule_json(row);
    rule["atWork"] = example ? example_json(*example) : Json(nullptr);
    return print({{"rules", Json::array({std::move(rule)})}});
}

}  // namespace relead::formats::json
