#include "base/fmt.h"
#include "syntax/dump.h"
#include "syntax/keywords.h"
#include "syntax/lexer.h"

namespace relead::syntax {
namespace {

std::string_view mode_name(LineMode mode) {
    static constexpr std::string_view names[] = {"plain", "chords", "notes", "lyrics"};
    return names[static_cast<std::size_t>(mode)];
}

std::string_view kind_name(Token::Kind kind) {
    static constexpr std::string_view names[] = {"word",  "quoted", "comma",    "bar",   "open",
                                                 "close", "slur",   "slur-end", "grace", "end"};
    return names[static_cast<std::size_t>(kind)];
}

}  // namespace

std::string dump_tokens(const text::Source& source) {
    text::Sink silent;
    LineFeed feed(source, silent);
    std::string text;
    Block block = Block::head;
    while (const auto line = feed.next()) {
        if (line->blank()) continue;
        text += fmt::format("{}:", line->number);
        if (!line->body.empty()) {
            Cursor cursor(line->body, source.index(), line->begin);
            const auto word = cursor.word("|,");
            if (same_word(word.text, "section")) block = Block::section;
            if (same_word(word.text, "plan")) block = Block::plan;
            const auto mode = line_mode(word.text, block);
            text += fmt::format(" {} first {}", mode_name(mode), word.text);
            for (Lexer lexer(cursor, mode, silent); !lexer.at_end();) {
                const auto token = lexer.next();
                text += fmt::format(" {} {}", kind_name(token.kind), token.raw);
            }
        }
        if (line->comment) text += fmt::format(" comment {}", line->comment->text);
        text += '\n';
    }
    return text;
}

}  // namespace relead::syntax
