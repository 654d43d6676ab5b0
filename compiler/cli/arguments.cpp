// The one file that includes the option library: it costs seconds of compile time.
#include "cli/arguments.h"

#include <CLI/CLI.hpp>
#include <algorithm>
#include <array>
#include <charconv>
#include <map>
#include <memory>
#include <sstream>

#include "base/fmt.h"
#include "pipeline/stages.h"
#include "syntax/plan_ranges.h"
#include "tune/spot.h"

#ifndef RELEAD_VERSION
#error "RELEAD_VERSION comes from the build"
#endif

namespace relead::cli {

namespace {

/// Every command's options live here while the line is read; one of them is taken at the end.
struct Drafts {
    CheckOptions check;
    TidyOptions tidy;
    ReharmOptions reharm;
    CompareOptions compare;
    SpotOptions spot;
    ExplainOptions explain;
    RulesOptions rules;
};

const std::map<std::string, As> as_words{{"text", As::text}, {"json", As::json}};

void add_as(CLI::App& command, As& as) {
    command.add_option("--as", as, "How to print: text or json")
        ->transform(CLI::Transformer(as_words).description(""))
        ->check([](const std::string& value) {
            const bool known = value == "0" || value == "1";  // what the words were turned into
            return known ? std::string() : fmt::format("{} is neither text nor json", value);
        })
        ->option_text("text|json");
}

std::string stage_list() {
    std::string list;
    for (const auto& stage : pipeline::stages()) list += (list.empty() ? "" : "|") + std::string(stage.name);
    return list;
}

constexpr syntax::NumberRange most_versions{1, 9};

/// A check with a sentence of its own, the same as for a number in a plan.
auto number_in(syntax::NumberRange range) {
    return [least = range.least, most = range.most](const std::string& value) {
        int number = 0;
        const auto* end = value.data() + value.size();
        const auto read = std::from_chars(value.data(), end, number);
        const bool good = read.ec == std::errc{} && read.ptr == end && number >= least && number <= most;
        const auto given = value.empty() ? std::string("nothing") : value;
        return good ? std::string()
                    : fmt::format("takes a whole number from {} to {}, not {}", least, most, given);
    };
}

void add_plan(CLI::App& command, WishOptions& wish) {
    command.add_option("--plan", wish.plan, "The plan of the tune to follow (default: its first one)")
        ->option_text("NAME");
}

void add_wish(CLI::App& command, WishOptions& wish) {
    command.add_option("--use", wish.use, "Only these rules or families of rules, with commas between")
        ->delimiter(',')
        ->option_text("RULES");
    command.add_option("--avoid", wish.avoid, "Never these rules or families")
        ->delimiter(',')
        ->option_text("RULES");
    command.add_option("--hold", wish.hold, "Bars that stay as written, such as A:1-4")
        ->delimiter(',')
        ->option_text("A:1-4");
    command.add_option("--rules", wish.rule_files, "A file of your own rules, beside the built-in ones")
        ->option_text("FILE");
    command.add_option("--outside", wish.outside, "How far outside a change may go, 1 to 5")
        ->check(number_in(syntax::level_range))
        ->option_text("N");
    command.add_option("--around", wish.around, "How far outside you would like it, 1 to 5")
        ->check(number_in(syntax::level_range))
        ->option_text("N");
    command.add_option("--depth", wish.depth, "How deep substitutions may be stacked, 1 to 4")
        ->check(number_in(syntax::depth_range))
        ->option_text("N");
}

void add_choice(CLI::App& command, WishOptions& wish) {
    command.add_flag("--by-cost", wish.by_cost,
                     "The versions of least cost, proved: no share of the tune, no idea to keep to");
}

void add_check(CLI::App& app, CheckOptions& options) {
    auto* command = app.add_subcommand("check", "Read tunes and say what is wrong, bar by bar");
    command->add_option("files", options.files, "Tunes; - reads standard input")
        ->required()
        ->option_text("FILES...");
    add_as(*command, options.as);
    auto* files = command
                      ->add_option("--rules", options.rule_files,
                                   "A file of your own rules, which the plans of the tunes may name")
                      ->option_text("FILE");
    command->add_option("--dump", options.dump, "Print what a stage of the compiler made: " + stage_list())
        ->check([](const std::string& value) {
            std::vector<std::string> names;
            for (const auto& stage : pipeline::stages()) names.emplace_back(stage.name);
            const bool known = value.empty() || pipeline::find_stage(value) != nullptr;
            return known ? std::string()
                         : fmt::format("{} is no stage; there are {}", value, tune::listed(names));
        })
        ->excludes(files)
        ->option_text("STAGE");
}

void add_tidy(CLI::App& app, TidyOptions& options) {
    auto* command = app.add_subcommand("tidy", "Print a tune in its canonical, column-aligned form");
    command->add_option("file", options.file, "A tune; - reads standard input")
        ->required()
        ->option_text("FILE");
    command->add_flag("--write", options.write, "Put the tidy form in place of the file");
    command->add_option("--to", options.to_key, "Move the tune to this key, such as Bb")->option_text("KEY");
}

void add_reharm(CLI::App& app, ReharmOptions& options) {
    auto* command =
        app.add_subcommand("reharm", "Find better changes and write the version with its lead sheet");
    command->add_option("tune", options.file, "A tune; - reads standard input")
        ->required()
        ->option_text("TUNE");
    add_plan(*command, options.wish);
    add_wish(*command, options.wish);
    add_choice(*command, options.wish);
    command->add_option("--versions", options.versions, "How many different versions, 1 to 9")
        ->check(number_in(most_versions))
        ->option_text("K");
    command->add_option("--for", options.instruments, "Also a sheet for this instrument (may be repeated)")
        ->delimiter(',')
        ->option_text("INSTRUMENT");
    command->add_option("-o", options.directory, "Folder for the files (default: this one)")
        ->option_text("DIR");
    command->add_option("--date", options.date, "Date for the version stamp, as you want it printed")
        ->option_text("DATE");
    command->add_flag("--mxl", options.mxl, "Write sheets compressed, as .mxl");
    command
        ->add_option("--guide-tones", options.guide_tones,
                     "Guide-tone line: small below each sheet, or staves, sheets of their own")
        ->check([](const std::string& value) {
            const bool known = value == "small" || value == "staves";
            return known ? std::string() : fmt::format("{} is neither small nor staves", value);
        })
        ->option_text("small|staves");
    command->add_flag("--midi", options.midi, "Also MIDI files: the tune as written and each version");
    command->add_flag("--force", options.force, "Replace files that Relead did not write");
    add_as(*command, options.as);
}

void add_compare(CLI::App& app, CompareOptions& options) {
    auto* command = app.add_subcommand("compare", "Show the written changes and versions of them bar by bar");
    command->add_option("tune", options.file, "A tune; - reads standard input")
        ->required()
        ->option_text("TUNE");
    command
        ->add_option("--plan", options.plans,
                     "A plan of the tune to follow; may be repeated (default: its first one)")
        ->option_text("NAME");
    command->add_option("--versions", options.versions, "How many different versions of each plan, 1 to 9")
        ->check(number_in(most_versions))
        ->option_text("K");
    command
        ->add_option(
            "--with", options.others,
            "Another tune of the same form to set beside it; may be repeated (then versions are made "
            "only where --plan or --versions asks for them)")
        ->option_text("TUNE");
    add_wish(*command, options.wish);
    add_choice(*command, options.wish);
    command
        ->add_option(
            "-o", options.directory,
            "Folder for compare sheet, change slips, listening page and MIDI (default: none are written)")
        ->option_text("DIR");
    command
        ->add_option("--for", options.instruments, "Also change slips for this instrument (may be repeated)")
        ->delimiter(',')
        ->option_text("INSTRUMENT");
    command->add_flag("--guide-tones", options.guide_tones, "Guide-tone lines on the compare sheet");
    command->add_option("--date", options.date, "Date for the version stamp, as you want it printed")
        ->option_text("DATE");
    command->add_flag("--mxl", options.mxl, "Write sheets compressed, as .mxl");
    command->add_flag("--force", options.force, "Replace files that Relead did not write");
    add_as(*command, options.as);
}

void add_explain(CLI::App& app, ExplainOptions& options) {
    auto* command =
        app.add_subcommand("explain", "Say what every chord does: keys, numerals, what it prepares");
    command->add_option("tune", options.file, "A tune; - reads standard input")
        ->required()
        ->option_text("TUNE");
    add_as(*command, options.as);
}

void add_options(CLI::App& app, SpotOptions& options) {
    auto* command = app.add_subcommand("options", "List what could stand at a spot, and why not");
    command->add_option("tune", options.file, "A tune; - reads standard input")
        ->required()
        ->option_text("TUNE");
    command->add_option("--at", options.at, "The spot, such as A:7 or A:7.3, or bars such as A:1-4")
        ->required()
        ->option_text("A:7[.BEAT]|A:1-4");
    add_plan(*command, options.wish);
    add_wish(*command, options.wish);
    add_as(*command, options.as);
}

void add_rules(CLI::App& app, RulesOptions& options) {
    auto* command = app.add_subcommand("rules", "List the substitution rules, or show one at work");
    command->add_option("name", options.name, "The rule to show, or a family to list")->option_text("NAME");
    command->add_option("--in", options.key, "Key in which to show it, such as Eb or \"Eb minor\"")
        ->option_text("KEY");
    command->add_option("--rules", options.rule_files, "A file of your own rules, beside the built-in ones")
        ->option_text("FILE");
    add_as(*command, options.as);
}

/// An option takes one value at a time, however often it may be given, and never the option that follows it.
/// Nothing in quotes is no value: a name that a script did not fill in must not stand for the usual one.
void take_one_value_each(CLI::App& command) {
    const auto has_value = [](const CLI::Option* option) {
        return option->nonpositional() && option->get_items_expected_max() > 0;
    };
    for (auto* option : command.get_options(has_value)) {
        option->allow_extra_args(false);
        const auto name = option->get_name();
        const bool required = option->get_required();
        option->check([name, required](const std::string& value) {
            if (value.find_first_not_of(' ') == std::string::npos)
                return fmt::format("\"{}\" is no value; give one{}", value,
                                   required ? "" : fmt::format(" or leave {} out", name));
            const bool is_option = value.size() > 1 && value[0] == '-' && (value[1] < '0' || value[1] > '9');
            return is_option ? fmt::format("a value is missing before {}", value) : std::string();
        });
    }
    for (auto* option : command.get_options([](const CLI::Option* each) { return each->get_positional(); })) {
        option->check([](const std::string& value) {
            return value.empty() ? std::string("\"\" is no name; give one") : std::string();
        });
    }
}

Command chosen(const CLI::App& app, Drafts& drafts) {
    const std::map<std::string, Command> commands{{"check", drafts.check},  {"compare", drafts.compare},
                                                  {"tidy", drafts.tidy},    {"reharm", drafts.reharm},
                                                  {"options", drafts.spot}, {"explain", drafts.explain},
                                                  {"rules", drafts.rules}};
    return commands.at(app.get_subcommands().front()->get_name());
}

/// What the library says of missing and repeated values, as a sentence for whoever typed them.
std::string sentence_of(const CLI::ParseError& error) {
    const std::string what = error.what();
    const auto about = what.substr(0, what.find(':'));
    const bool lacks_value =
        what.find(": 1 required ") != std::string::npos;  // its type and "missing" follow
    if (lacks_value) return fmt::format("{} takes a value, and none follows", about);
    if (what.find(": At Most 1 required") != std::string::npos)
        return fmt::format("{} may be given once only", about);
    if (what == "tune is required" || what == "file is required" || what == "files is required")
        return "a tune is missing: name its file, or - to read standard input";
    if (what == "--at is required") return "--at is missing: give a spot such as --at A:7 or --at A:7.3";
    return what;
}

/// Words that belong to nothing, in the order in which they were typed.
std::string unexpected(const CLI::App& command, const std::vector<std::string>& words) {
    std::vector<std::string> known, unknown, meant;
    for (const auto* option : command.get_options()) {
        for (const auto& name : option->get_lnames()) known.push_back(name);
    }
    for (const auto& word : words) {
        if (word.size() < 2 || word[0] != '-') continue;
        unknown.push_back(word.substr(0, word.find('=')));
        // Without the dashes: they are alike in all and would make any two short words neighbours.
        const auto bare = unknown.back().find_first_not_of('-');
        const auto nearest =
            bare == std::string::npos ? "" : tune::nearest_of(unknown.back().substr(bare), known);
        if (!nearest.empty()) meant.push_back("--" + nearest);
    }
    if (!unknown.empty())
        return fmt::format("{} has no option{} {}.{}", command.get_name(), unknown.size() > 1 ? "s" : "",
                           tune::listed(unknown),
                           meant.empty() ? "" : fmt::format(" Did you mean {}?", tune::listed(meant)));
    return fmt::format("{} takes one {}: {} {} too many", command.get_name(),
                       command.get_name() == "rules" ? "name" : "tune", tune::listed(words),
                       words.size() > 1 ? "are" : "is one");
}

Arguments usage_error(const CLI::App& app, const CLI::ParseError& error) {
    const auto chosen_commands = app.get_subcommands();
    const std::string command = chosen_commands.empty() ? "" : " " + chosen_commands.front()->get_name();
    const auto words =
        chosen_commands.empty() ? std::vector<std::string>() : chosen_commands.front()->remaining();
    auto what = words.empty() ? sentence_of(error) : unexpected(*chosen_commands.front(), words);
    if (!what.empty() && what.back() != '.' && what.back() != '?') what += '.';
    return {std::nullopt, fmt::format("relead: {}\nTry: relead{} --help\n", what, command), true,
            ExitCode::usage};
}

/// The library would only say that a command is missing.
std::optional<Arguments> unknown_command(CLI::App& app, const std::vector<std::string>& words) {
    std::vector<std::string> names;
    for (const auto* command : app.get_subcommands([](CLI::App*) { return true; }))
        names.push_back(command->get_name());
    const auto first = words.empty() ? std::string() : words.front();
    const auto is_first = [&](std::string_view word) { return word == first; };
    constexpr std::array own{"-h", "--help", "--version"};
    if (std::any_of(own.begin(), own.end(), is_first) || std::any_of(names.begin(), names.end(), is_first))
        return std::nullopt;
    std::string what = "Which command?";
    if (first.size() > 1 && first.front() == '-') {
        what = fmt::format("the command stands before its options: {} comes too early.", first);
    } else if (!words.empty()) {
        const auto nearest = tune::nearest_of(first, names);
        what = fmt::format("{} is no command.{}", first.empty() ? "\"\"" : first,
                           nearest.empty() ? "" : fmt::format(" Did you mean {}?", nearest));
    }
    return Arguments{std::nullopt,
                     fmt::format("relead: {} There are {}.\nTry: relead --help\n", what, tune::listed(names)),
                     true, ExitCode::usage};
}

}  // namespace

Arguments read_arguments(std::vector<std::string> words) {
    CLI::App app("Relead compiles a jazz tune written as plain text into better changes and playable sheets.",
                 "relead");
    app.set_help_flag("-h,--help", "Print this help");
    app.set_version_flag("--version", "relead " RELEAD_VERSION, "Print the version");
    app.require_subcommand(1, 1);
    app.get_formatter()->column_width(30);
    Drafts drafts;
    add_check(app, drafts.check);
    add_compare(app, drafts.compare);
    add_explain(app, drafts.explain);
    add_options(app, drafts.spot);
    add_reharm(app, drafts.reharm);
    add_rules(app, drafts.rules);
    add_tidy(app, drafts.tidy);
    for (auto* command : app.get_subcommands([](CLI::App*) { return true; })) take_one_value_each(*command);
    if (auto problem = unknown_command(app, words)) return *problem;
    std::reverse(words.begin(), words.end());  // the library reads a vector from its back
    try {
        app.parse(words);
    } catch (const CLI::CallForHelp&) {
        const auto chosen_commands = app.get_subcommands();
        return {std::nullopt, chosen_commands.empty() ? app.help() : chosen_commands.front()->help("relead"),
                false, ExitCode::clean};
    } catch (const CLI::CallForVersion& version) {
        return {std::nullopt, std::string(version.what()) + "\n", false, ExitCode::clean};
    } catch (const CLI::ParseError& error) {
        return usage_error(app, error);
    }
    return {chosen(app, drafts), "", false, ExitCode::clean};
}

}  // namespace relead::cli
