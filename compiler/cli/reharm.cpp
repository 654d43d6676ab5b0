// relead reharm TUNE [--plan NAME] [--use RULES] [--for INSTRUMENT] [-o DIR]
#include <filesystem>
#include <ostream>
#include <utility>
#include <vector>

#include "base/fmt.h"
#include "cli/commands.h"
#include "cli/files.h"
#include "cli/input.h"
#include "cli/print.h"
#include "cli/wish.h"
#include "formats/json/write.h"
#include "formats/text/tables.h"
#include "pipeline/compile.h"
#include "report/change_table.h"
#include "report/side_by_side.h"

namespace relead::cli {

namespace {

std::optional<pipeline::SheetChoice> read_sheets(const ReharmOptions& options, Streams& streams) {
    pipeline::SheetChoice choice{{}, options.mxl};
    for (const auto& word : options.instruments) {
        const auto* instrument = theory::find_instrument(word);
        if (instrument == nullptr) {
            const auto nearest = theory::nearest_instrument(word);
            streams.err << fmt::format("relead: no instrument is called {}.{}\n", word,
                                       nearest.empty() ? "" : fmt::format(" Did you mean {}?", nearest));
            return std::nullopt;
        }
        choice.instruments.push_back(instrument);
    }
    return choice;
}

void print_version(const pipeline::Compiled& compiled, const reharm::Version& version, Streams& streams) {
    const formats::text::TextStyle style{streams.colour, streams.width};
    streams.out << report::headline(version, compiled.choices.report) << "\n\n";
    streams.out << formats::text::print_side_by_side(report::side_by_side(compiled.tune, version.tune),
                                                     style);
    if (version.changes.empty()) return;
    streams.out << "\n" << formats::text::print_changes(report::change_table(version), style);
}

std::string stem_of(const std::string& path) {
    if (path == "-") return "tune";
    const auto stem = std::filesystem::path(path).stem().string();
    return stem.empty() ? "tune" : stem;
}

Outcome<std::vector<OutputFile>> all_files(const pipeline::Compiled& compiled, const std::string& stem,
                                           const pipeline::SheetChoice& sheets) {
    std::vector<OutputFile> files;
    for (std::size_t i = 0; i < compiled.choices.versions.size(); ++i) {
        auto made = pipeline::version_files(compiled, i, stem, sheets);
        if (!made.value) return {std::nullopt, std::move(made.diagnostics)};
        for (auto& file : *made.value) files.push_back({std::move(file.name), std::move(file.bytes)});
    }
    return {std::move(files), {}};
}

ExitCode write_all(const pipeline::Compiled& compiled, const ReharmOptions& options,
                   const pipeline::SheetChoice& sheets, Streams& streams, std::vector<Written>& written) {
    auto files = all_files(compiled, stem_of(options.file), sheets);
    if (!files.value) return print_diagnostics(files.diagnostics, {}, streams);
    auto outcome = write_files(options.directory, *files.value, options.force);
    if (!outcome.value) return print_diagnostics(outcome.diagnostics, {}, streams);
    written = std::move(*outcome.value);
    return ExitCode::clean;
}

void print_written(const std::vector<Written>& written, Streams& streams) {
    constexpr std::string_view words[] = {"wrote", "wrote again", "unchanged"};
    streams.out << "\n";
    for (const auto& file : written)
        streams.out << words[static_cast<std::size_t>(file.how)] << " " << file.path << "\n";
}

std::vector<formats::json::VersionRow> json_rows(const pipeline::Compiled& compiled) {
    std::vector<formats::json::VersionRow> rows;
    for (const auto& version : compiled.choices.versions) {
        rows.push_back({version.name, version.stamp.hash, report::headline(version, compiled.choices.report),
                        report::change_table(version)});
    }
    return rows;
}

}  // namespace

ExitCode run(const ReharmOptions& options, Streams& streams) {
    const auto sheets = read_sheets(options, streams);
    auto wish = read_wish(options.wish, streams);
    if (!sheets || !wish) return ExitCode::usage;
    wish->versions = options.versions;
    wish->date = options.date;
    const auto loaded = load_rules(options.wish.rule_files, streams);
    if (!loaded.rules) return loaded.code;
    const auto input = open_text_or_say(options.file, streams);
    if (!input.source) return input.code;

    const auto compiled = pipeline::compile(*input.source, *loaded.rules, *wish);
    auto code = worse(loaded.code, print_diagnostics(compiled.diagnostics, {&*input.source, 1}, streams));
    // A wish that was not understood is not half granted.
    if (!compiled.clean()) return worse(code, ExitCode::input);

    // Files first: nobody should read a version on the screen that could not be written.
    std::vector<Written> written;
    const auto wrote = write_all(*compiled.value, options, *sheets, streams, written);
    if (wrote != ExitCode::clean) return worse(code, wrote);
    if (options.as == As::json) {
        std::vector<std::string> paths;
        for (const auto& file : written) paths.push_back(file.path);
        streams.out << formats::json::reharm_document(json_rows(*compiled.value), paths);
        return code;
    }
    bool first = true;
    for (const auto& version : compiled.value->choices.versions) {
        if (!std::exchange(first, false)) streams.out << "\n";
        print_version(*compiled.value, version, streams);
    }
    print_written(written, streams);
    return code;
}

}  // namespace relead::cli
