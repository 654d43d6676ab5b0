// A MusicXML document in the tests of its writer.
#pragma once

#include <pugixml.hpp>
#include <string>
#include <vector>

#include "formats/musicxml/write.h"
#include "score/score.h"
#include "support/catch.h"

/// A score of one part whose measures the test fills.
inline relead::score::Score score_of(std::vector<relead::score::Measure> measures) {
    relead::score::Score score;
    score.title = "Test";
    relead::score::Part part;
    part.name = "Lead";
    part.measures = std::move(measures);
    score.parts.push_back(std::move(part));
    return score;
}

inline relead::score::Element quarter(const char* pitch, relead::Time at) {
    relead::score::Element note;
    note.at = at;
    note.length = {1, 4};
    relead::score::Head head;
    head.pitch = *relead::theory::parse_pitch(pitch);
    note.heads.push_back(head);
    return note;
}

inline relead::score::Measure bar_of(std::vector<relead::score::Element> elements, relead::Time length = 1) {
    relead::score::Measure measure;
    measure.number = "1";
    measure.length = length;
    measure.key = relead::score::KeySignature{0, "major"};
    measure.time = relead::score::TimeSignature{4, 4, {}};
    measure.clef = relead::theory::Clef::treble;
    measure.voices.push_back({1, 1, std::move(elements)});
    return measure;
}

inline relead::score::Measure four_quarters() {
    return bar_of({quarter("C5", 0), quarter("D5", {1, 4}), quarter("E5", {1, 2}), quarter("F5", {3, 4})});
}

class Tree {
public:
    explicit Tree(const relead::score::Score& score) {
        REQUIRE(document_.load_string(relead::formats::write_musicxml(score).c_str()));
    }
    /// Text of the first match of an XPath expression, "" when there is none.
    [[nodiscard]] std::string operator[](const char* path) const {
        const auto node = document_.select_node(path);
        return node.attribute() ? node.attribute().value() : node.node().text().get();
    }
    [[nodiscard]] std::size_t count(const char* path) const { return document_.select_nodes(path).size(); }
    /// Names of the children, in order.
    [[nodiscard]] std::string children(const char* path) const {
        std::string names;
        for (const auto& child : document_.select_node(path).node().children()) {
            names += (names.empty() ? "" : " ") + std::string(child.name());
        }
        return names;
    }

private:
    pugi::xml_document document_;
};
