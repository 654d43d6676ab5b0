#include "tune/plan.h"

#include <charconv>

namespace relead::tune {
namespace {

std::optional<int> whole_number(std::string_view text) {
    int value = 0;
    const auto* end = text.data() + text.size();
    const auto [stop, error] = std::from_chars(text.data(), end, value);
    if (error != std::errc{} || stop != end || text.front() == '-') return std::nullopt;
    return value;
}

/// "3", "5/2", "2.5" above or equal to 1.
std::optional<Beats> beat_number(std::string_view text) {
    if (text.empty()) return std::nullopt;
    std::optional<Beats> beat;
    if (const auto bar = text.find('/'); bar != std::string_view::npos) {
        const auto upper = text.substr(0, bar), lower = text.substr(bar + 1);
        if (upper.empty() || lower.empty()) return std::nullopt;
        const auto numerator = whole_number(upper), denominator = whole_number(lower);
        if (!numerator || !denominator || *denominator == 0) return std::nullopt;
        beat = Beats(*numerator, *denominator);
    } else if (const auto dot = text.find('.'); dot != std::string_view::npos) {
        const auto whole_text = text.substr(0, dot), digits = text.substr(dot + 1);
        if (whole_text.empty() || digits.empty() || digits.size() > 6) return std::nullopt;
        const auto whole = whole_number(whole_text), decimals = whole_number(digits);
        if (!whole || !decimals) return std::nullopt;
        std::int64_t scale = 1;
        for (std::size_t i = 0; i < digits.size(); ++i) scale *= 10;
        beat = Beats(*whole) + Beats(*decimals, scale);
    } else if (const auto whole = whole_number(text)) {
        beat = Beats(*whole);
    }
    if (!beat || *beat < Beats(1)) return std::nullopt;
    return beat;
}

/// Bars and beat after the colon: "7", "7.3", "1-4".
bool read_bars(std::string_view text, Address& address) {
    const auto dash = text.find('-');
    const auto dot = text.find('.');
    const auto first_text = text.substr(0, std::min(dash, dot));
    if (first_text.empty()) return false;
    const auto first = whole_number(first_text);
    if (!first || *first < 1) return false;
    address.first_bar = address.last_bar = *first;
    if (dash != std::string_view::npos) {
        const auto last_text = text.substr(dash + 1);
        if (last_text.empty()) return false;
        const auto last = whole_number(last_text);
        if (!last || *last < *first) return false;
        address.last_bar = *last;
    } else if (dot != std::string_view::npos) {
        address.beat = beat_number(text.substr(dot + 1));
        return address.beat.has_value();
    }
    return true;
}

}  // namespace

std::string to_string(const Address& address) {
    auto text = address.section + ':' + std::to_string(address.first_bar);
    if (address.last_bar != address.first_bar) return text + '-' + std::to_string(address.last_bar);
    if (address.beat) text += '.' + address.beat->to_string();
    return text;
}

std::optional<Address> parse_address(std::string_view text) {
    const auto colon = text.rfind(':');
    if (colon == std::string_view::npos || colon == 0 || colon + 1 == text.size()) return std::nullopt;
    Address address;
    address.section = std::string(text.substr(0, colon));
    if (!read_bars(text.substr(colon + 1), address)) return std::nullopt;
    return address;
}

}  // namespace relead::tune
