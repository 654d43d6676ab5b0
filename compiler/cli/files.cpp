#include "cli/files.h"

#include <cerrno>
#include <cstring>
#include <fstream>
#include <istream>
#include <iterator>
#include <map>
#include <sstream>
#include <system_error>
#include <unistd.h>

#define XXH_INLINE_ALL
#include <xxhash.h>

#include "base/fmt.h"
#include "text/diagnose.h"

namespace relead::cli {

namespace fs = std::filesystem;

namespace {

constexpr std::string_view state_name = ".relead-state";

Diagnostic io_problem(text::Code code, std::string sentence) {
    text::Sink sink;
    sink.emit(code, {}, std::move(sentence));
    return sink.take().front();
}

std::string hash_of(std::string_view bytes) {
    return fmt::format("{:016x}", XXH3_64bits(bytes.data(), bytes.size()));
}

std::optional<std::string> slurp(const fs::path& path) {
    std::error_code ignored;
    if (fs::is_directory(path, ignored)) return std::nullopt;  // opens, and throws when read
    std::ifstream file(path, std::ios::binary);
    if (!file) return std::nullopt;
    std::string bytes{std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
    if (file.bad()) return std::nullopt;
    return bytes;
}

/// Why a file operation failed, in words that need no knowledge of systems.
std::string reason(int number) {
    struct Words {
        int number;
        const char* words;
    };
    for (const auto& known : {Words{ENOENT, "there is no such file or folder"},
                              Words{ENOTDIR, "a file stands where a folder should be"},
                              Words{EEXIST, "a file stands where a folder should be"},
                              Words{EACCES, "you may not use this file or folder"},
                              Words{EPERM, "you may not use this file or folder"},
                              Words{EROFS, "nothing can be written there"}, Words{ENOSPC, "the disk is full"},
                              Words{EISDIR, "it is a folder"}, Words{ENAMETOOLONG, "the name is too long"}}) {
        if (known.number == number) return known.words;
    }
    return number != 0 ? std::strerror(number) : "unknown reason";
}
std::string reason() {
    return reason(errno);
}
std::string reason(const std::error_code& error) {
    return reason(error.value());
}

/// A file that its owner protected: to rename another one over it would not ask.
bool is_protected(const fs::path& path) {
    std::error_code error;
    const auto status = fs::status(path, error);
    return fs::is_regular_file(status) && (status.permissions() & fs::perms::owner_write) == fs::perms::none;
}

/// Writes under a temporary name in the same folder, then renames: a reader never sees half a file.
std::optional<Diagnostic> put(const fs::path& path, std::string_view bytes) {
    if (is_protected(path))
        return io_problem(text::Code::io_cannot_write,
                          fmt::format("Cannot write {}: it is write-protected.", path.string()));
    const fs::path temporary =
        path.parent_path() / fmt::format(".{}.{}.part", path.filename().string(), ::getpid());
    errno = 0;
    {
        std::ofstream file(temporary, std::ios::binary | std::ios::trunc);
        file.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
        file.flush();
        if (!file) {
            auto problem = io_problem(text::Code::io_cannot_write,
                                      fmt::format("Cannot write {}: {}.", path.string(), reason()));
            file.close();
            std::error_code ignored;
            fs::remove(temporary, ignored);
            return problem;
        }
    }
    std::error_code error;
    if (const auto before = fs::status(path, error); fs::is_regular_file(before))
        fs::permissions(temporary, before.permissions(), error);
    fs::rename(temporary, path, error);
    if (error) {
        std::error_code ignored;
        fs::remove(temporary, ignored);
        return io_problem(text::Code::io_cannot_write,
                          fmt::format("Cannot write {}: {}.", path.string(), reason(error)));
    }
    return std::nullopt;
}

/// What Relead knows of a file that it wrote.
struct Known {
    std::string hash;    ///< of its bytes
    std::string source;  ///< hash of the tune's path as seen from the folder; empty in older states
    std::string title;   ///< hash of the tune's title
};
using State = std::map<std::string, Known>;  // by file name

/// "hash:source:title", in older states the hash alone.
Known read_known(const std::string& word) {
    const auto first = word.find(':');
    const auto second = first == std::string::npos ? first : word.find(':', first + 1);
    if (second == std::string::npos) return {word.substr(0, first), "", ""};
    return {word.substr(0, first), word.substr(first + 1, second - first - 1), word.substr(second + 1)};
}

State read_state(const fs::path& directory) {
    State state;
    std::istringstream lines(slurp(directory / state_name).value_or(""));
    std::string hash;
    std::string name;
    while (lines >> hash && std::getline(lines >> std::ws, name)) state[name] = read_known(hash);
    return state;
}

Known known_of(const fs::path& directory, const OutputFile& file, const Origin& origin) {
    std::error_code error;
    const auto place = origin.path == "-" ? fs::path("-")
                                          : fs::weakly_canonical(origin.path, error)
                                                .lexically_relative(fs::weakly_canonical(directory, error));
    return {hash_of(file.bytes), hash_of(place.generic_string()), hash_of(origin.title)};
}

/// The same file, whatever its title is now, or the same title, wherever the file lies now.
bool same_origin(const Known& then, const Known& now) {
    return then.source.empty() || then.source == now.source || then.title == now.title;
}

std::optional<Diagnostic> write_state(const fs::path& directory, const State& state) {
    std::string bytes;
    for (const auto& [name, known] : state) {
        const auto from = known.source.empty() ? "" : fmt::format(":{}:{}", known.source, known.title);
        bytes += fmt::format("{}{} {}\n", known.hash, from, name);
    }
    if (slurp(directory / state_name) == bytes) return std::nullopt;
    auto problem = put(directory / state_name, bytes);
    if (problem)
        problem->sentence +=
            " The next run will take the files that Relead wrote there for somebody else's; --force replaces "
            "them.";
    return problem;
}

/// How a file would be written, or why it must not be.
struct Verdict {
    Written::How how = Written::How::fresh;
    std::optional<Diagnostic> refusal;
};

Verdict judge(const fs::path& path, const OutputFile& file, const Known& now, const State& state,
              bool force) {
    std::error_code error;
    if (!fs::exists(fs::symlink_status(path, error))) return {};
    const auto present = slurp(path);
    if (present == file.bytes) return {Written::How::unchanged, std::nullopt};
    if (force) return {Written::How::replaced, std::nullopt};
    const auto known = state.find(file.name);
    if (known == state.end()) {
        return {
            {},
            io_problem(text::Code::io_not_ours,
                       fmt::format("{} is already there and Relead did not write it; nothing was written. "
                                   "Choose another folder with -o, or use --force to replace it.",
                                   path.string()))};
    }
    if (!same_origin(known->second, now)) {
        return {{},
                io_problem(text::Code::io_other_tune,
                           fmt::format("{} was made from another tune; nothing was written. Choose another "
                                       "folder with -o, or use --force to replace it.",
                                       path.string()))};
    }
    if (!present || hash_of(*present) != known->second.hash) {
        return {{},
                io_problem(text::Code::io_changed_since,
                           fmt::format("{} was changed after Relead wrote it; nothing was written. "
                                       "Choose another folder with -o, or use --force to replace it.",
                                       path.string()))};
    }
    return {Written::How::replaced, std::nullopt};
}

}  // namespace

Outcome<std::string> read_file(const std::string& path, Streams& streams) {
    if (path == "-") {
        return {std::string{std::istreambuf_iterator<char>(streams.in), std::istreambuf_iterator<char>()},
                {}};
    }
    errno = 0;
    std::error_code error;
    if (fs::is_directory(path, error)) {
        return {
            std::nullopt,
            {io_problem(text::Code::io_cannot_read, fmt::format("Cannot read {}: it is a folder.", path))}};
    }
    auto bytes = slurp(path);
    if (!bytes) {
        return {std::nullopt,
                {io_problem(text::Code::io_cannot_read, fmt::format("Cannot read {}: {}.", path, reason()))}};
    }
    return {std::move(bytes), {}};
}

Outcome<std::vector<Written>> write_files(const fs::path& directory, const std::vector<OutputFile>& files,
                                          bool force, const Origin& origin) {
    std::error_code error;
    fs::create_directories(directory, error);
    if (error) {
        return {std::nullopt,
                {io_problem(text::Code::io_cannot_write, fmt::format("Cannot make the folder {}: {}.",
                                                                     directory.string(), reason(error)))}};
    }
    auto state = read_state(directory);
    std::vector<Written> written;
    Diagnostics refusals;
    for (const auto& file : files) {
        const auto path = directory / file.name;
        auto verdict = judge(path, file, known_of(directory, file, origin), state, force);
        if (verdict.refusal) refusals.push_back(std::move(*verdict.refusal));
        written.push_back({path.lexically_normal().string(), verdict.how});
    }
    if (!refusals.empty()) return {std::nullopt, std::move(refusals)};
    for (std::size_t i = 0; i < files.size(); ++i) {
        if (written[i].how != Written::How::unchanged) {
            if (auto problem = put(directory / files[i].name, files[i].bytes)) {
                Diagnostics problems{std::move(*problem)};
                // What was written before is ours: the next run must know.
                if (auto unknown = write_state(directory, state)) problems.push_back(std::move(*unknown));
                return {std::nullopt, std::move(problems)};
            }
        }
        state[files[i].name] = known_of(directory, files[i], origin);
    }
    if (auto problem = write_state(directory, state)) return {std::nullopt, {std::move(*problem)}};
    return {std::move(written), {}};
}

Outcome<Written> replace_file(const fs::path& path, std::string_view bytes) {
    if (slurp(path) == std::string(bytes)) return {Written{path.string(), Written::How::unchanged}, {}};
    std::error_code error;
    // Through a link to the file itself, so that the link stays one.
    const auto target = fs::is_symlink(path, error) ? fs::weakly_canonical(path, error) : path;
    if (auto problem = put(target, bytes)) return {std::nullopt, {std::move(*problem)}};
    return {Written{path.string(), Written::How::replaced}, {}};
}

}  // namespace relead::cli
