// Blocks and signs as bars of the sheet.
#pragma once

#include <map>
#include <span>
#include <string>
#include <vector>

#include "arrange/form_blocks.h"
#include "arrange/sheet_form.h"

namespace relead::arrange {

/// Writes bars one after the other and keeps count of the rehearsal marks already given.
class FormWriter {
public:
    explicit FormWriter(const tune::Tune& tune) : tune_(tune) {}

    void write(std::span<const FormUnit> units, const FormBlock& block);
    void write_pickup(const FormBar& pickup);
    /// All bars of a section with the signs that its rows hold.
    void write_section_by_signs(int section);
    /// Plain bars after a jump, `first` of them opening a section where `opens` says so.
    void write_plain(const FormBar& bar, bool opens, bool closes);

    [[nodiscard]] std::vector<SheetBar>& bars() { return bars_; }

private:
    void open(int section, int playings);
    void put(int section, int bar);
    void write_endings(int section, const FormBlock& block, bool last_chorus);
    void add_repeat_signs(int section, std::size_t from);
    SheetBar* find(std::size_t from, int bar);

    const tune::Tune& tune_;
    std::vector<SheetBar> bars_;
    std::map<int, int> played_;  // section -> playings so far
    std::string next_mark_;
    bool opens_ = false;
};

/// Printed label of an ending: "1.", "1.-3.", "1. 3.".
[[nodiscard]] std::string ending_label(const std::vector<int>& passes);

}  // namespace relead::arrange
