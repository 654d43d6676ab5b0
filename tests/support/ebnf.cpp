#include "support/ebnf.h"

#include <algorithm>
#include <stdexcept>

namespace relead::testing {
namespace {

constexpr int unknown_height = 1'000'000;
constexpr int deepest = 70;  ///< below this only the lowest derivations are taken

void append_utf8(std::string& out, char32_t c) {
    const auto byte = [&out](char32_t value) { out += static_cast<char>(static_cast<unsigned char>(value)); };
    if (c < 0x80) return byte(c);
    if (c < 0x800) {
        byte(0xC0 | (c >> 6));
    } else {
        byte(0xE0 | (c >> 12));
        byte(0x80 | ((c >> 6) & 0x3F));
    }
    byte(0x80 | (c & 0x3F));
}

/// Reads the notation.
class Reader {
public:
    explicit Reader(std::string_view text) : text_(text) {}

    std::vector<std::pair<std::string, EbnfNode>> rules() {
        std::vector<std::pair<std::string, EbnfNode>> rules;
        for (skip(); !rest().empty(); skip()) {
            auto name = read_name();
            if (!accept("::=")) fail("::= expected after " + name);
            rules.emplace_back(std::move(name), choice());
        }
        return rules;
    }

private:
    [[nodiscard]] std::string_view rest() const { return text_.substr(at_); }
    [[noreturn]] void fail(const std::string& what) const {
        const auto line =
            1 + std::count(text_.begin(), text_.begin() + static_cast<std::ptrdiff_t>(at_), '\n');
        throw std::runtime_error("line " + std::to_string(line) + ": " + what);
    }
    void skip() {
        while (!rest().empty()) {
            if (rest().substr(0, 2) == "/*") {
                const auto end = text_.find("*/", at_);
                if (end == std::string_view::npos) fail("a comment without end");
                at_ = end + 2;
            } else if (std::string_view(" \t\r\n").find(rest().front()) != std::string_view::npos) {
                ++at_;
            } else {
                return;
            }
        }
    }
    bool accept(std::string_view sign) {
        skip();
        if (rest().substr(0, sign.size()) != sign) return false;
        at_ += sign.size();
        return true;
    }
    static bool is_letter(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); }
    std::string read_name() {
        skip();
        const auto begin = at_;
        while (!rest().empty() &&
               (is_letter(rest().front()) || (rest().front() >= '0' && rest().front() <= '9')))
            ++at_;
        if (begin == at_) fail("a name expected");
        return std::string(text_.substr(begin, at_ - begin));
    }
    char32_t read_code() {
        if (rest().substr(0, 2) == "#x") {
            at_ += 2;
            char32_t value = 0;
            while (!rest().empty() && std::isxdigit(static_cast<unsigned char>(rest().front())) != 0)
                value =
                    value * 16 + static_cast<char32_t>(std::stoi(std::string(1, text_[at_++]), nullptr, 16));
            return value;
        }
        const auto byte = static_cast<unsigned char>(text_[at_++]);
        if (byte < 0x80) return byte;
        const int more = byte < 0xE0 ? 1 : byte < 0xF0 ? 2 : 3;
        char32_t value = byte & (0x3F >> more);
        for (int i = 0; i < more; ++i)
            value = (value << 6) | (static_cast<unsigned char>(text_[at_++]) & 0x3F);
        return value;
    }
    EbnfNode characters() {
        EbnfNode node;
        node.kind = EbnfNode::Kind::characters;
        node.negated = rest().substr(0, 1) == "^";
        if (node.negated) ++at_;
        while (rest().substr(0, 1) != "]") {
            if (rest().empty()) fail("a [ without ]");
            const auto first = read_code();
            const bool range = rest().size() > 1 && rest()[0] == '-' && rest()[1] != ']';
            if (range) ++at_;
            node.ranges.emplace_back(first, range ? read_code() : first);
        }
        ++at_;
        return node;
    }
    [[nodiscard]] bool at_rule() {
        const auto mark = at_;
        skip();
        bool rule = !rest().empty() && is_letter(rest().front());
        if (rule) {
            (void)read_name();
            rule = accept("::=");
        }
        at_ = mark;
        return rule;
    }
    EbnfNode primary() {
        skip();
        EbnfNode node;
        if (accept("(")) {
            node = choice();
            if (!accept(")")) fail(") expected");
        } else if (accept("[")) {
            node = characters();
        } else if (rest().substr(0, 2) == "#x") {
            append_utf8(node.text, read_code());
        } else if (rest().front() == '\'' || rest().front() == '"') {
            const char quote = text_[at_++];
            const auto end = text_.find(quote, at_);
            if (end == std::string_view::npos) fail("a literal without end");
            node.text = text_.substr(at_, end - at_);
            at_ = end + 1;
        } else {
            node.kind = EbnfNode::Kind::name;
            node.text = read_name();
        }
        const bool star = accept("*"), plus = !star && accept("+"), maybe = !star && !plus && accept("?");
        if (!star && !plus && !maybe) return node;
        EbnfNode repeat;
        repeat.kind = EbnfNode::Kind::repeat;
        repeat.least = plus ? 1 : 0;
        repeat.once = maybe;
        repeat.parts.push_back(std::move(node));
        return repeat;
    }
    EbnfNode sequence() {
        EbnfNode node;
        node.kind = EbnfNode::Kind::sequence;
        for (skip(); !rest().empty() && rest().front() != '|' && rest().front() != ')' && !at_rule(); skip())
            node.parts.push_back(primary());
        return node;
    }
    EbnfNode choice() {
        EbnfNode node;
        node.kind = EbnfNode::Kind::choice;
        do node.parts.push_back(sequence());
        while (accept("|"));
        return node;
    }

