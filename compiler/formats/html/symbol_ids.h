// Each way in which a symbol is read, by all kinds of instruments, gets a number, so that the page holds
// it once.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "report/listening.h"

namespace relead::formats::html {

class SymbolIds {
public:
    [[nodiscard]] int id_of(const std::vector<report::SymbolPieces>& symbols);
    /// [["B♭|maj7|D", "C|maj7|E"], …] in the order of the numbers, as JSON.
    [[nodiscard]] std::string json() const;

private:
    std::map<std::string, int> ids_;
    std::vector<std::string> rows_;
};

}  // namespace relead::formats::html
