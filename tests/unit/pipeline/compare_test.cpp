// Rows of a comparison as tunes of one shape, the bars of a slip, and the files of a comparison.
#include "pipeline/compare.h"

#include <algorithm>

#include "pipeline/aligned.h"
#include "pipeline/compare_files.h"
#include "pipeline/slip_bars.h"
#include "rules/read_rules.h"
#include "support/catch.h"
#include "support/small_tunes.h"

using namespace relead;

namespace {

const std::string head = "tune \"Slip\"\nkey F major\nmeter 4/4\ntempo 120 swing\n";
const std::string aaba =
    head +
    "form A A B A\n\nsection A\nchanges | Gm7 | C7 | Fmaj7 | [1 D7 ] [2,3 F6 ] |\n"
    "melody | w Bb4 | A4 | A4 | F#4 | F4 |\n\nsection B\nchanges | Am7 D7 | Gm7*3 C7 |\n";

pipeline::Compared compared(const std::string& tune, std::vector<reharm::Wish> wishes,
                            const std::vector<std::pair<std::string, std::string>>& others = {}) {
    std::vector<pipeline::OtherTune> rows;
    for (const auto& [name, text] : others) rows.push_back({name, testing::read_whole(text)});
    auto outcome =
        pipeline::compare(testing::read_whole(tune), rules::built_in_rules(), wishes, std::move(rows));
    REQUIRE(outcome.clean());
    return std::move(*outcome.value);
}

reharm::Wish tritone(const std::string& plan = "") {
    reharm::Wish wish;
    if (plan.empty()) {
        wish.use = {"tritone"};
    } else {
        wish.plan = plan;
    }
    return wish;
}

/// "A | Gm7 | C7* 1 |": symbols of a row bar by bar, changed ones with a star, and the numbers over them.
std::string row_text(const pipeline::Aligned& aligned, std::size_t row) {
    const auto& sheet = aligned.rows.at(row);
    std::string text;
    for (std::size_t s = 0; s < sheet.tune.sections.size(); ++s) {
        text += (s > 0 ? " " : "") + sheet.tune.sections[s].name + " |";
        const auto& bars = sheet.tune.sections[s].bars;
        for (std::size_t b = 0; b < bars.size(); ++b) {
            for (std::size_t c = 0; c < bars[b].changes.size(); ++c) {
                const tune::ChordRef ref{static_cast<int>(s), static_cast<int>(b), static_cast<int>(c)};
                text += " " + theory::to_string(bars[b].changes[c].chord);
                for (const auto& changed : sheet.changed) text += changed.ref == ref ? "*" : "";
                for (const auto& note : sheet.notes)
                    text += note.ref == ref ? " (" + std::to_string(note.number) + ")" : "";
            }
            text += " |";
        }
    }
    return text;
}

std::string slip_text(const pipeline::Compared& all, std::size_t row) {
    const auto aligned = pipeline::align(all);
    std::string text;
    for (const auto& bar : pipeline::slip_bars(all, aligned, row)) {
        text += bar.label + " [" + bar.number + "]";
        for (const auto& event : bar.written.changes) text += " " + theory::to_string(event.chord);
        text += " >";
        for (std::size_t c = 0; c < bar.bar.changes.size(); ++c)
            text += " " + theory::to_string(bar.bar.changes[c].chord) + (bar.changed.at(c) ? "*" : "");
        text += bar.follows ? " follows\n" : "\n";
    }
    return text;
}

}  // namespace

TEST_CASE("rows of one form keep its repeats and endings; changes are numbered in the order of the sheet") {
    const auto all = compared(aaba, {tritone()});
    const auto aligned = pipeline::align(all);
    CHECK_FALSE(aligned.unfolded);
    CHECK(row_text(aligned, 0) == "A | Gm7 | C7 | Fmaj7 | D7 | F6 | B | Am7 D7 | Gm7 C7 |");
    CHECK(row_text(aligned, 1) == "A | Gm7 | Gb7#9* (1) | Fmaj7 | D7 Ab7* (2) | F6 | B | Am7 D7 | Gm7 C7 |");
    CHECK(aligned.rows[0].name == "Written");
    CHECK(aligned.rows[1].name == "plain");
    REQUIRE(aligned.reasons.size() == 2);
    CHECK(aligned.reasons[0] ==
          "A:2  C7 \u2192 G\u266d7\u266f9: G\u266d7\u266f9 keeps E and B\u266d of C7 and falls a half step "
          "to Fmaj7.");
    // What each row is about, with the numbers that every command gives.
    REQUIRE(aligned.end_notes.size() == 2);
    CHECK(aligned.end_notes[0].find("plain \u00b7 ") == 0);
    CHECK(aligned.end_notes[0].find("2 changes; 4 of 14 bars differ; outside 2 at most") !=
          std::string::npos);
    CHECK(aligned.end_notes[0].find(report::guide_sentence(all.comparison.rows[1].guide_line)) !=
          std::string::npos);
    CHECK(aligned.end_notes[1].find(report::guide_sentence(all.comparison.rows[0].guide_line)) !=
          std::string::npos);
}

