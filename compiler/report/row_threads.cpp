#include "report/row_threads.h"

#include <cstdlib>
#include <optional>
#include <string>
#include <vector>

#include "theory/guide_motion.h"

namespace relead::report {

namespace {

using theory::Chord;
using theory::Degree;
using theory::GuideTones;

std::array<Degree, 2> both(const GuideTones& tones) {
    return {tones.third, tones.seventh};
}

/// Where the two tones of a chord go: degrees of the next chord.
struct Way {
    GuideTones from;
    std::array<Degree, 2> to;
};

int way_length(const Chord& x, Degree from, const Chord& y, Degree to) {
    return theory::nearest_way(theory::pitch_class(theory::tone(x, from)),
                               theory::pitch_class(theory::tone(y, to)));
}

/// The pairing of least sum, then least maximum, with the next chord's tones as they are; on a tie the
/// roles change, then a triad's earlier choice wins: as theory::guide_motion.
std::optional<Way> shortest_way(const Chord& x, const Chord& y, const GuideTones& next) {
    std::optional<Way> best;
    std::array<int, 3> best_rank{};
    const auto offer = [&](const GuideTones& from, Degree third_to, Degree seventh_to, bool keeps_roles) {
        const int a = std::abs(way_length(x, from.third, y, third_to));
        const int b = std::abs(way_length(x, from.seventh, y, seventh_to));
        const std::array<int, 3> rank{a + b, std::max(a, b), keeps_roles ? 1 : 0};
        if (best && best_rank <= rank) return;
        best = Way{from, {third_to, seventh_to}};
        best_rank = rank;
    };
    for (const auto& from : theory::guide_tone_choices(x)) {
        offer(from, next.seventh, next.third, false);
        offer(from, next.third, next.seventh, true);
    }
    return best;
}

class Threads {
public:
    Threads(Comparison& comparison, std::size_t row, const reharm::Version* version)
        : counts_(comparison.rows[row].motion), version_(version) {
        for (auto& bar : comparison.bars) {
            for (auto& chord : bar.rows[row]) chords_.push_back(&chord);
        }
    }

    void set() {
        std::optional<GuideTones> next;
        for (auto i = chords_.size(); i-- > 0;) next = set_chord(i, next);
    }

private:
    std::optional<GuideTones> set_chord(std::size_t i, const std::optional<GuideTones>& next) {
        auto& compared = *chords_[i];
        const auto plain = theory::guide_tones(compared.chord);
        if (!plain) return std::nullopt;
        const Chord* following = i + 1 < chords_.size() ? &chords_[i + 1]->chord : nullptr;
        std::optional<Way> way;
        if (following != nullptr && next) {
            way = declared_way(i, *following);
            if (!way) way = shortest_way(compared.chord, *following, *next);
        }
        const auto own = way ? way->from : *plain;
        for (std::size_t tone = 0; tone < 2; ++tone) {
            auto& guide = compared.guide_tones.emplace_back(named(compared.chord, both(own)[tone]));
            if (way) lead(guide, compared.chord, both(own)[tone], *following, way->to[tone], *next);
        }
        if (way && !(compared.chord == *following)) count(compared.guide_tones);
        return own;
    }

    static GuideTone named(const Chord& chord, Degree degree) {
        const auto name = theory::tone(chord, degree);
        GuideTone guide;
        guide.name = theory::to_string(name, true);
        guide.pitch_class = theory::pitch_class(name);
        return guide;
    }

    static void lead(GuideTone& guide, const Chord& x, Degree from, const Chord& y, Degree to,
                     const GuideTones& next) {
        guide.semitones = way_length(x, from, y, to);
        guide.move = theory::to_string(theory::move_of(guide.semitones));
        guide.to = theory::to_string(theory::tone(y, to), true);
        guide.lands = to == next.third ? 0 : to == next.seventh ? 1 : -1;
    }

    /// The landings of the change that ends with chord `i`, where it is played into the chord for which they
    /// were worked out.
    [[nodiscard]] std::optional<Way> declared_way(std::size_t i, const Chord& following) const {
        const int change = chords_[i]->change;
        if (version_ == nullptr || change < 0 || chords_[i + 1]->change == change) return std::nullopt;
        const auto& made = version_->changes[static_cast<std::size_t>(change)];
        const auto& motions = made.new_motion;
        if (motions.size() != 2 || !(motions[0].declared || motions[1].declared)) return std::nullopt;
        if (!made.next || !(*made.next == following)) return std::nullopt;
        if (made.new_chords.empty() || !(made.new_chords.back() == chords_[i]->chord)) return std::nullopt;
        return Way{{motions[0].from_degree, motions[1].from_degree},
                   {motions[0].to_degree, motions[1].to_degree}};
    }

    void count(const std::vector<GuideTone>& tones) {
        for (const auto& tone : tones) {
            switch (theory::move_of(tone.semitones)) {
                case theory::Move::held:
                    ++counts_.held;
                    break;
                case theory::Move::step:
                    ++counts_.step;
                    break;
                case theory::Move::skip:
                    ++counts_.skip;
                    break;
                case theory::Move::leap:
                    ++counts_.leap;
                    break;
            }
        }
    }

    MotionCount& counts_;
    const reharm::Version* version_;
    std::vector<ComparedChord*> chords_;
};

}  // namespace

void set_threads(Comparison& comparison, std::size_t row, const reharm::Version* version) {
    Threads(comparison, row, version).set();
}

}  // namespace relead::report
