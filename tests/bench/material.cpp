#include "bench/material.h"

#include <algorithm>
#include <array>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <random>
#include <sstream>

#include "text/render.h"
#include "tune/lower.h"

namespace relead::bench {
namespace {

/// Four bars; a chord is its semitones above the tonic and its suffix.
using Phrases = std::vector<std::string_view>;

const Phrases major_openings = {
    "0:maj7 | 9:m7 | 2:m7 | 7:7", "0:maj7 | 0:maj7 | 2:m7 | 7:7",           "0:maj7 | 9:7 | 2:m7 | 7:7",
    "0:6 | 2:7 | 2:m7 | 7:7",     "0:maj7 | 11:m7b5 4:7 | 9:m7 | 7:m7 0:7", "0:maj7 | 5:maj7 | 4:m7 | 9:7",
};
const Phrases major_middles = {
    "5:maj7 | 5:m6 | 4:m7 9:7 | 2:m7 7:7",
    "4:m7 | 9:7 | 2:m7 | 7:7",
    "9:m7 | 2:7 | 2:m7 | 7:7",
    "5:maj7 | 10:7 | 0:maj7 9:7 | 2:m7 7:7",
};
const Phrases major_endings = {
    "2:m7 | 7:7 | 0:6 | 0:6",
    "4:m7 9:7 | 2:m7 7:7 | 0:6 | 0:6",
    "5:maj7 | 2:m7 7:7 | 0:6 | 0:6",
};
const Phrases major_bridges = {
    "7:m7 | 0:7 | 5:maj7 | 5:maj7", "5:m7 | 10:7 | 3:maj7 | 3:maj7", "4:7 | 4:7 | 9:7 | 9:7",
    "11:m7b5 | 4:7 | 9:m7 | 9:m7",  "9:m7 | 2:7 | 7:maj7 | 7:maj7",
};
const Phrases major_returns = {
    "2:7 | 2:7 | 2:m7 | 7:7",
    "9:7 | 2:7 | 2:m7 | 7:7",
    "4:m7 | 9:7 | 2:m7 | 7:7",
};
const Phrases minor_openings = {
    "0:m6 | 0:m6 | 2:m7b5 | 7:7b9",
    "0:m7 | 8:maj7 | 2:m7b5 | 7:7",
    "0:m6 | 5:m7 | 10:7 | 3:maj7",
};
const Phrases minor_middles = {
    "5:m7 | 10:7 | 3:maj7 | 2:m7b5 7:7b9",
    "8:7 | 8:7 | 2:m7b5 | 7:7b9",
};
const Phrases minor_endings = {
    "2:m7b5 | 7:7b9 | 0:m6 | 0:m6",
    "8:maj7 | 2:m7b5 7:7b9 | 0:m6 | 0:m6",
};
const Phrases minor_bridges = {
    "5:m7 | 10:7 | 3:maj7 | 3:maj7",
    "7:m7b5 | 0:7b9 | 5:m7 | 5:m7",
};
const Phrases minor_returns = {
    "8:maj7 | 8:maj7 | 2:m7b5 | 7:7b9",
    "2:7 | 2:7 | 2:m7b5 | 7:7b9",
};
const Phrases dense_openings = {
    "0:maj7 9:7 | 2:m7 7:7 | 4:m7 9:7 | 2:m7 7:7",
    "0:maj7 0:7 | 5:maj7 5:m6 | 4:m7 9:7 | 2:m7 7:7",
    "0:6 9:m7 | 2:m7 7:7 | 0:6 1:dim7 | 2:m7 7:7",
};
const Phrases dense_endings = {
    "4:m7 9:7 | 2:7 7:7 | 4:m7 9:7 | 2:m7 7:7",
    "5:maj7 6:dim7 | 0:6 9:7 | 2:m7 7:7 | 0:6 7:7",
};
const Phrases blues_choruses = {
    "0:7 | 5:7 | 0:7 | 0:7 | 5:7 | 5:7 | 0:7 | 9:7 | 2:m7 | 7:7 | 0:7 9:7 | 2:m7 7:7",
    "0:7 | 0:7 | 0:7 | 0:7 | 5:7 | 5:7 | 0:7 | 0:7 | 7:7 | 5:7 | 0:7 | 7:7",
};
const Phrases vamps = {
    "0:m7 | 0:m7 | 0:m7 | 0:m7",
    "0:m7 | 2:m7 | 0:m7 | 2:m7",
};

using Random = std::mt19937;

template <class List>
const auto& pick(const List& list, Random& random) {
    return list[random() % list.size()];
}

theory::NoteName above(theory::NoteName tonic, int semitones) {
    constexpr std::array<int, 12> fifths{0, -5, 2, -3, 4, -1, 6, 1, -4, 3, -2, 5};
    auto name = theory::NoteName{tonic.fifths + fifths[static_cast<std::size_t>(semitones)]};
    constexpr int f_flat = -8;
    return name.fifths < f_flat ? theory::NoteName{name.fifths + 12} : name;
}

/// A singable line: chord tones on the beat, steps between them.
class Singer {
public:
    explicit Singer(Random& random) : random_(random) {}

