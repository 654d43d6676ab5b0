// The playing order of a tune cut into units: one playing of one section each.
#pragma once

#include <vector>

#include "arrange/sheet_form.h"
#include "tune/tune.h"

namespace relead::arrange {

struct FormUnit {
    int section = 0;
    int playing = 0;  ///< 0-based within its chorus
    bool final_chorus = false;
    std::vector<int> bars;        ///< its written bars once each, without the pickup
    bool vamp = false;            ///< repeated for as long as the leader likes
    bool repeats_inside = false;  ///< the section has repeat signs of its own
    std::vector<FormBar> played;
};

struct FormUnits {
    std::vector<FormUnit> before;  ///< vamps and intros of the running order
    std::vector<FormUnit> form;    ///< one chorus, then the last one where it differs
    std::vector<FormUnit> after;   ///< sections that only a later item of the running order plays
    std::optional<FormBar> pickup;
    std::size_t chorus = 0;  ///< units of the plain chorus in `form`
};

[[nodiscard]] FormUnits form_units(const tune::Tune& tune);

}  // namespace relead::arrange
