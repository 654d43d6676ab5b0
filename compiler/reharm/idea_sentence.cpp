#include "reharm/idea_sentence.h"

#include <algorithm>
#include <cctype>
#include <utility>

#include "reharm/ideas.h"
#include "reharm/title.h"
#include "text/render.h"
#include "tune/spot.h"

namespace relead::reharm {
namespace {

using Counts = std::vector<std::pair<std::string, std::size_t>>;  ///< the most frequent first

Counts counted(const std::vector<std::string>& words) {
    Counts counts;
    for (const auto& word : words) {
        const auto known = std::find_if(counts.begin(), counts.end(),
                                        [&](const auto& count) { return count.first == word; });
        if (known == counts.end()) {
            counts.emplace_back(word, 1);
        } else {
            ++known->second;
        }
    }
    std::stable_sort(counts.begin(), counts.end(),
                     [](const auto& a, const auto& b) { return a.second > b.second; });
    return counts;
}

std::string times(std::size_t count) {
    return count == 2 ? "twice" : tune::in_words(count) + " times";
}

/// "tritone substitute (four times) and related ii": at most `most` kinds, those that come most often,
/// "and others".
std::string titles_of(const std::vector<const Change*>& changes, std::size_t most) {
    std::vector<std::string> titles;
    for (const auto* change : changes) titles.push_back(change->title);
    const auto counts = counted(titles);
    std::vector<std::string> parts;
    for (const auto& [title, count] : counts) {
        if (parts.size() < most)
            parts.push_back(title_inside(title) + (count == 1 ? "" : " (" + times(count) + ")"));
    }
    if (counts.size() > most) parts.emplace_back("others");
    return tune::listed(parts);
}

/// The degree of a goal: "ii", "I", "bVI"; the chord's colours are left out.
std::string degree_of(const theory::Chord& chord, const theory::Key& home) {
    // In keys of many signs a root is written under its other name: Amaj7 is bIII of Gb. #I and bV stay.
    constexpr int enharmonic = 12, furthest = 7;
    auto seen = chord;
    while (seen.root.fifths - home.tonic.fifths > furthest) seen.root.fifths -= enharmonic;
    while (seen.root.fifths - home.tonic.fifths < -furthest) seen.root.fifths += enharmonic;
    const auto numeral = theory::numeral(seen, home.tonic);
    const auto end = numeral.find_first_not_of("b#iIvV");
    return numeral.substr(0, end);
}

/// ", into ii and I", when the changes lead to few goals; where no key is claimed, by their chords.
std::string goals_of(const std::vector<const Change*>& changes, const std::optional<theory::Key>& home) {
    std::vector<std::string> goals;
    for (const auto* change : changes) {
        const auto& goal = change->goal ? change->goal : change->next;
        if (!goal || goal->is_none()) return {};
        goals.push_back(home ? degree_of(*goal, *home) : theory::to_string(*goal));
    }
    const auto counts = counted(goals);
    constexpr std::size_t few = 3;
    if (changes.size() < 2 || counts.size() > few) return {};
    // Far from home a degree says nothing: "into #II" is nobody's word.
    const auto odd = [](const auto& count) {
        constexpr std::string_view degrees[] = {"bI", "bi", "bIV", "biv"};
        return count.first.empty() || count.first.front() == '#' ||
               std::find(std::begin(degrees), std::end(degrees), count.first) != std::end(degrees);
    };
    if (home && std::any_of(counts.begin(), counts.end(), odd)) return {};
    std::vector<std::string> names;
    for (const auto& count : counts) names.push_back(count.first);
    return ", into " + tune::listed(names);
}

/// "ii over the root": a numeral keeps its letters.
bool begins_with_numeral(const std::string& text) {
    const auto end = std::min(text.find_first_not_of("iv"), text.size());
    return end > 0 && (end == text.size() || std::isalpha(static_cast<unsigned char>(text[end])) == 0);
}

std::string capitalised(std::string text) {
    if (!begins_with_numeral(text) && text.size() > 1 &&
        std::islower(static_cast<unsigned char>(text[1])) != 0)
        text.front() = static_cast<char>(std::toupper(static_cast<unsigned char>(text.front())));
    return text;
}

/// Which rules made these changes.
std::vector<std::size_t> rules_of(const std::vector<const Change*>& changes, const rules::RuleSet& rules) {
    std::vector<std::size_t> all;
    for (const auto* change : changes) {
        if (const auto* rule = rules.find(change->rule))
            all.push_back(static_cast<std::size_t>(rule - rules.rules.data()));
    }
    return all;
}

/// What the plan takes is not what the version is about, unless there is nothing else.
std::vector<int> uses_of(const std::vector<Change>& changes, const rules::RuleSet& rules) {
    std::vector<int> uses(rules.rules.size(), 0);
    const bool all_taken =
        std::all_of(changes.begin(), changes.end(), [](const Change& change) { return change.taken; });
    for (const auto& change : changes) {
        if (change.taken && !all_taken) continue;
        if (const auto* rule = rules.find(change.rule))
            ++uses[static_cast<std::size_t>(rule - rules.rules.data())];
    }
    return uses;
}

bool serves(const Idea& idea, const Change& change, const rules::RuleSet& rules) {
    const auto* rule = rules.find(change.rule);
    return rule != nullptr && idea.serves[static_cast<std::size_t>(rule - rules.rules.data())];
}

/// Ideas that sentences tell.
std::vector<std::size_t> told(const std::vector<IdeaShare>& leads) {
    std::vector<std::size_t> ideas;
    for (const auto& lead : leads) {
        if (lead.stated()) ideas.push_back(lead.idea);
    }
    return ideas;
}

/// What each version is about.
std::vector<IdeaShare> leads_of(const std::vector<Idea>& ideas, const std::vector<Version>& versions,
                                const rules::RuleSet& rules) {
    std::vector<IdeaShare> leads;
    for (const auto& version : versions)
        leads.push_back(leading_idea(ideas, uses_of(version.changes, rules), told(leads)));
    return leads;
}

/// How a change stands to those of another version: begins where none of them does, begins with one of them
/// but has other chords or another end, or is one of them.
enum class Beside { alone, other_chords, same };

Beside beside(const Change& change, const std::vector<Change>& others) {
    auto found = Beside::alone;
    for (const auto& other : others) {
        if (other.first != change.first) continue;
        if (other.new_chords == change.new_chords && other.last == change.last) return Beside::same;
        found = Beside::other_chords;
    }
    return found;
}

std::size_t shared_with(const std::vector<Change>& changes, const std::vector<Change>& others) {
    return static_cast<std::size_t>(std::count_if(changes.begin(), changes.end(), [&](const Change& change) {
        return beside(change, others) == Beside::same;
    }));
}

/// "bars 1, 3.3 and 7 of A and bar 2 of B": many places, section by section.
std::string by_sections(const std::vector<std::string>& places) {
    std::vector<std::pair<std::string, std::vector<std::string>>> sections;
    for (const auto& place : places) {
        const auto colon = place.rfind(':');
        const auto section = place.substr(0, colon);
        if (sections.empty() || sections.back().first != section) sections.push_back({section, {}});
        sections.back().second.push_back(place.substr(colon + 1));
    }
    std::vector<std::string> parts;
    for (const auto& [section, bars] : sections)
        parts.push_back((bars.size() == 1 ? "bar " : "bars ") + tune::listed(bars) + " of " + section);
    return tune::listed(parts);
}

/// Places of the changes that stand so to `others`: "A:4, B:2 and B:6". Whoever compares two sheets needs
/// them all.
std::string places_of(const std::vector<Change>& changes, const std::vector<Change>& others, Beside how) {
    std::vector<std::string> places;
    for (const auto& change : changes) {
        if (beside(change, others) != how) continue;
        const auto place = text::to_string(change.place);
        if (std::find(places.begin(), places.end(), place) == places.end()) places.push_back(place);
    }
    constexpr std::size_t few = 8;
    if (places.size() > few) return by_sections(places);
    return places.empty() ? "" : tune::listed(places);
}

}  // namespace

std::string idea_of(const std::vector<Change>& changes, const std::vector<Version>& earlier,
                    const rules::RuleSet& rules, const std::optional<theory::Key>& home) {
    if (changes.empty()) return "The changes stay as they are.";
    const auto ideas = ideas_for(rules);
    const auto lead = leading_idea(ideas, uses_of(changes, rules), told(leads_of(ideas, earlier, rules)));
    const auto& best = ideas[lead.idea];
    std::vector<const Change*> all, own, others;
    for (const auto& change : changes) {
        all.push_back(&change);
        (serves(best, change, rules) ? own : others).push_back(&change);
    }
    constexpr std::size_t most = 3, beside = 2;
    if (all.size() == 1 || !lead.stated()) return capitalised(titles_of(all, 2 * most)) + ".";
    auto text = capitalised(best.title_for(rules_of(own, rules))) + ": " + titles_of(own, most);
    if (best.tells_goals) text += goals_of(own, home);
    if (!others.empty()) text += "; also " + titles_of(others, beside);
    return text + ".";
}

std::string against(const Version& now, const std::vector<Version>& earlier, const rules::RuleSet& rules) {
    if (now.changes.empty()) return {};
    const auto ideas = ideas_for(rules);
    const auto leads = leads_of(ideas, earlier, rules);
    const auto about = leading_idea(ideas, uses_of(now.changes, rules), told(leads)).idea;
    // The one that it shares most with; where none is near, the last one of its idea.
    const Version* same = nullptr;
    std::size_t most = 0;
    for (std::size_t i = 0; i < earlier.size(); ++i) {
        const auto shared = shared_with(now.changes, earlier[i].changes);
        const bool near = shared * 2 >= now.changes.size();
        if (earlier[i].changes.empty() || !(leads[i].idea == about || near) || shared < most) continue;
        same = &earlier[i];
        most = shared;
    }
    if (same == nullptr) return {};
    const auto fresh = places_of(now.changes, same->changes, Beside::alone);
    const auto other = places_of(now.changes, same->changes, Beside::other_chords);
    const auto gone = places_of(same->changes, now.changes, Beside::alone);
    std::string parts;
    const auto add = [&](const std::string& words, const std::string& places) {
        if (!places.empty()) parts += (parts.empty() ? "" : "; ") + words + places;
    };
    add("new at ", fresh);
    add("other chords at ", other);
    add("without the change at ", gone);
    return parts.empty() ? "" : "Against " + same->name + ": " + parts + ".";
}

}  // namespace relead::reharm
