// compiler/formats/musicxml/head_writer.cpp, title_lines.cpp: the words above the music.
#include "formats/musicxml/title_lines.h"
#include "musicxml_tree.h"

namespace {

using namespace relead;

std::string repeated(const std::string& text, int times) {
    std::string out;
    for (int i = 0; i < times; ++i) out += text;
    return out;
}

}  // namespace

TEST_CASE("titles: one title, credits on their pages, no control characters") {
    auto score = score_of({four_quarters()});
    score.title = "A \x01<b> & \"c\"";
    score.composer = "N. Body";
    score.stamp = "mild \u00b7 3fa94c21";
    score.pages = 2;
    const Tree tree(score);
    CHECK(tree["//work-title"] == "A <b> & \"c\"");
    CHECK(tree.count("//movement-title") == 0);
    CHECK(tree["//creator[@type='composer']"] == "N. Body");
    CHECK(tree.count("//credit[@page='2'][contains(credit-words, '3fa94c21')]") == 1);
    CHECK(tree["//credit[credit-type='title']/credit-words"] == "A <b> & \"c\"");
}

TEST_CASE("credits do not run into each other, however long they are") {
    auto score = score_of({four_quarters()});
    score.title = "The Night the Ferry Came Back Without Its Lamps Lit";
    score.corner = "Baritone Sax \u00b7 guide tones";
    score.composer = "M. Okafor-Lind and the Saltmarsh Nonet";
    score.lyricist = "words by the whole of the band room";
    score.running_order =
        "Head, twice \u00b7 Solos (open, each soloist, written changes) \u00b7 Head, last time";
    score.note = "Played once through, signs as written. The alto has the second time of C alone.";
    score.stamp = "second thoughts \u00b7 3fa94c21 \u00b7 25 November 2026";
    const Tree tree(score);
    // Boxes in tenths: a staff of 7 mm is 40 tenths; letters of a serif face are about half as wide as high.
    const double tenths_a_point = 40 / 7.0 * 25.4 / 72;
    struct Box {
        double left, right, top, bottom;
    };
    std::vector<Box> boxes;
    const auto credit = [&](std::size_t i, const char* attribute) {
        const auto path = "(//credit[@page='1']/credit-words)[" + std::to_string(i) + "]" + attribute;
        return tree[path.c_str()];
    };
    const auto count = tree.count("//credit[@page='1']/credit-words");
    REQUIRE(count == 10);  // two blanks beside the title, two lines of the running order
    CHECK(tree["//credit[credit-type='subtitle']/credit-words"] == "Head, twice \u00b7");
    CHECK(tree["//top-system-distance"] == "193");
    for (std::size_t i = 1; i <= count; ++i) {
        const double size = std::stod(credit(i, "/@font-size")) * tenths_a_point;
        double letters = 0;
        for (const char c : credit(i, "")) letters += (static_cast<unsigned char>(c) & 0xC0) != 0x80 ? 1 : 0;
        const double width = 0.5 * size * letters;
        const double x = std::stod(credit(i, "/@default-x")), y = std::stod(credit(i, "/@default-y"));
        const auto justify = credit(i, "/@justify");
        const double left = justify == "left" ? x : justify == "right" ? x - width : x - width / 2;
        boxes.push_back({left, left + width, y, y - size});
        INFO(credit(i, ""));
        CHECK(left >= 0);
        CHECK(left + width <= 1200);
        CHECK(y <= 1697 - 30);  // printers leave some 5 mm
    }
    for (std::size_t i = 0; i < boxes.size(); ++i) {
        for (std::size_t j = i + 1; j < boxes.size(); ++j) {
            const bool beside = boxes[i].right < boxes[j].left || boxes[j].right < boxes[i].left;
            const bool apart = boxes[i].bottom > boxes[j].top || boxes[j].bottom > boxes[i].top;
            INFO(i << " and " << j);
            CHECK((beside || apart));
        }
    }
}

TEST_CASE("a title is as large as the page is wide") {
    auto score = score_of({four_quarters()});
    score.title = "Lamps";
    CHECK(Tree(score)["//credit[credit-type='title']/credit-words/@font-size"] == "22");
    score.title = std::string(70, 'n');
    CHECK(Tree(score)["//credit[credit-type='title']/credit-words/@font-size"] == "14");
    score.title = std::string(400, 'n');
    CHECK(Tree(score)["//credit[credit-type='title']/credit-words/@font-size"] == "11");
    CHECK(Tree(score)["//work-title"] == score.title);
}

TEST_CASE("long titles: two lines between words or letters, the rest is left out") {
    const struct {
        std::string title;
        std::vector<std::string> lines;
    } rows[] = {
        {"Lamps", {"Lamps"}},
        {std::string(85, 'n'), {std::string(85, 'n')}},
        {"The Night the Harbour Master Lost His Keys and Found Them Again in the Pocket of Another Coat",
         {"The Night the Harbour Master Lost His Keys and Found",
          "Them Again in the Pocket of Another Coat"}},
        {std::string(200, 'n'), {std::string(75, 'n'), std::string(74, 'n') + "…"}},
        // No half letters: a wide one takes two columns.
        {repeated("船", 60), {repeated("船", 36), repeated("船", 24)}},
    };
    for (const auto& row : rows) CHECK(formats::title_lines(row.title).lines == row.lines);
    CHECK(formats::clipped("Lamps along the quay", 12) == "Lamps along…");
    CHECK(formats::clipped("Lamps", 5) == "Lamps");
    CHECK(formats::clipped("e\u0301e\u0301e\u0301e\u0301", 3) == "e\u0301e\u0301…");
}

TEST_CASE("a long running order is broken between its items") {
    const std::string order =
        "Head, twice \u00b7 Solos (open, each soloist, written changes) \u00b7 Head, last time (tag A:9-10)";
    using Lines = std::vector<std::string>;
    CHECK(formats::item_lines(order, 100, 100) == Lines{order});
    CHECK(formats::item_lines(order, 75, 90) ==
          Lines{"Head, twice \u00b7 Solos (open, each soloist, written changes) \u00b7",
                "Head, last time (tag A:9-10)"});
    CHECK(formats::item_lines(order, 10, 10).size() == 3);
    CHECK(formats::item_lines("", 10, 10).empty());
    // Beside a stamp there is less room than without one.
    auto score = score_of({four_quarters()});
    score.running_order = order;
    CHECK(Tree(score).count("//credit[@page='1']/credit-words[@default-x='70']") == 1);
    score.stamp = "mild \u00b7 3fa94c21";
    CHECK(Tree(score).count("//credit[@page='1']/credit-words[@default-x='70']") == 2);
}

TEST_CASE("a title that would meet its neighbours in columns of lines has lines of its own") {
    auto score = score_of({four_quarters()});
    const auto blanks = [&] { return Tree(score).count("//credit[credit-words='\u00a0']"); };
    score.corner = "Concert pitch";
    score.composer = "I. Quay";
    score.title = std::string(60, 'n');
    CHECK(blanks() == 0);
    score.corner = "Comparison of three versions";
    CHECK(blanks() == 2);
    score.title = std::string(100, 'n');
    CHECK(blanks() == 4);
}
