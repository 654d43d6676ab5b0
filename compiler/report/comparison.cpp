#include "report/comparison.h"

#include <algorithm>
#include <cstddef>
#include <set>
#include <utility>

#include "arrange/band_bars.h"
#include "arrange/lead_sheet.h"
#include "base/fmt.h"
#include "report/change_table.h"
#include "report/form_notes.h"
#include "report/row_line.h"
#include "report/row_threads.h"
#include "text/render.h"

namespace relead::report {

namespace {

const tune::Bar& bar_of(const tune::Tune& tune, const LineBar& at) {
    return tune.sections[static_cast<std::size_t>(at.section)].bars[static_cast<std::size_t>(at.bar)];
}

std::string ending_text(const std::vector<int>& numbers) {
    std::string text;
    for (const int number : numbers) {
        if (!text.empty()) text += ',';
        text += number == 0 ? "last" : std::to_string(number);
    }
    return text;
}

/// The time of a change from the start of its section, [first, second).
std::pair<Time, Time> span_of(const tune::Tune& version, const reharm::Change& change) {
    const auto& section = version.sections[static_cast<std::size_t>(change.first.section)];
    const auto& meter = section.bars[static_cast<std::size_t>(change.first.bar)].meter;
    const Beats beat = change.place.beat > Beats(0) ? change.place.beat - Beats(1) : Beats(0);
    const Time start = start_in_section(section, change.first.bar) + beat * meter.beat_length();
    Time end = start;
    for (const auto& beats : change.new_beats) end += beats * meter.beat_length();
    return {start, end};
}

MelodyCount melody_count(const reharm::Version& version) {
    MelodyCount count;
    for (const auto& change : version.changes) {
        if (!change.melody.known) ++count.unchecked;
        for (const auto& note : change.melody.notes) {
            switch (note.fit) {
                case reharm::NoteFit::chord_tone:
                    ++count.chord_tones;
                    break;
                case reharm::NoteFit::tension:
                    ++count.tensions;
                    break;
                case reharm::NoteFit::passing:
                    ++count.passing;
                    break;
                case reharm::NoteFit::clash:
                    ++(note.clashed_before ? count.old_clashes : count.clashes);
                    break;
            }
        }
    }
    return count;
}

class Comparing {
public:
    explicit Comparing(const tune::Tune& written)
        : written_(written), line_(row_line(written, written)), soloist_(soloist_line(written)) {
        head();
        for (const auto& bar : line_.bars) result_.bars.push_back(bare_bar(bar));
        ComparedRow row;
        row.name = "written";
        if (written.stamp) row.stamp = arrange::stamp_text(*written.stamp);
        result_.rows.push_back(std::move(row));
        lay(line_, nullptr, written_);
    }

    void add(const OtherRow& other) {
        const auto& tune = other.version != nullptr ? other.version->tune : *other.tune;
        const auto line = row_line(tune, written_);
        ComparedRow row;
        row.name = other.name;
        row.soloist = line.soloist;
        if (tune.stamp) row.stamp = arrange::stamp_text(*tune.stamp);
        if (other.version != nullptr) describe(*other.version, line, row);
        if (other.search != nullptr) row.search = search_words(*other.search);
        result_.rows.push_back(std::move(row));
        if (other.version == nullptr) {
            for (auto& note : form_notes(written_, line_, tune, line, other.name))
                result_.notes.push_back(std::move(note));
        }
        lay(line, other.version, tune);
    }

    Comparison take() { return std::move(result_); }

private:
    void head() {
        result_.title = written_.title;
        result_.composer = written_.composer;
        result_.key = written_.open_key ? "open" : theory::to_string(written_.key);
        result_.meter = fmt::format("{}/{}", written_.meter.beats, written_.meter.unit);
        result_.beats_per_minute = written_.tempo.beats_per_minute;
        result_.feel = written_.tempo.feel;
    }

    [[nodiscard]] ComparedBar bare_bar(const LineBar& at) {
        const auto& bar = bar_of(written_, at);
        ComparedBar compared;
        compared.section = written_.sections[static_cast<std::size_t>(at.section)].name;
        compared.playing = at.playing + 1;
        compared.number = bar.number;
        const auto* before = at.start > Time(0) ? &result_.bars.back() : nullptr;
        compared.section_begins =
            before == nullptr || before->section != compared.section || before->playing != compared.playing;
        compared.ending = ending_text(bar.ending_begins);
        compared.new_tempo = new_tempo(at);
        compared.start = at.start;
        compared.length = at.length;
        compared.beats = bar.meter.beats;
        compared.unit = bar.meter.unit;
        return compared;
    }

    /// Pickups count as bars of their section here: what is printed over them is what starts with them.
    std::string new_tempo(const LineBar& at) {
        const auto tempo = arrange::tempo_in(written_.sections[static_cast<std::size_t>(at.section)], at.bar);
        const auto before = std::exchange(tempo_, tempo);
        if (!before || (before->beats_per_minute == tempo.beats_per_minute && before->feel == tempo.feel))
            return "";
        return tempo.feel.empty() ? fmt::format("{}", tempo.beats_per_minute)
                                  : fmt::format("{} {}", tempo.beats_per_minute, tempo.feel);
    }

