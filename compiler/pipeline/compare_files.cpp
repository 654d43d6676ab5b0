#include "pipeline/compare_files.h"

#include <utility>

#include "arrange/compare_sheet.h"
#include "arrange/slip.h"
#include "base/fmt.h"
#include "formats/musicxml/mxl.h"
#include "formats/musicxml/write.h"
#include "pipeline/aligned.h"
#include "pipeline/listening_page.h"
#include "pipeline/midi_file.h"
#include "pipeline/slip_bars.h"
#include "text/source.h"
#include "theory/signs.h"

namespace relead::pipeline {

namespace {

Outcome<File> sheet(const score::Score& score, const std::string& name, bool compressed) {
    auto document = formats::write_musicxml(score);
    if (!compressed) return {File{name + ".musicxml", std::move(document)}, {}};
    auto packed = formats::pack_mxl(name + ".musicxml", document);
    if (!packed.value) return {std::nullopt, std::move(packed.diagnostics)};
    return {File{name + ".mxl", std::move(*packed.value)}, {}};
}

/// Which versions a sheet compares, for its corner; hashes alone where the names would fill the line. What
/// is whose stands below the last system too.
std::string all_stamps(const Compared& compared) {
    constexpr int line = 64;
    std::string named, hashes;
    for (const auto& row : compared.rows()) {
        if (!row.tune->stamp) continue;
        named += (named.empty() ? "" : " | ") + stamp_of(row);
        hashes += (hashes.empty() ? "" : " | ") + row.tune->stamp->hash;
    }
    return text::grapheme_count(named) > line ? hashes : named;
}

class Files {
public:
    Files(const Compared& compared, const std::string& stem, const CompareSheets& sheets)
        : compared_(compared), comparison_(compared.comparison), stem_(stem), sheets_(sheets) {}

    Outcome<std::vector<File>> run() {
        const auto aligned = align(compared_);
        add_comparison(aligned);
        for (std::size_t row = 1; row < comparison_.rows.size(); ++row) add_slips(aligned, row);
        files_.push_back(listening_page(compared_, stem_));
        add_sounds();
        if (has_errors(diagnostics_)) return {std::nullopt, std::move(diagnostics_)};
        return {std::move(files_), std::move(diagnostics_)};
    }

private:
    void add(Outcome<File> file) {
        for (auto& diagnostic : file.diagnostics) diagnostics_.push_back(std::move(diagnostic));
        if (file.value) files_.push_back(std::move(*file.value));
    }

    void add_comparison(const Aligned& aligned) {
        arrange::CompareSheetWish wish;
        wish.guide_tones = sheets_.guide_tones;
        wish.stamp = all_stamps(compared_);
        wish.reasons = aligned.reasons;
        wish.end_notes = aligned.end_notes;
        const auto score = arrange::compare_sheet(aligned.written, aligned.rows, wish);
        add(sheet(score, stem_ + ".compare", sheets_.compressed));
    }

    /// A row in which nothing differs has no slip.
    void add_slips(const Aligned& aligned, std::size_t row) {
        const auto bars = slip_bars(compared_, aligned, row);
        if (bars.empty()) return;
        auto instruments = sheets_.instruments;
        instruments.insert(instruments.begin(), nullptr);
        for (const auto* instrument : instruments) {
            arrange::SlipWish wish;
            wish.instrument = instrument;
            wish.version = comparison_.rows[row].name;
            wish.soloist = comparison_.rows[row].soloist;
            wish.idea = theory::with_signs(comparison_.rows[row].idea);
            wish.stamp = comparison_.rows[row].stamp;
            auto name = fmt::format("{}.{}.slip", stem_, compared_.words[row]);
            if (instrument != nullptr) name += "." + std::string(instrument->id);
            add(sheet(arrange::change_slip(compared_.tune, bars, wish), name, sheets_.compressed));
        }
    }

    void add_sound(File file, std::size_t row) {
        file.name = fmt::format("{}.{}.mid", stem_, compared_.words[row]);
        files_.push_back(std::move(file));
    }
    void add_sounds() {
        std::size_t row = 0;
        add_sound(midi_file(compared_.tune, stem_), row++);
        for (const auto& choices : compared_.choices) {
            const Compiled compiled{compared_.tune, {}, choices};
            for (std::size_t version = 0; version < choices.versions.size(); ++version)
                add_sound(midi_file(compiled, version, stem_), row++);
        }
        for (const auto& other : compared_.others) add_sound(midi_file(other.tune, stem_), row++);
    }

    const Compared& compared_;
    const report::Comparison& comparison_;
    std::string stem_;
    const CompareSheets& sheets_;
    std::vector<File> files_;
    Diagnostics diagnostics_;
};

}  // namespace

Outcome<std::vector<File>> compare_files(const Compared& compared, const std::string& stem,
                                         const CompareSheets& sheets) {
    return Files(compared, stem, sheets).run();
}

}  // namespace relead::pipeline
