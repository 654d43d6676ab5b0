// relead-table-maker: turns one of the tables in grammar/ into a C++ header of constexpr arrays.
//
//     relead-table-maker TABLE.txt OUT.h NAMESPACE NAME
//
// CMake:  relead_table(TARGET grammar/file.txt NAMESPACE NAME OUT)   (compiler/theory/CMakeLists.txt)
//
// writes `struct NameRow`, `inline constexpr NameRow name_rows[]` in table order (each row knows its
// `line` in the table) and, for every group of unique words, a sorted `name_by_GROUP[]` of
// {text, row}. A wrong table stops the build with FILE:LINE: error: what is wrong.
//
// A table is plain text:
//     -- a line that starts with two hyphens is a comment
//     @include theory/chord.h                what the header includes, if a type below needs it
//     @words minor = m mi min -              <minor>7 in a cell of `words` then stands for m7 mi7 min7 -7
//     @column NAME TYPE [unique:GROUP]       one per column, in order
//     cell | cell | cell                     one row; "" in a cell is the empty word
// Types:
//     text      anything                     std::string_view
//     word      one word                     std::string_view
//     words     words split by spaces        std::span<const std::string_view>
//     int       a whole number               int
//     ints      whole numbers                std::span<const int>
//     pitch     scientific pitch (Bb3)       int, MIDI number
//     degrees   chord degrees (1 b3 #11)     std::span<const Degree>
//     harmony   MusicXML degrees (add 9 -1; alter 5 1; in parentheses = not printed)
//                                            std::span<const HarmonyDegree>
//     Enum{a b c}   one of these words       Enum
#include <algorithm>
#include <cctype>
#include <cstdlib>
#include <fstream>
#include <iostream>
#include <map>
#include <optional>
#include <sstream>
#include <string>
#include <vector>

