#include "arrange/form_jumps.h"

namespace relead::arrange {

namespace {

using Kind = score::Direction::Kind;

constexpr std::size_t least_saving = 8;  // bars

/// The bars from `start` on as a player reads them after a jump: only the last endings.
std::vector<std::size_t> read_after_jump(const std::vector<SheetBar>& sheet, std::size_t start) {
    std::vector<std::size_t> read;
    for (std::size_t i = start; i < sheet.size();) {
        if (sheet[i].ending) {
            std::size_t after = i;
            while (after < sheet.size() && sheet[after].ending_stop == score::EndingStop::none) ++after;
            ++after;
            if (after < sheet.size() && sheet[after].ending) {
                i = after;
                continue;
            }
        }
        read.push_back(i++);
    }
    return read;
}

std::optional<FormJump> jump_to(const std::vector<SheetBar>& sheet, const std::vector<FormBar>& rest,
                                std::size_t segno) {
    const auto read = read_after_jump(sheet, segno);
    std::size_t matched = 0;
    while (matched < read.size() && matched < rest.size()) {
        const auto& bar = sheet[read[matched]];
        if (FormBar{bar.section, bar.bar} != rest[matched]) break;
        ++matched;
    }
    if (matched < least_saving || read[matched - 1] + 1 == sheet.size()) return std::nullopt;
    return FormJump{segno, read[matched - 1], matched};
}

}  // namespace

std::optional<FormJump> find_jump(const std::vector<SheetBar>& sheet, const std::vector<FormBar>& rest) {
    std::optional<FormJump> best;
    for (std::size_t i = 0; i < sheet.size(); ++i) {
        if (!sheet[i].opens_section) continue;
        const auto jump = jump_to(sheet, rest, i);
        if (jump && (!best || jump->matched > best->matched)) best = jump;
    }
    return best;
}

score::Direction form_sign(Kind kind, std::string words) {
    score::Direction sign;
    sign.kind = kind;
    sign.text = std::move(words);
    sign.style.bold = true;
    if (kind == Kind::segno || kind == Kind::dal_segno) sign.target = "segno1";
    if (kind == Kind::coda || kind == Kind::to_coda) sign.target = "coda1";
    return sign;
}

void set_jump(std::vector<SheetBar>& sheet, const FormJump& jump, bool has_coda, bool from_start) {
    const std::string aim = has_coda ? " al Coda" : " al Fine";
    if (!from_start) sheet[jump.segno].signs.push_back(form_sign(Kind::segno, ""));
    sheet[jump.leave].signs.push_back(has_coda ? form_sign(Kind::to_coda, "To Coda")
                                               : form_sign(Kind::fine, "Fine"));
    sheet.back().signs.push_back(from_start ? form_sign(Kind::da_capo, "D.C." + aim)
                                            : form_sign(Kind::dal_segno, "D.S." + aim));
}

}  // namespace relead::arrange
