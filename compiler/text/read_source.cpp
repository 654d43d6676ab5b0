#include <algorithm>

#include "base/fmt.h"
#include "text/diagnose.h"
#include "text/source.h"
#include "text/utf8.h"

namespace relead::text {
namespace {

std::string_view reason(Utf8Fault fault) {
    switch (fault) {
        case Utf8Fault::stray_continuation:
            return "it can only stand inside a character";
        case Utf8Fault::bad_lead:
            return "no character begins with it";
        case Utf8Fault::overlong:
            return "it writes a character in more bytes than it needs";
        case Utf8Fault::surrogate:
            return "it begins half of a UTF-16 pair";
        case Utf8Fault::too_large:
            return "it lies above the last Unicode character";
        case Utf8Fault::cut_off:
            return "its character is cut off";
    }
    return "";
}

/// What is wrong with the byte; a letter of an old text is named, since that is what its writer sees.
std::string complaint(std::uint8_t byte, const BadUtf8& bad) {
    const bool alone = bad.end - bad.begin == 1 &&
                       (bad.fault == Utf8Fault::cut_off || bad.fault == Utf8Fault::stray_continuation);
    if (!alone || byte < 0xA1)
        return fmt::format("byte {:02X} cannot stand here, {}", byte, reason(bad.fault));
    std::string latin;  // U+00A1 to U+00FF in two bytes
    latin += static_cast<char>(0xC0U | (byte >> 6U));
    latin += static_cast<char>(0x80U | (byte & 0x3FU));
    return fmt::format("byte {:02X} cannot stand here; in the old Latin-1 it is {}", byte, latin);
}

int line_of(std::string_view bytes, std::size_t offset) {
    const auto before = bytes.substr(0, offset);
    return Source("", std::string(before)).line_at(static_cast<std::uint32_t>(offset)) +
           (before.ends_with('\n') || before.ends_with('\r') ? 1 : 0);
}

std::string megabytes(std::size_t bytes) {
    return fmt::format("{:.1f} MB", static_cast<double>(bytes) / 1e6);
}

void check_encoding(std::string_view bytes, std::uint32_t index, Sink& sink) {
    if (bytes.starts_with("\xFF\xFE") || bytes.starts_with("\xFE\xFF")) {
        sink.emit(Code::text_not_utf8, {index, 0, 2}, "The text is UTF-16; save it as UTF-8.");
        return;
    }
    if (const auto bad = first_bad_utf8(bytes)) {
        const Span span{index, static_cast<std::uint32_t>(bad->begin), static_cast<std::uint32_t>(bad->end)};
        sink.emit(Code::text_not_utf8, span,
                  fmt::format("Line {} is not UTF-8: {}. Save the text as UTF-8.", line_of(bytes, bad->begin),
                              complaint(static_cast<std::uint8_t>(bytes[bad->begin]), *bad)));
    }
    if (const auto nul = bytes.find('\0'); nul != std::string_view::npos) {
        const auto at = static_cast<std::uint32_t>(nul);
        sink.emit(Code::text_has_nul, {index, at, at + 1},
                  fmt::format("Line {} holds a NUL byte; is this a text?", line_of(bytes, nul)))
            .fix({index, at, at + 1}, "", "Remove the NUL byte.");
    }
}

void check_lines(const Source& source, const Limits& limits, Sink& sink) {
    for (int number = 1; number <= source.line_count(); ++number) {
        const auto length = source.line(number).size();
        if (length <= limits.line_bytes) continue;
        const auto at = source.line_begin(number);
        sink.emit(Code::line_too_long, {source.index(), at, at},
                  fmt::format("Line {} has {}; a line may have {}.", number, megabytes(length),
                              megabytes(limits.line_bytes)));
    }
}

}  // namespace

Outcome<Source> read_source(std::string name, std::string bytes, const Limits& limits, std::uint32_t index) {
    Sink sink(limits);
    if (bytes.size() > limits.source_bytes) {
        sink.emit(Code::text_too_long, {index, 0, 0},
                  fmt::format("The text has {}; a text may have {}.", megabytes(bytes.size()),
                              megabytes(limits.source_bytes)));
        return {std::nullopt, sink.take()};
    }
    check_encoding(bytes, index, sink);
    if (sink.has_errors()) return {std::nullopt, sink.take()};
    Source source(std::move(name), std::move(bytes), index);
    check_lines(source, limits, sink);
    if (sink.has_errors()) return {std::nullopt, sink.take()};
    return {std::move(source), {}};
}

Source readable_source(std::string name, std::string bytes, const Limits& limits, std::uint32_t index) {
    if (bytes.size() > limits.source_bytes) bytes.resize(limits.source_bytes);
    for (std::size_t offset = 0; offset < bytes.size();) {
        const auto bad = first_bad_utf8(std::string_view(bytes).substr(offset));
        if (!bad) break;
        std::fill(bytes.begin() + static_cast<std::ptrdiff_t>(offset + bad->begin),
                  bytes.begin() + static_cast<std::ptrdiff_t>(offset + bad->end), '?');
        offset += bad->end;
    }
    return {std::move(name), std::move(bytes), index};
}

}  // namespace relead::text
