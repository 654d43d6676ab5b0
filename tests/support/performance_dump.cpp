// Prints what the band plays, as text:
//   performance_dump TUNE [--chorus] [--guides] [--bars FIRST-LAST] [--roll]
// --roll draws pitched voices on a grid of eighths instead: a piano roll for the eye.
#include <algorithm>
#include <fstream>
#include <iostream>
#include <iterator>
#include <map>
#include <string>

#include "arrange/perform.h"
#include "score/dump.h"
#include "text/source.h"
#include "tune/lower.h"

namespace {

using namespace relead;

std::string slurp(const std::string& path) {
    std::ifstream file(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(file), {}};
}

/// One row a key, one column a sixteenth; C comping, B bass, m melody, g guide tones; lower case goes on.
void roll(const score::Performance& performance, int first, int last) {
    const Time bar(performance.meters.front().beats, performance.meters.front().unit);
    const auto columns =
        static_cast<std::size_t>((bar * 16).floor()) * static_cast<std::size_t>(last - first + 1);
    const Time from = bar * Time(first - 1);
    std::map<int, std::string, std::greater<>> rows;
    for (const auto& voice : performance.voices) {
        if (voice.role == score::SoundingVoice::Role::time) continue;
        const char sign = "MCB.G"[static_cast<int>(voice.role)];
        for (const auto& note : voice.notes) {
            auto& row = rows.try_emplace(note.key, columns, ' ').first->second;
            const auto begins = ((note.at - from) * 16).floor();
            const auto ends = std::max(begins + 1, ((note.at + note.length - from) * 16).floor());
            for (auto c = std::max<std::int64_t>(begins, 0);
                 c < ends && c < static_cast<std::int64_t>(columns); ++c)
                row[static_cast<std::size_t>(c)] = c == begins ? sign : static_cast<char>(sign + 32);
        }
    }
    const auto wide = static_cast<std::size_t>((bar * 16).floor());
    for (const auto& [key, row] : rows) {
        std::cout << (key < 100 ? " " : "") << key << " ";
        for (std::size_t i = 0; i < row.size(); i += wide) std::cout << "|" << row.substr(i, wide);
        std::cout << "|\n";
    }
}

}  // namespace

int main(int count, char** words) {
    std::string path;
    arrange::PerformWish wish;
    bool drawn = false;
    int first = 1;
    int last = 8;
    for (int i = 1; i < count; ++i) {
        const std::string word = words[i];
        if (word == "--chorus") {
            wish.one_chorus = true;
        } else if (word == "--guides") {
            wish.guide_tones = true;
        } else if (word == "--roll") {
            drawn = true;
        } else if (word == "--bars" && i + 1 < count) {
            const std::string range = words[++i];
            first = std::stoi(range);
            last = std::stoi(range.substr(range.find('-') + 1));
        } else {
            path = word;
        }
    }
    const auto source = text::read_source(path, slurp(path));
    if (!source.value) return 1;
    const auto tune = tune::read_tune(*source.value);
    if (!tune.clean()) return 1;
    const auto performance = arrange::perform(*tune.value, wish);
    if (drawn) {
        roll(performance, first, last);
    } else {
        std::cout << score::dump(performance);
    }
    return 0;
}
