// include/relead/outcome.h
#include <relead/outcome.h>

#include "support/catch.h"

using namespace relead;

namespace {

Diagnostic said(Severity severity) {
    return {"some-code", severity, {}, {}, "Said.", {}};
}

}  // namespace

TEST_CASE("an outcome is clean with a value and without errors") {
    CHECK(Outcome<int>{1, {}}.clean());
    CHECK(Outcome<int>{1, {said(Severity::remark), said(Severity::warning)}}.clean());
    CHECK_FALSE(Outcome<int>{1, {said(Severity::warning), said(Severity::error)}}.clean());
    CHECK_FALSE(Outcome<int>{std::nullopt, {}}.clean());
}

TEST_CASE("only errors count as errors") {
    CHECK_FALSE(has_errors({}));
    CHECK_FALSE(has_errors({said(Severity::remark), said(Severity::warning)}));
    CHECK(has_errors({said(Severity::remark), said(Severity::error)}));
}
