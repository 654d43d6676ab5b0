#include "syntax/line_feed.h"

#include "syntax/cursor.h"

namespace relead::syntax {
namespace {

/// Offset of the comment's `--` in a line, or npos.
std::size_t find_comment(std::string_view line) {
    bool quoted = false, after_blank = true;
    for (std::size_t i = 0; i < line.size();) {
        const char c = line[i];
        if (quoted) {
            if (c == '\\' && i + 1 < line.size()) ++i;
            if (c == '"') quoted = false;
            after_blank = false;
            ++i;
            continue;
        }
        if (const auto blank = blank_length(line, i)) {
            after_blank = true;
            i += blank;
            continue;
        }
        const bool ends = i + 2 == line.size() || blank_length(line, i + 2) > 0;
        if (after_blank && c == '-' && i + 1 < line.size() && line[i + 1] == '-' && ends) return i;
        quoted = c == '"';
        after_blank = false;
        ++i;
    }
    return std::string_view::npos;
}

/// A sign with which comments start elsewhere, or that a word processor made of `--`.
std::string_view foreign_comment_sign(std::string_view body) {
    for (const std::string_view sign : {"#", "//", "\xE2\x80\x94", "\xE2\x80\x93", "/*", ";", "%%"})
        if (body.substr(0, sign.size()) == sign) return sign;
    if (body.size() > 2 && body[0] == '-' && body[1] == '-') return "--";
    return {};
}

}  // namespace

std::optional<FedLine> LineFeed::next() {
    if (line_ >= source_.line_count()) return std::nullopt;
    FedLine fed;
    fed.number = ++line_;
    const auto line = source_.line(line_);
    const auto line_begin = source_.line_begin(line_);
    const auto offset = [&](const char* at) {
        return line_begin + static_cast<std::uint32_t>(at - line.data());
    };
    const auto comment_at = find_comment(line);
    fed.body = trimmed(line.substr(0, comment_at));
    fed.begin = offset(fed.body.data());
    fed.indented = !fed.body.empty() && fed.body.data() != line.data();
    const auto line_end = line_begin + static_cast<std::uint32_t>(line.size());
    if (comment_at != std::string_view::npos) {
        const auto text = trimmed(line.substr(comment_at + 2));
        fed.comment =
            Comment{std::string(text), {source_.index(), offset(line.data() + comment_at), line_end}, false};
    }
    const auto sign = foreign_comment_sign(fed.body);
    if (sign.empty()) return fed;
    const Span sign_span{source_.index(), fed.begin, fed.begin + static_cast<std::uint32_t>(sign.size())};
    const bool space_missing = sign == "--";
    sink_
        ->emit(text::Code::comment_sign, sign_span,
               space_missing ? "Comments start with -- and a space." : "Comments start with --.")
        .fix(sign_span, space_missing || blank_length(fed.body, sign.size()) == 0 ? "-- " : "--",
             "make it a comment");
    const auto whole = trimmed(line.substr(static_cast<std::size_t>(fed.begin - line_begin) + sign.size()));
    fed.comment = Comment{std::string(whole), {source_.index(), fed.begin, line_end}, false};
    fed.body = {};
    return fed;
}

}  // namespace relead::syntax
