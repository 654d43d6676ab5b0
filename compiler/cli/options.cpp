// relead options TUNE --at A:7[.beat] [--as text|json]
#include <algorithm>
#include <ostream>
#include <utility>

#include "base/fmt.h"
#include "cli/commands.h"
#include "cli/input.h"
#include "cli/print.h"
#include "cli/wish.h"
#include "formats/json/write.h"
#include "formats/text/columns.h"
#include "formats/text/tables.h"
#include "pipeline/read.h"
#include "report/option_table.h"
#include "tune/spot.h"

namespace relead::cli {

namespace {

/// "A:2", "A:4": of several bars that were asked for those at which no row begins.
std::vector<std::string> without_rows(const tune::Address& asked,
                                      const std::vector<report::OptionRow>& rows) {
    std::vector<std::string> bars;
    if (asked.first_bar == asked.last_bar || rows.empty()) return bars;
    for (int number = asked.first_bar; number <= asked.last_bar; ++number) {
        const auto bar = fmt::format("{}:{}", asked.section, number);
        const bool begins = std::any_of(rows.begin(), rows.end(), [&](const report::OptionRow& row) {
            return row.place == bar || row.place.compare(0, bar.size() + 1, bar + ".") == 0;
        });
        if (!begins) bars.push_back(bar);
    }
    return bars;
}

/// Seconds of a beat at the first bar of the address; it names a section of the tune.
double beat_at(const tune::Tune& tune, const tune::Address& at) {
    constexpr double seconds_a_minute = 60;
    const auto& section = tune.sections[static_cast<std::size_t>(*tune::find_section(tune, at.section))];
    int tempo = section.tempo.beats_per_minute;
    for (const auto& bar : section.bars) {
        if (bar.number <= at.first_bar && bar.new_tempo) tempo = bar.new_tempo->beats_per_minute;
    }
    return seconds_a_minute / tempo;
}

}  // namespace

ExitCode run(const SpotOptions& options, Streams& streams) {
    const auto spot =
        read_address("--at", "a spot such as A:7 or A:7.3, or bars such as A:1-4", options.at, streams);
    if (!spot) return ExitCode::usage;
    const auto wish = read_wish(options.wish, streams);
    if (!wish) return ExitCode::usage;
    const auto loaded = load_rules(options.wish.rule_files, streams);
    // Half of the user's rules are not the rules that were asked for.
    if (!loaded.rules || loaded.code != ExitCode::clean) return loaded.code;
    const auto input = open_text_or_say(options.file, streams);
    if (!input.source) return input.code;
    auto tune = pipeline::read_tune(*input.source);
    if (wish->plan) tune.diagnostics = without_plan_question(std::move(tune.diagnostics));
    auto code = worse(loaded.code, print_diagnostics(tune.diagnostics, {&*input.source, 1}, streams));
    if (!tune.clean()) return worse(code, ExitCode::input);

    const auto found =
        reharm::options(*tune.value, analysis::analyse(*tune.value), *loaded.rules, *spot, *wish);
    code = worse(code, print_diagnostics(found.diagnostics, {&*input.source, 1}, streams));
    if (!found.value) return worse(code, ExitCode::input);
    const auto rows = report::option_table(*found.value);
    if (options.as == As::json) {
        streams.out << formats::json::options_document(options.at, rows);
        return code;
    }
    const auto near = report::near_options(rows);
    streams.out << formats::text::print_options(near, {streams.colour, streams.width});
    if (const auto silent = without_rows(*spot, near); !silent.empty())
        streams.out << "\n"
                    << formats::text::wrap(
                           fmt::format("Nothing to offer begins at {}.", tune::listed(silent, "or")), 0,
                           streams.width);
    streams.out << formats::text::print_held_notes(near, beat_at(*tune.value, *spot),
                                                   {streams.colour, streams.width});
    if (near.size() < rows.size())
        streams.out << formats::text::print_options_left_out({streams.colour, streams.width});
    return code;
}

}  // namespace relead::cli
