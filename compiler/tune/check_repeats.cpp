#include <algorithm>

#include "base/fmt.h"
#include "tune/check.h"
#include "tune/passages.h"
#include "tune/spot.h"
#include "tune/unfold.h"

namespace relead::tune {
namespace {

std::string ordinal(int number) {
    static constexpr const char* words[] = {"",      "first", "second",  "third",  "fourth",
                                            "fifth", "sixth", "seventh", "eighth", "ninth"};
    if (number > 0 && number < static_cast<int>(std::size(words))) return words[number];
    return std::to_string(number) + "th";
}

std::string ending_sign(const std::vector<int>& passes) {
    std::string text = "[";
    for (std::size_t i = 0; i < passes.size(); ++i)
        text += (i > 0 ? "," : "") + (passes[i] == 0 ? "last" : std::to_string(passes[i]));
    return text;
}

/// `passes` with one more, ascending, `last` at the end.
std::vector<int> with_pass(std::vector<int> passes, int pass) {
    const auto at =
        std::find_if(passes.begin(), passes.end(), [pass](int other) { return other == 0 || other > pass; });
    passes.insert(at, pass);
    return passes;
}

class SectionCheck {
public:
    SectionCheck(const Section& section, int playings, bool last_reached, text::Sink& sink)
        : section_(section), playings_(playings), last_reached_(last_reached), sink_(sink) {}

    void run() {
        const auto found = passages(section_);
        for (std::size_t i = 0; i < found.size(); ++i) {
            check_signs(found[i], i + 1 < found.size() ? &found[i + 1] : nullptr, i == 0);
            if (!found[i].endings.empty()) check_endings(found[i]);
        }
    }

private:
    [[nodiscard]] const Bar& bar(int index) const { return section_.bars[static_cast<std::size_t>(index)]; }
    [[nodiscard]] Place place(int index) const {
        return Spot{section_.name, bar(index).number, {}, 0}.place();
    }
    [[nodiscard]] std::string name(int index) const {
        return section_.name + ':' + std::to_string(bar(index).number);
    }

    void check_signs(const Passage& passage, const Passage* next, bool first) {
        if (passage.opened && !passage.closed) {
            const bool nested = next != nullptr && next->opened && passage.endings.empty();
            const int at = nested ? next->first : passage.first;
            sink_
                .emit(nested ? text::Code::repeat_nested : text::Code::repeat_without_end, bar(at).span,
                      nested ? fmt::format(
                                   "A repeat begins at {} inside the one that begins at {}; repeats cannot "
                                   "stand inside each other.",
                                   name(at), name(passage.first))
                             : fmt::format("The repeat that begins at {} is never closed with :|.", name(at)))
                .at(place(at));
        }
        if (passage.closed && !passage.opened && !first) {
            const int at = closing_bar(passage);
            sink_
                .emit(text::Code::repeat_without_start, bar(at).repeat_span,
                      fmt::format("The repeat that ends at {} has no |: to go back to.", name(at)))
                .at(place(at));
        }
    }

    [[nodiscard]] int closing_bar(const Passage& passage) const {
        const int end = passage.endings.empty() ? passage.last : passage.endings.back().last;
        for (int i = passage.first; i < end; ++i)
            if (bar(i).repeat_ends > 0) return i;
        return passage.first;
    }

    void check_endings(const Passage& passage) {
        check_doubles(passage);
        if (passage.repeated)
            check_passes(passage);
        else if (playings_ > 0)
            check_playings(passage);
    }

    void check_doubles(const Passage& passage) {
        std::vector<int> seen;
        for (const auto& ending : passage.endings)
            for (const int pass : ending.passes) {
                if (std::find(seen.begin(), seen.end(), pass) == seen.end()) {
                    seen.push_back(pass);
                    continue;
                }
                const auto which = pass == 0 ? std::string("last") : ordinal(pass);
                sink_
                    .emit(text::Code::ending_twice, bar(ending.first).ending_span,
                          fmt::format("Two endings of {} are for the {} time.", section_.name, which))
                    .at(place(ending.first));
            }
    }

    [[nodiscard]] static bool is_for(const Passage& passage, int pass, bool final_one) {
        return std::any_of(passage.endings.begin(), passage.endings.end(), [&](const Ending& ending) {
            return ending.takes(pass) || (final_one && ending.takes_last());
        });
    }

