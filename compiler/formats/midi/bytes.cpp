#include "formats/midi/bytes.h"

#include <algorithm>

namespace relead::formats::midi {

std::string variable_length(std::uint32_t number) {
    number = std::min(number, largest_quantity);
    std::string bytes(1, static_cast<char>(number & 0x7FU));
    while ((number >>= 7U) != 0) bytes.insert(bytes.begin(), static_cast<char>((number & 0x7FU) | 0x80U));
    return bytes;
}

std::string big_endian(std::uint32_t number, int bytes) {
    std::string text;
    for (int i = bytes - 1; i >= 0; --i)
        text += static_cast<char>(number >> (8U * static_cast<unsigned>(i)) & 0xFFU);
    return text;
}

std::string chunk(std::string_view type, const std::string& content) {
    return std::string(type) + big_endian(static_cast<std::uint32_t>(content.size()), 4) + content;
}

std::string meta_event(std::uint8_t type, const std::string& content) {
    std::string bytes = "\xFF";
    bytes += static_cast<char>(type);
    return bytes + variable_length(static_cast<std::uint32_t>(content.size())) + content;
}

}  // namespace relead::formats::midi
