// Writes the lead sheets of tunes for the checks of the MusicXML writer:
//   sheet_dump OUT_DIR [--for a,b,c] [--dump] [--slashes] [--jumps] [--compact] [--changed]
//              [--guide-tones small|staves] TUNE...
// One file TUNE.INSTRUMENT.musicxml and .mxl for each tune and instrument ("concert" = none, "all" = every
// one of the table) and .order, the numbers of the measures as they are played; with --dump also .txt, the
// score as text. Exit code 1 when a tune cannot be read.
#include <filesystem>
#include <fstream>
#include <iostream>
#include <iterator>
#include <sstream>
#include <string>
#include <vector>

#include "arrange/lead_sheet.h"
#include "formats/musicxml/mxl.h"
#include "formats/musicxml/write.h"
#include "score/dump.h"
#include "score/play_order.h"
#include "text/source.h"
#include "tune/lower.h"

namespace {

namespace fs = std::filesystem;
using namespace relead;

struct Options {
    fs::path out;
    std::vector<std::string> instruments{"concert"};
    std::vector<fs::path> tunes;
    bool dump = false;
    bool changed = false;
    arrange::SheetWish wish;
};

std::vector<std::string> split(const std::string& words) {
    std::vector<std::string> parts;
    std::istringstream stream(words);
    for (std::string word; std::getline(stream, word, ',');) {
        parts.push_back(word);
        if (word != "all") continue;
        parts.back() = "concert";
        for (const auto& instrument : theory::instruments()) parts.emplace_back(instrument.id);
    }
    return parts;
}

Options read_options(int count, char** words) {
    Options options;
    for (int i = 1; i < count; ++i) {
        const std::string word = words[i];
        if (word == "--for" && i + 1 < count) {
            options.instruments = split(words[++i]);
        } else if (word == "--dump") {
            options.dump = true;
        } else if (word == "--slashes") {
            options.wish.show_melody = false;
        } else if (word == "--jumps") {
            options.wish.jumps = arrange::Jumps::whenever_shorter;
        } else if (word == "--compact") {
            options.wish.lettering = score::SymbolLettering::compact;
        } else if (word == "--guide-tones" && i + 1 < count) {
            options.wish.guide_tones =
                std::string(words[++i]) == "small" ? arrange::GuideTones::small : arrange::GuideTones::staves;
        } else if (word == "--changed") {
            options.changed = options.wish.show_replaced = true;
        } else if (options.out.empty()) {
            options.out = word;
        } else {
            options.tunes.emplace_back(word);
        }
    }
    return options;
}

std::string slurp(const fs::path& path) {
    std::ifstream file(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(file), {}};
}

void spill(const fs::path& path, const std::string& bytes) {
    std::ofstream(path, std::ios::binary) << bytes;
}

bool complain(const fs::path& path, const Diagnostics& diagnostics) {
    for (const auto& diagnostic : diagnostics) {
        if (diagnostic.severity != Severity::error) continue;
        std::cerr << path.string() << ": " << diagnostic.sentence << '\n';
    }
    return false;
}

/// Every fourth chord as if a version had put it there.
std::vector<arrange::ChangedChord> some_changes(const tune::Tune& tune) {
    std::vector<arrange::ChangedChord> changed;
    int count = 0;
    for (const auto& ref : tune::written_chords(tune)) {
        if (++count % 4 == 0) changed.push_back({ref, {tune::chord_at(tune, ref).chord}});
    }
    return changed;
}

void write_sheet(const Options& options, const tune::Tune& tune, const std::string& stem,
                 const std::string& instrument) {
    auto wish = options.wish;
    if (options.changed) {
        wish.changed = some_changes(tune);
        wish.stamp = "mild \u00b7 3fa94c21";
    }
    wish.instrument = instrument == "concert" ? nullptr : theory::find_instrument(instrument);
    const auto sheet = arrange::lead_sheet(tune, wish);
    const auto base = options.out / (stem + "." + instrument);
    const auto document = formats::write_musicxml(sheet);
    spill(base.string() + ".musicxml", document);
    spill(base.string() + ".mxl", formats::pack_mxl(stem + ".musicxml", document).value.value_or(""));
    std::string order;
    for (const int i : score::play_order(sheet.parts.front())) {
        order += sheet.parts.front().measures[static_cast<std::size_t>(i)].number + "\n";
    }
    spill(base.string() + ".order", order);
    if (options.dump) spill(base.string() + ".txt", score::dump(sheet));
}

bool write_tune(const Options& options, const fs::path& path) {
    const auto source = text::read_source(path.string(), slurp(path));
    if (!source.value) return complain(path, source.diagnostics);
    const auto tune = tune::read_tune(*source.value);
    if (!tune.clean()) return complain(path, tune.diagnostics);
    for (const auto& instrument : options.instruments) {
        write_sheet(options, *tune.value, path.stem().string(), instrument);
    }
    return true;
}

}  // namespace

int main(int count, char** words) {
    const auto options = read_options(count, words);
    if (options.out.empty() || options.tunes.empty()) {
        std::cerr << "sheet_dump OUT_DIR [--for a,b] [--dump] [--slashes] [--jumps] [--compact] [--changed] "
                     "[--guide-tones small|staves] TUNE...\n";
        return 2;
    }
    fs::create_directories(options.out);
    bool all_read = true;
    for (const auto& path : options.tunes) all_read = write_tune(options, path) && all_read;
    return all_read ? 0 : 1;
}