    void describe(const reharm::Version& version, const RowLine& line, ComparedRow& row) {
        row.idea = version.idea;
        row.changes = change_table(version);
        row.melody = melody_count(version);
        for (std::size_t i = 0; i < version.changes.size(); ++i) {
            const auto& change = version.changes[i];
            row.highest_outside = std::max(row.highest_outside, change.outside);
            const auto played = std::find_if(line.bars.begin(), line.bars.end(), [&](const LineBar& bar) {
                return bar.section == change.first.section && bar.bar == change.first.bar;
            });
            if (played == line.bars.end()) {
                result_.notes.push_back(fmt::format(
                    "{} also changes {} ({} for {}), which only the last chorus plays.", row.name,
                    row.changes[i].place, row.changes[i].new_changes, row.changes[i].old_changes));
                continue;
            }
            const auto index = static_cast<std::size_t>(played - line.bars.begin());
            if (index < result_.bars.size()) row.changes[i].place = written_place(version, change, index);
        }
    }

    /// The address in the written tune; a version may have split its sections.
    [[nodiscard]] std::string written_place(const reharm::Version& version, const reharm::Change& change,
                                            std::size_t index) const {
        const auto& bar = result_.bars[index];
        auto place = change.place;
        place.section = bar.section;
        place.bar = bar.number;
        const auto text = text::to_string(place);
        const auto& split = version.tune.sections[static_cast<std::size_t>(change.first.section)].name;
        return split == bar.section ? text : fmt::format("{} (time {})", text, bar.playing);
    }

    /// The chords of a line into the bars, as its next row.
    void lay(const RowLine& line, const reharm::Version* version, const tune::Tune& tune) {
        const Time shift = line_.pickup - line.pickup;
        const auto row = result_.rows.size() - 1;
        const RowThreads threads(tune, line.soloist);
        result_.rows[row].guide_line = threads.counts();
        for (auto& bar : result_.bars) {
            auto& chords = bar.rows.emplace_back();
            for (const auto& chord : line.chords) {
                const Time from = std::max(chord.start + shift, bar.start);
                const Time to = std::min(chord.end() + shift, bar.start + bar.length);
                if (to <= from) continue;
                chords.push_back(compared(chord, from - bar.start, to - from));
                auto& last = chords.back();
                last.guide_tones = threads.tones_of(chord.ref);
                if (from == chord.start + shift) last.push = chord.push;
                last.changed = row > 0 && differs(line, last.chord, from, to);
                if (last.changed && version != nullptr) last.change = change_at(*version, tune, chord);
            }
            const bool any =
                std::any_of(chords.begin(), chords.end(), [](const auto& c) { return c.changed; });
            result_.rows[row].bars_changed += any ? 1 : 0;
        }
        lead_threads(result_, row);
    }

    static ComparedChord compared(const LineChord& chord, Time at, Time length) {
        ComparedChord compared;
        compared.at = at;
        compared.length = length;
        compared.chord = chord.chord;
        compared.symbol = theory::to_string(chord.chord);
        return compared;
    }

    /// Somewhere in [from, to) the written row sounds otherwise than a chord of `line`, or is silent.
    [[nodiscard]] bool differs(const RowLine& line, const theory::Chord& chord, Time from, Time to) const {
        const auto& written = line.soloist ? soloist_ : line_;
        Time covered = from;
        for (const auto& before : written.chords) {
            if (before.end() <= from || before.start >= to) continue;
            if (before.start > covered || !sounds_alike(before.chord, chord, line.soloist)) return true;
            covered = before.end();
        }
        return covered < to;
    }

    static int change_at(const reharm::Version& version, const tune::Tune& tune, const LineChord& chord) {
        for (std::size_t i = 0; i < version.changes.size(); ++i) {
            const auto& change = version.changes[i];
            if (change.first.section != chord.ref.section) continue;
            const auto [start, end] = span_of(tune, change);
            if (chord.in_section >= start && chord.in_section < end) return static_cast<int>(i);
        }
        return -1;
    }

    const tune::Tune& written_;
    RowLine line_;
    RowLine soloist_;                   ///< what the tune itself writes for the soloist
    std::optional<tune::Tempo> tempo_;  ///< of the last bar
    Comparison result_;
};

}  // namespace

bool sounds_alike(const theory::Chord& a, const theory::Chord& b, bool any_bass) {
    if (a.is_none() || b.is_none()) return a.is_none() && b.is_none();
    if (any_bass && (a.bass || b.bass)) {
        auto upper_a = a, upper_b = b;
        upper_a.bass = upper_b.bass = std::nullopt;
        return sounds_alike(upper_a, upper_b);
    }
    return theory::pitch_class(a.root) == theory::pitch_class(b.root) &&
           theory::pitch_class(theory::bass_of(a)) == theory::pitch_class(theory::bass_of(b)) &&
           theory::pitch_class_set(a) == theory::pitch_class_set(b);
}

Comparison compare(const tune::Tune& written, const std::vector<OtherRow>& others) {
    Comparing comparing(written);
    for (const auto& other : others) comparing.add(other);
    return comparing.take();
}

}  // namespace relead::report
