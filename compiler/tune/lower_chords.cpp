#include "tune/lower_chords.h"

#include <algorithm>
#include <optional>

#include "base/fmt.h"
#include "syntax/chord_word.h"
#include "tune/split.h"

namespace relead::tune {
namespace {

using Kind = syntax::ChordWord::Kind;
using Shares = std::optional<std::vector<Beats>>;

Push lower_push(syntax::Push push) {
    switch (push) {
        case syntax::Push::eighth_early:
            return Push::eighth_early;
        case syntax::Push::quarter_early:
            return Push::quarter_early;
        case syntax::Push::eighth_late:
            return Push::eighth_late;
        case syntax::Push::none:
            break;
    }
    return Push::none;
}

void report_leading_slash(const syntax::Cell& cell, const Spot& spot, text::Sink& sink) {
    sink.emit(
            text::Code::slash_without_chord, cell.chords.front().span,
            fmt::format("{} starts with /, which makes the chord before it one beat longer; write the chord.",
                        spot.name()))
        .at(spot.place(0));
}

class Splitter {
public:
    Splitter(const syntax::Cell& cell, const Spot& spot, text::Sink& sink)
        : cell_(cell), spot_(spot), sink_(sink), beats_(spot.meter.in_beats(spot.length)) {
        for (const auto& word : cell.chords) {
            if (word.kind == Kind::chord) chords_.push_back(&word);
            if (word.kind == Kind::slash) ++slashes_;
            if (word.beats) ++stated_;
        }
    }

    /// Beats of every chord; they always fill the bar.
    std::vector<Beats> shares() {
        auto shares = slashes_ > 0 ? by_slashes() : stated_ > 0 ? by_lengths() : evenly();
        if (shares) return *shares;
        return std::vector<Beats>(chords_.size(), beats_ / Beats(count()));
    }

private:
    [[nodiscard]] int count() const { return static_cast<int>(chords_.size()); }

    Shares evenly() {
        if (auto shares = share_evenly(beats_, count(), spot_.meter.groups)) return shares;
        report_unclear();
        return std::nullopt;
    }

    void report_unclear() {
        if (spot_.doubtful) return;
        const auto readings = possible_shares(spot_.meter, beats_, count());
        std::vector<std::string> written;
        for (const auto& shares : readings) written.push_back(write_shares(cell_.chords, shares));
        auto sentence = fmt::format("{} has {}, which do not split its {} evenly", spot_.name(),
                                    count_of(count(), "chord"), count_of(beats_, "beat"));
        sentence += written.empty() ? "; say how long each lasts, as in X*2."
                                    : "; say how long each lasts: " + listed(written, "or") + '.';
        auto note = sink_.emit(text::Code::chords_split_unclear, cell_.span, std::move(sentence));
        note.at(spot_.place());
        for (const auto& reading : written) note.fix(cell_.span, reading, "Read as " + reading);
    }

    Shares by_slashes() {
        if (stated_ > 0) {
            sink_
                .emit(text::Code::chords_mixed_lengths, cell_.span,
                      fmt::format("{} counts beats both with / and with *; use one of them.", spot_.name()))
                .at(spot_.place());
            return std::nullopt;
        }
        if (cell_.chords.front().kind == Kind::slash) {
            report_leading_slash(cell_, spot_, sink_);
            return std::nullopt;
        }
        std::vector<Beats> shares;
        for (const auto& word : cell_.chords)
            if (word.kind == Kind::slash)
                shares.back() += 1;
            else
                shares.emplace_back(1);
        return fits(Beats(static_cast<int>(cell_.chords.size()))) ? Shares(shares) : std::nullopt;
    }

    Shares by_lengths() {
        Beats stated = 0;
        for (const auto* word : chords_) stated += word->beats.value_or(0);
        const int open = count() - stated_;
        if (open == 0 || stated >= beats_) {
            if (!fits(stated + Beats(open))) return std::nullopt;
        }
        Shares rest = std::vector<Beats>();
        if (open > 0) rest = share_evenly(beats_ - stated, open, {});
        if (!rest) {
            report_unclear_rest(beats_ - stated, open);
            return std::nullopt;
        }
        std::vector<Beats> shares;
        std::size_t next = 0;
        for (const auto* word : chords_) shares.push_back(word->beats ? *word->beats : (*rest)[next++]);
        return shares;
    }

