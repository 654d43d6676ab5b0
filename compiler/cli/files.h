// Reading and writing files: the only place besides book/ that touches a disk.
#pragma once

#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

#include <relead/outcome.h>

#include "cli/streams.h"

namespace relead::cli {

/// Whole content of a file, or of standard input for "-". Errors: io-cannot-read.
[[nodiscard]] Outcome<std::string> read_file(const std::string& path, Streams& streams);

/// One file to write, below the output's directory.
struct OutputFile {
    std::string name;
    std::string bytes;
};

/// What became of it.
struct Written {
    std::string path;
    enum class How { fresh, replaced, unchanged } how = How::fresh;
};

/// What files are made from: another tune of the same file name must not take their place unseen.
struct Origin {
    std::string path;   ///< of the tune's file; "-" for standard input
    std::string title;  ///< of the tune
};

/// Writes all files or none: first every name is looked at, then each file is written under a
/// temporary name and renamed. A file that is already there is replaced only when Relead wrote it
/// from this tune (one of the same file or title) and nobody has changed it since (the directory's
/// `.relead-state` knows), or with `force`. Errors: io-not-ours, io-other-tune, io-changed-since,
/// io-cannot-write.
[[nodiscard]] Outcome<std::vector<Written>> write_files(const std::filesystem::path& directory,
                                                        const std::vector<OutputFile>& files, bool force,
                                                        const Origin& origin = {});

/// Replaces one file that the user asked us to rewrite (tidy --write), by temporary name and rename.
[[nodiscard]] Outcome<Written> replace_file(const std::filesystem::path& path, std::string_view bytes);

}  // namespace relead::cli
