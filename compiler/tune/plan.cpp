#include "tune/plan.h"

#include "syntax/line_parser.h"
#include "text/render.h"
#include "tune/lower_plan.h"

namespace relead::tune {

std::string to_string(const Address& address) {
    Place place;
    place.section = address.section;
    place.bar = address.first_bar;
    if (address.beat) place.beat = *address.beat;
    auto text = text::to_string(place);
    if (address.last_bar != address.first_bar) text += '-' + std::to_string(address.last_bar);
    return text;
}

std::optional<Address> parse_address(std::string_view text) {
    const auto tree = syntax::read_address(text, Span{});
    if (!tree) return std::nullopt;
    auto address = lower_address(*tree);
    address.span = nowhere;
    return address;
}

}  // namespace relead::tune
