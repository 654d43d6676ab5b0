// relead compare TUNE [--plan A --plan B ...] [--versions K] [--with OTHER.tune] [-o DIR]
#include "pipeline/compare.h"

#include <algorithm>
#include <filesystem>
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
#include "formats/json/comparison.h"
#include "formats/text/comparison.h"
#include "pipeline/compare_files.h"
#include "pipeline/read.h"

namespace relead::cli {

namespace {

/// A tune read for a command; absent when it cannot be used. Problems are printed.
struct ReadTune {
    std::optional<tune::Tune> tune;
    ExitCode code = ExitCode::clean;
};

ReadTune read_tune_or_say(const std::string& path, Streams& streams) {
    const auto input = open_text_or_say(path, streams);
    if (!input.source) return {std::nullopt, input.code};
    auto read = pipeline::read_tune(*input.source);
    const auto code = print_diagnostics(read.diagnostics, {&*input.source, 1}, streams);
    if (!read.clean()) return {std::nullopt, worse(code, ExitCode::input)};
    return {std::move(read.value), code};
}

/// One wish for each plan; without a plan one for the tune's own, unless other tunes are all that is asked.
std::optional<std::vector<reharm::Wish>> read_wishes(const CompareOptions& options, Streams& streams) {
    auto wish = read_wish(options.wish, streams);
    if (!wish) return std::nullopt;
    wish->versions = options.versions.value_or(1);
    wish->date = options.date;
    if (options.plans.empty()) {
        const bool only_others = !options.others.empty() && !options.versions;
        return only_others ? std::vector<reharm::Wish>{} : std::vector<reharm::Wish>{*wish};
    }
    std::vector<reharm::Wish> wishes;
    for (const auto& plan : options.plans) {
        const bool again = std::any_of(wishes.begin(), wishes.end(),
                                       [&](const reharm::Wish& other) { return other.plan == plan; });
        if (again) continue;
        wish->plan = plan;
        wishes.push_back(*wish);
    }
    return wishes;
}

/// What a tune is called beside the written one: its title; where the titles agree, the plan of the version
/// that it is, or its file's name.
std::string name_beside(const tune::Tune& other, const tune::Tune& written, const std::string& path) {
    if (!other.title.empty() && other.title != written.title) return other.title;
    if (other.stamp && !other.stamp->plan.empty()) return other.stamp->plan;
    return std::filesystem::path(path).filename().string();
}

ExitCode read_others(const CompareOptions& options, const tune::Tune& written, Streams& streams,
                     std::vector<pipeline::OtherTune>& others) {
    auto code = ExitCode::clean;
    for (const auto& path : options.others) {
        auto other = read_tune_or_say(path, streams);
        code = worse(code, other.code);
        if (!other.tune) return code;
        auto name = name_beside(*other.tune, written, path);
        others.push_back({std::move(name), std::move(*other.tune)});
    }
    return code;
}

ExitCode write_all(const pipeline::Compared& compared, const CompareOptions& options,
                   const pipeline::CompareSheets& sheets, Streams& streams, std::vector<Written>& written) {
    auto made = pipeline::compare_files(compared, stem_of(options.file), sheets);
    if (!made.value) return print_diagnostics(made.diagnostics, {}, streams);
    std::vector<OutputFile> files;
    for (auto& file : *made.value) files.push_back({std::move(file.name), std::move(file.bytes)});
    auto outcome = write_files(options.directory, files, options.force, {options.file, compared.tune.title});
    if (!outcome.value) return print_diagnostics(outcome.diagnostics, {}, streams);
    written = std::move(*outcome.value);
    return ExitCode::clean;
}

void print(const pipeline::Compared& compared, const CompareOptions& options,
           const std::vector<Written>& written, Streams& streams) {
    if (options.as == As::json) {
        std::vector<std::string> paths;
        for (const auto& file : written) paths.push_back(file.path);
        streams.out << formats::json::compare_document(compared.comparison, paths);
        return;
    }
    streams.out << formats::text::print_comparison(compared.comparison, {streams.colour, streams.width});
    if (!written.empty()) print_written(written, streams);
}

}  // namespace

ExitCode run(const CompareOptions& options, Streams& streams) {
    const auto pipes = std::count(options.others.begin(), options.others.end(), "-") + (options.file == "-");
    if (pipes > 1) {
        streams.err << "relead: standard input (-) holds one tune only: name a file for the other.\n";
        return ExitCode::usage;
    }
    auto instruments = read_instruments(options.instruments, streams);
    const auto wishes = read_wishes(options, streams);
    if (!instruments || !wishes) return ExitCode::usage;
    const auto loaded = load_rules(options.wish.rule_files, streams);
    // Half of the user's rules are not the rules that were asked for.
    if (!loaded.rules || loaded.code != ExitCode::clean) return loaded.code;
    const auto input = open_text_or_say(options.file, streams);
    if (!input.source) return input.code;
    auto read = pipeline::read_tune(*input.source);
    if (!options.plans.empty()) read.diagnostics = without_plan_question(std::move(read.diagnostics));
    auto code = worse(loaded.code, print_diagnostics(read.diagnostics, {&*input.source, 1}, streams));
    if (!read.clean()) return worse(code, ExitCode::input);
    std::vector<pipeline::OtherTune> others;
    code = worse(code, read_others(options, *read.value, streams, others));
    if (others.size() < options.others.size()) return code;

    const auto compared =
        pipeline::compare(std::move(*read.value), *loaded.rules, *wishes, std::move(others));
    code = worse(code, print_diagnostics(compared.diagnostics, {&*input.source, 1}, streams));
    if (!compared.clean()) return worse(code, ExitCode::input);
    std::vector<Written> written;
    if (!options.directory.empty()) {
        // Files first: nobody should read on the screen what could not be written.
        const auto wrote = write_all(*compared.value, options,
                                     {*instruments, options.guide_tones, options.mxl}, streams, written);
        if (wrote != ExitCode::clean) return worse(code, wrote);
    }
    print(*compared.value, options, written, streams);
    return code;
}

}  // namespace relead::cli
