#include "text/grapheme.h"

#include <algorithm>
#include <cassert>
#include <unicode/brkiter.h>
#include <unicode/uchar.h>
#include <unicode/utext.h>

#include "text/utf8.h"

namespace relead::text {
namespace {

bool is_ascii(char byte) {
    return static_cast<unsigned char>(byte) < 0x80;
}

int point_width(char32_t point) {
    const auto c = static_cast<UChar32>(point);
    if (c < 0x20 || (c >= 0x7F && c < 0xA0)) return 0;
    if (c < 0x300) return c == 0xAD ? 0 : 1;
    const auto category = u_charType(c);
    if (category == U_NON_SPACING_MARK || category == U_ENCLOSING_MARK || category == U_FORMAT_CHAR) return 0;
    if (c >= 0x1160 && c <= 0x11FF) return 0;  // Hangul vowels and finals join the syllable's first letter
    const auto wide = u_getIntPropertyValue(c, UCHAR_EAST_ASIAN_WIDTH);
    return wide == U_EA_WIDE || wide == U_EA_FULLWIDTH ? 2 : 1;
}

}  // namespace

/// ICU's iterator over the same bytes; made at the first character outside ASCII.
struct GraphemeWalk::Breaker {
    explicit Breaker(std::string_view utf8) {
        UErrorCode status = U_ZERO_ERROR;
        text = utext_openUTF8(nullptr, utf8.data(), static_cast<std::int64_t>(utf8.size()), &status);
        iterator.reset(icu::BreakIterator::createCharacterInstance(icu::Locale::getRoot(), status));
        if (U_SUCCESS(status)) iterator->setText(text, status);
        usable = U_SUCCESS(status);
    }
    ~Breaker() {
        iterator.reset();
        utext_close(text);
    }
    Breaker(const Breaker&) = delete;
    Breaker& operator=(const Breaker&) = delete;

    UText* text = nullptr;
    std::unique_ptr<icu::BreakIterator> iterator;
    bool usable = false;
    std::int32_t at = -1;
};

GraphemeWalk::GraphemeWalk(std::string_view utf8, std::size_t start)
    : utf8_(utf8), begin_(start), end_(start) {}
GraphemeWalk::~GraphemeWalk() = default;

bool GraphemeWalk::next() {
    begin_ = end_;
    if (begin_ >= utf8_.size()) return false;
    const bool last = begin_ + 1 == utf8_.size();
    if (is_ascii(utf8_[begin_]) && (last || is_ascii(utf8_[begin_ + 1]))) {
        const bool crlf = !last && utf8_[begin_] == '\r' && utf8_[begin_ + 1] == '\n';
        end_ = begin_ + (crlf ? 2 : 1);
        return true;
    }
    if (!breaker_) breaker_ = std::make_unique<Breaker>(utf8_);
    if (!breaker_->usable) {  // ICU without its data: fall back to code points
        end_ = begin_ + std::max<std::size_t>(1, decode_utf8(utf8_, begin_).length);
        return true;
    }
    const auto from = static_cast<std::int32_t>(begin_);
    const auto to = breaker_->at == from ? breaker_->iterator->next() : breaker_->iterator->following(from);
    breaker_->at = to;
    end_ = to == icu::BreakIterator::DONE ? utf8_.size() : static_cast<std::size_t>(to);
    assert(end_ > begin_);
    return true;
}

int cluster_width(std::string_view cluster) {
    int width = 0;
    const auto base = decode_utf8(cluster, 0).point;
    const bool emoji = u_hasBinaryProperty(static_cast<UChar32>(base), UCHAR_EMOJI) != 0;
    for (std::size_t offset = 0; offset < cluster.size();) {
        const auto c = decode_utf8(cluster, offset);
        if (c.point == 0xFE0F && emoji) return 2;  // emoji presentation
        width = std::max(width, point_width(c.point));
        const bool flag = u_hasBinaryProperty(static_cast<UChar32>(c.point), UCHAR_REGIONAL_INDICATOR) != 0;
        if (flag && cluster.size() > c.length) return 2;  // two letters of a flag
        if (width == 2) return 2;
        offset += std::max<std::size_t>(1, c.length);
    }
    return width;
}

Hazard hazard_of(char32_t point) {
    if (point < 0x20 || (point >= 0x7F && point < 0xA0)) return Hazard::control;
    if (point == 0x2028 || point == 0x2029) return Hazard::bidi_control;
    if (point < 0x300) return Hazard::none;
    return u_hasBinaryProperty(static_cast<UChar32>(point), UCHAR_BIDI_CONTROL) ? Hazard::bidi_control
                                                                                : Hazard::none;
}

bool is_right_to_left(char32_t point) {
    if (point < 0x590) return false;
    const auto direction = u_charDirection(static_cast<UChar32>(point));
    return direction == U_RIGHT_TO_LEFT || direction == U_RIGHT_TO_LEFT_ARABIC;
}

bool all_ascii(std::string_view bytes) {
    return std::all_of(bytes.begin(), bytes.end(), is_ascii);
}

}  // namespace relead::text
