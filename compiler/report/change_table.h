// The printed table of a version as neutral rows of text: every output (terminal, JSON, web page)
// shows the same words.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "reharm/version.h"

namespace relead::report {

/// What a change's sentence about the melody comes to: outputs say once what they say of many changes.
enum class MelodySays { of_itself, fits, unchecked };

struct ChangeRow {
    std::string place;        ///< "A:7.3"
    std::string old_changes;  ///< "Gm7 C7"
    std::string new_changes;  ///< "Bbm7 Eb7"
    std::string rule;         ///< title of the rule
    std::string old_motion;   ///< guide tones of the written chord into the next: "E>F, Bb>A"
    std::string new_motion;
    std::string reason;  ///< a sentence
    std::string melody;  ///< a sentence
    MelodySays melody_says = MelodySays::of_itself;
    std::string sounding;  ///< for a soloist: what the new chords are over the bass; else empty
    int outside = 1;
    std::vector<std::string> rules;  ///< names, as plans use them, in the order in which they were applied
    std::vector<std::pair<std::string, int>> terms;  ///< what speaks for and against it
    int cost = 0;                                    ///< their sum
};

/// What the search can honestly say of itself.
struct SearchRow {
    bool exact = false;
    std::string stop;  ///< "complete", or what was cut
    int built = 0;
    int dropped = 0;
    std::vector<std::string> notes;  ///< "12 dropped at B:5"
};
[[nodiscard]] SearchRow search_row(const reharm::SearchReport& report);

/// "F>E, B=Cb, D held": where each guide tone goes; "=" when it stays and only its name changes.
[[nodiscard]] std::string motion_text(const std::vector<reharm::Motion>& motions);
[[nodiscard]] std::vector<ChangeRow> change_table(const reharm::Version& version);
/// What the search had to cut, place by place where they are few: "best among the 1842 alternatives built; 12
/// dropped at B:5".
[[nodiscard]] std::string search_words(const reharm::SearchReport& report);
/// One line that sums the version up: its name, the number of changes, the idea.
[[nodiscard]] std::string headline(const reharm::Version& version);

}  // namespace relead::report
