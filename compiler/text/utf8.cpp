#include "text/utf8.h"

#include <algorithm>
#include <cstring>

namespace relead::text {
namespace {

std::uint8_t byte_at(std::string_view bytes, std::size_t offset) {
    return static_cast<std::uint8_t>(bytes[offset]);
}

bool is_continuation(std::uint8_t byte) {
    return (byte & 0xC0U) == 0x80U;
}

/// What a lead byte asks of the bytes after it.
struct Lead {
    std::size_t length = 0;                // 0: not a lead byte
    std::uint8_t low = 0x80, high = 0xBF;  // range of the second byte
};

Lead lead_of(std::uint8_t byte) {
    if (byte < 0x80) return {1};
    if (byte < 0xC2) return {0};
    if (byte < 0xE0) return {2};
    if (byte == 0xE0) return {3, 0xA0, 0xBF};
    if (byte == 0xED) return {3, 0x80, 0x9F};
    if (byte < 0xF0) return {3};
    if (byte == 0xF0) return {4, 0x90, 0xBF};
    if (byte < 0xF4) return {4};
    if (byte == 0xF4) return {4, 0x80, 0x8F};
    return {0};
}

BadUtf8 describe(std::string_view bytes, std::size_t begin) {
    const auto first = byte_at(bytes, begin);
    const auto lead = lead_of(first);
    if (is_continuation(first)) return {begin, begin + 1, Utf8Fault::stray_continuation};
    if (first == 0xC0 || first == 0xC1) return {begin, begin + 1, Utf8Fault::overlong};
    if (first > 0xF4) return {begin, begin + 1, first < 0xF8 ? Utf8Fault::too_large : Utf8Fault::bad_lead};
    if (begin + 1 < bytes.size()) {
        const auto second = byte_at(bytes, begin + 1);
        if (is_continuation(second) && (second < lead.low || second > lead.high)) {
            if (first == 0xED) return {begin, begin + 1, Utf8Fault::surrogate};
            return {begin, begin + 1, first == 0xF4 ? Utf8Fault::too_large : Utf8Fault::overlong};
        }
    }
    auto end = begin + 1;
    while (end < bytes.size() && end - begin < lead.length && is_continuation(byte_at(bytes, end))) ++end;
    return {begin, end, Utf8Fault::cut_off};
}

}  // namespace

Utf8Char decode_utf8(std::string_view bytes, std::size_t offset) {
    const auto first = byte_at(bytes, offset);
    const auto lead = lead_of(first);
    if (lead.length == 1) return {first, 1};
    if (lead.length == 0 || bytes.size() - offset < lead.length) return {};
    const auto second = byte_at(bytes, offset + 1);
    if (second < lead.low || second > lead.high) return {};
    char32_t point = first & (0x7FU >> lead.length);
    for (std::size_t i = 1; i < lead.length; ++i) {
        const auto byte = byte_at(bytes, offset + i);
        if (!is_continuation(byte)) return {};
        point = (point << 6U) | (byte & 0x3FU);
    }
    return {point, lead.length};
}

std::optional<BadUtf8> first_bad_utf8(std::string_view bytes) {
    std::size_t offset = 0;
    while (offset < bytes.size()) {
        std::uint64_t eight = 0;
        if (bytes.size() - offset >= sizeof eight) {
            std::memcpy(&eight, bytes.data() + offset, sizeof eight);
            if ((eight & 0x8080808080808080U) == 0) {
                offset += sizeof eight;
                continue;
            }
        }
        const auto length = decode_utf8(bytes, offset).length;
        if (length == 0) return describe(bytes, offset);
        offset += length;
    }
    return std::nullopt;
}

std::size_t char_start(std::string_view bytes, std::size_t offset) {
    offset = std::min(offset, bytes.size());
    while (offset > 0 && offset < bytes.size() && is_continuation(byte_at(bytes, offset))) --offset;
    return offset;
}

}  // namespace relead::text
