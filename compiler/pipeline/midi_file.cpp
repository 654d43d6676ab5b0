#include "pipeline/midi_file.h"

#include "arrange/perform.h"
#include "formats/midi/write.h"

namespace relead::pipeline {

score::Performance performance_of(const tune::Tune& tune, bool one_chorus) {
    arrange::PerformWish wish;
    wish.one_chorus = one_chorus;
    return arrange::perform(tune, wish);
}

score::Performance performance_of(const Compiled& compiled, std::size_t index, bool one_chorus) {
    const auto& version = compiled.choices.versions.at(index);
    arrange::PerformWish wish;
    wish.name = version.name;
    wish.one_chorus = one_chorus;
    wish.written = &compiled.tune;
    wish.where = compiled.choices.plan.where;
    wish.guide_tones = compiled.choices.plan.who == tune::Plan::Who::soloist;
    return arrange::perform(version.tune, wish);
}

File midi_file(const tune::Tune& tune, const std::string& stem) {
    return {stem + ".mid", formats::write_midi(performance_of(tune))};
}

File midi_file(const Compiled& compiled, std::size_t version, const std::string& stem) {
    const auto name = stem + "." + file_word(compiled.choices.versions.at(version).name) + ".mid";
    return {name, formats::write_midi(performance_of(compiled, version))};
}

}  // namespace relead::pipeline
