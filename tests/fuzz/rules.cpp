// Whatever the text: reading rules ends, and what is said about it lies in the text.
#include <cstddef>
#include <cstdint>

#include <relead/relead.h>

#include "promise.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    if (size > 20'000) return 0;
    const relead::Text text{"fuzz.rules", std::string(reinterpret_cast<const char*>(data), size)};
    static const auto base = relead::built_in_rules();
    const auto rules = relead::read_rules(text, base);
    for (const auto& said : rules.diagnostics) {
        promise(said.span.begin <= said.span.end && said.span.end <= size, "spans lie in the text");
        promise(!said.sentence.empty(), "diagnostics say something");
    }
    promise(rules.value.has_value() || has_errors(rules.diagnostics), "without rules there is an error");
    return 0;
}
