#include <algorithm>
#include <array>
#include <cmath>

#include "base/fmt.h"
#include "score/dump.h"

namespace relead::score {
namespace {

std::string key_name(int key) {
    constexpr std::array names{"C", "Db", "D", "Eb", "E", "F", "Gb", "G", "Ab", "A", "Bb", "B"};
    return fmt::format("{}{}", names[static_cast<std::size_t>(key % 12)], key / 12 - 1);
}

/// Where bars begin, by the meters.
std::vector<Time> bar_lines(const Performance& performance) {
    std::vector<Time> lines;
    const auto& meters = performance.meters;
    if (meters.empty()) return {0};
    std::size_t mark = 0;
    for (Time at; at < performance.length;) {
        lines.push_back(at);
        while (mark + 1 < meters.size() && meters[mark + 1].at <= at) ++mark;
        at += Time(meters[mark].beats, meters[mark].unit);
        if (mark + 1 < meters.size()) at = std::min(at, meters[mark + 1].at);
    }
    return lines;
}

std::string note_text(const SoundingNote& note, Time bar, bool drum) {
    const auto name = drum ? fmt::format("{}", note.key) : key_name(note.key);
    return drum ? fmt::format("{}@{}", name, (note.at - bar).to_string())
                : fmt::format("{}@{}+{}", name, (note.at - bar).to_string(), note.length.to_string());
}

void dump_voice(const SoundingVoice& voice, const std::vector<Time>& lines, std::string& out) {
    const bool drum = voice.role == SoundingVoice::Role::time;
    out += drum ? fmt::format("{} (kit {})\n", voice.name, voice.kit)
                : fmt::format("{} (program {})\n", voice.name, voice.program);
    std::size_t next = 0;
    for (std::size_t bar = 0; bar < lines.size(); ++bar) {
        std::string text;
        for (; next < voice.notes.size(); ++next) {
            const auto& note = voice.notes[next];
            if (bar + 1 < lines.size() && note.at >= lines[bar + 1]) break;
            text += " " + note_text(note, lines[bar], drum);
        }
        if (!text.empty()) out += fmt::format("{:4} |{}\n", bar + 1, text);
    }
}

}  // namespace

std::string dump(const Performance& performance) {
    auto out =
        fmt::format("{} / {}\nlength {}, count-in {}, swing {:.3f}\n", performance.title, performance.name,
                    performance.length.to_string(), performance.count_in.to_string(), performance.swing);
    for (const auto& mark : performance.tempi)
        out += fmt::format("tempo {} {:g}\n", mark.at.to_string(), mark.quarters_per_minute);
    for (const auto& mark : performance.meters)
        out += fmt::format("meter {} {}/{}\n", mark.at.to_string(), mark.beats, mark.unit);
    for (const auto& mark : performance.keys)
        out += fmt::format("key {} {}{}\n", mark.at.to_string(), mark.fifths, mark.minor ? " minor" : "");
    for (const auto& mark : performance.markers)
        out += fmt::format("marker {} {}\n", mark.at.to_string(), mark.text);
    const auto lines = bar_lines(performance);
    for (const auto& voice : performance.voices) dump_voice(voice, lines, out);
    return out;
}

}  // namespace relead::score
