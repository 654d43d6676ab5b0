// Comparing and measuring text: normal form, terminal columns, user-perceived characters.
#include <unicode/bytestream.h>
#include <unicode/normalizer2.h>
#include <unicode/stringpiece.h>
#include <unicode/uchar.h>

#include "text/grapheme.h"
#include "text/source.h"
#include "text/utf8.h"

namespace relead::text {
namespace {

/// Sorting a run of combining marks is quadratic in its length, and no real name has more than a
/// few; above this many in a row the text is compared as it stands.
constexpr int longest_mark_run = 256;

bool has_endless_marks(std::string_view utf8) {
    int run = 0;
    for (std::size_t offset = 0; offset < utf8.size();) {
        const auto c = decode_utf8(utf8, offset);
        run = c.point >= 0x300 && u_getCombiningClass(static_cast<UChar32>(c.point)) != 0 ? run + 1 : 0;
        if (run > longest_mark_run) return true;
        offset += c.length == 0 ? 1 : c.length;
    }
    return false;
}

}  // namespace

std::string nfc(std::string_view utf8) {
    if (all_ascii(utf8)) return std::string(utf8);
    UErrorCode status = U_ZERO_ERROR;
    const auto* normalizer = icu::Normalizer2::getNFCInstance(status);
    if (U_FAILURE(status) || has_endless_marks(utf8)) return std::string(utf8);
    std::string result;
    icu::StringByteSink<std::string> sink(&result);
    const icu::StringPiece piece(utf8.data(), static_cast<std::int32_t>(utf8.size()));
    normalizer->normalizeUTF8(0, piece, sink, nullptr, status);
    return U_SUCCESS(status) ? result : std::string(utf8);
}

bool same_text(std::string_view a, std::string_view b) {
    if (a == b) return true;
    if (all_ascii(a) && all_ascii(b)) return false;
    return nfc(a) == nfc(b);
}

int display_width(std::string_view utf8) {
    int width = 0;
    GraphemeWalk walk(utf8);
    while (walk.next()) width += cluster_width(walk.text());
    return width;
}

int grapheme_count(std::string_view utf8) {
    int count = 0;
    GraphemeWalk walk(utf8);
    while (walk.next()) ++count;
    return count;
}

}  // namespace relead::text
