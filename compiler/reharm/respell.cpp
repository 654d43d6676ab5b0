#include "reharm/respell.h"

#include <sstream>

#include "rules/placement.h"

namespace relead::reharm {
namespace {

theory::Chord moved(const theory::Chord& chord, theory::NoteName to) {
    const int fifths = to - chord.root;
    return theory::transpose(chord, {fifths, -7 * fifths / 12});
}

/// A name that players read: between Gb and C#, and Cb only where the key has it.
bool is_read(theory::NoteName root, const theory::Key& key) {
    constexpr int g_flat = -6, c_sharp = 7;
    return (root.fifths >= g_flat && root.fifths <= c_sharp) || theory::is_diatonic(root, key);
}

/// The words of a sentence that are chords on `from`, on `to`; a bare note keeps its name.
std::string renamed(const std::string& sentence, theory::NoteName from, theory::NoteName to) {
    std::stringstream words(sentence);
    std::string text;
    for (std::string word; words >> word;) {
        const auto end = word.find_last_not_of(".,:;") + 1;
        const auto symbol = word.substr(0, end);
        const bool bare = symbol == theory::to_string(from) || symbol == theory::to_string(from, true);
        const auto read = bare ? std::nullopt : theory::parse_chord(symbol).chord;
        if (read && !read->is_none() && read->root == from)
            word = theory::to_string(moved(*read, to)) + word.substr(end);
        text += (text.empty() ? "" : " ") + word;
    }
    return text;
}

bool is_diminished(const theory::Chord& chord) {
    return theory::chord_class(chord) == theory::ChordClass::diminished;
}

class Speller {
public:
    Speller(const Situation& situation, std::vector<Judged>& version)
        : situation_(situation), version_(version), made_(rules::chart_with(situation.chart, placements())) {
        std::vector<std::size_t> done(version.size(), 0);
        for (const int owner : made_.placement_of) {
            const bool made = owner >= 0;
            const auto index = static_cast<std::size_t>(owner);
            auto* chord = made ? &version[index].placement.chords[done[index]++] : nullptr;
            chords_.push_back(chord && !chord->kept_from ? chord : nullptr);
        }
    }

    /// Chords take the name that leads on; where that is none to read, those behind take theirs from before.
    void run() {
        for (int i = made_.chart.size(); i-- > 0;) {
            const auto next = falls_to(i);
            if (next && !says_on(*next, i) && !goes_on_from_before(i)) rename(i, {name(*next).fifths + 1});
        }
        for (int i = 0; i < made_.chart.size(); ++i) {
            const auto next = falls_to(i);
            if (next && !says_on(*next, i) && can_take(*next, {name(i).fifths - 1}, 0))
                rename(*next, {name(i).fifths - 1});
        }
    }

private:
    std::vector<rules::Placement> placements() const {
        std::vector<rules::Placement> all;
        for (const auto& one : version_) all.push_back(one.placement);
        return all;
    }
    theory::NoteName name(int i) const { return made_.chart.at(i).chord.root; }
    /// The chord after this one, when this one falls a fifth to it.
    std::optional<int> falls_to(int i) const {
        const auto& spot = made_.chart.at(i);
        if (spot.next.size() != 1 || spot.chord.is_none()) return std::nullopt;
        const int next = spot.next.front();
        // A diminished chord is named after what it rises to.
        if (made_.chart.at(next).chord.is_none() || is_diminished(spot.chord) ||
            is_diminished(made_.chart.at(next).chord))
            return std::nullopt;
        constexpr int fifth = 7;
        const int falls = theory::semitones_up(name(next), name(i));
        return falls == fifth ? std::optional(next) : std::nullopt;
    }
    /// Their names say that the one falls a fifth to the other.
    bool says_on(int next, int i) const { return name(i) - name(next) == 1; }
    /// One chord that goes on keeps its name.
    bool goes_on_from_before(int i) const {
        const auto& before = made_.chart.at(i).previous;
        return before.size() == 1 && name(before.front()) == name(i);
    }
    bool may_be(int i, theory::NoteName to) const {
        return chords_[static_cast<std::size_t>(i)] && is_read(to, made_.chart.at(i).fact.local_key);
    }
    /// It, and whatever it falls a fifth to, can follow.
    bool can_take(int i, theory::NoteName to, int depth) const {
        constexpr int longest_chain = 12;
        if (!may_be(i, to) || depth > longest_chain) return false;
        const auto next = falls_to(i);
        return !next || can_take(*next, {to.fifths - 1}, depth + 1);
    }
    void rename(int i, theory::NoteName to) {
        auto* chord = chords_[static_cast<std::size_t>(i)];
        if (!may_be(i, to)) return;
        const auto before = chord->chord;
        chord->chord = moved(before, to);
        situation_.symbols.dress(chord->chord);
        made_.chart.spots[static_cast<std::size_t>(i)].put(chord->chord);
        auto& judged = version_[static_cast<std::size_t>(made_.placement_of[static_cast<std::size_t>(i)])];
        for (auto& applied : judged.placement.derivation) {
            for (auto* named : {&applied.old_chords, &applied.new_chords}) {
                for (auto& one : *named) {
                    if (one == before) one = chord->chord;
                }
            }
            for (auto* beside : {&applied.previous, &applied.next}) {
                if (*beside == before) *beside = chord->chord;
            }
        }
        auto& verdict = judged.verdict;
        for (auto* sentence : {&verdict.melody.sentence, &verdict.sounding})
            *sentence = renamed(*sentence, before.root, to);
    }

    const Situation& situation_;
    std::vector<Judged>& version_;
    rules::MadeChart made_;
    std::vector<rules::NewChord*> chords_;  ///< per spot: the new chord there, null for a written one
};

}  // namespace

void respell_together(const Situation& situation, std::vector<Judged>& version) {
    Speller(situation, version).run();
}

}  // namespace relead::reharm
