// compiler/theory/table_maker.cpp: a wrong table is refused with its file and line
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <sys/wait.h>

#include "unit/theory/chords.h"

namespace {

namespace fs = std::filesystem;

struct Run {
    int code = -1;
    std::string said;     // standard error, with the folder's name taken out
    std::string written;  // the header
};

std::string read_file(const fs::path& path) {
    std::ifstream in(path);
    std::ostringstream out;
    out << in.rdbuf();
    return out.str();
}

Run make_table(const std::string& table) {
    auto name = (fs::temp_directory_path() / "relead-table-XXXXXX").string();
    const fs::path folder = mkdtemp(name.data());
    std::ofstream(folder / "t.txt") << table;
    const std::string command =
        "cd " + folder.string() + " && " + RELEAD_TABLE_MAKER + " t.txt t.h demo fruit 2> said";
    Run run;
    run.code = WEXITSTATUS(std::system(command.c_str()));
    run.said = read_file(folder / "said");
    run.written = read_file(folder / "t.h");
    fs::remove_all(folder);
    return run;
}

}  // namespace

TEST_CASE("a table becomes an array and a sorted index") {
    const Run run = make_table(
        "-- fruit\n"
        "@words size = small big\n"
        "@column name word unique:word\n"
        "@column others words unique:word\n"
        "@column weight int\n"
        "@column low pitch\n"
        "@column kind Kind{sweet sour}\n"
        "\n"
        "pear | <size>-pear | 7 | C4 | sweet\n"
        "\"\" | | -3 | Bb3 | sour\n");
    CHECK(run.said.empty());
    CHECK(run.code == 0);
    for (const char* part :
         {"struct FruitRow {", "std::span<const std::string_view> others;", "\"small-pear\", \"big-pear\"",
          "7, 60, Kind::sweet, 9}", "-3, 58, Kind::sour, 10}",
          "    {\"\", 1},\n    {\"big-pear\", 0},\n    {\"pear\", 0},\n    {\"small-pear\", 0},\n"}) {
        INFO(part << " in\n" << run.written);
        const std::string written = run.written;
        CHECK(written.find(part) != std::string::npos);
    }
}

TEST_CASE("a wrong table is refused with file and line") {
    struct Row {
        const char *table, *message;
    };
    const Row rows[] = {
        {"@column a int\nx\n", "t.txt:2: error: 'x' is not a whole number"},
        {"@column a int\n1 | 2\n", "t.txt:2: error: this row has 2 cells, the table has 1 columns"},
        {"@column a word unique:w\npear\n\npear\n", "t.txt:4: error: 'pear' stands in line 2 already"},
        {"@column a degrees\n1 b3 x\n", "t.txt:2: error: 'x' is not a whole number"},
        {"@column a degrees\n1 3 3\n", "t.txt:2: error: degree '3' stands twice"},
        {"@column a degrees\n1 14\n", "t.txt:2: error: '14': degrees go from 1 to 13"},
        {"@column a harmony\nadd 9\n", "t.txt:2: error: 'add 9': a MusicXML degree is"},
        {"@column a Kind{x y}\nz\n", "t.txt:2: error: 'z' is none of the words of column a"},
        {"@column a words\n<none>7\n", "t.txt:2: error: '<none>7': no @words line has this name"},
        {"@column a words\n<no\n", "t.txt:2: error: '<no': '<' without '>'"},
        {"@column a number\n1\n", "t.txt:1: error: unknown column type 'number'"},
        {"@column a word\ntwo words\n", "t.txt:2: error: column a wants one word, not 'two words'"},
        {"@column a pitch\nH4\n", "t.txt:2: error: 'H4' is not a pitch such as Bb3"},
        {"@colum a int\n", "t.txt:1: error: '@colum' is not @column, @words or @include"},
        {"@column a int\n-- nothing\n", "t.txt:2: error: the table has no rows"},
    };
    for (const auto& row : rows) {
        INFO(row.table);
        const Run run = make_table(row.table);
        CHECK(run.code == 1);
        CHECK(run.said.substr(0, std::string_view(row.message).size()) == row.message);
        CHECK(run.written.empty());
    }
}
