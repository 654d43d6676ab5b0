// User-perceived characters (extended grapheme clusters, UAX #29) and the room they take on a
// terminal. Internal to text: other layers use display_width and grapheme_count of source.h.
#pragma once

#include <cstddef>
#include <memory>
#include <string_view>

namespace relead::text {

/// Walks the clusters of valid UTF-8 from the front. Plain ASCII costs no call into ICU.
class GraphemeWalk {
public:
    explicit GraphemeWalk(std::string_view utf8, std::size_t start = 0);
    ~GraphemeWalk();
    GraphemeWalk(const GraphemeWalk&) = delete;
    GraphemeWalk& operator=(const GraphemeWalk&) = delete;

    /// Moves to the next cluster; false at the end.
    bool next();
    [[nodiscard]] std::size_t begin() const { return begin_; }
    [[nodiscard]] std::size_t end() const { return end_; }
    [[nodiscard]] std::string_view text() const { return utf8_.substr(begin_, end_ - begin_); }

private:
    struct Breaker;
    std::string_view utf8_;
    std::size_t begin_ = 0;
    std::size_t end_ = 0;
    std::unique_ptr<Breaker> breaker_;
};

/// Terminal columns of one cluster: 2 for East Asian wide and emoji, 0 for a mark on its own or an
/// invisible character, else 1 (East Asian ambiguous counts 1).
[[nodiscard]] int cluster_width(std::string_view cluster);

/// What a code point must not do to a terminal.
enum class Hazard { none, control, bidi_control };
[[nodiscard]] Hazard hazard_of(char32_t point);
/// True for letters written from right to left.
[[nodiscard]] bool is_right_to_left(char32_t point);
[[nodiscard]] bool all_ascii(std::string_view bytes);

}  // namespace relead::text
