// Paths through a lattice that differ from a given one in a single change, or in several that are made at
// once: put in, taken back, or exchanged for what lies there. What the graph forbids is never given.
#pragma once

#include <optional>
#include <utility>
#include <vector>

#include "base/acyclic_graph.h"

namespace relead::reharm {

class Exchange {
public:
    /// Written spots [begin, end) that a label covers.
    struct Span {
        int begin = 0, end = 0;
        bool plain = false;  ///< leaves its one spot as written
    };
    /// `spans` per label of the graph, which must outlive this.
    Exchange(const AcyclicGraph& graph, std::vector<Span> spans);
    /// The path with `label` and the written chords in place of whatever overlaps it. Nothing when they may
    /// not meet.
    [[nodiscard]] std::optional<GraphPath> with(const GraphPath& path, int label) const;
    /// The path with the written chords in place of arc `index`.
    [[nodiscard]] std::optional<GraphPath> without(const GraphPath& path, std::size_t index) const;
    /// Several changes at once, where those on the way to them might be forbidden.
    struct Joint {
        std::vector<std::pair<int, int>> clear;  ///< spots [first, second): what begins there is taken back
        std::vector<int> put;                    ///< then these labels are put in, as `with` does
    };
    [[nodiscard]] std::optional<GraphPath> with(const GraphPath& path, const Joint& joint) const;

private:
    void write_out(int from, int to, std::vector<int>& labels) const;
    [[nodiscard]] std::vector<int> labels_of(const GraphPath& path) const;
    [[nodiscard]] std::vector<int> put(const std::vector<int>& labels, int label) const;
    [[nodiscard]] const Span& span(int label) const { return spans_[static_cast<std::size_t>(label)]; }
    [[nodiscard]] std::optional<GraphPath> follow(const std::vector<int>& labels) const;

    const AcyclicGraph& graph_;
    std::vector<Span> spans_;
    std::vector<int> plain_at_;  ///< per spot: its plain label
};

}  // namespace relead::reharm