TEST_CASE("rows that make the same change for the same reason share its number") {
    const auto plans =
        aaba +
        "\nplan \"one\" for band on head\n  use tritone\n  never tritone-pair at A:2\n\nplan \"two\" "
        "for band on head\n"
        "  use tritone\n  never tritone-pair at A:2\n  never at A:4\n";
    const auto aligned = pipeline::align(compared(plans, {tritone("one"), tritone("two")}));
    REQUIRE(aligned.rows.size() == 3);
    const auto shared = [&](std::size_t row) {
        return std::count_if(aligned.rows[row].notes.begin(), aligned.rows[row].notes.end(),
                             [](const auto& note) { return note.number == 1; });
    };
    CHECK(shared(1) == 1);
    CHECK(shared(2) == 1);
    for (std::size_t i = 0; i < aligned.reasons.size(); ++i)
        CHECK(std::count(aligned.reasons.begin(), aligned.reasons.end(), aligned.reasons[i]) == 1);
}

TEST_CASE("another form is written out: one chorus, cut at the written bar lines") {
    const auto all = compared(aaba, {tritone()},
                              {{"Three",
                                "tune \"Three\"\nkey F major\nmeter 3/4\ntempo 120 waltz\nform A\n\n"
                                "section A\nchanges | Gmaj7 | Am7 | D7 |\n"}});
    const auto aligned = pipeline::align(all);
    CHECK(aligned.unfolded);
    CHECK(row_text(aligned, 0) ==
          "A | Gm7 | C7 | Fmaj7 | D7 | A2 | Gm7 | C7 | Fmaj7 | F6 | B | Am7 D7 | Gm7 C7 | A3 | Gm7 | C7 | "
          "Fmaj7 | F6 |");
    CHECK(row_text(aligned, 2).find("A | Gmaj7* Am7* | Am7* D7* | D7* | | A2 |") == 0);
    // The version's number stands wherever its bar is played.
    const auto version = row_text(aligned, 1);
    std::size_t times = 0;
    for (auto at = version.find("(1)"); at != std::string::npos; at = version.find("(1)", at + 1)) ++times;
    CHECK(times == 3);
    for (const auto& row : aligned.rows) {
        CHECK(pipeline::same_shape(row.tune, aligned.written));
    }
    CHECK(std::any_of(aligned.end_notes.begin(), aligned.end_notes.end(), [](const auto& note) {
        return note.find("The bars of Three have another length") != std::string::npos;
    }));
}

TEST_CASE("shapes: names, pickups, repeats, endings and meters make a form, chords do not") {
    const auto shape = [](const std::string& rest) { return testing::read_whole(head + rest); };
    const auto plain = shape("form A\nsection A\nchanges | Gm7 | C7 |\nmelody | w C5 | D5 |\n");
    CHECK(pipeline::same_shape(plain, shape("form A\nsection A\nchanges | Db7 | F6 Eb7 |\n")));
    for (const char* other :
         {"form A A\nsection A\nchanges | Gm7 | C7 |\n", "form B\nsection B\nchanges | Gm7 | C7 |\n",
          "form A\nsection A\nchanges | Gm7 | C7 | F6 |\n", "form A\nsection A\nchanges |: Gm7 | C7 :|\n",
          "form A\nsection A\nchanges G7 | Gm7 | C7 |\nmelody q C5 | w C5 | D5 |\n",
          "form A\nsection A\nmeter 3/4\nchanges | Gm7 | C7 |\n"}) {
        CAPTURE(other);
        CHECK_FALSE(pipeline::same_shape(plain, shape(other)));
    }
}

TEST_CASE("a soloist's row is what the soloist plays, and is called so") {
    const auto all =
        compared(aaba + "\nplan \"over\" for soloist on solos\n  use tritone\n", {tritone("over")});
    const auto aligned = pipeline::align(all);
    CHECK(aligned.rows[1].name == "over");
    CHECK(aligned.rows[1].soloist);
    CHECK_FALSE(aligned.rows[0].soloist);
    CHECK(row_text(aligned, 1).find("A | Gm7 | Gb7* (1) |") == 0);
    CHECK(row_text(aligned, 0).find("A | Gm7 | C7 |") == 0);
}

