// Strict UTF-8 (Unicode 15, table 3-7 "Well-Formed UTF-8 Byte Sequences"): no overlong forms, no
// surrogates, nothing above U+10FFFF, nothing cut off.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string_view>

namespace relead::text {

struct Utf8Char {
    char32_t point = 0;
    std::size_t length = 0;  ///< bytes; 0 when no well-formed character starts here
};

/// Decodes the character at `offset`.
[[nodiscard]] Utf8Char decode_utf8(std::string_view bytes, std::size_t offset);

/// Why bytes are not UTF-8.
enum class Utf8Fault { stray_continuation, bad_lead, overlong, surrogate, too_large, cut_off };

struct BadUtf8 {
    std::size_t begin = 0;  ///< first byte that is not part of a well-formed character
    std::size_t end = 0;    ///< after the longest prefix that belongs to the same broken character
    Utf8Fault fault = Utf8Fault::bad_lead;
};

/// The first malformed place, or nothing when all bytes are well formed. Linear.
[[nodiscard]] std::optional<BadUtf8> first_bad_utf8(std::string_view bytes);

/// Offset of the start of the character that holds `offset` (valid UTF-8 assumed).
[[nodiscard]] std::size_t char_start(std::string_view bytes, std::size_t offset);

}  // namespace relead::text