    std::string over(const theory::Chord& chord, int beats) {
        static const std::vector<std::vector<std::string>> rhythms[] = {
            {{"h", "q", "q"}, {"q.", "e", "h"}, {"h.", "q"}},
            {{"q"}},
            {{"q.", "e"}, {"q", "q"}, {"h"}},
            {{"h", "q"}, {"q.", "e", "q"}, {"h."}}};
        std::string text;
        bool strong = true;
        for (const auto& value : pick(rhythms[beats % 4], random_)) {
            text += " " + value + " " + theory::to_string(strong ? chord_tone(chord) : neighbour(chord));
            strong = !strong || value.front() == 'h';
        }
        return text;
    }

private:
    theory::Pitch near(theory::NoteName name, int target) const {
        auto best = theory::pitch_from(name, 4);
        for (const int octave : {3, 5, 6}) {
            const auto other = theory::pitch_from(name, octave);
            if (std::abs(theory::midi_number(other) - target) < std::abs(theory::midi_number(best) - target))
                best = other;
        }
        return best;
    }
    theory::Pitch chord_tone(const theory::Chord& chord) {
        const auto tones = theory::tones(chord);
        constexpr int middle = 71;
        const int target = (2 * last_ + middle) / 3 + static_cast<int>(random_() % 7) - 3;
        // The root is the bass player's; the singer takes another tone.
        const auto tone = tones[1 + random_() % (tones.size() - 1)];
        const auto pitch = near(tone, target);
        last_ = theory::midi_number(pitch);
        return pitch;
    }
    theory::Pitch neighbour(const theory::Chord& chord) {
        theory::Pitch best = chord_tone(chord);
        return best;
    }

    Random& random_;
    int last_ = 71;
};

/// Rows of changes and melody for a run of phrases.
class Writer {
public:
    Writer(theory::NoteName tonic, int beats, bool melody, Random& random)
        : tonic_(tonic), beats_(beats), melody_(melody), singer_(random) {}

    std::string rows(std::string_view phrase) {
        std::string changes = "changes |", melody = "melody |";
        std::istringstream stream{std::string(phrase) + " |"};
        std::vector<theory::Chord> bar;
        for (std::string word; stream >> word;) {
            if (word == "|") {
                write_bar(bar, changes, melody);
                bar.clear();
                continue;
            }
            const auto colon = word.find(':');
            const auto root = above(tonic_, std::atoi(word.substr(0, colon).c_str()));
            bar.push_back(*theory::parse_chord(theory::to_string(root) + word.substr(colon + 1)).chord);
        }
        return changes + "\n" + (melody_ ? melody + "\n" : "");
    }

private:
    void write_bar(const std::vector<theory::Chord>& bar, std::string& changes, std::string& melody) {
        int left = beats_;
        for (std::size_t i = 0; i < bar.size(); ++i) {
            const int beats = i + 1 == bar.size() ? left : (beats_ + 1) / 2;
            left -= beats;
            changes += " " + theory::to_string(bar[i]) + (bar.size() > 1 ? "*" + std::to_string(beats) : "");
            melody += singer_.over(bar[i], beats);
        }
        changes += " |";
        melody += " |";
    }

