// compiler/reharm/chorus_flow.cpp, compiler/reharm/dose.cpp: what is heard of a whole version. The tunes are
// small enough to count by hand.
#include "reharm/chorus_flow.h"

#include "reharm/plan_binding.h"
#include "rules/read_rules.h"
#include "support/catch.h"
#include "support/small_tunes.h"

using namespace relead;

namespace {

/// A tune of a chord a bar and what is heard of it when single chords are replaced.
class Heard {
public:
    Heard(const std::string& changes, const std::vector<std::string>& rows,
          const std::string& key = "C major")
        : tune_(testing::small_tune(key, changes, rows)),
          analysis_(testing::plain_reading(tune_)),
          chart_(rules::make_chart(tune_, analysis_)),
          plan_(*reharm::bind_plan(tune_, rules::built_in_rules(), {}).value),
          situation_{tune_, chart_, rules::built_in_rules(), plan_},
          grid_(chart_) {}

    /// `symbols` per written chord; "" leaves it.
    reharm::Flow with(const std::vector<std::string>& symbols) {
        auto sound = grid_.as_written();
        for (std::size_t i = 0; i < symbols.size(); ++i) {
            if (symbols[i].empty()) continue;
            rules::Placement placement;
            placement.begin = static_cast<int>(i);
            placement.end = placement.begin + 1;
            rules::NewChord chord;
            chord.chord = *theory::parse_chord(symbols[i]).chord;
            chord.length = chart_.at(placement.begin).length;
            placement.chords.push_back(chord);
            for (const auto& cell : grid_.placed(placement))
                sound[static_cast<std::size_t>(cell.cell)] = cell.sound;
        }
        return reharm::ChorusFlow(situation_, grid_).of(sound);
    }
    reharm::Flow as_written() const { return reharm::ChorusFlow(situation_, grid_).as_written(); }
    const rules::Chart& chart() const { return chart_; }

private:
    tune::Tune tune_;
    analysis::Analysis analysis_;
    rules::Chart chart_;
    reharm::BoundPlan plan_;
    reharm::Situation situation_;
    reharm::SoundGrid grid_;
};

void check(const reharm::Tally& tally, int good, int all) {
    CHECK(tally.good == good);
    CHECK(tally.all == all);
}

}  // namespace

TEST_CASE("guide tones count where new meets written, root moves where a root is new", "[reharm]") {
    Heard tune("Dm7 | G7 | Cmaj7 | Cmaj7", {});
    check(tune.as_written().joints, 0, 0);
    check(tune.as_written().roots, 0, 0);

    SECTION("a tritone substitute: both guide tones hold or step on both sides, roots go by half step") {
        const auto flow = tune.with({"", "Db7"});
        check(flow.joints, 4, 4);
        check(flow.roots, 2, 2);
        check(flow.symbols, 1, 1);
        // F C into F Cb, F Cb into E B; home to Dm7 each goes up a half step.
        CHECK(flow.root_moves == 3);
        CHECK(flow.semitones == 4);
    }
    SECTION("Abmaj7 for Dm7: B and E into C and G, C and G into B and F; roots a third and a half step") {
        const auto flow = tune.with({"Abmaj7"});
        // E to G is a skip.
        check(flow.joints, 3, 4);
        check(flow.roots, 1, 2);
        check(flow.symbols, 0, 1);
    }
    SECTION("a colour and another bass make no new root, ii over the dominant's root none either") {
        check(tune.with({"Dm7/A", "G13"}).roots, 0, 0);
        check(tune.with({"", "Dm7/G"}).roots, 0, 0);
    }
}

TEST_CASE("outer voices go together or not from strong beat to strong beat", "[reharm]") {
    // From the bass C: F is nearer above, G below. Melody up, then down.
    Heard tune("C6 | F6 | C6", {"melody | w E4 | w G4 | w F4 |"});
    check(tune.as_written().outer, 0, 2);
    // C down to A while the melody goes up, A up to C while it goes down.
    check(tune.with({"", "F6/A"}).outer, 2, 2);
    Heard silent("C6 | F6 | C6", {});
    check(silent.as_written().outer, 0, 0);
}

TEST_CASE("three fifths in a row count once", "[reharm]") {
    Heard tune("C6 | Dm7 | Em7 | F6", {"melody | w G4 | w A4 | w B4 | w A4 |"});
    CHECK(tune.as_written().parallels == 1);
    CHECK(tune.with({"", "Dm7/F"}).parallels == 0);
}

TEST_CASE("a dense chart has three changes of chord in two bars; a chord said again is no change",
          "[reharm]") {
    CHECK(reharm::is_dense(Heard("C6 Am7 | Dm7", {}).chart()));
    CHECK_FALSE(reharm::is_dense(Heard("C6 C6 | Dm7 | G7 | C6", {}).chart()));
}

TEST_CASE("the grid counts one chorus: an ending that only the last one plays weighs nothing", "[reharm]") {
    const auto tune = testing::read_whole(
        "tune \"T\"\nkey C major\nmeter 4/4\ntempo 120\nform A\nrunning Head | Head last\n"
        "section A\nchanges | C6 | [1 Dm7 ] [last G7 | C6 ] |\n");
    const auto chart = rules::make_chart(tune, testing::plain_reading(tune));
    const reharm::SoundGrid grid(chart);
    CHECK(grid.size() == 2 * 8);
    CHECK(grid.plays(grid.first_cell(0)) == 1);
    CHECK(grid.plays(grid.first_cell(chart.size() - 1)) == 0);
}
