#include "tune/lower.h"

#include <algorithm>
#include <cctype>

#include "base/fmt.h"
#include "syntax/parse_tune.h"
#include "text/diagnose.h"
#include "tune/check.h"
#include "tune/lower_plan.h"
#include "tune/lower_section.h"
#include "tune/spot.h"
#include "tune/stamp.h"

namespace relead::tune {
namespace {

class Lowering {
public:
    Lowering(const syntax::TuneTree& tree, const Limits& limits, Reported reported, KeyEstimate estimate,
             text::Sink& sink)
        : tree_(tree), limits_(limits), reported_(std::move(reported)), estimate_(estimate), sink_(sink) {
        tune_.span = tree.span;
    }

    std::optional<Tune> run() {
        read_header();
        read_sections();
        if (std::none_of(tune_.sections.begin(), tune_.sections.end(),
                         [](const Section& section) { return !section.bars.empty(); })) {
            // Where a section lost lines, these are what is wrong.
            const bool lost = !tree_.sections.empty() && !reported_.empty();
            if (!lost) sink_.emit(text::Code::tune_empty, tree_.span, "The tune has no bars.");
            return std::nullopt;
        }
        read_order();
        settle_key();
        for (const auto& plan : tree_.plans) tune_.plans.push_back(lower_plan(plan));
        check_repeats(tune_, limits_, sink_);
        check_order(tune_, limits_, sink_);
        check_melody(tune_, sink_);
        check_plans(tune_, sink_);
        return std::move(tune_);
    }

private:
    void read_header() {
        const auto& header = tree_.header;
        const auto text_of = [](const std::optional<syntax::TextLine>& line) {
            return line ? line->text.text : std::string();
        };
        tune_.title = text_of(header.tune);
        tune_.composer = text_of(header.by);
        tune_.lyricist = text_of(header.words);
        tune_.rights = text_of(header.rights);
        tune_.note = text_of(header.note);
        if (header.key) {
            tune_.given_key = header.key->key;
            tune_.open_key = !header.key->key;
            tune_.key = header.key->key.value_or(theory::Key{});
        }
        if (header.meter)
            tune_.meter = lower_meter(*header.meter);
        else if (!header.has_meter)
            remark_missing(text::Code::no_meter, "No meter is given; 4/4 is taken.", "meter 4/4");
        tune_.has_tempo = header.tempo.has_value();
        if (header.tempo)
            tune_.tempo = lower_tempo(*header.tempo);
        else if (!header.has_tempo)
            remark_missing(text::Code::no_tempo, "No tempo is given; 120 beats a minute are taken.",
                           "tempo 120");
        tune_.stamp = find_stamp(tree_.top);
    }

    /// A remark at the head of the tune, with the line to add below it as the fix. Not for a line that stands
    /// there and could not be read: that was said.
    void remark_missing(text::Code code, std::string sentence, std::string_view line) {
        const auto& title = tree_.header.tune;
        const Span head = title ? title->span : Span{tree_.span.source, tree_.span.begin, tree_.span.begin};
        auto note = sink_.emit(code, head, std::move(sentence));
        const Span below{head.source, head.end, head.end};
        if (title) note.fix(below, '\n' + std::string(line), fmt::format("Add the line {}", line));
    }

    void read_sections() {
        const Opening opening{tune_.key, tune_.open_key, tune_.meter, tune_.tempo};
        for (const auto& section : tree_.sections) {
            if (find_section(tune_, section.name.text))
                sink_.emit(text::Code::section_twice, section.name.span,
                           fmt::format("There are two sections {}; give one of them another name.",
                                       section.name.text));
            tune_.sections.push_back(lower_section(section, opening, reported_, sink_));
            if (tune_.sections.back().bars.empty() && !lost_lines(section))
                sink_.emit(text::Code::section_empty, section.name.span,
                           fmt::format("The section {} has no bars.", section.name.text));
        }
    }

    /// An error was reported between this section's line and the next one's.
    [[nodiscard]] bool lost_lines(const syntax::Section& section) const {
        const auto* next =
            &section + 1 < tree_.sections.data() + tree_.sections.size() ? &section + 1 : nullptr;
        return std::any_of(reported_.begin(), reported_.end(), [&](const Span& span) {
            return span.begin >= section.span.begin && (next == nullptr || span.begin < next->span.begin);
        });
    }