    void report_unclear_rest(Beats rest, int open) {
        if (spot_.doubtful) return;
        sink_
            .emit(text::Code::chords_split_unclear, cell_.span,
                  fmt::format("In {} {} are left for {}, which do not share them evenly; say how long each "
                              "lasts, as in X*2.",
                              spot_.name(), count_of(rest, "beat"), count_of(open, "chord")))
            .at(spot_.place());
    }

    /// True when the beats that the words count are those of the bar; otherwise says so.
    bool fits(Beats held) {
        if (held == beats_) return true;
        if (spot_.doubtful) return false;
        const bool over = held > beats_;
        auto note = sink_.emit(
            over ? text::Code::bar_overfull : text::Code::bar_underfull, over ? over_span() : cell_.span,
            fmt::format("{} holds {}, {} {}.", spot_.name(), count_of(held, "beat"),
                        spot_.bar == 0 ? "its melody" : "the meter asks for",
                        spot_.bar == 0 ? "has " + mixed_number(beats_) : mixed_number(beats_)));
        note.at(over ? spot_.place(beats_before_limit() * spot_.meter.beat_length()) : spot_.place());
        const auto missing = beats_ - held;
        if (slashes_ > 0 && !over && missing.is_whole()) {
            std::string slashes;
            for (int i = 0; i < missing.numerator(); ++i) slashes += " /";
            const Span end{cell_.span.source, cell_.span.end, cell_.span.end};
            note.fix(end, slashes, "Hold the last chord to the end of the bar");
        }
        return false;
    }

    /// The first word that does not end inside the bar; the number of words when all do.
    [[nodiscard]] std::size_t first_over() const {
        Beats now = 0;
        std::size_t at = 0;
        while (at < cell_.chords.size() && (now += cell_.chords[at].beats.value_or(1)) <= beats_) ++at;
        return at;
    }
    [[nodiscard]] Beats beats_before_limit() const {
        Beats now = 0;
        for (std::size_t i = 0; i < first_over(); ++i) now += cell_.chords[i].beats.value_or(1);
        return now;
    }
    [[nodiscard]] Span over_span() const {
        const auto at = first_over();
        if (at == cell_.chords.size()) return cell_.span;
        return {cell_.span.source, cell_.chords[at].span.begin, cell_.span.end};
    }

    const syntax::Cell& cell_;
    const Spot& spot_;
    text::Sink& sink_;
    Beats beats_;
    std::vector<const syntax::ChordWord*> chords_;
    int slashes_ = 0;
    int stated_ = 0;
};

}  // namespace

std::vector<ChordEvent> lower_chords(const syntax::Cell& cell, const Spot& spot, text::Sink& sink) {
    std::vector<ChordEvent> events;
    if (std::none_of(cell.chords.begin(), cell.chords.end(),
                     [](const auto& word) { return word.kind == Kind::chord; })) {
        if (!cell.chords.empty() && cell.chords.front().kind == Kind::slash)
            report_leading_slash(cell, spot, sink);
        return events;
    }
    const auto shares = Splitter(cell, spot, sink).shares();
    Time now = 0;
    for (const auto& word : cell.chords) {
        if (word.kind != Kind::chord) continue;
        ChordEvent event;
        event.at = now;
        event.length = shares[events.size()] * spot.meter.beat_length();
        event.push = lower_push(word.push);
        event.locked = word.locked;
        event.span = word.span;
        if (auto chord = syntax::read_chord(word, spot.place(now), sink)) event.chord = std::move(*chord);
        now += event.length;
        events.push_back(std::move(event));
    }
    return events;
}

Time pickup_length(const syntax::Cell& cell, const Meter& meter) {
    Beats beats = 0;
    for (const auto& word : cell.chords) beats += word.beats.value_or(1);
    return beats * meter.beat_length();
}

}  // namespace relead::tune
