#include "tune/passages.h"

#include <algorithm>

namespace relead::tune {
namespace {

const Bar& bar_of(const Section& section, int index) {
    return section.bars[static_cast<std::size_t>(index)];
}

class Reader {
public:
    explicit Reader(const Section& section)
        : section_(section), count_(static_cast<int>(section.bars.size())) {}

    std::vector<Passage> read() {
        int bar = count_ > 0 && bar_of(section_, 0).number == 0 ? 1 : 0;
        current_.first = bar;
        while (bar < count_) bar = step(bar);
        close(count_);
        return std::move(found_);
    }

private:
    int step(int bar) {
        const auto& here = bar_of(section_, bar);
        if (here.repeat_begins) {
            close(bar);
            current_.opened = true;
        }
        if (!here.ending_begins.empty()) return read_endings(bar);
        if (here.repeat_ends > 0) {
            current_.repeated = current_.closed = true;
            current_.times = here.repeat_ends;
            close(bar + 1);
        }
        return bar + 1;
    }

    /// A run of endings; it belongs to the repeat when one is open or one of them has a `:|`.
    int read_endings(int bar) {
        int closing_count = 0;
        int next = bar;
        current_.last = bar;
        while (next < count_ && !bar_of(section_, next).ending_begins.empty()) {
            Ending ending{bar_of(section_, next).ending_begins, next, ending_end(next)};
            for (int i = ending.first; i < ending.last; ++i)
                closing_count = std::max(closing_count, bar_of(section_, i).repeat_ends);
            next = ending.last;
            current_.endings.push_back(std::move(ending));
        }
        current_.closed = closing_count > 0;
        current_.repeated = current_.opened || current_.closed;
        if (current_.repeated) current_.times = passes(closing_count);
        found_.push_back(std::move(current_));
        current_ = {};
        current_.first = current_.last = next;
        return next;
    }

    [[nodiscard]] int ending_end(int bar) const {
        while (bar < count_) {
            if (bar_of(section_, bar).ending_ends) return bar + 1;
            if (++bar < count_ && !bar_of(section_, bar).ending_begins.empty()) return bar;
        }
        return count_;
    }

    [[nodiscard]] int passes(int closing_count) const {
        int highest = 0;
        bool last = false;
        for (const auto& ending : current_.endings)
            for (const int pass : ending.passes) {
                highest = std::max(highest, pass);
                last = last || pass == 0;
            }
        return std::max(closing_count, highest + (last ? 1 : 0));
    }

    /// Ends the running passage before `bar`, unless it is empty.
    void close(int bar) {
        current_.last = bar;
        if (current_.last > current_.first) found_.push_back(std::move(current_));
        current_ = {};
        current_.first = current_.last = bar;
    }

    const Section& section_;
    int count_;
    Passage current_;
    std::vector<Passage> found_;
};

}  // namespace

bool Ending::takes(int pass) const {
    return std::find(passes.begin(), passes.end(), pass) != passes.end();
}

std::vector<Passage> passages(const Section& section) {
    return Reader(section).read();
}

}  // namespace relead::tune
