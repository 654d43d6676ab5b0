#include "arrange/accidentals.h"

#include <array>
#include <map>
#include <set>
#include <utility>

namespace relead::arrange {

namespace {

using score::Element;
using score::Head;

std::vector<Element>* first_voice(score::Measure& measure) {
    return measure.voices.empty() ? nullptr : &measure.voices.front().elements;
}

bool same_sound(theory::Pitch a, theory::Pitch b) {
    return theory::midi_number(a) == theory::midi_number(b);
}

/// Ties of one kind of note end on that kind: a slash is no note.
void join(Element& from, Element* to) {
    for (auto& head : from.heads) {
        if (!head.tie_begins) continue;
        Head* partner = nullptr;
        if (to != nullptr && to->is_note() && to->notehead == from.notehead) {
            for (auto& other : to->heads) {
                if (same_sound(other.pitch, head.pitch)) partner = &other;
            }
        }
        head.tie_begins = partner != nullptr;
        if (partner == nullptr) continue;
        partner->tie_ends = true;
        partner->pitch = head.pitch;  // both ends of a tie carry one name
        if (from.stem != score::Stem::none && to->stem == score::Stem::none)
            to->stem = score::Stem::automatic;
    }
}

/// What the signature does to a letter (0 = C): sharps come in the order F C G D A E B, flats the other
/// way round; signatures have at most seven.
int altered_by(int fifths, int letter) {
    static constexpr std::array<int, 7> place_of{1, 3, 5, 0, 2, 4, 6};  // in the order of sharps
    const int place = place_of[static_cast<std::size_t>(letter)];
    if (fifths > 0) return place < fifths ? 1 : 0;
    return 6 - place < -fifths ? -1 : 0;
}

/// Of one staff.
class Accidentals {
public:
    explicit Accidentals(int staff) : staff_(staff) {}
    void measure(score::Measure& measure) {
        if (measure.key) fifths_ = measure.key->fifths;
        before_ = std::exchange(changed_, {});
        state_.clear();
        for (auto& voice : measure.voices) {
            if (voice.staff != staff_) continue;
            for (auto& element : voice.elements) {
                if (element.notehead == score::Notehead::slash) continue;
                for (auto& head : element.heads) set(head);
            }
        }
    }

private:
    void set(Head& head) {
        const auto name = theory::name_of(head.pitch);
        const int letter = theory::letter_index(name);
        const int alteration = theory::alteration(name);
        const int signature = altered_by(fifths_, letter);
        if (alteration != signature) changed_.insert(letter);
        if (head.tie_ends) return;
        const auto place = std::pair(letter, theory::octave_of(head.pitch));
        const auto found = state_.find(place);
        const int expected = found == state_.end() ? signature : found->second;
        if (alteration != expected) {
            head.accidental = sign(alteration);
        } else if (found == state_.end() && needs_reminder(letter)) {
            head.accidental = sign(alteration);
            head.courtesy = true;
        }
        state_[place] = alteration;
    }
    /// The letter was altered in the bar before, or in another octave of this one.
    [[nodiscard]] bool needs_reminder(int letter) const {
        return before_.count(letter) > 0 || changed_.count(letter) > 0;
    }
    static score::Accidental sign(int alteration) { return static_cast<score::Accidental>(alteration + 2); }

    int staff_ = 1;
    int fifths_ = 0;
    std::set<int> before_, changed_;
    std::map<std::pair<int, int>, int> state_;
};

}  // namespace

void join_ties(std::vector<score::Measure>& measures, const std::function<bool(std::size_t)>& follows) {
    Element* pending = nullptr;
    for (std::size_t i = 0; i < measures.size(); ++i) {
        auto* elements = first_voice(measures[i]);
        if (elements == nullptr) continue;
        if (pending != nullptr && (i == 0 || !follows(i - 1))) {
            join(*pending, nullptr);
            pending = nullptr;
        }
        for (auto& element : *elements) {
            if (element.grace) continue;
            if (pending != nullptr) join(*pending, &element);
            pending = &element;
        }
    }
    if (pending != nullptr) join(*pending, nullptr);
}

void set_accidentals(std::vector<score::Measure>& measures) {
    for (const int staff : {1, 2}) {
        Accidentals accidentals(staff);
        for (auto& measure : measures) accidentals.measure(measure);
    }
}

}  // namespace relead::arrange
