// The other side of include/relead/relead.h: values of the compiler behind values of the API.
#include <utility>

#include <relead/relead.h>

#include "analysis/analysis.h"
#include "arrange/lead_sheet.h"
#include "base/fmt.h"
#include "pipeline/compile.h"
#include "pipeline/read.h"
#include "pipeline/tidy.h"
#include "report/change_table.h"
#include "rules/read_rules.h"
#include "text/diagnose.h"
#include "text/source.h"
#include "theory/instrument.h"
#include "tune/transpose.h"
#include "tune/unfold.h"
#include "tune/write.h"

#ifndef RELEAD_VERSION
#error "RELEAD_VERSION comes from the build"
#endif

namespace relead {

struct Tune::Inside {
    tune::Tune tune;
};
struct Rules::Inside {
    rules::RuleSet rules;
};

namespace {

Tune wrap(tune::Tune tune) {
    return Tune(std::make_shared<const Tune::Inside>(Tune::Inside{std::move(tune)}));
}
Rules wrap(rules::RuleSet rules) {
    return Rules(std::make_shared<const Rules::Inside>(Rules::Inside{std::move(rules)}));
}

/// Reads the text, then hands the source to `next`; what was said about the text comes first.
template <class T, class Next>
Outcome<T> with_source(const Text& text, const Limits& limits, Next next) {
    auto source = text::read_source(text.name, text.bytes, limits);
    if (!source.value) return {std::nullopt, std::move(source.diagnostics)};
    Outcome<T> outcome = next(*source.value);
    outcome.diagnostics.insert(outcome.diagnostics.begin(), source.diagnostics.begin(),
                               source.diagnostics.end());
    return outcome;
}

Diagnostics one(text::Code code, std::string sentence) {
    text::Sink sink;
    sink.emit(code, {}, std::move(sentence));
    return sink.take();
}

Outcome<reharm::Wish> inner_wish(const Wish& wish) {
    reharm::Wish inner;
    if (!wish.plan.empty()) inner.plan = wish.plan;
    inner.use = wish.use;
    inner.avoid = wish.avoid;
    inner.outside = wish.outside;
    inner.around = wish.around;
    inner.versions = wish.versions;
    inner.date = wish.date;
    inner.by_cost = wish.by_cost;
    for (const auto& word : wish.hold) {
        auto address = tune::parse_address(word);
        if (!address) {
            return {std::nullopt,
                    one(text::Code::wish_bad_address, fmt::format("{} is no place such as A:1-4.", word))};
        }
        inner.hold.push_back(std::move(*address));
    }
    return {std::move(inner), {}};
}

Version outer_version(const reharm::Version& version, const Tune& written) {
    Version outer{
        version.name, report::headline(version), version.stamp.hash, wrap(version.tune), written, {}};
    for (auto& row : report::change_table(version)) {
        outer.changes.push_back({std::move(row.place), std::move(row.old_changes), std::move(row.new_changes),
                                 std::move(row.rule), std::move(row.reason), std::move(row.old_motion),
                                 std::move(row.new_motion), std::move(row.melody), row.outside});
    }
    return outer;
}

Outcome<File> make_sheet(const tune::Tune& tune, const tune::Tune* written, const std::string& stem,
                         const SheetWish& wish) {
    const theory::Instrument* instrument = nullptr;
    if (!wish.instrument.empty()) {
        instrument = theory::find_instrument(wish.instrument);
        if (instrument == nullptr) {
            return {std::nullopt, one(text::Code::unknown_instrument,
                                      fmt::format("No instrument is called {}.", wish.instrument))};
        }
    }
    auto file = pipeline::sheet_file(tune, written, stem, instrument, wish.compressed);
    if (!file.value) return {std::nullopt, std::move(file.diagnostics)};
    return {File{std::move(file.value->name), std::move(file.value->bytes)}, {}};
}

}  // namespace

Tune::Tune(std::shared_ptr<const Inside> inside) : inside_(std::move(inside)) {}
const std::string& Tune::title() const {
    return inside_->tune.title;
}
const std::string& Tune::composer() const {
    return inside_->tune.composer;
}
std::string Tune::key() const {
    return theory::to_string(inside_->tune.key);
}

int Tune::bars() const {
    int count = 0;
    for (const auto& played : tune::one_chorus(inside_->tune)) {
        const auto& section = inside_->tune.sections[static_cast<std::size_t>(played.section)];
        count += section.bars[static_cast<std::size_t>(played.bar)].number > 0 ? 1 : 0;
    }
    return count;
}

std::vector<std::string> Tune::plans() const {
    std::vector<std::string> names;
    for (const auto& plan : inside_->tune.plans) names.push_back(plan.name);
    return names;
}

Outcome<Tune> read_tune(const Text& text, const Limits& limits) {
    return with_source<Tune>(text, limits, [&](const text::Source& source) -> Outcome<Tune> {
        auto read = pipeline::read_tune(source, limits);
        if (!read.value) return {std::nullopt, std::move(read.diagnostics)};
        return {wrap(std::move(*read.value)), std::move(read.diagnostics)};
    });
}

std::string to_text(const Tune& tune) {
    return tune::write_tune(tune.inside().tune);
}

Outcome<std::string> tidy(const Text& text, const Limits& limits) {
    return with_source<std::string>(
        text, limits, [&](const text::Source& source) { return pipeline::tidy(source, "", limits); });
}

Tune transpose(const Tune& tune, Interval by) {
    return wrap(tune::transpose(tune.inside().tune, theory::Interval{by.fifths, by.octaves}));
}

Analysis analyse(const Tune& tune) {
    const auto inner = analysis::analyse(tune.inside().tune);
    Analysis outer;
    if (inner.given) outer.given_key = theory::to_string(*inner.given);
    outer.estimated_key = theory::to_string(inner.estimated);
    for (const auto& fact : inner.chords) {
        outer.chords.push_back({tune::place_of(tune.inside().tune, fact.ref),
                                theory::to_string(tune::chord_at(tune.inside().tune, fact.ref).chord),
                                theory::to_string(fact.local_key), fact.numeral,
                                std::string(analysis::to_string(fact.function)), fact.target,
                                fact.relation == analysis::Relation::prepares, fact.colours_earlier});
    }
    return outer;
}

Rules::Rules(std::shared_ptr<const Inside> inside) : inside_(std::move(inside)) {}

std::vector<std::string> Rules::names() const {
    std::vector<std::string> names;
    for (const auto& rule : inside_->rules.rules) names.push_back(rule.name);
    return names;
}

Rules built_in_rules() {
    return wrap(rules::built_in_rules());
}

Outcome<Rules> read_rules(const Text& text, const Rules& base, const Limits& limits) {
    return with_source<Rules>(text, limits, [&](const text::Source& source) -> Outcome<Rules> {
        auto read = rules::read_rules(source, base.inside().rules, limits);
        if (!read.value) return {std::nullopt, std::move(read.diagnostics)};
        return {wrap(std::move(*read.value)), std::move(read.diagnostics)};
    });
}

Outcome<Choices> reharmonise(const Tune& tune, const Rules& rules, const Wish& wish) {
    auto inner = inner_wish(wish);
    if (!inner.value) return {std::nullopt, std::move(inner.diagnostics)};
    const auto& written = tune.inside().tune;
    auto choices =
        reharm::reharmonise(written, analysis::analyse(written), rules.inside().rules, *inner.value);
    if (!choices.value) return {std::nullopt, std::move(choices.diagnostics)};
    Choices outer{{}, reharm::to_string(choices.value->report)};
    for (const auto& version : choices.value->versions) {
        outer.versions.push_back(outer_version(version, tune));
    }
    return {std::move(outer), std::move(choices.diagnostics)};
}

Outcome<File> sheet(const Tune& tune, const std::string& stem, const SheetWish& wish) {
    return make_sheet(tune.inside().tune, nullptr, stem, wish);
}

Outcome<File> sheet(const Version& version, const std::string& stem, const SheetWish& wish) {
    return make_sheet(version.tune.inside().tune, &version.written.inside().tune, stem, wish);
}

std::string_view version() {
    return RELEAD_VERSION;
}

}  // namespace relead
