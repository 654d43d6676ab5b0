#include "text/source.h"

#include <algorithm>
#include <map>
#include <mutex>

#include "text/grapheme.h"

namespace relead::text {
namespace {

constexpr std::string_view bom = "\xEF\xBB\xBF";
constexpr std::size_t checkpoint_bytes = 4096;

struct LineRange {
    std::uint32_t begin = 0;
    std::uint32_t end = 0;  // before the line end
};

std::vector<LineRange> split_lines(std::string_view bytes) {
    std::vector<LineRange> lines;
    std::size_t at = bytes.starts_with(bom) ? bom.size() : 0;
    do {
        const auto end = std::min(bytes.find_first_of("\r\n", at), bytes.size());
        lines.push_back({static_cast<std::uint32_t>(at), static_cast<std::uint32_t>(end)});
        const bool crlf = bytes.substr(end, 2) == "\r\n";
        at = end + (crlf ? 2 : 1);
    } while (at < bytes.size());
    return lines;
}

/// Cluster counts at some offsets of one line, so that a column is found by a short walk.
struct Checkpoint {
    std::size_t offset = 0;
    int clusters = 0;
};

std::vector<Checkpoint> make_checkpoints(std::string_view line) {
    std::vector<Checkpoint> points{{0, 0}};
    int clusters = 0;
    GraphemeWalk walk(line);
    while (walk.next()) {
        ++clusters;
        if (walk.end() - points.back().offset >= checkpoint_bytes) points.push_back({walk.end(), clusters});
    }
    return points;
}

/// Clusters that end at or before `offset`.
int clusters_before(std::string_view line, std::size_t offset, Checkpoint from) {
    int clusters = from.clusters;
    GraphemeWalk walk(line, from.offset);
    while (walk.next() && walk.end() <= offset) ++clusters;
    return clusters;
}

}  // namespace

struct Source::Data {
    std::string name;
    std::string bytes;
    std::uint32_t index = 0;
    std::vector<LineRange> lines;

    /// A cache that nobody can observe: columns of long lines outside ASCII.
    mutable std::mutex mutex;
    mutable std::map<int, std::vector<Checkpoint>> checkpoints;

    int clusters(int number, std::string_view line, std::size_t offset) const {
        if (all_ascii(line.substr(0, std::min(offset + 1, line.size())))) return static_cast<int>(offset);
        if (line.size() <= 2 * checkpoint_bytes) return clusters_before(line, offset, {});
        const std::lock_guard lock(mutex);
        auto& points = checkpoints[number];
        if (points.empty()) points = make_checkpoints(line);
        const auto after = std::upper_bound(points.begin(), points.end(), offset,
                                            [](std::size_t o, const Checkpoint& p) { return o < p.offset; });
        return clusters_before(line, offset, *std::prev(after));
    }
};

Source::Source(std::string name, std::string bytes, std::uint32_t index) {
    auto data = std::make_shared<Data>();
    data->name = std::move(name);
    data->bytes = std::move(bytes);
    data->index = index;
    data->lines = split_lines(data->bytes);
    data_ = std::move(data);
}

const std::string& Source::name() const {
    return data_->name;
}
std::string_view Source::bytes() const {
    return data_->bytes;
}
std::uint32_t Source::index() const {
    return data_->index;
}
int Source::line_count() const {
    return static_cast<int>(data_->lines.size());
}

std::string_view Source::line(int number) const {
    const auto range = data_->lines.at(static_cast<std::size_t>(number - 1));
    return bytes().substr(range.begin, range.end - range.begin);
}

std::uint32_t Source::line_begin(int number) const {
    return data_->lines.at(static_cast<std::size_t>(number - 1)).begin;
}

int Source::line_at(std::uint32_t offset) const {
    const auto& lines = data_->lines;
    const auto after = std::upper_bound(lines.begin(), lines.end(), offset,
                                        [](std::uint32_t o, const LineRange& l) { return o < l.begin; });
    return std::max(1, static_cast<int>(after - lines.begin()));
}

LineColumn Source::locate(std::uint32_t offset) const {
    const int number = line_at(offset);
    const auto text = line(number);
    const auto begin = line_begin(number);
    const auto inside = offset < begin ? 0 : std::min<std::size_t>(offset - begin, text.size());
    return {number, data_->clusters(number, text, inside) + 1};
}

std::string_view Source::slice(Span span) const {
    const auto size = static_cast<std::uint32_t>(bytes().size());
    const auto begin = std::min(span.begin, size);
    return bytes().substr(begin, std::max(begin, std::min(span.end, size)) - begin);
}

const Source* find_source(std::span<const Source> sources, std::uint32_t index) {
    if (index < sources.size() && sources[index].index() == index) return &sources[index];
    const auto found = std::find_if(sources.begin(), sources.end(),
                                    [index](const Source& source) { return source.index() == index; });
    return found == sources.end() ? nullptr : &*found;
}

void fill_lines(Diagnostics& diagnostics, std::span<const Source> sources) {
    for (auto& diagnostic : diagnostics) {
        const auto* source = find_source(sources, diagnostic.span.source);
        if (source == nullptr) continue;
        const auto where = source->locate(diagnostic.span.begin);
        diagnostic.place.line = where.line;
        diagnostic.place.column = where.column;
    }
}

}  // namespace relead::text
