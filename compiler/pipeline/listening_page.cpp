#include "pipeline/listening_page.h"

#include "arrange/perform.h"
#include "base/fmt.h"
#include "formats/html/listening_page.h"
#include "report/listening.h"

namespace relead::pipeline {

namespace {

score::Performance one_chorus(const tune::Tune& tune, const std::string& name, const tune::Tune* written) {
    arrange::PerformWish wish;
    wish.name = name;
    wish.one_chorus = true;
    wish.guide_tones = true;
    wish.written = written;
    return arrange::perform(tune, wish);
}

}  // namespace

File listening_page(const Compared& compared, const std::string& stem) {
    std::vector<score::Performance> performances{
        one_chorus(compared.tune, compared.comparison.rows.front().name, nullptr)};
    for (const auto& row : compared.rows()) {
        performances.push_back(
            one_chorus(*row.tune, row.name, row.version != nullptr ? &compared.tune : nullptr));
    }
    return {fmt::format("{}.compare.html", stem),
            formats::html::listening_page(
                report::listening(compared.comparison, compared.tune.key, std::move(performances)))};
}

}  // namespace relead::pipeline
