#include "formats/musicxml/write.h"

#include "formats/musicxml/divisions.h"
#include "formats/musicxml/document.h"
#include "formats/musicxml/head_writer.h"
#include "formats/musicxml/measure_writer.h"

namespace relead::formats {

namespace {

constexpr std::string_view doctype =
    R"(score-partwise PUBLIC "-//Recordare//DTD MusicXML 4.0 Partwise//EN" "http://www.musicxml.org/dtds/partwise.dtd")";

void write_part(Sink& sink, const score::Score& score, std::size_t index, int divisions) {
    const Nest nest(sink, "part");
    sink.attribute("id", part_id(index));
    PartState state{sink, score, score.parts[index], divisions};
    bool first = true;
    for (const auto& measure : state.part.measures) {
        write_measure(state, measure, first);
        first = false;
    }
}

}  // namespace

std::string write_musicxml(const score::Score& score) {
    Document document(doctype);
    {
        const Nest root(document, "score-partwise");
        document.attribute("version", "4.0");
        write_head(document, score);
        const int divisions = divisions_of(score);
        for (std::size_t index = 0; index < score.parts.size(); ++index) {
            write_part(document, score, index, divisions);
        }
    }
    return document.print();
}

}  // namespace relead::formats
