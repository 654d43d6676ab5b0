#include "arrange/form_bars.h"

#include <cctype>

#include "tune/passages.h"

namespace relead::arrange {

namespace {

using score::EndingStop;

constexpr const char* last_time = "Last time";

/// "A" the first time; later "A3" (or "Verse 3"): the number of the playing that begins here.
std::string mark_text(const std::string& name, int playing) {
    if (playing == 1) return name;
    const bool letter = name.size() == 1 && std::isupper(static_cast<unsigned char>(name[0])) != 0;
    return name + (letter ? "" : " ") + std::to_string(playing);
}

std::vector<int> passes_between(int first, int last) {
    std::vector<int> passes;
    for (int pass = first; pass <= last; ++pass) passes.push_back(pass);
    return passes;
}

}  // namespace

std::string ending_label(const std::vector<int>& passes) {
    std::string text;
    for (std::size_t i = 0; i < passes.size();) {
        std::size_t end = i;
        while (end + 1 < passes.size() && passes[end + 1] == passes[end] + 1) ++end;
        if (!text.empty()) text += " ";
        text += std::to_string(passes[i]) + ".";
        if (end > i) text += (end > i + 1 ? "-" : " ") + std::to_string(passes[end]) + ".";
        i = end + 1;
    }
    return text;
}

void FormWriter::open(int section, int playings) {
    auto& played = played_[section];
    next_mark_ = mark_text(tune_.sections[static_cast<std::size_t>(section)].name, played + 1);
    played += playings;
    opens_ = true;
}

void FormWriter::put(int section, int bar) {
    SheetBar written;
    written.section = section;
    written.bar = bar;
    if (opens_) {
        written.opens_section = true;
        written.mark = next_mark_;
        opens_ = false;
    }
    bars_.push_back(std::move(written));
}

void FormWriter::write(std::span<const FormUnit> units, const FormBlock& block) {
    const auto from = bars_.size();
    for (std::size_t i = 0; i < block.width; ++i) {
        const auto& unit = units[block.first + i];
        open(unit.section, block.passes);
        const auto count = i + 1 == block.width ? block.common : unit.bars.size();
        for (std::size_t bar = 0; bar < count; ++bar) put(unit.section, unit.bars[bar]);
        if (!bars_.empty()) bars_.back().closes_section = i + 1 < block.width || block.endings.empty();
    }
    const auto& last = units[block.first + block.width - 1];
    if (last.vamp) {
        score::Direction words;
        words.text = "vamp until cue";
        words.style.italic = true;
        bars_[from].signs.push_back(std::move(words));
    }
    if (block.passes == 1) {
        if (last.repeats_inside) add_repeat_signs(last.section, from);
        return;
    }
    const auto& last_pass = units[block.first + block.units() - 1];
    bars_[from].repeat_begins = true;
    if (block.endings.empty()) {
        bars_.back().repeat_ends = block.passes;
    } else {
        write_endings(last.section, block, last_pass.final_chorus && !last.final_chorus);
    }
}

void FormWriter::write_endings(int section, const FormBlock& block, bool last_chorus) {
    for (const auto& ending : block.endings) {
        const bool last = ending.last_pass == block.passes;
        const auto from = bars_.size();
        for (const int bar : ending.bars) put(section, bar);
        const auto passes = passes_between(ending.first_pass, ending.last_pass);
        bars_[from].ending = score::Ending{passes, last && last_chorus ? last_time : ending_label(passes)};
        bars_.back().ending_stop = last ? EndingStop::open : EndingStop::closed;
        bars_.back().closes_section = last;
        if (!last) bars_.back().repeat_ends = block.passes;
    }
}

SheetBar* FormWriter::find(std::size_t from, int bar) {
    for (auto i = from; i < bars_.size(); ++i) {
        if (bars_[i].bar == bar) return &bars_[i];
    }
    return nullptr;
}

void FormWriter::add_repeat_signs(int section, std::size_t from) {
    for (const auto& passage : tune::passages(tune_.sections[static_cast<std::size_t>(section)])) {
        if (passage.repeated) {
            if (auto* first = find(from, passage.first)) first->repeat_begins = true;
        }
        if (passage.repeated && passage.endings.empty()) {
            if (auto* last = find(from, passage.last - 1)) last->repeat_ends = passage.times;
        }
        for (std::size_t i = 0; i < passage.endings.size(); ++i) {
            const auto& ending = passage.endings[i];
            const bool last_ending = i + 1 == passage.endings.size();
            auto* first = find(from, ending.first);
            auto* last = find(from, ending.last - 1);
            if (first == nullptr || last == nullptr) continue;
            auto passes = ending.passes;
            const bool takes_last = ending.takes_last();
            if (takes_last) passes = {passage.repeated ? passage.times : static_cast<int>(i) + 1};
            first->ending = score::Ending{passes, takes_last ? last_time : ending_label(passes)};
            last->ending_stop = last_ending ? EndingStop::open : EndingStop::closed;
            if (passage.repeated && !last_ending) last->repeat_ends = passage.times;
        }
    }
}

void FormWriter::write_pickup(const FormBar& pickup) {
    put(pickup.section, pickup.bar);
}

void FormWriter::write_section_by_signs(int section) {
    const auto from = bars_.size();
    const auto& bars = tune_.sections[static_cast<std::size_t>(section)].bars;
    for (std::size_t bar = 0; bar < bars.size(); ++bar) {
        if (bars[bar].number == 0 && from > 0) continue;  // only the tune's own pickup is printed
        if (bars[bar].number == 1) open(section, 1);
        put(section, static_cast<int>(bar));
    }
    if (bars_.size() > from) bars_.back().closes_section = true;
    add_repeat_signs(section, from);
}

void FormWriter::write_plain(const FormBar& bar, bool opens, bool closes) {
    if (opens) open(bar.section, 1);
    put(bar.section, bar.bar);
    bars_.back().closes_section = closes;
}

}  // namespace relead::arrange
