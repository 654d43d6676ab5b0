#include "formats/html/listening_page.h"

#include <algorithm>
#include <cmath>

#include "base/fmt.h"
#include "formats/html/escape.h"
#include "formats/html/page_parts.h"
#include "formats/html/reasons.h"
#include "formats/html/sound_data.h"
#include "formats/html/strip.h"
#include "theory/signs.h"

namespace relead::formats::html {

namespace {

std::string head(const report::Listening& page) {
    return fmt::format(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
        "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'sha256-{}'; "
        "script-src 'sha256-{}'; base-uri 'none'; form-action 'none'\">\n"
        "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n"
        "<title>{}</title>\n<style>{}</style>\n</head>\n",
        style_hash(), script_hash(), escape(page.comparison.title), page_style());
}

std::string header(const report::Comparison& comparison) {
    std::string facts = escape(comparison.composer);
    for (const auto& fact : {theory::with_signs(comparison.key), comparison.meter,
                             fmt::format("{} {}", comparison.beats_per_minute, comparison.feel)}) {
        if (!fact.empty()) facts += (facts.empty() ? "" : " · ") + escape(fact);
    }
    return fmt::format("<header>\n<h1>{}</h1>\n<p class=\"by\">{}</p>\n</header>\n", escape(comparison.title),
                       facts);
}

std::string hear_choice(const report::Comparison& comparison) {
    std::string out = "<fieldset><legend>Hear</legend>";
    for (std::size_t row = 0; row < comparison.rows.size(); ++row) {
        const auto name = escape(comparison.rows[row].name);
        out += fmt::format(
            "<label><input type=\"radio\" name=\"hear\" id=\"hear-{0}\" value=\"{0}\" data-name=\"{1}\"{2}> "
            "{1}</label>",
            row, name, row == (comparison.rows.size() > 1 ? 1 : 0) ? " checked" : "");
    }
    return out + "</fieldset>\n";
}

std::string loop_choice(const report::Listening& page) {
    std::string out = "<label>Loop <select id=\"loop\"><option value=\"\">off</option>";
    for (const auto& stretch : page.stretches) {
        out += fmt::format("<option value=\"{}-{}\">{}</option>", stretch.first, stretch.last,
                           escape(stretch.label));
    }
    if (!page.comparison.bars.empty()) {
        out += fmt::format("<option value=\"0-{}\">all of it</option>", page.comparison.bars.size() - 1);
    }
    return out + "</select></label>\n";
}

std::string reader_choice(const report::Listening& page) {
    std::string out = "<label>Symbols for <select id=\"reader\">";
    for (std::size_t reader = 0; reader < page.readers.size(); ++reader) {
        for (const auto& name : page.readers[reader].names) {
            out += fmt::format("<option value=\"{}\">{}</option>", reader, escape(name));
        }
    }
    return out + "</select></label>\n";
}

std::string slider(std::string_view id, std::string_view label, int low, int high, int value,
                   std::string_view unit) {
    return fmt::format(
        "<label>{1} <input type=\"range\" id=\"{0}\" min=\"{2}\" max=\"{3}\" value=\"{4}\"> "
        "<output id=\"{0}-out\" for=\"{0}\">{4}{5}</output></label>\n",
        id, label, low, high, std::clamp(value, low, high), unit);
}

bool has_voice(const report::Listening& page, score::SoundingVoice::Role role) {
    return std::any_of(page.performances.begin(), page.performances.end(), [&](const auto& performance) {
        return std::any_of(performance.voices.begin(), performance.voices.end(),
                           [&](const auto& voice) { return voice.role == role && !voice.notes.empty(); });
    });
}

std::string voice_choice(const report::Listening& page) {
    using Role = score::SoundingVoice::Role;
    struct Voice {
        Role role;
        const char* id;
        const char* label;
    };
    std::string out = "<fieldset><legend>Voices</legend>";
    for (const auto& voice :
         {Voice{Role::melody, "melody", "melody"}, Voice{Role::comping, "comping", "piano"},
          Voice{Role::bass, "bass", "bass"}, Voice{Role::time, "time", "drums"},
          Voice{Role::guide_tones, "guide", "guide tones"}}) {
        if (!has_voice(page, voice.role)) continue;
        // Guide tones are for looking into the changes; the band comes first.
        out += fmt::format("<label><input type=\"checkbox\" id=\"voice-{}\"{}> {}</label>", voice.id,
                           voice.role == Role::guide_tones ? "" : " checked", voice.label);
    }
    return out + "</fieldset>\n";
}

bool changes_tempo(const report::Listening& page) {
    return !page.performances.empty() && page.performances.front().tempi.size() > 1;
}

/// In per cent, where the tune swings most.
int most_swing(const report::Listening& page) {
    double swing = 0.5;
    if (!page.performances.empty()) {
        swing = page.performances.front().swing;
        for (const auto& mark : page.performances.front().swings) swing = std::max(swing, mark.swing);
    }
    return static_cast<int>(std::lround(swing * 100));
}

std::string desk(const report::Listening& page) {
    const auto& comparison = page.comparison;
    std::string out =
        "<section class=\"desk\" aria-label=\"Listening\">\n"
        "<div class=\"first\"><span><button type=\"button\" class=\"play\">Play</button>"
        "<span id=\"now\" class=\"note\"></span></span>\n";
    out += hear_choice(comparison);
    out += "</div>\n<div class=\"rest-of-desk\">";
    out += loop_choice(page);
    out += slider("tempo", changes_tempo(page) ? "Tempo at the start" : "Tempo",
                  std::min(40, comparison.beats_per_minute), std::max(320, comparison.beats_per_minute),
                  comparison.beats_per_minute, "");
    out += "<span id=\"looped\" class=\"note\" role=\"status\"></span>\n";
    out += "<details><summary>More: voices, swing, instrument, look, print</summary>\n<div class=\"more\">\n";
    out += voice_choice(page) + slider("swing", "Swing", 50, 75, most_swing(page), " %") +
           "<label>Loudness <input type=\"range\" id=\"loud\" min=\"0\" max=\"100\" value=\"70\"></label>\n" +
           reader_choice(page);
    out +=
        "<label><input type=\"checkbox\" id=\"all\"> show every version</label>\n"
        "<label><input type=\"checkbox\" id=\"follow\" checked> follow the music</label>\n"
        "<label>Look <select id=\"theme\"><option value=\"\">as the device</option>"
        "<option value=\"light\">light</option><option value=\"dark\">dark</option></select></label>\n"
        "<button type=\"button\" id=\"print\">Print</button>\n"
        "<label><input type=\"checkbox\" id=\"keys\" checked> keys: p plays, arrows go bar by bar, digits "
        "choose "
        "what you hear, o ends a loop, Escape closes a reason</label>\n";
    return out + "</div></details></div>\n</section>\n";
}

std::string strip(const report::Listening& page, SymbolIds& symbols) {
    const auto range = height_range(page);
    std::string out = "<section class=\"strip\" aria-label=\"Changes, bar by bar\">\n";
    for (std::size_t i = 0; i < page.comparison.bars.size(); ++i) {
        const auto& bar = page.comparison.bars[i];
        auto place = escape(bar.number == 0 ? bar.section + ", pickup"
                                            : fmt::format("{}:{}", bar.section, bar.number));
        auto ending = bar.ending.empty() ? "" : fmt::format(" · ending {}", escape(bar.ending));
        if (!bar.new_tempo.empty()) ending += fmt::format(" · {}", escape(bar.new_tempo));
        const auto who = bar.section_begins && !page.comparison.rows.empty()
                             ? fmt::format(" <span class=\"who\" aria-hidden=\"true\">{}</span>",
                                           escape(page.comparison.rows.front().name))
                             : "";
        out += fmt::format(
            "<div class=\"bar{}\" data-place=\"{}\"><div class=\"over\"><button type=\"button\" "
            "class=\"place\" "
            "tabindex=\"-1\" title=\"Play from here\">{}{}</button>{}</div>",
            bar.section_begins ? " begins" : "", place, place, ending, who);
        for (std::size_t row = 0; row < bar.rows.size(); ++row) out += bar_svg(page, i, row, range, symbols);
        out += "</div>\n";
    }
    return out + "</section>\n";
}

std::string legend() {
    const auto sample = [](std::string_view classes, std::string_view path) {
        return fmt::format(
            "<svg viewBox=\"0 0 46 12\" aria-hidden=\"true\"><path class=\"{}\" d=\"{}\"/></svg>", classes,
            path);
    };
    return "<p class=\"legend\"><span>" + sample("v", "M0 6h46") + "upper guide-tone line</span><span>" +
           sample("h", "M0 6h46") + "lower guide-tone line</span><span>" + sample("h j", "M0 10L46 2") +
           "thick: it skips or leaps</span>"
           "<span><b class=\"new\"><u>bold, underlined</u></b>: changed</span></p>\n";
}

bool has_reasons(const report::Comparison& comparison) {
    return std::any_of(comparison.rows.begin(), comparison.rows.end(),
                       [](const report::ComparedRow& row) { return !row.changes.empty(); });
}

}  // namespace

std::string listening_page(const report::Listening& page) {
    SymbolIds symbols;
    const auto strip_text = strip(page, symbols);
    auto out = head(page) + "<body>\n" + header(page.comparison) + "<main>\n" + desk(page);
    out +=
        "<noscript><p>This page plays when its script may run. Changes and reasons can be read without "
        "it.</p></noscript>\n";
    out += "<p id=\"reads\" class=\"note\" role=\"status\"></p>\n";
    out += legend() + strip_text;
    out += fmt::format(
        "<section id=\"why\" class=\"why\" aria-live=\"polite\" aria-label=\"Why this chord\"><p>{}</p>"
        "</section>\n",
        has_reasons(page.comparison)
            ? "Touch, point at or tab to a changed chord: here you read why it stands there."
            : "No chord here has a reason of a rule to tell.");
    out += reasons(page.comparison);
    out += fmt::format("</main>\n<footer>{}</footer>\n", footer_text(page.comparison));
    out += fmt::format(
        "<script type=\"application/json\" id=\"sound\">{}</script>\n<script>{}</script>\n</body>\n</html>\n",
        sound_json(page, symbols), page_script());
    return out;
}

}  // namespace relead::formats::html
