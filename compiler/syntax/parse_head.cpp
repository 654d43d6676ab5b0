#include "syntax/parse_head.h"

#include <bit>
#include <cstdlib>
#include <numeric>

#include "base/fmt.h"
#include "syntax/keywords.h"

namespace relead::syntax {
using text::Code;

namespace {

constexpr std::string_view mode_words[] = {"major",  "minor",      "blues",   "dorian",  "phrygian",
                                           "lydian", "mixolydian", "aeolian", "locrian", "ionian"};
constexpr std::string_view feel_words[] = {"swing", "even",  "shuffle", "bossa", "samba",
                                           "latin", "waltz", "ballad",  "funk",  "rubato"};
constexpr std::string_view key_help = "A key is written like F major, D minor, F blues, D dorian, or open.";

std::string upper_first(std::string_view word) {
    std::string text(word);
    if (!text.empty() && text[0] >= 'a' && text[0] <= 'z') text[0] = static_cast<char>(text[0] - 'a' + 'A');
    return text;
}

/// "Fm", "f", "H": what may have been meant, as a fix.
void complain_of_tonic(LineParser& line, const Token& word) {
    auto note = line.sink().emit(Code::key_unreadable, word.span,
                                 fmt::format("“{}” is no key note. {}", word.raw, key_help));
    const auto upper = upper_first(word.raw);
    if (theory::parse_note_name(upper))
        note.fix(word.span, upper, "write the key note with a capital letter");
    else if (upper.size() > 1 && upper.back() == 'm' &&
             theory::parse_note_name(upper.substr(0, upper.size() - 1)))
        note.fix(word.span, upper.substr(0, upper.size() - 1) + " minor", "write the mode as a word");
    else if (upper == "H")
        note.fix(word.span, "B", "B natural is written B");
}

std::optional<theory::Mode> parse_mode_word(LineParser& line) {
    if (line.peek().kind != Token::Kind::word) {
        const auto end = line.peek().span;
        line.complain(Code::key_unreadable, fmt::format("The key lacks its mode. {}", key_help))
            .fix(end, " major", "major")
            .fix(end, " minor", "minor");
        return std::nullopt;
    }
    const auto word = line.next();
    const auto mode = theory::parse_mode(lower_case(word.raw));
    if (mode) return mode;
    const auto nearest = nearest_word(word.raw, mode_words);
    auto note =
        line.sink().emit(Code::key_unreadable, word.span,
                         fmt::format("“{}” is no mode.{} {}", word.raw, did_you_mean(nearest), key_help));
    if (!nearest.empty()) note.fix(word.span, std::string(nearest), fmt::format("write {}", nearest));
    return std::nullopt;
}

std::optional<std::vector<int>> parse_groups(std::string_view text) {
    std::vector<int> groups;
    while (true) {
        const auto plus = text.find('+');
        const auto group = parse_number(text.substr(0, plus));
        if (!group || *group < 1 || groups.size() > 64) return std::nullopt;
        groups.push_back(*group);
        if (plus == std::string_view::npos) return groups;
        text.remove_prefix(plus + 1);
    }
}

void read_groups(LineParser& line, MeterLine& meter) {
    if (line.peek().kind != Token::Kind::word) return;
    const auto word = line.next();
    const auto groups = parse_groups(word.raw);
    if (!groups) {
        line.sink().emit(Code::meter_groups, word.span,
                         fmt::format("“{}” is no grouping; 7/8 can be grouped like 2+2+3.", word.raw));
        return;
    }
    const auto sum = std::accumulate(groups->begin(), groups->end(), 0);
    if (sum != meter.beats)
        line.sink().emit(Code::meter_groups, word.span,
                         fmt::format("The groups {} make {}, the meter has {}.", word.raw, sum, meter.beats));
    else
        meter.groups = *groups;
}

}  // namespace

std::optional<KeyLine> parse_key(LineParser& line) {
    KeyLine key;
    if (line.accept("open")) {
        line.expect_end("key");
        return key;
    }
    if (line.peek().kind != Token::Kind::word) {
        line.complain(Code::key_unreadable, fmt::format("The key line names no key. {}", key_help));
        return std::nullopt;
    }
    const auto word = line.next();
    const auto tonic = theory::parse_note_name(word.raw);
    if (!tonic) {
        complain_of_tonic(line, word);
        return std::nullopt;
    }
    const auto mode = parse_mode_word(line);
    if (!mode) return std::nullopt;
    line.expect_end("key");
    key.key = theory::Key{*tonic, *mode};
    const auto accidentals = theory::signature(*key.key);
    if (std::abs(accidentals) <= 7) return key;
    const auto better = theory::practical_key(*key.key);
    line.sink()
        .emit(Code::key_too_many_accidentals, word.span,
              fmt::format("{} has {} {}; a key signature has seven at most.", theory::to_string(*key.key),
                          std::abs(accidentals), accidentals > 0 ? "sharps" : "flats"))
        .fix(word.span, theory::to_string(better.tonic), fmt::format("write {}", theory::to_string(better)));
    key.key = better;
    return key;
}

std::optional<MeterLine> parse_meter(LineParser& line) {
    const auto word = line.peek().kind == Token::Kind::word ? line.next() : line.peek();
    MeterLine meter;
    const auto slash = word.raw.find('/');
    const auto beats = parse_number(word.raw.substr(0, slash));
    const auto unit =
        slash == std::string_view::npos ? std::nullopt : parse_number(word.raw.substr(slash + 1));
    const bool usable = beats && unit && *beats >= 1 && *beats <= 64 && *unit >= 1 && *unit <= 64 &&
                        std::has_single_bit(static_cast<unsigned>(*unit));
    if (!usable) {
        auto note =
            line.sink().emit(Code::meter_unreadable, word.span,
                             fmt::format("“{}” is no meter; write 4/4, 3/4, 6/8 or 7/8 2+2+3.", word.raw));
        if (word.raw == "C" || same_word(word.raw, "common")) note.fix(word.span, "4/4", "write 4/4");
        return std::nullopt;
    }
    meter.beats = *beats;
    meter.unit = *unit;
    read_groups(line, meter);
    line.expect_end("meter");
    return meter;
}

std::optional<TempoLine> parse_tempo(LineParser& line) {
    constexpr int slowest = 10, fastest = 500;
    TempoLine tempo;
    const auto beats = line.peek().kind == Token::Kind::word ? parse_number(line.peek().raw) : std::nullopt;
    if (!beats || *beats < slowest || *beats > fastest) {
        line.complain(
            Code::tempo_unreadable,
            fmt::format("A tempo gives the beats in a minute first ({} to {}), then the feel: 148 swing.",
                        slowest, fastest));
        return std::nullopt;
    }
    line.next();
    tempo.beats_per_minute = *beats;
    if (line.peek().kind == Token::Kind::word) {
        const auto word = line.next();
        const auto feel = lower_case(word.raw);
        const auto nearest = nearest_word(word.raw, feel_words);
        const bool known = nearest == feel;
        if (known) tempo.feel = feel;
        if (!known) {
            auto note = line.sink().emit(
                Code::feel_unknown, word.span,
                fmt::format(
                    "“{}” is no feel that is known here.{} Known are swing, even, shuffle, bossa, samba, "
                    "latin, waltz, ballad, funk and rubato; other words stand in quotes.",
                    word.raw, did_you_mean(nearest)));
            if (!nearest.empty()) note.fix(word.span, std::string(nearest), fmt::format("write {}", nearest));
            note.fix(word.span, quote(word.raw), "print it as it is");
        }
    }
    if (line.peek().kind == Token::Kind::quoted) tempo.words = line.next().text;
    line.expect_end("tempo");
    return tempo;
}

std::optional<FormLine> parse_form(LineParser& line) {
    FormLine form;
    while (const auto name = line.name()) form.sections.push_back(*name);
    line.expect_end("form");
    if (!form.sections.empty()) return form;
    line.complain(Code::form_unreadable,
                  "The form line names no section; write them in playing order: form A A B A.");
    return std::nullopt;
}

}  // namespace relead::syntax
