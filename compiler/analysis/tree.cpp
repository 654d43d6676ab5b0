#include "analysis/tree.h"

#include <algorithm>
#include <limits>
#include <utility>

namespace relead::analysis {
namespace {

constexpr int scale = Arcs::scale;
constexpr int nothing = std::numeric_limits<int>::min() / 4;

std::size_t at(int index) {
    return static_cast<std::size_t>(index);
}

/// Best trees of all spans up to a length, and the main line beyond it.
class Decoder {
public:
    Decoder(const std::vector<TreeChord>& chords, const Heard& top, bool open_end, const TreeWeights& weights,
            int longest)
        : chords_(chords),
          top_(top),
          w_(weights),
          nodes_(static_cast<int>(chords.size()) + (open_end ? 1 : 0)),
          longest_(std::min(longest, nodes_)) {
        for (const auto& chord : chords) level_.push_back(chord.heard->level);
        if (open_end) level_.push_back(6);
        level_.push_back(6);  // the end
        level_[0] = 6;
        best_.assign(at(nodes_) * at(longest_), nothing);
        split_.assign(best_.size(), -1);
        arc_.assign(at(nodes_) * at(longest_ + 1), 0);
        inside_.assign(best_.size(), 0);
    }

    std::vector<int> run() {
        weigh_arcs();
        for (int i = 0; i < nodes_; ++i) best_[cell(i, i)] = 0;
        for (int size = 2; size <= longest_; ++size)
            for (int i = 0; i + size <= nodes_; ++i) join(i, i + size - 1);
        heads_.assign(chords_.size(), -1);
        if (longest_ == nodes_) {
            read(0, nodes_ - 1);
        } else {
            follow_main_line();
        }
        return std::move(heads_);
    }

private:
    std::size_t cell(int i, int k) const { return at(i) * at(longest_) + at(k - i); }
    int& arc(int j, int k) { return arc_[at(j) * at(longest_ + 1) + at(k - j)]; }

    void weigh_arcs() {
        const Arcs arcs(chords_, top_, w_);
        const int count = static_cast<int>(chords_.size());
        for (int j = 0; j < nodes_; ++j) {
            int crossed = 0;
            for (int k = j + 1; k < nodes_ && k - j <= longest_; ++k) {
                crossed = Arcs::cross(crossed, level_[at(k)]);
                arc(j, k) = k < count ? arcs.between(j, k, crossed) : arcs.to_end(j);
            }
        }
        for (int i = 0; i < nodes_; ++i)  // the strongest boundary strictly inside [i, k]
            for (int k = i + 1; k < nodes_ && k - i < longest_; ++k)
                inside_[cell(i, k)] = std::max(inside_[cell(i, k - 1)], level_[at(k)]);
    }

    static std::size_t difference(int stronger, int other) {
        return at(std::clamp(stronger - other, -3, 3) + 3);
    }
    int join_weight(int first, int left_inside, int j, int k) const {
        const int here = level_[at(j + 1)];
        return scale * (w_.inside_left[difference(here, left_inside)] +
                        w_.inside_right[difference(here, inside_[cell(j + 1, k)])] +
                        w_.before[difference(level_[at(first)], here)] +
                        w_.after[difference(level_[at(k + 1)], here)]);
    }

    void join(int i, int k) {
        int best = nothing;
        int split = -1;
        for (int j = i; j < k; ++j) {
            const int value = best_[cell(i, j)] + best_[cell(j + 1, k)] + arc(j, k) +
                              join_weight(i, inside_[cell(i, j)], j, k);
            if (value > best) {
                best = value;
                split = j;
            }
        }
        best_[cell(i, k)] = best;
        split_[cell(i, k)] = split;
    }

    void read(int i, int k) {
        while (i < k) {  // the right part in the loop, the left one by recursion
            const int j = split_[cell(i, k)];
            heads_[at(j)] = k;
            read(i, j);
            i = j + 1;
        }
    }

    /// F[k] = best tree of everything up to k: a span from the start, or F[j] joined to a span.
    void follow_main_line() {
        std::vector<long long> line(at(nodes_), std::numeric_limits<long long>::min());
        std::vector<int> from(at(nodes_), -1);
        std::vector<int> strongest(at(nodes_), 0);
        for (int k = 0; k < nodes_; ++k) {
            if (k > 0) strongest[at(k)] = std::max(strongest[at(k - 1)], level_[at(k)]);
            if (k < longest_) line[at(k)] = best_[cell(0, k)];
            for (int j = k < longest_ ? k : k - longest_; j < k; ++j) {
                const auto value =
                    line[at(j)] + best_[cell(j + 1, k)] + arc(j, k) + join_weight(0, strongest[at(j)], j, k);
                if (value <= line[at(k)]) continue;
                line[at(k)] = value;
                from[at(k)] = j;
            }
        }
        int k = nodes_ - 1;
        for (; from[at(k)] >= 0; k = from[at(k)]) {
            heads_[at(from[at(k)])] = k;
            read(from[at(k)] + 1, k);
        }
        read(0, k);
    }

    const std::vector<TreeChord>& chords_;
    const Heard& top_;
    const TreeWeights& w_;
    int nodes_;
    int longest_;
    std::vector<int> level_;
    std::vector<int> best_, split_, arc_, inside_;
    std::vector<int> heads_;
};

}  // namespace

Tree decode_tree(const std::vector<TreeChord>& chords, bool open_end, const TreeWeights& weights,
                 int exact_limit, int window, const Heard* top) {
    Tree tree;
    if (chords.empty()) return tree;
    const int count = static_cast<int>(chords.size());
    tree.exact = count <= exact_limit;
    if (!tree.exact) tree.window = window;
    const int longest = tree.exact ? std::numeric_limits<int>::max() - 1 : window;
    tree.heads = Decoder(chords, top ? *top : *chords.front().heard, open_end, weights, longest).run();
    return tree;
}

}  // namespace relead::analysis
