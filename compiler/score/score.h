// The score on paper, free of any file format: what `arrange` makes and what `formats` writes.
// A lead sheet is a score of one part; sheets that compare versions and scores for a line-up are
// scores of several. Bar lines, signs and breaks agree in all parts.
#pragma once

#include <string>
#include <vector>

#include "score/measure.h"

namespace relead::score {

/// How chord symbols are lettered. plain: m7b5, maj7, dim7; compact: signs for the common ones.
enum class SymbolLettering { plain, compact };

struct Part {
    std::string name;          ///< "Alto Sax"; for programs and for the left edge of a score
    std::string abbreviation;  ///< "A. Sx."
    bool show_name = true;     ///< false on single sheets, where the name stands in the corner
    std::string sound;         ///< id of the published list of instrument sounds, or ""
    int midi_program = 1;      ///< 1-based; 0 for drums
    int staves = 1;
    int second_staff_size = 100;  ///< per cent of a full staff
    std::vector<Measure> measures;
};

/// Parts [first, last] joined by a bracket.
struct Group {
    int first = 0;
    int last = 0;
};

enum class Paper { a4, letter };

struct Score {
    std::string title;
    std::string composer;
    std::string lyricist;
    std::string rights;
    std::string corner;         ///< upper left: whose sheet this is ("Alto Sax")
    std::string running_order;  ///< under the title: "Head · Solos (open) · Head, last time"
    std::string stamp;          ///< which version this is; on every page
    std::string note;           ///< the author's remark to the players
    std::string software;       ///< "relead 0.1.0"; written into the file, not printed
    Paper paper = Paper::a4;
    double staff_height = 7;             ///< millimetres
    int pages = 1;
    int systems_a_page = 8;  ///< on the fullest page; the writer spaces the systems by it
    SymbolLettering lettering = SymbolLettering::plain;
    std::vector<Part> parts;
    std::vector<Group> groups;
};

}  // namespace relead::score
