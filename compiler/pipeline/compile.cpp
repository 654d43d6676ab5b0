#include "pipeline/compile.h"

#include <cctype>
#include <utility>

#include "arrange/lead_sheet.h"
#include "formats/musicxml/mxl.h"
#include "formats/musicxml/write.h"
#include "pipeline/changed.h"
#include "pipeline/read.h"
#include "tune/write.h"

namespace relead::pipeline {

namespace {

void append(Diagnostics& all, Diagnostics more) {
    all.insert(all.end(), std::make_move_iterator(more.begin()), std::make_move_iterator(more.end()));
}

}  // namespace

Outcome<Compiled> compile(const text::Source& source, const rules::RuleSet& rules, const reharm::Wish& wish,
                          const Limits& limits) {
    auto tune = read_tune(source, limits);
    Diagnostics diagnostics = std::move(tune.diagnostics);
    if (!tune.value || has_errors(diagnostics)) return {std::nullopt, std::move(diagnostics)};
    auto analysis = analysis::analyse(*tune.value);
    auto choices = reharm::reharmonise(*tune.value, analysis, rules, wish);
    append(diagnostics, std::move(choices.diagnostics));
    if (!choices.value) return {std::nullopt, std::move(diagnostics)};
    return {Compiled{std::move(*tune.value), std::move(analysis), std::move(*choices.value)},
            std::move(diagnostics)};
}

bool is_for_soloist(const Compiled& compiled) {
    return compiled.choices.plan.who == tune::Plan::Who::soloist;
}

std::string file_word(const std::string& name) {
    std::string word;
    for (const char c : name) {
        const auto byte = static_cast<unsigned char>(c);
        if (byte < 0x80 && std::isalnum(byte) != 0) {
            word += static_cast<char>(std::tolower(byte));
        } else if (!word.empty() && word.back() != '-') {
            word += '-';
        }
    }
    while (!word.empty() && word.back() == '-') word.pop_back();
    return word.empty() ? "version" : word;
}

Outcome<File> sheet_file(const tune::Tune& tune, const tune::Tune* written, const std::string& name,
                         const theory::Instrument* instrument, bool compressed, GuideSheet guide) {
    arrange::SheetWish wish;
    wish.instrument = instrument;
    wish.guide_tones = guide.kind;
    wish.guide_row = guide.row;
    if (written != nullptr) wish.changed = changed_chords(tune, *written);
    auto document = formats::write_musicxml(arrange::lead_sheet(tune, wish));
    if (!compressed) return {File{name + ".musicxml", std::move(document)}, {}};
    auto packed = formats::pack_mxl(name + ".musicxml", document);
    if (!packed.value) return {std::nullopt, std::move(packed.diagnostics)};
    return {File{name + ".mxl", std::move(*packed.value)}, {}};
}

Outcome<std::vector<File>> version_files(const Compiled& compiled, std::size_t index, const std::string& stem,
                                         const SheetChoice& choice) {
    const auto& version = compiled.choices.versions.at(index);
    const auto name = stem + "." + file_word(version.name);
    std::vector<File> files{{name + ".tune", tune::write_tune(version.tune)}};
    auto instruments = choice.instruments;
    instruments.insert(instruments.begin(), nullptr);
    using arrange::GuideTones;
    const auto row = is_for_soloist(compiled) ? voicing::ChordRow::soloist : voicing::ChordRow::changes;
    std::vector<GuideTones> kinds{choice.guide_tones == GuideTones::small ? GuideTones::small
                                                                          : GuideTones::none};
    if (choice.guide_tones == GuideTones::staves) kinds.push_back(GuideTones::staves);
    for (const auto* instrument : instruments) {
        for (const auto kind : kinds) {
            auto sheet_name = instrument == nullptr ? name : name + "." + std::string(instrument->id);
            if (kind == GuideTones::staves) sheet_name += ".guide-tones";
            auto file = sheet_file(version.tune, &compiled.tune, sheet_name, instrument, choice.compressed,
                                   {kind, row});
            if (!file.value) return {std::nullopt, std::move(file.diagnostics)};
            files.push_back(std::move(*file.value));
        }
    }
    return {std::move(files), {}};
}

}  // namespace relead::pipeline
