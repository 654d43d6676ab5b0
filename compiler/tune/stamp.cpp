#include "tune/stamp.h"

#include <algorithm>
#include <string_view>

#include "tune/quote.h"

namespace relead::tune {
namespace {

constexpr std::string_view word = "version ";
constexpr std::size_t hash_digits = 8;

std::optional<VersionStamp> read_stamp(std::string_view text) {
    if (text.substr(0, word.size()) != word) return std::nullopt;
    text.remove_prefix(word.size());
    VersionStamp stamp;
    const auto plan = unquote_front(text);
    if (!plan) return std::nullopt;
    stamp.plan = *plan;
    if (text.size() < hash_digits + 1 || text.front() != ' ') return std::nullopt;
    stamp.hash = text.substr(1, hash_digits);
    if (stamp.hash.find_first_not_of("0123456789abcdef") != std::string::npos) return std::nullopt;
    text.remove_prefix(hash_digits + 1);
    if (text.empty()) return stamp;
    if (text.size() < 3 || text.substr(0, 2) != " (" || text.back() != ')') return std::nullopt;
    stamp.date = text.substr(2, text.size() - 3);
    return stamp;
}

}  // namespace

std::optional<VersionStamp> find_stamp(const std::vector<syntax::Comment>& comments) {
    for (const auto& comment : comments)
        if (auto stamp = read_stamp(comment.text)) return stamp;
    return std::nullopt;
}

std::string write_stamp(const VersionStamp& stamp) {
    auto text = std::string(word) + quoted(stamp.plan) + ' ' + stamp.hash;
    if (!stamp.date.empty()) text += " (" + stamp.date + ')';
    return text;
}

}  // namespace relead::tune
