#include "reharm/version.h"

namespace relead::reharm {

std::string_view to_string(Refusal::Kind kind) {
    switch (kind) {
        case Refusal::Kind::rule:
            return "rule";
        case Refusal::Kind::guide_tone:
            return "guide tone";
        case Refusal::Kind::melody:
            return "melody";
        case Refusal::Kind::locked:
            return "locked";
        case Refusal::Kind::held:
            return "held";
        case Refusal::Kind::never:
            return "never";
        case Refusal::Kind::not_used:
            return "not used";
        case Refusal::Kind::outside:
            return "outside";
        case Refusal::Kind::bass:
            return "bass";
        case Refusal::Kind::room:
            return "room";
        case Refusal::Kind::same:
            return "same";
        case Refusal::Kind::soloist:
            return "soloist";
    }
    return "";
}

std::string_view to_string(SearchReport::Stop stop) {
    switch (stop) {
        case SearchReport::Stop::complete:
            return "complete";
        case SearchReport::Stop::depth:
            return "depth";
        case SearchReport::Stop::alternatives:
            return "alternatives";
        case SearchReport::Stop::labels:
            return "labels";
        case SearchReport::Stop::joint:
            return "joint";
    }
    return "";
}

std::string to_string(const SearchReport& report) {
    if (report.built == 0) return "nothing to choose from";
    const auto built = "the " + std::to_string(report.built) +
                       (report.built == 1 ? " alternative built" : " alternatives built");
    auto text = report.free ? "picked for its idea from " + built
                : report.stop == SearchReport::Stop::labels
                    ? "good among " + built + "; the best was not waited for"
                    : "best among " + built;
    for (const auto& note : report.notes) text += "; " + note;
    return text;
}

}  // namespace relead::reharm
