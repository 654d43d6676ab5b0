#include "analysis/tree_weights.h"

#include <iterator>
#include <stdexcept>
#include <string>

#include "analysis/relations.h"
#include "analysis/tables/chord_relations.h"
#include "analysis/tables/tree_weights.h"

namespace relead::analysis {
namespace {

/// Every weight is asked for by its name; a name that the table lacks stops the compiler.
consteval int weight(std::string_view group, std::string_view name) {
    for (const auto& row : tables::tree_weight_rows)
        if (row.group == group && row.name == name) return row.weight;
    throw std::invalid_argument("tree-weights.txt lacks this weight");
}

int relation_weight(std::string_view name) {
    for (const auto& row : tables::tree_weight_rows)
        if (row.group == "relation" && row.name == name) return row.weight;
    return 0;
}

constexpr bool every_relation_has_a_weight() {
    for (const auto& relation : tables::chord_relation_rows) {
        bool found = false;
        for (const auto& row : tables::tree_weight_rows)
            found = found || (row.group == "relation" && row.name == relation.relation);
        if (!found) return false;
    }
    return true;
}
static_assert(every_relation_has_a_weight(),
              "tree-weights.txt: a relation of chord-relations.txt is missing");

void read_form(TreeWeights& w) {
    w.run = {
        {{weight("form", "run next"), weight("form", "run next to second"),
          weight("form", "run next to fourth")},
         {weight("form", "run on"), weight("form", "run on to second"), weight("form", "run on to fourth")}}};
    w.leaves = {{{weight("form", "opening tonic leaves at once"), weight("form", "opening tonic leaves")},
                 {weight("form", "inner tonic leaves at once"), weight("form", "inner tonic leaves")},
                 {weight("form", "closing tonic leaves at once"), weight("form", "closing tonic leaves")}}};
    w.lasts = {{{weight("form", "short tonic leaves at once"), weight("form", "short tonic leaves")},
                {weight("form", "one-bar tonic leaves at once"), weight("form", "one-bar tonic leaves")},
                {weight("form", "two-bar tonic leaves at once"), weight("form", "two-bar tonic leaves")},
                {weight("form", "long tonic leaves at once"), weight("form", "long tonic leaves")}}};
    w.afar = {weight("form", "afar to a last"), weight("form", "afar to an earlier")};
    w.crosses = {
        {{weight("form", "no section tonic"), weight("form", "no section dominant"),
          weight("form", "no section other")},
         {weight("form", "eight tonic"), weight("form", "eight dominant"), weight("form", "eight other")},
         {weight("form", "sixteen tonic"), weight("form", "sixteen dominant"),
          weight("form", "sixteen other")}}};
    w.phrase = {{{weight("form", "in four tonic"), weight("form", "in four dominant"),
                  weight("form", "in four other")},
                 {weight("form", "in eight tonic"), weight("form", "in eight dominant"),
                  weight("form", "in eight other")},
                 {weight("form", "further tonic"), weight("form", "further dominant"),
                  weight("form", "further other")}}};
}

TreeWeights read() {
    TreeWeights w;
    read_form(w);
    w.down_next = weight("arc", "half step down next");
    w.down_line = weight("arc", "half step down in a line");
    w.to_tonic = {{{weight("arc", "to tonic next expected"), weight("arc", "to tonic next other")},
                   {weight("arc", "to tonic expected"), weight("arc", "to tonic other")}}};
    for (int row = 0; row < step_count(); ++row) w.relation.push_back(relation_weight(step_name(row)));
    w.relation.push_back(weight("relation", "same chord"));
    w.repeats = {weight("arc", "repeats tonic"), weight("arc", "repeats dominant"),
                 weight("arc", "repeats other")};
    w.repeats_next = weight("arc", "repeats next");
    w.repeats_gap = weight("arc", "repeats gap");
    w.next_expected = weight("arc", "next expected");
    w.next_other = weight("arc", "next other");
    w.gap_expected = weight("arc", "gap expected");
    w.gap_other = weight("arc", "gap other");
    w.roles = {{{weight("arc", "tonic to tonic"), weight("arc", "tonic to dominant"),
                 weight("arc", "tonic to other")},
                {weight("arc", "dominant to tonic"), weight("arc", "dominant to dominant"),
                 weight("arc", "dominant to other")},
                {weight("arc", "other to tonic"), weight("arc", "other to dominant"),
                 weight("arc", "other to other")}}};
    w.neighbour = weight("arc", "neighbour of the tonic");
    w.passes_resolution = weight("arc", "passes resolution");
    w.into_run = weight("arc", "into a run");
    w.late_in_run = weight("arc", "late in a run");
    w.place = {{{weight("place", "0 tonic"), weight("place", "0 dominant"), weight("place", "0 other")},
                {weight("place", "1 tonic"), weight("place", "1 dominant"), weight("place", "1 other")},
                {weight("place", "2 tonic"), weight("place", "2 dominant"), weight("place", "2 other")},
                {weight("place", "3 tonic"), weight("place", "3 dominant"), weight("place", "3 other")},
                {weight("place", "4 tonic"), weight("place", "4 dominant"), weight("place", "4 other")},
                {weight("place", "5 tonic"), weight("place", "5 dominant"), weight("place", "5 other")}}};
    w.end_tonic = weight("end", "tonic");
    w.end_home_dominant = weight("end", "home dominant");
    w.end_dominant = weight("end", "dominant");
    w.end_other = weight("end", "other");
    w.end_expected = weight("end", "expected");
    w.end_step = weight("end", "other step");
    w.inside_left = {weight("join", "inside left -3"), weight("join", "inside left -2"),
                     weight("join", "inside left -1"), weight("join", "inside left 0"),
                     weight("join", "inside left 1"),  weight("join", "inside left 2"),
                     weight("join", "inside left 3")};
    w.inside_right = {weight("join", "inside right -3"), weight("join", "inside right -2"),
                      weight("join", "inside right -1"), weight("join", "inside right 0"),
                      weight("join", "inside right 1"),  weight("join", "inside right 2"),
                      weight("join", "inside right 3")};
    w.before = {weight("join", "before -3"), weight("join", "before -2"), weight("join", "before -1"),
                weight("join", "before 0"),  weight("join", "before 1"),  weight("join", "before 2"),
                weight("join", "before 3")};
    w.after = {weight("join", "after -3"), weight("join", "after -2"), weight("join", "after -1"),
               weight("join", "after 0"),  weight("join", "after 1"),  weight("join", "after 2"),
               weight("join", "after 3")};
    return w;
}

}  // namespace

const TreeWeights& tree_weights() {
    static const TreeWeights weights = read();
    return weights;
}

}  // namespace relead::analysis
