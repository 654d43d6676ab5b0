// compiler/cli/files.cpp: all files or none, and never over what others wrote.
#include "cli/files.h"

#include <filesystem>
#include <fstream>
#include <iterator>
#include <sstream>
#include <unistd.h>

#include "support/catch.h"

namespace fs = std::filesystem;
using namespace relead;
using namespace relead::cli;

namespace {

struct Folder {
    fs::path path = fs::temp_directory_path() / ("relead-files-" + std::to_string(::getpid()));
    Folder() {
        fs::remove_all(path);
        fs::create_directories(path);
    }
    ~Folder() { fs::remove_all(path); }
    Folder(const Folder&) = delete;
    Folder& operator=(const Folder&) = delete;
};

std::string content(const fs::path& path) {
    std::ifstream file(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
}

void overwrite(const fs::path& path, const std::string& bytes) {
    std::ofstream(path, std::ios::binary) << bytes;
}

std::size_t visible_files(const fs::path& path) {
    std::size_t count = 0;
    for (const auto& entry : fs::directory_iterator(path))
        count += entry.path().filename() != ".relead-state";
    return count;
}

}  // namespace

TEST_CASE("files of another tune are not replaced unseen") {
    const Folder folder;
    const auto out = folder.path / "out";
    const auto one = (folder.path / "one" / "blues.tune").string();
    const auto other = (folder.path / "two" / "blues.tune").string();
    const std::vector<OutputFile> first{{"blues.plain.tune", "one"}};
    const std::vector<OutputFile> second{{"blues.plain.tune", "two"}};
    REQUIRE(write_files(out, first, false, {one, "Fog Blues"}).clean());
    const auto refused = write_files(out, second, false, {other, "Rope Blues"});
    REQUIRE_FALSE(refused.value.has_value());
    CHECK(refused.diagnostics.front().code == "io-other-tune");
    CHECK(content(out / "blues.plain.tune") == "one");
    SECTION("the same file may have another title by now") {
        CHECK(write_files(out, second, false, {one, "Slow Fog Blues"}).clean());
    }
    SECTION("the same tune may lie elsewhere by now") {
        CHECK(write_files(out, second, false, {other, "Fog Blues"}).clean());
    }
    SECTION("who wants it replaced says so, and then it is the other tune's") {
        CHECK(write_files(out, second, true, {other, "Rope Blues"}).clean());
        CHECK_FALSE(write_files(out, first, false, {one, "Fog Blues"}).clean());
    }
    SECTION("a state that knows no origins lets its files be replaced") {
        std::istringstream line(content(out / ".relead-state"));
        std::string word;
        line >> word;
        overwrite(out / ".relead-state", word.substr(0, word.find(':')) + " blues.plain.tune\n");
        CHECK(write_files(out, second, false, {other, "Rope Blues"}).clean());
    }
}

TEST_CASE("a fresh folder is made and filled; a second run changes nothing") {
    const Folder folder;
    const auto below = folder.path / "new" / "deep";
    const std::vector<OutputFile> files{{"a.tune", "one"}, {"a.musicxml", "two"}};
    auto first = write_files(below, files, false);
    REQUIRE(first.clean());
    CHECK(first.value->at(0).how == Written::How::fresh);
    CHECK(content(below / "a.musicxml") == "two");
    const auto stamp = fs::last_write_time(below / "a.tune");
    auto second = write_files(below, files, false);
    REQUIRE(second.clean());
    CHECK(second.value->at(0).how == Written::How::unchanged);
    CHECK(fs::last_write_time(below / "a.tune") == stamp);
    CHECK(visible_files(below) == 2);  // no temporary file is left
}

TEST_CASE("what Relead wrote it may replace") {
    const Folder folder;
    REQUIRE(write_files(folder.path, {{"a.tune", "one"}}, false).clean());
    auto again = write_files(folder.path, {{"a.tune", "newer"}}, false);
    REQUIRE(again.clean());
    CHECK(again.value->at(0).how == Written::How::replaced);
    CHECK(content(folder.path / "a.tune") == "newer");
}

TEST_CASE("a file of somebody else stops the whole write, unless forced") {
    const Folder folder;
    overwrite(folder.path / "b.tune", "mine");
    const std::vector<OutputFile> files{{"a.tune", "one"}, {"b.tune", "two"}};
    auto refused = write_files(folder.path, files, false);
    REQUIRE_FALSE(refused.value);
    REQUIRE(refused.diagnostics.size() == 1);
    CHECK(refused.diagnostics[0].code == "io-not-ours");
    CHECK(content(folder.path / "b.tune") == "mine");
    CHECK_FALSE(fs::exists(folder.path / "a.tune"));
    REQUIRE(write_files(folder.path, files, true).clean());
    CHECK(content(folder.path / "b.tune") == "two");
}

TEST_CASE("a file that was edited after Relead wrote it is kept") {
    const Folder folder;
    REQUIRE(write_files(folder.path, {{"a.tune", "one"}}, false).clean());
    overwrite(folder.path / "a.tune", "one, edited by hand");
    auto refused = write_files(folder.path, {{"a.tune", "two"}}, false);
    REQUIRE_FALSE(refused.value);
    CHECK(refused.diagnostics.at(0).code == "io-changed-since");
    CHECK(content(folder.path / "a.tune") == "one, edited by hand");
}

TEST_CASE("a folder that cannot be made is said so") {
    const Folder folder;
    overwrite(folder.path / "file", "");
    auto refused = write_files(folder.path / "file" / "below", {{"a", "b"}}, false);
    REQUIRE_FALSE(refused.value);
    CHECK(refused.diagnostics.at(0).code == "io-cannot-write");
}

TEST_CASE("reading: standard input, a missing file, a folder") {
    std::istringstream in("from the pipe");
    std::ostringstream out;
    Streams streams{in, out, out};
    CHECK(read_file("-", streams).value == "from the pipe");
    const Folder folder;
    CHECK(read_file((folder.path / "none").string(), streams).diagnostics.at(0).code == "io-cannot-read");
    CHECK(read_file(folder.path.string(), streams).diagnostics.at(0).code == "io-cannot-read");
}

TEST_CASE("replacing one file keeps a link a link") {
    const Folder folder;
    overwrite(folder.path / "real.tune", "old");
    fs::create_symlink(folder.path / "real.tune", folder.path / "link.tune");
    REQUIRE(replace_file(folder.path / "link.tune", "new").clean());
    CHECK(fs::is_symlink(folder.path / "link.tune"));
    CHECK(content(folder.path / "real.tune") == "new");
}

TEST_CASE("a write-protected file stays; what was written before it is known as ours") {
    const Folder folder;
    overwrite(folder.path / "b.tune", "old");
    fs::permissions(folder.path / "b.tune", fs::perms::owner_read);
    const std::vector<OutputFile> files{{"a.tune", "one"}, {"b.tune", "two"}};
    auto refused = write_files(folder.path, files, true);
    REQUIRE_FALSE(refused.value);
    CHECK(refused.diagnostics.at(0).code == "io-cannot-write");
    CHECK(refused.diagnostics.at(0).sentence.find("b.tune: it is write-protected.") != std::string::npos);
    CHECK(content(folder.path / "b.tune") == "old");
    CHECK(content(folder.path / "a.tune") == "one");
    CHECK(write_files(folder.path, {{"a.tune", "three"}}, false).clean());
}

TEST_CASE("that the next run will not know what was written is told, also after another fault") {
    const Folder folder;
    fs::create_directory(folder.path / ".relead-state");
    const std::string follows =
        " The next run will take the files that Relead wrote there for somebody else's";
    const auto alone = write_files(folder.path, {{"a.tune", "one"}}, false);
    REQUIRE_FALSE(alone.value);
    REQUIRE(alone.diagnostics.size() == 1);
    CHECK(alone.diagnostics[0].code == "io-cannot-write");
    CHECK(alone.diagnostics[0].sentence.find(".relead-state: it is a folder." + follows) !=
          std::string::npos);
    CHECK(content(folder.path / "a.tune") == "one");

    overwrite(folder.path / "c.tune", "old");
    fs::permissions(folder.path / "c.tune", fs::perms::owner_read);
    const auto both = write_files(folder.path, {{"b.tune", "one"}, {"c.tune", "two"}}, true);
    REQUIRE_FALSE(both.value);
    REQUIRE(both.diagnostics.size() == 2);
    CHECK(both.diagnostics[0].sentence.find("c.tune: it is write-protected.") != std::string::npos);
    CHECK(both.diagnostics[1].sentence.find(".relead-state: it is a folder." + follows) != std::string::npos);
}

TEST_CASE("a file that is replaced keeps its permissions") {
    const Folder folder;
    overwrite(folder.path / "a.tune", "old");
    fs::permissions(folder.path / "a.tune", fs::perms::owner_read | fs::perms::owner_write);
    REQUIRE(replace_file(folder.path / "a.tune", "new").clean());
    CHECK(content(folder.path / "a.tune") == "new");
    CHECK(fs::status(folder.path / "a.tune").permissions() ==
          (fs::perms::owner_read | fs::perms::owner_write));
}