    void report_missing(const Passage& passage, int pass, std::string sentence) {
        const Ending* nearest = &passage.endings.front();
        for (const auto& ending : passage.endings)
            if (!ending.takes_last()) nearest = &ending;
        const auto& span = bar(nearest->first).ending_span;
        const auto sign = ending_sign(with_pass(nearest->passes, pass));
        sink_.emit(text::Code::ending_missing, span, std::move(sentence))
            .at(place(nearest->first))
            .fix(span, sign, fmt::format("Take this ending the {} time too: {}", ordinal(pass), sign));
    }

    /// Endings inside a repeat: one for every pass, all but the last go back.
    void check_passes(const Passage& passage) {
        for (int pass = 1; pass <= passage.times; ++pass)
            if (!is_for(passage, pass, pass == passage.times))
                report_missing(
                    passage, pass,
                    fmt::format("The repeat in {} is played {} times, but no ending is for the {}.",
                                section_.name, passage.times, ordinal(pass)));
        if (!passage.closed || passage.endings.size() < 2) return;
        for (const auto& ending : passage.endings) {
            const bool final_one = ending.takes(passage.times) || ending.takes_last();
            const bool goes_back = bar(ending.last - 1).repeat_ends > 0;
            if (!final_one && !goes_back)
                sink_
                    .emit(text::Code::ending_not_repeated, bar(ending.first).ending_span,
                          fmt::format("The ending at {} does not go back to the repeat; close it with :|.",
                                      name(ending.first)))
                    .at(place(ending.first));
            if (final_one && goes_back)
                sink_
                    .emit(text::Code::ending_missing, bar(ending.last - 1).repeat_span,
                          fmt::format(
                              "The last ending at {} goes back once more, but no ending is for the {} time.",
                              name(ending.first), ordinal(passage.times + 1)))
                    .at(place(ending.last - 1));
        }
    }

    /// Endings without a repeat: one for every playing of the section.
    void check_playings(const Passage& passage) {
        for (int playing = 1; playing <= playings_; ++playing)
            if (!is_for(passage, playing, playing == playings_))
                report_missing(passage, playing,
                               fmt::format("{} is played {} times, but no ending is for the {}.",
                                           section_.name, playings_, ordinal(playing)));
        for (const auto& ending : passage.endings) {
            const auto& span = bar(ending.first).ending_span;
            const bool comes = std::any_of(ending.passes.begin(), ending.passes.end(), [this](int pass) {
                return pass <= playings_;  // `last` is 0
            });
            if (!comes)
                sink_
                    .emit(text::Code::ending_never_played, span,
                          fmt::format("The ending at {} is for the {} time, but {} is played {} only.",
                                      name(ending.first), ordinal(ending.passes.front()), section_.name,
                                      playings_ == 1 ? "once" : fmt::format("{} times", playings_)))
                    .at(place(ending.first));
            else if (ending.passes == std::vector<int>{0} && !last_reached_)
                sink_
                    .emit(text::Code::last_ending_never_played, span,
                          fmt::format(
                              "The last ending at {} is never played; say `last` in the running line, as in "
                              "Head last.",
                              name(ending.first)))
                    .at(place(ending.first));
        }
    }

    const Section& section_;
    int playings_;
    bool last_reached_;
    text::Sink& sink_;
};

/// How often each section is played in a plain chorus.
std::vector<int> count_playings(const Tune& tune, const Limits& limits) {
    std::vector<int> counts(tune.sections.size(), 0);
    for (const auto& played : one_chorus(tune, limits)) {
        auto& count = counts[static_cast<std::size_t>(played.section)];
        count = std::max(count, played.playing + 1);
    }
    return counts;
}

/// A `last` ending is played in a last chorus, or in every chorus where no numbered ending is for the
/// final playing.
bool reaches_last(const Tune& tune, int section, int playings) {
    const auto& running = tune.order.running;
    if (running.empty() ||
        std::any_of(running.begin(), running.end(), [](const RunningItem& item) { return item.last; }))
        return true;
    for (const auto& passage : passages(tune.sections[static_cast<std::size_t>(section)]))
        for (const auto& ending : passage.endings)
            if (ending.takes(playings)) return false;
    return true;
}

}  // namespace

void check_repeats(const Tune& tune, const Limits& limits, text::Sink& sink) {
    const auto playings = count_playings(tune, limits);
    for (std::size_t i = 0; i < tune.sections.size(); ++i)
        SectionCheck(tune.sections[i], playings[i], reaches_last(tune, static_cast<int>(i), playings[i]),
                     sink)
            .run();
}

}  // namespace relead::tune
