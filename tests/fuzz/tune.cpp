// Whatever the text: reading, tidying and reharmonising it end, and keep their promises.
#include <cstddef>
#include <cstdint>

#include <relead/relead.h>

#include "promise.h"

namespace {

void tidy_promises(const relead::Text& text) {
    const auto once = relead::tidy(text);
    if (!once.clean()) return;
    const auto twice = relead::tidy({text.name, *once.value});
    promise(twice.clean(), "a tidy text is clean");
    promise(*twice.value == *once.value, "tidying a tidy text changes nothing");
}

void tune_promises(const relead::Tune& tune) {
    const auto text = relead::to_text(tune);
    const auto again = relead::read_tune({"again", text});
    promise(again.clean(), "a tune that was written reads clean");
    promise(relead::to_text(*again.value) == text, "a tune that was written and read is written alike");
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    if (size > 20'000) return 0;
    const relead::Text text{"fuzz.tune", std::string(reinterpret_cast<const char*>(data), size)};
    const auto tune = relead::read_tune(text);
    for (const auto& said : tune.diagnostics) {
        promise(said.span.begin <= said.span.end && said.span.end <= size, "spans lie in the text");
        promise(!said.sentence.empty(), "diagnostics say something");
    }
    promise(tune.value.has_value() || has_errors(tune.diagnostics), "without a tune there is an error");
    tidy_promises(text);
    if (!tune.clean()) return 0;
    tune_promises(*tune.value);
    if (tune.value->bars() > 128) return 0;
    const auto choices = relead::reharmonise(*tune.value, relead::built_in_rules());
    if (!choices.value) return 0;
    for (const auto& version : choices.value->versions) tune_promises(version.tune);
    return 0;
}
