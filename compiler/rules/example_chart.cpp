#include "rules/example_chart.h"

#include <algorithm>
#include <sstream>

#include "rules/made_chart.h"
#include "rules/numeral.h"

namespace relead::rules {
namespace {

struct Stock {
    theory::Mode mode;
    std::string_view changes;
};
constexpr Stock stock[] = {
#define RELEAD_EXAMPLE_CHANGES(mode, changes) {theory::Mode::mode, changes},
#include "rules/example_changes.def"
#undef RELEAD_EXAMPLE_CHANGES
};

/// The mode that changes in numerals speak of: a minor chord on I is minor, sevenths on I and IV of twelve
/// bars are a blues.
theory::Mode mode_of(const std::string& changes) {
    const auto stands = [&](theory::ScaleDegree degree, KindSet kinds) {
        std::istringstream words(changes);
        for (std::string word; words >> word;) {
            const auto numeral = parse_numeral(word);
            if (numeral && numeral->degree == degree && is_a(numeral->quality, kinds)) return true;
        }
        return false;
    };
    const auto bars = std::count(changes.begin(), changes.end(), '|') + 1;
    if (bars == 12 && stands({1, 0}, dominant) && stands({4, 0}, dominant)) return theory::Mode::blues;
    return stands({1, 0}, *find_kinds("minor")) ? theory::Mode::minor : theory::Mode::major;
}

/// Modes to try a rule in, the likeliest first.
std::vector<theory::Mode> modes_to_try(const Rule& rule) {
    using theory::Mode;
    std::vector<Mode> modes{Mode::major, Mode::minor, Mode::blues, Mode::dorian, Mode::mixolydian};
    const auto first = [&](Mode mode) {
        std::rotate(modes.begin(), std::find(modes.begin(), modes.end(), mode),
                    std::find(modes.begin(), modes.end(), mode) + 1);
    };
    const bool minor_context =
        std::any_of(rule.before.begin(), rule.before.end(), [](const Context& context) {
            const auto& wanted = context.run.front().alternatives.front();
            return wanted.degree == theory::ScaleDegree{1, 0} && (wanted.kinds & major_seventh) == 0 &&
                   (wanted.kinds & minor_seventh) != 0;
        });
    if (rule.tonic_mode == "minor" || minor_context) first(Mode::minor);
    for (const auto& clause : rule.when) {
        for (const auto& condition : clause.any_of.front()) {
            if (condition.negated) continue;
            if (condition.kind == ConditionKind::in_blues) first(Mode::blues);
            if (condition.kind == ConditionKind::in_modal) first(Mode::dorian);
            if (condition.kind != ConditionKind::home_key && condition.kind != ConditionKind::local_key)
                continue;
            const auto& word = condition.words.front();
            first(word == "minor"   ? Mode::minor
                  : word == "blues" ? Mode::blues
                  : word == "modal" ? Mode::dorian
                                    : theory::parse_mode(word).value_or(Mode::major));
        }
    }
    return modes;
}

}  // namespace

std::optional<std::string> realise_changes(std::string_view numerals, const theory::Key& home) {
    std::istringstream words{std::string(numerals)};
    std::string changes;
    for (std::string word; words >> word;) {
        if (word != "|") {
            const auto numeral = parse_numeral(word);
            if (!numeral) return std::nullopt;
            word = theory::to_string(theory::practical_spelling(realise(*numeral, home.tonic), home));
        }
        changes += (changes.empty() ? "" : " ") + word;
    }
    if (changes.empty()) return std::nullopt;
    return changes;
}

bool own_charts(const Rule& rule, theory::NoteName tonic, const ChartReader& enough) {
    auto modes = modes_to_try(rule);
    const auto own = mode_of(rule.example);
    std::stable_partition(modes.begin(), modes.end(), [&](theory::Mode mode) { return mode == own; });
    return std::any_of(modes.begin(), modes.end(), [&](theory::Mode of) {
        const auto home = theory::practical_key({tonic, of}, true);
        auto changes = realise_changes(rule.example, home);
        return changes && enough({home, std::move(*changes), "", true});
    });
}

bool example_charts(const Rule& rule, theory::NoteName tonic, std::optional<theory::Mode> mode,
                    const ChartReader& enough) {
    const auto key_in = [&](theory::Mode of) { return theory::practical_key({tonic, of}, true); };
    const auto enough_in = [&](std::string_view numerals, theory::Mode of, bool from_rule) {
        if (mode && *mode != of) return false;
        auto changes = realise_changes(numerals, key_in(of));
        return changes && enough({key_in(of), std::move(*changes), "", from_rule});
    };
    auto modes = modes_to_try(rule);
    if (mode) modes = {*mode};
    const auto own = mode_of(rule.example);
    if (!rule.example.empty() && enough_in(rule.example, own, true)) return true;
    const bool asks_melody = std::any_of(rule.when.begin(), rule.when.end(), [](const Clause& clause) {
        return std::any_of(clause.any_of.front().begin(), clause.any_of.front().end(), is_about_melody);
    });
    for (const auto of : modes) {
        for (const auto& row : stock) {
            if (row.mode == of && !asks_melody && enough_in(row.changes, of, false)) return true;
        }
        if (made_charts(rule, key_in(of), enough)) return true;
    }
    for (const auto of : modes) {
        if (of != own && enough_in(rule.example, of, true)) return true;
    }
    return false;
}

}  // namespace relead::rules
