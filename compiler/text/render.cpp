#include "text/render.h"

#include <algorithm>
#include <cctype>

#include "base/fmt.h"
#include "text/render_line.h"

namespace relead::text {
namespace {

struct Look {
    std::string_view word, colour;
};

Look look_of(Severity severity) {
    switch (severity) {
        case Severity::error:
            return {"error", "\x1b[1;31m"};
        case Severity::warning:
            return {"warning", "\x1b[1;33m"};
        case Severity::remark:
            return {"remark", "\x1b[1;36m"};
    }
    return {"error", "\x1b[1;31m"};
}

std::string painted(std::string_view text, std::string_view colour, const RenderStyle& style) {
    return style.colour ? fmt::format("{}{}\x1b[0m", colour, text) : std::string(text);
}

std::string headline(const Diagnostic& diagnostic, const Source* source, const RenderStyle& style) {
    std::string out;
    if (source != nullptr) {
        const auto where = source->locate(diagnostic.span.begin);
        out += fmt::format("{}:{}:{}: ", printable(source->name()), where.line, where.column);
    }
    const auto look = look_of(diagnostic.severity);
    out += painted(look.word, look.colour, style) + ": ";
    if (const auto place = to_string(diagnostic.place); !place.empty()) out += printable(place) + ": ";
    return out + fmt::format("{} [{}]\n", printable(diagnostic.sentence), diagnostic.code);
}

/// The source line and the carets under it; spans over several lines are marked to the first line's end.
std::string excerpt(const Diagnostic& diagnostic, const Source& source, const RenderStyle& style) {
    const int number = source.line_at(diagnostic.span.begin);
    const auto line = source.line(number);
    const auto start = source.line_begin(number);
    const auto inside = [&](std::uint32_t offset) { return offset < start ? 0U : offset - start; };
    const auto shown = show_line(line, inside(diagnostic.span.begin), inside(diagnostic.span.end),
                                 std::max(style.width, 20));
    const auto gutter = fmt::format("{:>4}", number);
    const std::string carets(static_cast<std::size_t>(shown.carets), '^');
    auto out = fmt::format("{} | {}\n{:{}} | {:{}}{}\n", gutter, shown.text, "", gutter.size(), "",
                           shown.before, painted(carets, look_of(diagnostic.severity).colour, style));
    if (shown.right_to_left)
        out += fmt::format("{:{}} | (part of the line runs from right to left; marked: {})\n", "",
                           gutter.size(), shown.marked);
    return out;
}

/// Without the white space at both ends, which matters to the repair but not to the reader.
std::string_view trimmed(std::string_view text) {
    const auto begin = text.find_first_not_of(" \t\r\n");
    if (begin == std::string_view::npos) return {};
    return text.substr(begin, text.find_last_not_of(" \t\r\n") + 1 - begin);
}

/// True when the text stands in the sentence as words of its own.
bool says(std::string_view sentence, std::string_view text) {
    const auto is_edge = [&](std::size_t at) {
        return at >= sentence.size() || std::isalnum(static_cast<unsigned char>(sentence[at])) == 0;
    };
    for (auto at = sentence.find(text); at != std::string_view::npos; at = sentence.find(text, at + 1))
        if ((at == 0 || is_edge(at - 1)) && is_edge(at + text.size())) return true;
    return false;
}

std::string fix_line(const Fix& fix) {
    const auto text = trimmed(fix.text);
    if (fix.label.empty()) return fmt::format("       fix: put {} here\n", printable(text));
    return text.empty() || says(fix.label, text)
               ? fmt::format("       fix: {}\n", printable(fix.label))
               : fmt::format("       fix: {} ({})\n", printable(fix.label), printable(text));
}

}  // namespace

std::string render(const Diagnostic& diagnostic, std::span<const Source> sources, const RenderStyle& style) {
    const auto* source = find_source(sources, diagnostic.span.source);
    auto out = headline(diagnostic, source, style);
    if (source != nullptr) out += excerpt(diagnostic, *source, style);
    for (const auto& fix : diagnostic.fixes) out += fix_line(fix);
    return out;
}

std::string render_all(const Diagnostics& diagnostics, std::span<const Source> sources,
                       const RenderStyle& style) {
    std::string out;
    for (const auto& diagnostic : diagnostics) out += render(diagnostic, sources, style);
    return out;
}

std::string to_string(const Place& place) {
    if (place.section.empty()) return "";
    auto out = place.section + ":" + (place.bar > 0 ? std::to_string(place.bar) : "pickup");
    if (place.beat <= 0) return out;
    out += "." + std::to_string(place.beat.floor());
    const auto rest = place.beat - place.beat.floor();
    return rest == 0 ? out : out + "+" + rest.to_string();
}

}  // namespace relead::text
