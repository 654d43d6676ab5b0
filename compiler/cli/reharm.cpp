// relead reharm TUNE [--plan NAME] [--use RULES] [--for INSTRUMENT] [--midi] [-o DIR]
#include <ostream>
#include <utility>
#include <vector>

#include "base/fmt.h"
#include "cli/commands.h"
#include "cli/files.h"
#include "cli/input.h"
#include "cli/print.h"
#include "cli/sheets.h"
#include "cli/wish.h"
#include "formats/json/write.h"
#include "formats/text/columns.h"
#include "formats/text/guide_line.h"
#include "formats/text/tables.h"
#include "pipeline/compile.h"
#include "pipeline/midi_file.h"
#include "report/change_table.h"
#include "report/side_by_side.h"

namespace relead::cli {

namespace {

arrange::GuideTones guide_tones_of(const ReharmOptions& options) {
    if (options.guide_tones == "small") return arrange::GuideTones::small;
    return options.guide_tones == "staves" ? arrange::GuideTones::staves : arrange::GuideTones::none;
}

report::GuidePairOfCounts guide_counts(const pipeline::Compiled& compiled, const reharm::Version& version) {
    return report::guide_counts(compiled.tune, version.tune, pipeline::is_for_soloist(compiled));
}

constexpr auto solo_note =
    "For the soloist: the band plays the upper row, the lower one goes over it; where it is empty, play what "
    "the band plays.";

void print_version(const pipeline::Compiled& compiled, const reharm::Version& version, Streams& streams) {
    const formats::text::TextStyle style{streams.colour, streams.width};
    streams.out << formats::text::wrap(report::headline(version), 0, streams.width) << "\n";
    const bool solo = pipeline::is_for_soloist(compiled);
    const auto sections = report::side_by_side(compiled.tune, version.tune,
                                               solo ? report::Reader::soloist : report::Reader::band);
    if (solo && report::has_second_row(sections))
        streams.out << formats::text::wrap(solo_note, 0, streams.width) << "\n";
    streams.out << formats::text::print_side_by_side(sections, style, solo ? "solo" : "now");
    if (version.changes.empty()) return;
    streams.out << "\n" << formats::text::print_changes(report::change_table(version), style);
    streams.out << "\n" << formats::text::print_guide_counts(guide_counts(compiled, version));
}

/// What was searched holds for all versions alike.
void print_search(const reharm::SearchReport& report, Streams& streams) {
    const auto sentence = fmt::format("Search: {}.", report::search_words(report));
    streams.out << "\n" << formats::text::wrap(sentence, 0, streams.width);
}

Outcome<std::vector<OutputFile>> all_files(const pipeline::Compiled& compiled, const std::string& stem,
                                           const pipeline::SheetChoice& sheets, bool midi) {
    std::vector<OutputFile> files;
    if (midi) {
        auto written = pipeline::midi_file(compiled.tune, stem);
        files.push_back({std::move(written.name), std::move(written.bytes)});
    }
    for (std::size_t i = 0; i < compiled.choices.versions.size(); ++i) {
        auto made = pipeline::version_files(compiled, i, stem, sheets);
        if (!made.value) return {std::nullopt, std::move(made.diagnostics)};
        if (midi) made.value->push_back(pipeline::midi_file(compiled, i, stem));
        for (auto& file : *made.value) files.push_back({std::move(file.name), std::move(file.bytes)});
    }
    return {std::move(files), {}};
}

ExitCode write_all(const pipeline::Compiled& compiled, const ReharmOptions& options,
                   const pipeline::SheetChoice& sheets, Streams& streams, std::vector<Written>& written) {
    auto files = all_files(compiled, stem_of(options.file), sheets, options.midi);
    if (!files.value) return print_diagnostics(files.diagnostics, {}, streams);
    auto outcome =
        write_files(options.directory, *files.value, options.force, {options.file, compiled.tune.title});
    if (!outcome.value) return print_diagnostics(outcome.diagnostics, {}, streams);
    written = std::move(*outcome.value);
    return ExitCode::clean;
}

std::vector<formats::json::VersionRow> json_rows(const pipeline::Compiled& compiled) {
    std::vector<formats::json::VersionRow> rows;
    for (const auto& version : compiled.choices.versions) {
        rows.push_back({version.name, version.stamp.hash, report::headline(version), version.cost,
                        report::change_table(version), guide_counts(compiled, version)});
    }
    return rows;
}

}  // namespace

ExitCode run(const ReharmOptions& options, Streams& streams) {
    auto instruments = read_instruments(options.instruments, streams);
    auto wish = read_wish(options.wish, streams);
    if (!instruments || !wish) return ExitCode::usage;
    const pipeline::SheetChoice sheets{std::move(*instruments), options.mxl, guide_tones_of(options)};
    wish->versions = options.versions;
    wish->date = options.date;
    const auto loaded = load_rules(options.wish.rule_files, streams);
    // Half of the user's rules are not the rules that were asked for.
    if (!loaded.rules || loaded.code != ExitCode::clean) return loaded.code;
    const auto input = open_text_or_say(options.file, streams);
    if (!input.source) return input.code;

    auto compiled = pipeline::compile(*input.source, *loaded.rules, *wish);
    if (wish->plan) compiled.diagnostics = without_plan_question(std::move(compiled.diagnostics));
    auto code = worse(loaded.code, print_diagnostics(compiled.diagnostics, {&*input.source, 1}, streams));
    // A wish that was not understood is not half granted.
    if (!compiled.clean()) return worse(code, ExitCode::input);

    // Files first: nobody should read a version on the screen that could not be written.
    std::vector<Written> written;
    const auto wrote = write_all(*compiled.value, options, sheets, streams, written);
    if (wrote != ExitCode::clean) return worse(code, wrote);
    if (options.as == As::json) {
        std::vector<std::string> paths;
        for (const auto& file : written) paths.push_back(file.path);
        streams.out << formats::json::reharm_document(
            json_rows(*compiled.value), report::search_row(compiled.value->choices.report), paths);
        return code;
    }
    bool first = true;
    for (const auto& version : compiled.value->choices.versions) {
        if (!std::exchange(first, false)) streams.out << "\n";
        print_version(*compiled.value, version, streams);
    }
    print_search(compiled.value->choices.report, streams);
    print_written(written, streams);
    return code;
}

}  // namespace relead::cli
