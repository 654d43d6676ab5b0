// compiler/formats/html: what the page holds whatever a tune is called. How it looks and plays is tried in a
// browser by tests/web.
#include "formats/html/listening_page.h"

#include "formats/html/escape.h"
#include "formats/html/sound_data.h"
#include "formats/html/strip.h"
#include "support/catch.h"
#include "support/small_tunes.h"

using namespace relead;

namespace {

report::Listening page_of(const std::string& changes) {
    const auto tune = testing::small_tune("C major", changes);
    return report::listening(report::compare(tune, {}), tune.key, {});
}

std::size_t count(const std::string& text, const std::string& what) {
    std::size_t found = 0;
    for (auto at = text.find(what); at != std::string::npos; at = text.find(what, at + what.size())) ++found;
    return found;
}

}  // namespace

TEST_CASE("text stays text") {
    CHECK(formats::html::escape("<script>\"Ö\" & 'x'</script>") ==
          "&lt;script&gt;&quot;Ö&quot; &amp; &#39;x&#39;&lt;/script&gt;");
    CHECK(formats::html::escape(std::string("a\0b\x1f", 4)) == "a\uFFFDb\uFFFD");
    CHECK(formats::html::escape("tab\tand\nline") == "tab\tand\nline");
}

TEST_CASE("nothing of a tune reaches the page unescaped") {
    auto page = page_of("Dm7 | G7 | C");
    const std::string hostile = "<b>\"&'";
    auto& comparison = page.comparison;
    comparison.title = comparison.composer = comparison.key = comparison.meter = comparison.feel = hostile;
    for (auto& row : comparison.rows) row.name = row.idea = row.stamp = row.search = hostile;
    for (auto& bar : comparison.bars) bar.section = bar.ending = hostile;
    for (auto& stretch : page.stretches) stretch.label = hostile;
    comparison.notes = {hostile};
    report::ChangeRow change;
    change.place = change.old_changes = change.new_changes = change.rule = hostile;
    change.old_motion = change.new_motion = change.reason = change.melody = hostile;
    comparison.rows.front().changes = {change};
    for (auto& chord : comparison.bars.front().rows.front()) {
        chord.changed = true;
        chord.change = 0;
    }
    const auto text = formats::html::listening_page(page);
    CHECK(count(text, hostile) == 0);
    CHECK(count(text, "<b>") == 0);
    CHECK(count(text, "&lt;b&gt;&quot;&amp;&#39;") > 25);
}

TEST_CASE("the policy lets through the page's own style and script and nothing else") {
    const auto text = formats::html::listening_page(page_of("C"));
    CHECK(count(text, "default-src 'none'; style-src 'sha256-") == 1);
    CHECK(count(text, "script-src 'sha256-") == 1);
    CHECK(count(text, "unsafe") == 0);
    CHECK(count(text, "http://") == count(text, "http://www.w3.org/2000/svg"));
    CHECK(count(text, "https://") == 0);
    CHECK(count(text, " style=") == 0);
}

TEST_CASE("bars stand at their moments and a symbol is held once") {
    const auto page = page_of("Dm7 G7 | Cmaj7 | Dm7 G7 | Cmaj7");
    formats::html::SymbolIds symbols;
    const auto range = formats::html::height_range(page);
    const auto first = formats::html::bar_svg(page, 0, 0, range, symbols);
    const auto third = formats::html::bar_svg(page, 2, 0, range, symbols);
    CHECK(first.find("x=\"7\"") != std::string::npos);
    CHECK(first.find("x=\"127\"") != std::string::npos);
    CHECK(first.find("data-i=\"0\"") != std::string::npos);
    CHECK(third.find("data-i=\"0\"") != std::string::npos);
    CHECK(count(symbols.json(), "[\"D|m7|\"") == 1);
    CHECK(count(formats::html::bar_svg(page, 3, 0, range, symbols), "class=\"t e\"") == 1);  // the end
}

TEST_CASE("sound: ticks from note to note, and a voice that sounds like an earlier row's is not held again") {
    auto page = page_of("C | G7");
    page.comparison.rows.push_back(page.comparison.rows.front());
    for (auto& bar : page.comparison.bars) bar.rows.push_back(bar.rows.front());
    score::Performance performance;
    performance.count_in = Time(1);
    performance.swing = 0.62;
    performance.tempi = {{Time(0), 148}, {Time(2), 96.5}};
    performance.swings = {{Time(0), 0.62}, {Time(2), 0.5}};
    score::SoundingVoice bass;
    bass.role = score::SoundingVoice::Role::bass;
    bass.notes = {{Time(1), Time(1, 4), 36, 90}, {Time(3, 2), Time(1, 8), 43, 80}};
    performance.voices = {bass};
    page.performances = {performance, performance};
    const auto json = formats::html::sound_json(page, {});
    CHECK(json.find("\"bars\":[[0,1920],[1920,1920]]") != std::string::npos);
    CHECK(json.find("[[],[],[0,480,36,90,960,240,43,80],[],[]]") != std::string::npos);
    CHECK(json.find("[[],[],0,[],[]]") != std::string::npos);
    // From the top of the chorus: the count-in has gone.
    CHECK(json.find("\"tempi\":[[0,148],[1920,96.5]]") != std::string::npos);
    CHECK(json.find("\"swings\":[[0,0.62],[1920,0.5]]},0],\n\"rows\"") != std::string::npos);
}

TEST_CASE("sound: a row of another tune runs in its own tempo and feel") {
    auto page = page_of("C | G7");
    page.comparison.rows.resize(3, page.comparison.rows.front());
    for (auto& bar : page.comparison.bars) bar.rows.resize(3, bar.rows.front());
    page.comparison.beats_per_minute = 100;
    score::Performance written, other;
    written.tempi = {{0, 150}};  // dotted quarters
    written.swings = {{0, 0.6}};
    other.tempi = {{0, 96}, {1, 144}};
    other.swings = {{0, 0.5}};
    page.performances = {written, other, written};
    CHECK(formats::html::own_beats(page, 0) == 100);
    CHECK(formats::html::own_beats(page, 1) == 64);
    const auto json = formats::html::sound_json(page, {});
    CHECK(json.find("\"clocks\":[{\"beats\":100,\"grid\":0,\n\"tempi\":[[0,150]],\n\"swings\":[[0,0.6]]},"
                    "{\"beats\":64,\"grid\":0,\n\"tempi\":[[0,96],[1920,144]],\n\"swings\":[[0,0.5]]},0]") !=
          std::string::npos);
}

TEST_CASE("a page says when it knows no reason, and what its sliders are for") {
    auto page = page_of("Dm7 | G7 | C");
    score::Performance steady;
    steady.tempi = {{0, 120}};
    page.performances = {steady};
    auto text = formats::html::listening_page(page);
    CHECK(count(text, "No chord here has a reason of a rule to tell.") == 1);
    CHECK(count(text, "<label>Tempo <input") == 1);
    CHECK(count(text, "<output id=\"swing-out\" for=\"swing\">50 %") == 1);
    page.performances.front().tempi.push_back({1, 180});
    page.performances.front().swings = {{0, 0.5}, {1, 0.64}};
    page.comparison.rows.front().changes.emplace_back();
    text = formats::html::listening_page(page);
    CHECK(count(text, "here you read why it stands there.") == 1);
    CHECK(count(text, "<label>Tempo at the start <input") == 1);
    CHECK(count(text, "<output id=\"swing-out\" for=\"swing\">64 %") == 1);
}
