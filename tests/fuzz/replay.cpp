// Runs a fuzz target over files, and over mutations of them that are the same on every machine.
//   replay FILE-OR-FOLDER...     RELEAD_FUZZ_SECONDS: how long to mutate (default 5)
// The input that is being tried is written to `last-input` in the working folder when the target aborts.
#include <algorithm>
#include <chrono>
#include <csignal>
#include <cstdint>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <iterator>
#include <random>
#include <string>
#include <vector>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);

namespace {

using Random = std::mt19937;

std::vector<std::string> read_all(const std::filesystem::path& place) {
    std::vector<std::filesystem::path> paths;
    if (std::filesystem::is_directory(place)) {
        for (const auto& entry : std::filesystem::recursive_directory_iterator(place))
            if (entry.is_regular_file()) paths.push_back(entry.path());
    } else if (std::filesystem::exists(place)) {
        paths.push_back(place);
    }
    std::sort(paths.begin(), paths.end());
    std::vector<std::string> texts;
    for (const auto& path : paths) {
        std::ifstream in(path, std::ios::binary);
        texts.emplace_back(std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>());
    }
    return texts;
}

std::size_t below(Random& random, std::size_t limit) {
    return limit == 0 ? 0 : random() % limit;
}

/// One small change: a byte, a sign of the language, a piece doubled, cut, moved or taken from another text.
std::string mutate(std::string text, const std::vector<std::string>& texts, Random& random) {
    static const std::string signs[] = {"|",
                                        "||",
                                        "|:",
                                        ":|",
                                        "[1",
                                        "]",
                                        "{",
                                        "}",
                                        "(",
                                        ")",
                                        "*",
                                        "/",
                                        "%",
                                        "!",
                                        "<",
                                        "<<",
                                        ">",
                                        "~",
                                        "--",
                                        "\"",
                                        "\\",
                                        "\n",
                                        "\t",
                                        " ",
                                        "0",
                                        "99999999999",
                                        "C7",
                                        "N.C.",
                                        ".",
                                        "\xff",
                                        "\xe2\x99\xad",
                                        "e",
                                        "w",
                                        "r",
                                        "?",
                                        "section",
                                        "changes",
                                        "melody",
                                        "plan"};
    const auto at = below(random, text.size() + 1);
    const auto length = below(random, 24);
    const auto& other = texts[below(random, texts.size())];
    switch (random() % 7) {
        case 0:
            text.insert(at, signs[below(random, std::size(signs))]);
            break;
        case 1:
            text.erase(std::min(at, text.size()), length);
            break;
        case 2:
            text.insert(at, text.substr(below(random, text.size()), length));
            break;
        case 3:
            text.insert(at, other.substr(below(random, other.size()), length * 4));
            break;
        case 4:
            if (at < text.size()) text[at] = static_cast<char>(random() % 256);
            break;
        case 5:
            text.resize(at);
            break;
        default:
            if (at < text.size()) text.replace(at, 1, signs[below(random, std::size(signs))]);
            break;
    }
    return text;
}

std::string current;  // NOLINT: read by the signal handler

extern "C" void keep_input(int) {
    std::ofstream("last-input", std::ios::binary) << current;
    std::cerr << "the input was kept in " << std::filesystem::current_path() / "last-input" << '\n';
}

void attempt(std::string text) {
    current = std::move(text);
    LLVMFuzzerTestOneInput(reinterpret_cast<const std::uint8_t*>(current.data()), current.size());
}

}  // namespace

int main(int count, char** arguments) {
    std::signal(SIGABRT, keep_input);
    std::vector<std::string> texts;
    for (int i = 1; i < count; ++i)
        for (auto& text : read_all(arguments[i])) texts.push_back(std::move(text));
    if (texts.empty()) {
        std::cerr << "no texts to replay\n";
        return 1;
    }
    for (const auto& text : texts) attempt(text);
    const char* asked = std::getenv("RELEAD_FUZZ_SECONDS");
    const std::chrono::duration<double> budget(asked == nullptr ? 5.0 : std::atof(asked));
    const auto start = std::chrono::steady_clock::now();
    Random random(2024);  // NOLINT: the same mutations on every machine
    int tried = 0;
    while (std::chrono::steady_clock::now() - start < budget) {
        auto text = texts[below(random, texts.size())];
        for (auto steps = 1 + below(random, 6); steps > 0; --steps)
            text = mutate(std::move(text), texts, random);
        attempt(std::move(text));
        ++tried;
    }
    std::cout << texts.size() << " texts and " << tried << " mutations\n";
    return 0;
}