    theory::NoteName tonic_;
    int beats_;
    bool melody_;
    Singer singer_;
};

tune::Tune read(const std::string& name, std::string text) {
    const text::Source source(name, std::move(text));
    auto outcome = tune::read_tune(source);
    if (outcome.clean()) return std::move(*outcome.value);
    std::cerr << source.bytes() << text::render_all(outcome.diagnostics, {&source, 1});
    std::abort();
}

struct Plan {
    std::string form;
    std::vector<std::pair<std::string, std::vector<const Phrases*>>> sections;
};

Plan plan_of(Style style) {
    switch (style) {
        case Style::minor:
            return {"A A B A",
                    {{"A", {&minor_openings, &minor_endings}}, {"B", {&minor_bridges, &minor_returns}}}};
        case Style::waltz:
            return {"A B",
                    {{"A", {&major_openings, &major_middles, &major_openings, &major_middles}},
                     {"B", {&major_bridges, &major_returns, &major_openings, &major_endings}}}};
        case Style::dense:
            return {"A A", {{"A", {&dense_openings, &dense_openings, &dense_openings, &dense_endings}}}};
        case Style::blues:
            return {"A", {{"A", {&blues_choruses}}}};
        case Style::vamp:
            return {"A", {{"A", {&vamps, &vamps, &vamps, &vamps}}}};
        default:
            return {"A A B A",
                    {{"A", {&major_openings, &major_endings}}, {"B", {&major_bridges, &major_returns}}}};
    }
}

std::string mode_of(Style style) {
    switch (style) {
        case Style::minor:
            return " minor";
        case Style::blues:
            return " blues";
        case Style::vamp:
            return " dorian";
        default:
            return " major";
    }
}

}  // namespace

std::string_view to_string(Style style) {
    constexpr std::string_view names[] = {"major", "minor", "waltz", "fast",
                                          "dense", "blues", "vamp",  "bare"};
    return names[static_cast<std::size_t>(style)];
}

std::vector<Piece> sample_pieces() {
    std::vector<std::filesystem::path> paths;
    for (const auto& entry : std::filesystem::directory_iterator(RELEAD_SOURCE_DIR "/samples/tunes"))
        if (entry.path().extension() == ".tune") paths.push_back(entry.path());
    std::sort(paths.begin(), paths.end());
    std::vector<Piece> pieces;
    for (const auto& path : paths) {
        std::ifstream stream(path);
        std::stringstream text;
        text << stream.rdbuf();
        pieces.push_back({path.stem().string(), read(path.filename().string(), text.str())});
        pieces.back().tune.plans.clear();
        for (auto& item : pieces.back().tune.order.running) item.plan.clear();
    }
    return pieces;
}

Piece made_piece(Style style, std::uint32_t seed) {
    Random random(seed * 131 + static_cast<std::uint32_t>(style));
    const auto name = std::string(to_string(style)) + " " + std::to_string(seed);
    const theory::NoteName tonic{static_cast<int>(random() % 8) - 4};
    const int beats = style == Style::waltz ? 3 : 4;
    const int tempo = style == Style::fast ? 244 : style == Style::waltz ? 160 : 132;
    const auto plan = plan_of(style);
    std::string text = "tune \"" + name + "\"\nkey " + theory::to_string(tonic) + mode_of(style) +
                       "\nmeter " + std::to_string(beats) + "/4\ntempo " + std::to_string(tempo) +
                       " swing\nform " + plan.form + "\n";
    Writer writer(tonic, beats, style != Style::bare, random);
    for (const auto& [section, phrases] : plan.sections) {
        text += "\nsection " + section + "\n";
        for (const auto* phrase : phrases) text += writer.rows(pick(*phrase, random)) + "\n";
    }
    return {name, read(name, std::move(text))};
}

std::vector<Piece> made_pieces(int each) {
    std::vector<Piece> pieces;
    for (int style = 0; style <= static_cast<int>(Style::bare); ++style) {
        for (int seed = 1; seed <= each; ++seed)
            pieces.push_back(made_piece(static_cast<Style>(style), static_cast<std::uint32_t>(seed)));
    }
    return pieces;
}

tune::Tune long_tune(int bars, std::uint32_t seed) {
    Random random(seed);
    Writer writer({-1}, 4, true, random);
    std::string text = "tune \"Long\"\nkey F major\nmeter 4/4\ntempo 132 swing\nform A\n\nsection A\n";
    const Phrases* round[] = {&major_openings, &major_middles, &major_bridges, &major_endings};
    for (int bar = 0; bar < bars; bar += 4)
        text += writer.rows(pick(*round[static_cast<std::size_t>(bar / 4) % 4], random)) + "\n";
    return read("long", std::move(text));
}

}  // namespace relead::bench
