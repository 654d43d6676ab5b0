// Which tones of a chord fill the roles of a voicing, and which colours it may take beyond its symbol.
#pragma once

#include <vector>

#include "voicing/comping.h"

namespace relead::voicing {

class Colours {
public:
    explicit Colours(const ChordToVoice& chord);

    /// The degrees that can stand for a role (1 3 5 7 9 11 13): none, one, or several (7alt: b9 and #9).
    [[nodiscard]] std::vector<theory::Degree> of(int role) const;
    /// Stated colours (9, 11, 13 and altered fifths) that a voicing of these degrees leaves out.
    [[nodiscard]] int missing(const std::vector<theory::Degree>& degrees) const;
    /// The three tones of the upper structure, from its root up, as degrees of the chord.
    [[nodiscard]] std::vector<theory::Degree> upper_structure() const;

private:
    [[nodiscard]] bool welcome(theory::Degree colour) const;
    [[nodiscard]] std::vector<theory::Degree> stated(int number, int lower_number) const;

    const ChordToVoice& chord_;
    std::vector<theory::Degree> degrees_;
    CompingFamily family_;
};

}  // namespace relead::voicing
