// What each command was asked to do, as plain values. Filled by arguments.cpp.
#pragma once

#include <optional>
#include <string>
#include <variant>
#include <vector>

namespace relead::cli {

enum class As { text, json };

struct CheckOptions {
    std::vector<std::string> files;
    As as = As::text;
    std::string dump;  ///< stage name, or empty
    std::vector<std::string> rule_files;
};

struct TidyOptions {
    std::string file;
    bool write = false;
    std::string to_key;  ///< tonic or key to move to, or empty
};

/// What is wished of a reharmonisation, shared by `reharm` and `options`.
struct WishOptions {
    std::string plan;
    std::vector<std::string> use;
    std::vector<std::string> avoid;
    std::vector<std::string> hold;
    std::vector<std::string> rule_files;
    std::optional<int> outside;
    std::optional<int> around;
    std::optional<int> depth;
    bool by_cost = false;  ///< of `reharm` and `compare`
};

struct ReharmOptions {
    std::string file;
    WishOptions wish;
    int versions = 1;
    std::vector<std::string> instruments;  ///< `--for`
    std::string directory = ".";
    std::string date;
    std::string guide_tones;  ///< "small", "staves", or empty
    bool mxl = false;
    bool midi = false;
    bool force = false;
    As as = As::text;
};

struct CompareOptions {
    std::string file;
    std::vector<std::string> plans;
    std::vector<std::string> others;       ///< `--with`: other tunes of the same form
    WishOptions wish;                      ///< without its plan
    std::optional<int> versions;           ///< of each plan
    std::vector<std::string> instruments;  ///< `--for`
    std::string directory;                 ///< no files where empty
    std::string date;
    bool guide_tones = false;
    bool mxl = false;
    bool force = false;
    As as = As::text;
};

struct ExplainOptions {
    std::string file;
    As as = As::text;
};

struct SpotOptions {
    std::string file;
    std::string at;
    WishOptions wish;
    As as = As::text;
};

struct RulesOptions {
    std::string name;  ///< a rule or a family, or empty
    std::string key;   ///< of the example, or empty
    std::vector<std::string> rule_files;
    As as = As::text;
};

using Command = std::variant<CheckOptions, TidyOptions, ReharmOptions, CompareOptions, ExplainOptions,
                             SpotOptions, RulesOptions>;

}  // namespace relead::cli