TEST_CASE("slip: each differing bar once, with its address and its number on the lead sheet") {
    const auto all = compared(aaba, {tritone()});
    CHECK(slip_text(all, 1) == "A:2 [2] C7 > Gb7#9*\nA:4 [4] D7 > D7 Ab7*\n");
}

TEST_CASE("slip: bars that follow each other, N.C. and a bar under a fermata") {
    const auto text =
        head + "form A\nsection A\nchanges | Gm7 | C7 | N.C. | F6 |\nmarks | . | . | . | fermata |\n";
    const auto other = head + "form A\nsection A\nchanges | Gm7 | Gb7 | C7 | N.C. |\n";
    const auto all = compared(text, {}, {{"Other", other}});
    CHECK(slip_text(all, 1) == "A:2 [2] C7 > Gb7*\nA:3 [3] N.C. > C7* follows\nA:4 [4] F6 > N.C.* follows\n");
}

TEST_CASE("slip: a pickup and playings that differ are named, a playing once") {
    const auto text = head +
                      "form A A B\nsection A\nchanges C7 | Gm7 C7 | Fmaj7 |\nmelody q C5 | w C5 | A4 |\n"
                      "section B\nchanges | Bbmaj7 | C7 |\n";
    const auto other = head +
                       "form A A B\nsection A\nchanges Gb7 | Gm7 Gb7 | Fmaj7 |\nmelody q C5 | w C5 | A4 |\n"
                       "section B\nchanges | Bbmaj7 | C7 |\n";
    const auto slip = slip_text(compared(text, {}, {{"Other", other}}), 1);
    CHECK(slip.find("A:pickup [0] C7 > Gb7*\nA:1 [1] Gm7 C7 > Gm7 Gb7* follows\n") == 0);
    const auto three = head + "form A A\nsection A\nchanges | Gm7 | C7 | Fmaj7 | F6 |\n";
    const auto late = head +
                      "form A B\nsection A\nchanges | Gm7 | C7 | Fmaj7 | F6 |\n\nsection B\n"
                      "changes | Gm7 | Gb7 | Fmaj7 | Bbm6 |\n";
    CHECK(slip_text(compared(three, {}, {{"Late", late}}), 1) ==
          "A:2 (time 2) [6] C7 > Gb7*\nA:4 [8] F6 > Bbm6*\n");
}

TEST_CASE("slip: nothing differs, no bars") {
    const auto all = compared(aaba, {}, {{"Same", aaba}});
    CHECK(slip_text(all, 1).empty());
}

TEST_CASE("files: names that no two rows share, one slip for each reader, sheets compressed on wish") {
    auto wish = tritone();
    wish.versions = 2;
    const auto all = compared(aaba, {wish}, {{"plain", aaba}});
    CHECK(all.words == std::vector<std::string>{"written", "plain", "plain-2", "plain-3"});
    const auto made = pipeline::compare_files(all, "slip", {{theory::find_instrument("alto")}, true, true});
    REQUIRE(made.clean());
    std::vector<std::string> names;
    for (const auto& file : *made.value) {
        names.push_back(file.name);
        CHECK_FALSE(file.bytes.empty());
    }
    CHECK(names == std::vector<std::string>{
                       "slip.compare.mxl", "slip.plain.slip.mxl", "slip.plain.slip.alto-sax.mxl",
                       "slip.plain-2.slip.mxl", "slip.plain-2.slip.alto-sax.mxl", "slip.compare.html",
                       "slip.written.mid", "slip.plain.mid", "slip.plain-2.mid", "slip.plain-3.mid"});
}

TEST_CASE("the corner of the sheet names all versions while they fit a line, then their hashes") {
    auto wish = tritone();
    wish.date = "25 November 2026";
    const auto corner = [&](std::size_t count) {
        std::string plans = aaba;
        std::vector<reharm::Wish> wishes;
        for (std::size_t i = 0; i < count; ++i) {
            const auto name = "plan " + std::to_string(i + 1);
            plans += "\nplan \"" + name + "\" for band on head\n  use tritone\n";
            wishes.push_back(tritone(name));
            wishes.back().date = wish.date;
        }
        const auto made = pipeline::compare_files(compared(plans, wishes), "slip", {});
        REQUIRE(made.clean());
        return made.value->front().bytes;
    };
    const auto one = corner(1);
    CHECK(one.find("plan 1 \u00b7 ") != std::string::npos);
    CHECK(one.find("\u00b7 25 November 2026</credit-words>") != std::string::npos);
    const auto four = corner(4);
    CHECK(four.find("November 2026</credit-words>") == std::string::npos);
    // The names stand below the last system.
    CHECK(four.find("plan 4 \u00b7 ") != std::string::npos);
}
