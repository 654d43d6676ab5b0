#include "reharm/exchange.h"

#include <algorithm>

namespace relead::reharm {

Exchange::Exchange(const AcyclicGraph& graph, std::vector<Span> spans)
    : graph_(graph), spans_(std::move(spans)) {
    int last = 0;
    for (const auto& one : spans_) last = std::max(last, one.end);
    plain_at_.assign(static_cast<std::size_t>(last), -1);
    for (std::size_t label = 0; label < spans_.size(); ++label) {
        if (spans_[label].plain)
            plain_at_[static_cast<std::size_t>(spans_[label].begin)] = static_cast<int>(label);
    }
}

void Exchange::write_out(int from, int to, std::vector<int>& labels) const {
    for (int spot = from; spot < to; ++spot) labels.push_back(plain_at_[static_cast<std::size_t>(spot)]);
}

std::vector<int> Exchange::labels_of(const GraphPath& path) const {
    std::vector<int> labels;
    for (const auto arc : path.arcs) labels.push_back(graph_.arcs[arc].label);
    return labels;
}

std::vector<int> Exchange::put(const std::vector<int>& labels, int label) const {
    const auto& wanted = span(label);
    std::vector<int> after;
    for (const int old : labels) {
        const auto& here = span(old);
        if (here.end <= wanted.begin || here.begin >= wanted.end) {
            after.push_back(old);
            continue;
        }
        write_out(here.begin, wanted.begin, after);
        if (here.begin <= wanted.begin) after.push_back(label);
        write_out(wanted.end, here.end, after);
    }
    return after;
}

std::optional<GraphPath> Exchange::with(const GraphPath& path, int label) const {
    return follow(put(labels_of(path), label));
}

std::optional<GraphPath> Exchange::with(const GraphPath& path, const Joint& joint) const {
    const auto is_cleared = [&](const Span& here) {
        return std::any_of(joint.clear.begin(), joint.clear.end(), [&](const auto& spots) {
            return spots.first <= here.begin && here.begin < spots.second;
        });
    };
    std::vector<int> labels;
    for (const int old : labels_of(path)) {
        if (is_cleared(span(old))) {
            write_out(span(old).begin, span(old).end, labels);
        } else {
            labels.push_back(old);
        }
    }
    for (const int label : joint.put) labels = put(labels, label);
    return follow(labels);
}

std::optional<GraphPath> Exchange::without(const GraphPath& path, std::size_t index) const {
    std::vector<int> labels;
    for (std::size_t i = 0; i < path.arcs.size(); ++i) {
        const int old = graph_.arcs[path.arcs[i]].label;
        if (i == index) {
            write_out(span(old).begin, span(old).end, labels);
        } else {
            labels.push_back(old);
        }
    }
    return follow(labels);
}

std::optional<GraphPath> Exchange::follow(const std::vector<int>& labels) const {
    GraphPath path;
    std::size_t node = 0;
    for (const int label : labels) {
        const auto first = graph_.arcs.begin() + static_cast<std::ptrdiff_t>(graph_.first_arc[node]);
        const auto last = graph_.arcs.begin() + static_cast<std::ptrdiff_t>(graph_.first_arc[node + 1]);
        const auto found =
            std::find_if(first, last, [&](const AcyclicGraph::Arc& arc) { return arc.label == label; });
        if (found == last) return std::nullopt;
        path.cost = path.cost + found->cost;
        path.arcs.push_back(static_cast<std::size_t>(found - graph_.arcs.begin()));
        node = static_cast<std::size_t>(found->to);
    }
    if (static_cast<int>(node) + 1 != graph_.nodes()) return std::nullopt;
    return path;
}

}  // namespace relead::reharm
