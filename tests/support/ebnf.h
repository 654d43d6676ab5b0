// Reads a grammar in the EBNF notation of the W3C (XML 1.0, section 6) and makes random sentences of it.
#pragma once

#include <cstdint>
#include <map>
#include <memory>
#include <random>
#include <set>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace relead::testing {

/// One expression of a grammar.
struct EbnfNode {
    enum class Kind { literal, characters, name, sequence, choice, repeat };
    Kind kind = Kind::literal;
    std::string text;                                   ///< literal or name
    std::vector<std::pair<char32_t, char32_t>> ranges;  ///< of a character class
    bool negated = false;
    std::vector<EbnfNode> parts;  ///< sequence, choice; repeat has one
    int least = 0;                ///< of a repeat
    bool once = false;            ///< `?`
    int height = 0;               ///< of the lowest derivation tree
};

class Ebnf {
public:
    /// Throws std::runtime_error with the line when the text is not in the notation.
    explicit Ebnf(std::string_view text);

    /// A sentence of a symbol. Deterministic for a generator state of std::mt19937.
    [[nodiscard]] std::string sentence(const std::string& symbol, std::mt19937& random) const;
    [[nodiscard]] const std::vector<std::string>& symbols() const { return order_; }
    /// Names that are used and defined nowhere.
    [[nodiscard]] std::set<std::string> undefined() const;
    /// Names that no derivation from `start` reaches.
    [[nodiscard]] std::set<std::string> unreached(const std::string& start) const;

private:
    void make(const EbnfNode& node, int depth, std::mt19937& random, std::string& out) const;
    void measure();

    std::map<std::string, EbnfNode> rules_;
    std::vector<std::string> order_;
};

}  // namespace relead::testing
