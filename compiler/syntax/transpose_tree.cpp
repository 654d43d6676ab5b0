#include "syntax/transpose_tree.h"

#include <algorithm>
#include <cstdlib>

#include "theory/chord.h"

namespace relead::syntax {
namespace {

using theory::Interval;
using theory::Key;

constexpr Interval diminished_second{-12, 7};  // no sound, one letter up

/// Moves what stands under one key. The interval differs from the tune's by an enharmonic change where
/// the key was given its easier name.
class Mover {
public:
    Mover(Interval by, Spelling spelling) : by_(by), spelling_(spelling), strict_(by), home_by_(by) {}

    void read_home(std::optional<KeyLine>& line) {
        if (line) read(*line, true);
        home_ = key_;
        home_by_ = by_;
    }
    void back_home() {
        key_ = home_;
        by_ = home_by_;
    }
    void read(KeyLine& line, bool stated) {
        if (!line.key) {
            key_.reset();
            return;
        }
        const Key strict = theory::transpose(*line.key, strict_);
        line.key = spelling_ == Spelling::strict ? strict : theory::practical_key(strict, stated);
        key_ = line.key;
        const int turns = (strict.tonic - line.key->tonic) / 12;
        by_ = strict_;
        for (int i = 0; i < std::abs(turns); ++i)
            by_ = turns > 0 ? by_ + diminished_second : by_ - diminished_second;
    }

    void move(ChordWord& word) const {
        if (word.kind != ChordWord::Kind::chord) return;
        const auto reading = theory::parse_chord(word.symbol);
        if (!reading.chord || reading.chord->is_none()) return;
        auto chord = theory::transpose(*reading.chord, by_);
        if (spelling_ == Spelling::practical && key_) chord = theory::practical_spelling(chord, *key_);
        word.symbol = theory::to_string(chord);
    }

    void move(theory::Pitch& pitch) const {
        pitch = pitch + by_;
        if (spelling_ == Spelling::strict) return;
        const auto name = theory::name_of(pitch);
        if (std::abs(theory::alteration(name)) < 2) return;
        // Six names on either side of the center have one accidental at most when it lies from B♭ to F♯.
        const theory::NoteName center{std::clamp(key_ ? key_->tonic.fifths : 0, -2, 6)};
        const int turns = (theory::respell_near(name, center) - name) / 12;
        for (int i = 0; i < std::abs(turns); ++i)
            pitch = turns < 0 ? pitch + diminished_second : pitch - diminished_second;
    }

    void move(Cell& cell) const {
        for (auto& word : cell.chords) move(word);
        for (auto& note : cell.notes) {
            if (note.kind == NoteWord::Kind::pitch) move(note.pitch);
            for (auto& grace : note.grace) move(grace.pitch);
        }
    }

private:
    Interval by_;
    Spelling spelling_;
    Interval strict_;
    std::optional<Key> key_, home_;
    Interval home_by_;
};

}  // namespace

TuneTree transpose(const TuneTree& tree, theory::Interval by, Spelling spelling) {
    TuneTree moved = tree;
    Mover mover(by, spelling);
    mover.read_home(moved.header.key);
    for (auto& section : moved.sections) {
        mover.back_home();
        for (auto& group : section.groups) {
            if (group.key) mover.read(*group.key, false);
            for (auto& row : group.rows) {
                if (row.pickup) mover.move(*row.pickup);
                for (auto& cell : row.cells) mover.move(cell);
            }
        }
    }
    return moved;
}

}  // namespace relead::syntax
