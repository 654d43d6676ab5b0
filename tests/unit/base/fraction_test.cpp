// include/relead/fraction.h
#include <relead/fraction.h>

#include "support/catch.h"

using relead::Fraction;

TEST_CASE("fractions are kept in lowest terms with a positive denominator") {
    struct Row { std::int64_t n, d; const char* text; };
    const Row rows[] = {{2, 4, "1/2"}, {3, -6, "-1/2"}, {-4, -2, "2"}, {0, 5, "0"}, {7, 1, "7"}};
    for (const auto& row : rows) CHECK(Fraction(row.n, row.d).to_string() == row.text);
}

TEST_CASE("fraction arithmetic is exact") {
    CHECK(Fraction(1, 3) + Fraction(1, 6) == Fraction(1, 2));
    CHECK(Fraction(1, 2) - Fraction(3, 4) == Fraction(-1, 4));
    CHECK(Fraction(2, 3) * Fraction(9, 4) == Fraction(3, 2));
    CHECK(Fraction(2, 3) / Fraction(4, 9) == Fraction(3, 2));
    CHECK(Fraction(1, 3) < Fraction(34, 100));
    CHECK(Fraction(-7, 2).floor() == -4);
    CHECK(Fraction(7, 2).floor() == 3);
    CHECK(Fraction(-4).floor() == -4);
}
