#include "formats/html/symbol_ids.h"

#include "base/fmt.h"

namespace relead::formats::html {

namespace {

/// Symbols are made of our own signs, none of which means anything to JSON or HTML; should a chord table
/// ever bring such a sign it is written as a number.
std::string json_text(const std::string& text) {
    std::string out = "\"";
    for (const char c : text) {
        const auto byte = static_cast<unsigned char>(c);
        if (c == '"' || c == '\\' || c == '<' || c == '>' || c == '&' || byte < 0x20) {
            out += fmt::format("\\u{:04x}", byte);
        } else {
            out += c;
        }
    }
    return out + '"';
}

}  // namespace

int SymbolIds::id_of(const std::vector<report::SymbolPieces>& symbols) {
    std::string row;
    for (const auto& pieces : symbols) {
        row += row.empty() ? "[" : ",";
        row += json_text(fmt::format("{}|{}|{}", pieces.root, pieces.suffix, pieces.bass));
    }
    row += ']';
    const auto [at, added] = ids_.try_emplace(row, static_cast<int>(rows_.size()));
    if (added) rows_.push_back(row);
    return at->second;
}

std::string SymbolIds::json() const {
    std::string out = "[";
    for (const auto& row : rows_) out += (out.size() > 1 ? ",\n" : "") + row;
    return out + ']';
}

}  // namespace relead::formats::html
