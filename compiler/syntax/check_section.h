// Checks over the rows of a group and of a section, with the repairs that let later stages go on.
#pragma once

#include "syntax/tune_tree.h"
#include "text/diagnose.h"

namespace relead::syntax {

/// Every row gets as many cells as the `changes` row; says where bars are missing or too many.
void match_rows(RowGroup& group, const std::string& section, text::Sink& sink);
/// Slurs that begin nowhere or end nowhere in the section are told and taken out.
void match_slurs(Section& section, text::Sink& sink);

}  // namespace relead::syntax
