// A stranger's program: reads a tune, reharmonises it, writes the sheet, all in memory.
#include <relead/relead.h>

#include <iostream>

int main() {
    const relead::Text text{"pier.tune",
                            "tune \"Pier Light\"\nkey C major\nmeter 4/4\ntempo 120\nform A\n\n"
                            "section A\nchanges | Dm7 | G7 | Cmaj7 | Cmaj7 |\n"};
    const auto tune = relead::read_tune(text);
    if (!tune.clean()) {
        for (const auto& said : tune.diagnostics) std::cout << said.code << ": " << said.sentence << '\n';
        return 1;
    }
    std::cout << tune.value->title() << ", " << tune.value->key() << ", " << tune.value->bars() << " bars\n";

    relead::Wish wish;
    wish.use = {"tritone"};
    const auto choices = relead::reharmonise(*tune.value, relead::built_in_rules(), wish);
    if (!choices.clean() || choices.value->versions.empty()) return 1;
    const auto& version = choices.value->versions.front();
    for (const auto& change : version.changes)
        std::cout << change.place << ": " << change.was << " -> " << change.now << " (" << change.rule << ")\n";

    const auto sheet = relead::sheet(version, "pier");
    if (!sheet.clean()) return 1;
    std::cout << sheet.value->name << (sheet.value->bytes.find("<score-partwise") == std::string::npos ? " is no sheet\n" : "\n");
    return 0;
}