namespace {

struct Column {
    std::string name, type, group;
    std::vector<std::string> values;  // of an enum
};

struct IndexEntry {
    std::string text;
    std::size_t row = 0;
    int line = 0;
};

struct Table {
    std::string file;
    std::vector<std::string> includes;
    std::map<std::string, std::vector<std::string>> families;
    std::vector<Column> columns;
    std::map<std::string, std::vector<IndexEntry>> index;
    std::ostringstream arrays;  // the lists that cells point to
    std::ostringstream rows;
    std::size_t row_count = 0;
    int line = 0;
};

[[noreturn]] void fail(const Table& table, const std::string& what) {
    std::cerr << table.file << ':' << table.line << ": error: " << what << '\n';
    std::exit(1);
}

std::string trimmed(const std::string& text) {
    const auto first = text.find_first_not_of(" \t\r");
    if (first == std::string::npos) return {};
    return text.substr(first, text.find_last_not_of(" \t\r") - first + 1);
}

std::vector<std::string> split(const std::string& text, char separator) {
    std::vector<std::string> parts;
    std::istringstream in(text);
    for (std::string part; std::getline(in, part, separator);) parts.push_back(trimmed(part));
    if (!text.empty() && text.back() == separator) parts.emplace_back();
    return parts;
}

std::vector<std::string> split_words(const std::string& text) {
    std::vector<std::string> parts;
    std::istringstream in(text);
    for (std::string part; in >> part;) parts.push_back(part == "\"\"" ? std::string() : part);
    return parts;
}

std::string quoted(const std::string& text) {
    std::string out = "\"";
    for (const char c : text) {
        if (c == '"' || c == '\\') out += '\\';
        out += c;
    }
    return out + '"';
}

std::string number(const Table& table, const std::string& word) {
    std::size_t used = 0;
    int value = 0;
    try {
        value = std::stoi(word, &used);
    } catch (const std::exception&) {
        used = 0;
    }
    if (used == 0 || used != word.size()) fail(table, "'" + word + "' is not a whole number");
    return std::to_string(value);
}

// "b9" -> {9, -1}
std::string degree(const Table& table, const std::string& word) {
    const auto digits = word.find_first_not_of("b#");
    if (digits == std::string::npos) fail(table, "'" + word + "' is not a degree");
    int alteration = 0;
    for (std::size_t i = 0; i < digits; ++i) alteration += word[i] == 'b' ? -1 : 1;
    const std::string value = number(table, word.substr(digits));
    if (const int n = std::stoi(value); n < 1 || n > 13)
        fail(table, "'" + word + "': degrees go from 1 to 13");
    return "{" + value + ", " + std::to_string(alteration) + "}";
}

// "add 9 -1" -> HarmonyDegree; "(add 7 0)" is not printed
std::string harmony_degree(const Table& table, std::string entry) {
    const bool hidden = !entry.empty() && entry.front() == '(' && entry.back() == ')';
    if (hidden) entry = entry.substr(1, entry.size() - 2);
    const auto words = split_words(entry);
    if (words.size() != 3 || (words[0] != "add" && words[0] != "alter" && words[0] != "subtract"))
        fail(table, "'" + entry + "': a MusicXML degree is 'add|alter|subtract DEGREE ALTERATION'");
    return "{" + number(table, words[1]) + ", " + number(table, words[2]) +
           ", HarmonyDegree::Type::" + words[0] + (hidden ? ", false}" : ", true}");
}

std::string midi_pitch(const Table& table, const std::string& word) {
    static const std::map<char, int> naturals = {{'C', 0}, {'D', 2}, {'E', 4}, {'F', 5},
                                                 {'G', 7}, {'A', 9}, {'B', 11}};
    const auto found = word.empty() ? naturals.end() : naturals.find(word[0]);
    if (found == naturals.end()) fail(table, "'" + word + "' is not a pitch such as Bb3");
    std::size_t i = 1;
    int semitones = found->second;
    for (; i < word.size() && (word[i] == 'b' || word[i] == '#'); ++i) semitones += word[i] == 'b' ? -1 : 1;
    return std::to_string(12 * (std::stoi(number(table, word.substr(i))) + 1) + semitones);
}

// Replaces each <family> by all its members; every combination becomes one spelling.
std::vector<std::string> expand(const Table& table, const std::string& word) {
    const auto open = word.find('<');
    if (open == std::string::npos) return {word};
    const auto close = word.find('>', open);
    if (close == std::string::npos) fail(table, "'" + word + "': '<' without '>'");
    const auto family = table.families.find(word.substr(open + 1, close - open - 1));
    if (family == table.families.end()) fail(table, "'" + word + "': no @words line has this name");
    std::vector<std::string> out;
    const auto tails = expand(table, word.substr(close + 1));
    for (const auto& member : family->second) {
        const std::string head = word.substr(0, open) + member;
        for (const auto& tail : tails) out.emplace_back(head).append(tail);
    }
    return out;
}

// False when the same row has the word already (families overlap); another row's word is an error.
bool add_to_index(Table& table, const Column& column, const std::string& text) {
    if (column.group.empty()) return true;
    auto& group = table.index[column.group];
    for (const auto& other : group) {
        if (other.text != text) continue;
        if (other.line == table.line) return false;
        fail(table, "'" + text + "' stands in line " + std::to_string(other.line) + " already");
    }
    group.push_back({text, table.row_count, table.line});
    return true;
}

// Writes a list as an array of its own and returns the name that the row points to.
std::string array_of(Table& table, const Column& column, const std::string& type,
                     const std::vector<std::string>& items) {
    if (items.empty()) return "{}";
    std::string name = column.name + "_of_line_" + std::to_string(table.line);
    table.arrays << "inline constexpr " << type << ' ' << name << "[] = {";
    for (const auto& item : items) table.arrays << item << ", ";
    table.arrays << "};\n";
    return name;
}

std::string words_cell(Table& table, const Column& column, const std::string& cell) {
    std::vector<std::string> items;
    for (const auto& word : split_words(cell)) {
        for (const auto& spelling : expand(table, word)) {
            if (add_to_index(table, column, spelling)) items.push_back(quoted(spelling));
        }
    }
    return array_of(table, column, "std::string_view", items);
}

std::string degrees_cell(Table& table, const Column& column, const std::string& cell) {
    std::vector<std::string> items;
    for (const auto& word : split_words(cell)) {
        items.push_back(degree(table, word));
        if (std::count(items.begin(), items.end(), items.back()) > 1)
            fail(table, "degree '" + word + "' stands twice");
    }
    return array_of(table, column, "Degree", items);
}

std::string harmony_cell(Table& table, const Column& column, const std::string& cell) {
    std::vector<std::string> items;
    if (!cell.empty())
        for (const auto& entry : split(cell, ';')) items.push_back(harmony_degree(table, entry));
    return array_of(table, column, "HarmonyDegree", items);
}

std::string ints_cell(Table& table, const Column& column, const std::string& cell) {
    std::vector<std::string> items;
    for (const auto& word : split_words(cell)) items.push_back(number(table, word));
    return array_of(table, column, "int", items);
}

std::string word_cell(Table& table, const Column& column, const std::string& cell) {
    const auto words = split_words(cell);
    if (words.size() != 1) fail(table, "column " + column.name + " wants one word, not '" + cell + "'");
    add_to_index(table, column, words[0]);
    return quoted(words[0]);
}

std::string enum_cell(const Table& table, const Column& column, const std::string& cell) {
    if (std::find(column.values.begin(), column.values.end(), cell) == column.values.end())
        fail(table, "'" + cell + "' is none of the words of column " + column.name);
    return column.type + "::" + cell;
}

std::string cell_code(Table& table, const Column& column, const std::string& cell) {
    if (!column.values.empty()) return enum_cell(table, column, cell);
    if (column.type == "text") {
        add_to_index(table, column, cell);
        return quoted(cell);
    }
    if (column.type == "word") return word_cell(table, column, cell);
    if (column.type == "words") return words_cell(table, column, cell);
    if (column.type == "int") return number(table, cell);
    if (column.type == "ints") return ints_cell(table, column, cell);
    if (column.type == "pitch") return midi_pitch(table, cell);
    if (column.type == "degrees") return degrees_cell(table, column, cell);
    return harmony_cell(table, column, cell);
}

std::string cpp_type(const Column& column) {
    static const std::map<std::string, std::string> types = {{"text", "std::string_view"},
                                                             {"word", "std::string_view"},
                                                             {"words", "std::span<const std::string_view>"},
                                                             {"int", "int"},
                                                             {"ints", "std::span<const int>"},
                                                             {"pitch", "int"},
                                                             {"degrees", "std::span<const Degree>"},
                                                             {"harmony", "std::span<const HarmonyDegree>"}};
    if (!column.values.empty()) return column.type;
    const auto found = types.find(column.type);
    return found == types.end() ? std::string() : found->second;
}

void read_column(Table& table, const std::string& text) {
    Column column;
    std::string rest = text;
    if (const auto brace = rest.find('{'); brace != std::string::npos) {
        const auto close = rest.find('}', brace);
        if (close == std::string::npos) fail(table, "'{' without '}'");
        column.values = split_words(rest.substr(brace + 1, close - brace - 1));
        rest = rest.substr(0, brace) + rest.substr(close + 1);
    }
    const auto words = split_words(rest);
    if (words.size() < 2 || words.size() > 3) fail(table, "write '@column NAME TYPE [unique:GROUP]'");
    column.name = words[0];
    column.type = words[1];
    if (words.size() == 3) {
        if (words[2].rfind("unique:", 0) != 0) fail(table, "'" + words[2] + "' is not unique:GROUP");
        column.group = words[2].substr(7);
    }
    if (cpp_type(column).empty()) fail(table, "unknown column type '" + column.type + "'");
    table.columns.push_back(column);
}

void read_directive(Table& table, const std::string& line) {
    const auto space = line.find(' ');
    const std::string word = line.substr(0, space);
    const std::string rest = space == std::string::npos ? std::string() : trimmed(line.substr(space));
    if (word == "@column") return read_column(table, rest);
    if (word == "@include") return table.includes.push_back(rest);
    if (word != "@words") fail(table, "'" + word + "' is not @column, @words or @include");
    const auto parts = split_words(rest);
    if (parts.size() < 3 || parts[1] != "=") fail(table, "write '@words NAME = WORD WORD ...'");
    table.families[parts[0]] = {parts.begin() + 2, parts.end()};
}

void read_row(Table& table, const std::string& line) {
    const auto cells = split(line, '|');
    if (cells.size() != table.columns.size())
        fail(table, "this row has " + std::to_string(cells.size()) + " cells, the table has " +
                        std::to_string(table.columns.size()) + " columns");
    table.rows << "    {";
    for (std::size_t i = 0; i < cells.size(); ++i)
        table.rows << cell_code(table, table.columns[i], cells[i]) << ", ";
    table.rows << table.line << "},\n";
    ++table.row_count;
}

void read_table(Table& table) {
    std::ifstream in(table.file);
    if (!in) fail(table, "cannot be read");
    for (std::string raw; std::getline(in, raw);) {
        ++table.line;
        const std::string line = trimmed(raw);
        if (line.empty() || line.rfind("--", 0) == 0) continue;
        if (line[0] == '@') {
            read_directive(table, line);
        } else {
            read_row(table, line);
        }
    }
    if (table.row_count == 0) fail(table, "the table has no rows");
}

std::string camel(const std::string& name) {
    std::string out;
    bool upper = true;
    for (const char c : name) {
        if (c != '_') out += upper ? static_cast<char>(std::toupper(static_cast<unsigned char>(c))) : c;
        upper = c == '_';
    }
    return out;
}

void write_header(Table& table, std::ostream& out, const std::string& name_space, const std::string& name) {
    const std::string row_type = camel(name) + "Row";
    out << "// Made from " << table.file.substr(table.file.find_last_of('/') + 1)
        << "; change that table, not this file.\n"
        << "#pragma once\n\n#include <cstdint>\n#include <span>\n#include <string_view>\n\n";
    for (const auto& include : table.includes) out << "#include \"" << include << "\"\n";
    out << "\nnamespace " << name_space << " {\n\nstruct " << row_type << " {\n";
    for (const auto& column : table.columns) out << "    " << cpp_type(column) << ' ' << column.name << ";\n";
    out << "    int line;\n};\n\nstruct " << camel(name)
        << "Index {\n    std::string_view text;\n    std::uint16_t row;\n};\n\n"
        << table.arrays.str() << "\ninline constexpr " << row_type << ' ' << name << "_rows[] = {\n"
        << table.rows.str() << "};\n";
    for (auto& group : table.index) {
        auto& entries = group.second;
        std::sort(entries.begin(), entries.end(),
                  [](const auto& a, const auto& b) { return a.text < b.text; });
        out << "\ninline constexpr " << camel(name) << "Index " << name << "_by_" << group.first
            << "[] = {\n";
        for (const auto& entry : entries) out << "    {" << quoted(entry.text) << ", " << entry.row << "},\n";
        out << "};\n";
    }
    out << "\n}  // namespace " << name_space << "\n";
}

}  // namespace

int main(int argc, char** argv) {
    if (argc != 5) {
        std::cerr << "usage: relead-table-maker TABLE.txt OUT.h NAMESPACE NAME\n";
        return 2;
    }
    Table table;
    table.file = argv[1];
    read_table(table);
    std::ofstream out(argv[2]);
    write_header(table, out, argv[3], argv[4]);
    out.close();
    if (!out) {
        std::cerr << argv[2] << ": cannot be written\n";
        return 1;
    }
    return 0;
}
