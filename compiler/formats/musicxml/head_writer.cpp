#include "formats/musicxml/head_writer.h"

#include <algorithm>

#include "formats/musicxml/title_lines.h"
#include "text/source.h"

namespace relead::formats {

namespace {

/// Page sizes in tenths of a staff space; a staff has 40. At first those of a staff of 7 mm.
struct Page {
    int width = 1200, height = 1697;
    int left = 70, right = 70, top = 80, bottom = 80;
    int heading = 170;  ///< from the upper margin to the first staff
    [[nodiscard]] int centre() const { return width / 2; }
    [[nodiscard]] int right_edge() const { return width - right; }
};

constexpr double usual_staff_height = 7;  // millimetres
constexpr int text_line = 23;             // from one line of 10 points to the next, in tenths

/// Columns that a line holds in readers that set all credits in one size, and the gap between two credits.
constexpr int columns = 90, gap = 2;

/// The running order; readers that set credits in columns of lines put its first line beside the stamp.
std::vector<std::string> running_lines(const score::Score& score) {
    constexpr int least = 40;
    const int beside = score.stamp.empty() ? 0 : text::display_width(score.stamp) + gap;
    return item_lines(score.running_order, std::max(least, columns - beside), columns);
}

Page page_of(const score::Score& score) {
    Page page;
    if (score.paper == score::Paper::letter) {
        page.width = 1234;
        page.height = 1597;
    }
    const double factor = usual_staff_height / score.staff_height;
    page.width = static_cast<int>(page.width * factor);
    page.height = static_cast<int>(page.height * factor);
    page.heading += text_line * std::max(0, static_cast<int>(running_lines(score).size()) - 1);
    return page;
}

void write_creator(Sink& sink, std::string_view type, const std::string& name) {
    if (name.empty()) return;
    const Nest creator(sink, "creator");
    sink.attribute("type", type);
    sink.text(name);
}

void write_supports(Sink& sink, std::string_view element, std::string_view type) {
    const Nest nest(sink, "supports");
    sink.attribute("element", element);
    sink.attribute("type", type);
}

void write_encoding(Sink& sink, const score::Score& score) {
    const Nest encoding(sink, "encoding");
    if (!score.software.empty()) leaf(sink, "software", score.software);
    write_supports(sink, "accidental", "yes");
    write_supports(sink, "beam", "yes");
    write_supports(sink, "stem", "no");
    const Nest breaks(sink, "supports");
    sink.attribute("attribute", "new-system");
    sink.attribute("element", "print");
    sink.attribute("type", "yes");
    sink.attribute("value", "yes");
}

void write_identification(Sink& sink, const score::Score& score) {
    const Nest identification(sink, "identification");
    write_creator(sink, "composer", score.composer);
    write_creator(sink, "lyricist", score.lyricist);
    if (!score.rights.empty()) leaf(sink, "rights", score.rights);
    write_encoding(sink, score);
}

void write_margins(Sink& sink, const Page& page) {
    const Nest margins(sink, "page-margins");
    sink.attribute("type", "both");
    leaf(sink, "left-margin", page.left);
    leaf(sink, "right-margin", page.right);
    leaf(sink, "top-margin", page.top);
    leaf(sink, "bottom-margin", page.bottom);
}

/// Between the two staves of one part.
constexpr int staff_distance = 45;

/// Systems share the page: room to write between the staves when they are few.
void write_system_layout(Sink& sink, const Page& page, const score::Score& score) {
    constexpr int staff = 40, closest = 65, widest = 125;
    const int room = page.height - page.top - page.bottom - page.heading;
    int staves = 0, between = 0;
    for (const auto& part : score.parts) {
        staves += part.staves;
        between += (part.staves - 1) * staff_distance;
    }
    const int each = room / std::max(1, score.systems_a_page) - staff * staves - between;
    {
        const Nest layout(sink, "system-layout");
        leaf(sink, "system-distance", std::clamp(each, closest, widest));
        leaf(sink, "top-system-distance", page.heading);
    }
    if (between == 0) return;
    const Nest layout(sink, "staff-layout");
    sink.attribute("number", "2");
    leaf(sink, "staff-distance", staff_distance);
}

/// "7", "5.5".
std::string decimal(double value) {
    const auto tenths = static_cast<int>(value * 10 + 0.5);
    const auto whole = std::to_string(tenths / 10);
    return tenths % 10 == 0 ? whole : whole + "." + std::to_string(tenths % 10);
}

void write_font(Sink& sink, std::string_view element, std::string_view size) {
    const Nest font(sink, element);
    sink.attribute("font-family", "serif");
    sink.attribute("font-size", size);
}

void write_defaults(Sink& sink, const Page& page, const score::Score& score) {
    const Nest defaults(sink, "defaults");
    {
        const Nest scaling(sink, "scaling");
        leaf(sink, "millimeters", decimal(score.staff_height));
        leaf(sink, "tenths", 40);
    }
    {
        const Nest layout(sink, "page-layout");
        leaf(sink, "page-height", page.height);
        leaf(sink, "page-width", page.width);
        write_margins(sink, page);
    }
    write_system_layout(sink, page, score);
    write_font(sink, "word-font", "10");
    write_font(sink, "lyric-font", "10");
}

struct Credit {
    std::string_view type;
    std::string text;
    int x = 0, y = 0;
    std::string_view justify = "center";
    std::string_view size = "10";
};

void write_credit(Sink& sink, int page, const Credit& credit) {
    if (credit.text.empty()) return;
    const Nest nest(sink, "credit");
    sink.attribute("page", std::to_string(page));
    if (!credit.type.empty()) leaf(sink, "credit-type", credit.type);
    const Nest words(sink, "credit-words");
    sink.attribute("default-x", std::to_string(credit.x));
    sink.attribute("default-y", std::to_string(credit.y));
    sink.attribute("font-size", credit.size);
    sink.attribute("justify", credit.justify);
    sink.attribute("valign", "top");
    sink.text(credit.text);
}

/// Readers that set credits in three columns of lines, all in one size, would run a long title into what
/// stands beside it.
bool needs_lines_of_its_own(const score::Score& score) {
    const int beside = std::max(text::display_width(score.corner), text::display_width(score.composer));
    return text::display_width(score.title) > columns - 2 * (beside + gap);
}

void write_title(Sink& sink, const score::Score& score, const Page& page) {
    const int top = page.height - page.top;
    const auto title = title_lines(score.title);
    const auto size = std::to_string(title.size);
    const bool own_lines = needs_lines_of_its_own(score);
    int y = top;
    for (const auto& line : title.lines) {
        write_credit(sink, 1, {y == top ? "title" : "", line, page.centre(), y, "center", size});
        if (own_lines) {  // blanks that hold the columns beside it free
            write_credit(sink, 1, {"", "\u00a0", page.left, y, "left", "10"});
            write_credit(sink, 1, {"", "\u00a0", page.right_edge(), y, "right", "10"});
        }
        y -= title.size * 5 / 2;
    }
}

void write_credits(Sink& sink, const score::Score& score, const Page& page) {
    const int top = page.height - page.top;
    const int above = top + 40;  // in the margin: a long title reaches neither corner nor stamp
    const int bottom = page.bottom - 10;
    constexpr int columns_on_later_pages = 60;
    write_title(sink, score, page);
    write_credit(sink, 1, {"part name", score.corner, page.left, above, "left", "12"});
    write_credit(sink, 1, {"composer", score.composer, page.right_edge(), top - 50, "right", "10"});
    write_credit(sink, 1, {"lyricist", score.lyricist, page.left, top - 50, "left", "10"});
    // From the left: readers that set credits in three columns would run a centred one into the stamp.
    int below = top - 75;
    for (const auto& line : running_lines(score)) {
        write_credit(sink, 1, {below == top - 75 ? "subtitle" : "", line, page.left, below, "left", "10"});
        below -= text_line;
    }
    write_credit(sink, 1, {"", score.note, page.left, std::min(below, top - 98), "left", "9"});
    write_credit(sink, 1, {"rights", score.rights, page.centre(), bottom, "center", "8"});
    for (int number = 1; number <= score.pages; ++number) {
        const bool first = number == 1;
        const auto text = first || score.stamp.empty()
                              ? score.stamp
                              : clipped(score.title, columns_on_later_pages) + " \u00b7 " + score.stamp;
        write_credit(sink, number, {"", text, page.right_edge(), above, "right", "9"});
    }
}

void write_name(Sink& sink, std::string_view element, const std::string& name, bool show) {
    const Nest nest(sink, element);
    if (!show) sink.attribute("print-object", "no");
    sink.text(name);
}

void write_score_part(Sink& sink, const score::Part& part, std::size_t index) {
    const Nest nest(sink, "score-part");
    sink.attribute("id", part_id(index));
    write_name(sink, "part-name", part.name, part.show_name);
    write_name(sink, "part-abbreviation", part.abbreviation, part.show_name);
    const auto instrument = part_id(index) + "-I1";
    {
        const Nest entry(sink, "score-instrument");
        sink.attribute("id", instrument);
        leaf(sink, "instrument-name", part.name);
        if (!part.sound.empty()) leaf(sink, "instrument-sound", part.sound);
    }
    const Nest midi(sink, "midi-instrument");
    sink.attribute("id", instrument);
    // Channel 10 is the drum channel of General MIDI; pitched parts share the other fifteen.
    const int pitched = static_cast<int>(index % 15) + 1;
    leaf(sink, "midi-channel", part.midi_program == 0 ? 10 : pitched >= 10 ? pitched + 1 : pitched);
    leaf(sink, "midi-program", part.midi_program == 0 ? 1 : part.midi_program);
    leaf(sink, "volume", 80);
    leaf(sink, "pan", 0);
}

void write_group(Sink& sink, std::size_t number, bool start) {
    const Nest nest(sink, "part-group");
    sink.attribute("number", std::to_string(number));
    sink.attribute("type", start ? "start" : "stop");
    if (!start) return;
    leaf(sink, "group-symbol", "bracket");
    leaf(sink, "group-barline", "yes");
}

void write_part_list(Sink& sink, const score::Score& score) {
    const Nest list(sink, "part-list");
    for (std::size_t index = 0; index < score.parts.size(); ++index) {
        const int at = static_cast<int>(index);
        for (std::size_t group = 0; group < score.groups.size(); ++group) {
            if (score.groups[group].first == at) write_group(sink, group + 1, true);
        }
        write_score_part(sink, score.parts[index], index);
        for (std::size_t group = 0; group < score.groups.size(); ++group) {
            if (score.groups[group].last == at) write_group(sink, group + 1, false);
        }
    }
}

}  // namespace

std::string part_id(std::size_t index) {
    return "P" + std::to_string(index + 1);
}

void write_head(Sink& sink, const score::Score& score) {
    {
        const Nest work(sink, "work");
        leaf(sink, "work-title", score.title);
    }
    write_identification(sink, score);
    const Page page = page_of(score);
    write_defaults(sink, page, score);
    write_credits(sink, score, page);
    write_part_list(sink, score);
}

}  // namespace relead::formats
