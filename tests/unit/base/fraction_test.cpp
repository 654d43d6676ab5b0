// include/relead/fraction.h
#include <numeric>
#include <vector>

#include <relead/fraction.h>

#include "support/catch.h"

using relead::Fraction;

TEST_CASE("fractions are kept in lowest terms with a positive denominator") {
    struct Row {
        std::int64_t n, d;
        const char* text;
    };
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

TEST_CASE("the laws of arithmetic hold for all small fractions") {
    std::vector<Fraction> all;
    for (std::int64_t d = 1; d <= 9; ++d)
        for (std::int64_t n = -10; n <= 10; ++n) all.emplace_back(n, d);
    int wrong = 0;
    for (const auto a : all) {
        for (const auto b : all) {
            wrong += a + b == b + a && a * b == b * a && a - b == -(b - a) ? 0 : 1;
            wrong += b == 0 || a / b * b == a ? 0 : 1;
            wrong += (a < b) == (a.to_double() < b.to_double()) && (a == b) == (a - b == 0) ? 0 : 1;
        }
        wrong += a * (a + 1) == a * a + a ? 0 : 1;
        wrong += a.floor() <= a && a < a.floor() + 1 ? 0 : 1;
        wrong += std::gcd(a.numerator(), a.denominator()) == 1 && a.denominator() > 0 ? 0 : 1;
    }
    CHECK(wrong == 0);
}

TEST_CASE("a thousand tuplets in a row add up exactly") {
    Fraction sum;
    for (int i = 0; i < 1000; ++i) sum += Fraction(1, 12) + Fraction(1, 20) + Fraction(1, 28);
    CHECK(sum == Fraction(1000 * 71, 420));
    for (int i = 0; i < 1000; ++i) sum -= Fraction(1, 28) + Fraction(1, 20) + Fraction(1, 12);
    CHECK(sum == 0);
}
