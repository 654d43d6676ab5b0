// A reharmonisation plan as written in the tune. Rule names are bound later (reharm).
#pragma once

#include <optional>
#include <string>
#include <vector>

#include <relead/fraction.h>
#include <relead/outcome.h>

namespace relead::tune {

/// A:7, A:7.3, A:1-4. One address everywhere, in input and messages.
struct Address {
    std::string section;
    int first_bar = 1;
    int last_bar = 1;
    std::optional<Beats> beat;  ///< 1-based
    Span span;
    [[nodiscard]] bool covers(const std::string& section_name, int bar) const {
        return section_name == section && bar >= first_bar && bar <= last_bar;
    }
};
[[nodiscard]] std::string to_string(const Address& address);
/// Reads an address whole; nothing when it is not one.
[[nodiscard]] std::optional<Address> parse_address(std::string_view text);

struct RuleName {
    std::string name;
    Span span;
};

struct Plan {
    enum class Who { band, soloist };  ///< band: everybody plays the new changes
    enum class Where { head, solos, all };
    enum class MelodyPolicy { refuse, warn };
    struct Take {
        RuleName rule;
        Address at;
    };
    struct Never {
        std::optional<RuleName> rule;
        Address at;
    };

    std::string name;
    Who who = Who::band;
    Where where = Where::all;
    std::vector<RuleName> use;  ///< empty = every rule within `outside`
    std::vector<RuleName> avoid;
    std::vector<Address> hold;
    std::optional<int> at_most;  ///< changes
    bool at_most_per_section = true;
    std::optional<int> outside;  ///< 1..5, ceiling on every change
    std::optional<int> around;   ///< 1..5, a wish
    Span around_span;
    std::vector<Take> take;
    std::vector<Never> never;
    bool each_time_different = false;
    MelodyPolicy melody = MelodyPolicy::refuse;
    std::optional<int> depth;  ///< stacking depth
    std::optional<Fraction> shortest_seconds;
    Span span;
};

}  // namespace relead::tune