    std::string_view text_;
    std::size_t at_ = 0;
};

template <class Visit>
void each_name(const EbnfNode& node, Visit visit) {
    if (node.kind == EbnfNode::Kind::name) visit(node.text);
    for (const auto& part : node.parts) each_name(part, visit);
}

char32_t any_of(const EbnfNode& node, std::mt19937& random) {
    static constexpr std::u32string_view pool =
        U"abcdefgh XYZ019.,;:!?'-|[](){}<>*/%#_\"\\~äßéŁשלם日本♭♯△“”\u0301";
    const auto pick = [&random](std::size_t size) { return static_cast<std::size_t>(random() % size); };
    if (!node.negated) {
        const auto& range = node.ranges[pick(node.ranges.size())];
        return range.first + static_cast<char32_t>(pick(range.second - range.first + 1));
    }
    while (true) {
        const auto c = pool[pick(pool.size())];
        if (std::none_of(node.ranges.begin(), node.ranges.end(),
                         [c](const auto& range) { return c >= range.first && c <= range.second; }))
            return c;
    }
}

}  // namespace

Ebnf::Ebnf(std::string_view text) {
    for (auto& [name, node] : Reader(text).rules()) {
        if (!rules_.emplace(name, std::move(node)).second)
            throw std::runtime_error(name + " is defined twice");
        order_.push_back(name);
    }
    measure();
}

/// Heights of the lowest derivations, from below until nothing changes.
void Ebnf::measure() {
    const auto height = [this](EbnfNode& node, const auto& self) -> int {
        int result = node.kind == EbnfNode::Kind::choice ? unknown_height : 0;
        for (auto& part : node.parts) {
            const int one = self(part, self);
            result = node.kind == EbnfNode::Kind::choice ? std::min(result, one) : std::max(result, one);
        }
        if (node.kind == EbnfNode::Kind::repeat && node.least == 0) result = 0;
        if (node.kind == EbnfNode::Kind::name) {
            const auto rule = rules_.find(node.text);
            result = rule == rules_.end() ? unknown_height : rule->second.height + 1;
        }
        return node.height = std::min(result, unknown_height);
    };
    for (auto& [name, node] : rules_) node.height = unknown_height;
    for (bool changed = true; changed;) {
        changed = false;
        for (auto& [name, node] : rules_) {
            const int before = node.height;
            changed |= height(node, height) != before;
        }
    }
}

std::set<std::string> Ebnf::undefined() const {
    std::set<std::string> names;
    for (const auto& [name, node] : rules_)
        each_name(node, [&](const std::string& used) {
            if (rules_.count(used) == 0) names.insert(used);
        });
    return names;
}

std::set<std::string> Ebnf::unreached(const std::string& start) const {
    std::set<std::string> seen{start};
    std::vector<std::string> open{start};
    while (!open.empty()) {
        const auto name = open.back();
        open.pop_back();
        each_name(rules_.at(name), [&](const std::string& used) {
            if (seen.insert(used).second) open.push_back(used);
        });
    }
    std::set<std::string> names;
    for (const auto& name : order_)
        if (seen.count(name) == 0) names.insert(name);
    return names;
}

std::string Ebnf::sentence(const std::string& symbol, std::mt19937& random) const {
    std::string out;
    make(rules_.at(symbol), 0, random, out);
    return out;
}

void Ebnf::make(const EbnfNode& node, int depth, std::mt19937& random, std::string& out) const {
    const bool low = depth > deepest;
    switch (node.kind) {
        case EbnfNode::Kind::literal:
            out += node.text;
            return;
        case EbnfNode::Kind::characters:
            return append_utf8(out, any_of(node, random));
        case EbnfNode::Kind::name:
            return make(rules_.at(node.text), depth + 1, random, out);
        case EbnfNode::Kind::sequence:
            for (const auto& part : node.parts) make(part, depth + 1, random, out);
            return;
        case EbnfNode::Kind::choice: {
            const auto* part = &node.parts[random() % node.parts.size()];
            if (low)
                for (const auto& other : node.parts)
                    if (other.height < part->height) part = &other;
            return make(*part, depth + 1, random, out);
        }
        case EbnfNode::Kind::repeat: {
            int count = node.least;
            if (!low && node.once) count = static_cast<int>(random() % 2);
            while (!low && !node.once && count < 6 && random() % 5 < 2) ++count;
            for (int i = 0; i < count; ++i) make(node.parts.front(), depth + 1, random, out);
            return;
        }
    }
}

}  // namespace relead::testing