    /// The chords are heard against the key that the header gives. Neighbours of one sound pass: the same
    /// tonic in another mode, a mode with the signature that is heard. A few bars do not make a key.
    void compare_key() {
        constexpr int enough_bars = 8;
        std::size_t bars = 0;
        for (const auto& section : tune_.sections) bars += section.bars.size();
        // A version that Relead wrote is in the key of its tune, however far its chords lead.
        if (estimate_ == nullptr || !tune_.given_key || tune_.stamp || bars < enough_bars) return;
        if (sink_.has_errors()) return;
        const auto& given = *tune_.given_key;
        const auto heard = estimate_(tune_);
        const bool same_tonic = theory::pitch_class(given.tonic) == theory::pitch_class(heard.tonic);
        const bool same_scale =
            theory::is_modal(given) && (theory::signature(given) - theory::signature(heard)) % 12 == 0;
        if (same_tonic || same_scale) return;
        const auto name = theory::to_string(heard);
        sink_
            .emit(
                text::Code::key_heard_otherwise, tree_.header.key->span,
                fmt::format("The key is given as {}; the chords suggest {}.", theory::to_string(given), name))
            .fix(tree_.header.key->span, "key " + name, fmt::format("write key {}", name));
    }

    /// A missing key is estimated; sections that state none take it.
    void settle_key() {
        if (tree_.header.key) {
            compare_key();
            return;
        }
        if (estimate_ != nullptr) tune_.key = estimate_(tune_);
        for (std::size_t i = 0; i < tune_.sections.size(); ++i) {
            const auto& groups = tree_.sections[i].groups;
            if (groups.empty() || !groups.front().key) tune_.sections[i].key = tune_.key;
        }
        if (tree_.header.has_key) return;
        const auto name = theory::to_string(tune_.key);
        const auto found = estimate_ != nullptr ? fmt::format("the chords suggest {}", name)
                                                : fmt::format("{} is taken", name);
        remark_missing(text::Code::no_key, fmt::format("No key is given; {}.", found), "key " + name);
    }

    void read_order() {
        auto& order = tune_.order;
        order.by_signs = !tree_.header.form;
        if (tree_.header.running) order.running = lower_running(*tree_.header.running);
        if (tree_.header.form) {
            order.span = tree_.header.form->span;
            for (const auto& word : tree_.header.form->sections) add_to_form(word);
        }
        if (!order.form.empty()) return;
        order.by_signs = true;
        for (std::size_t i = 0; i < tune_.sections.size(); ++i) order.form.push_back(static_cast<int>(i));
    }

    void add_to_form(const syntax::Words& word) {
        if (const auto section = find_section(tune_, word.text)) {
            tune_.order.form.push_back(*section);
            return;
        }
        std::vector<std::string> names;
        for (const auto& section : tune_.sections) names.push_back(section.name);
        auto note =
            sink_.emit(text::Code::section_unknown, word.span,
                       fmt::format("The form plays a section {}, which the tune does not have.", word.text));
        if (const auto near = nearest_of(word.text, names); !near.empty())
            note.fix(word.span, near, fmt::format("Play {}", near));
    }

    const syntax::TuneTree& tree_;
    const Limits& limits_;
    Reported reported_;
    KeyEstimate estimate_;
    text::Sink& sink_;
    Tune tune_;
};

/// Line and column of everything that was said.
void locate(Diagnostics& diagnostics, const text::Source& source) {
    for (auto& diagnostic : diagnostics) {
        if (diagnostic.place.line > 0) continue;
        const auto [line, column] = source.locate(diagnostic.span.begin);
        diagnostic.place.line = line;
        diagnostic.place.column = column;
    }
}

}  // namespace

Outcome<Tune> read_tune(const text::Source& source, const Limits& limits, KeyEstimate estimate) {
    auto parsed = syntax::parse_tune(source, limits);
    Reported reported;
    for (const auto& diagnostic : parsed.diagnostics) {
        if (diagnostic.severity == Severity::error) reported.push_back(diagnostic.span);
        // Nobody knows what the bars should add up to.
        const bool no_meter = diagnostic.code == text::info(text::Code::meter_unreadable).slug;
        if (no_meter && parsed.value) reported.push_back(parsed.value->span);
    }
    text::Sink sink(limits);
    sink.append(std::move(parsed.diagnostics));
    Outcome<Tune> outcome;
    if (parsed.value)
        outcome.value = Lowering(*parsed.value, limits, std::move(reported), estimate, sink).run();
    outcome.diagnostics = sink.take();
    locate(outcome.diagnostics, source);
    return outcome;
}

}  // namespace relead::tune
