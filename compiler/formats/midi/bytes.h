// The bytes of Standard MIDI Files: numbers of variable length, chunks, events with their delta times.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>

namespace relead::formats::midi {

/// The largest number that a variable-length quantity can hold, 28 bits.
inline constexpr std::uint32_t largest_quantity = 0x0FFFFFFF;

/// Seven bits a byte, the highest first, every byte but the last with its top bit set. Larger numbers are
/// cut to largest_quantity.
[[nodiscard]] std::string variable_length(std::uint32_t number);
/// `bytes` bytes, the highest first.
[[nodiscard]] std::string big_endian(std::uint32_t number, int bytes);
/// Four letters, the length, the content.
[[nodiscard]] std::string chunk(std::string_view type, const std::string& content);
/// FF type length content.
[[nodiscard]] std::string meta_event(std::uint8_t type, const std::string& content);

}  // namespace relead::formats::midi
