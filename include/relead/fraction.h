// Exact rational numbers. All musical time in Relead is exact: a Fraction of a whole note
// (`Time`) inside the compiler, or of the meter's beat (`Beats`) where a musician reads it.
// Ticks exist only in MIDI files, divisions only in MusicXML files.
#pragma once

#include <compare>
#include <cstdint>
#include <numeric>
#include <string>

namespace relead {

/// A normalised fraction: denominator > 0, lowest terms. Arithmetic reduces before it
/// multiplies; numerators and denominators of music stay far below 2^62 (the limits table
/// bounds bars and tuplets), so overflow is a bug and not an input error.
class Fraction {
public:
    constexpr Fraction() = default;
    constexpr Fraction(std::int64_t whole) : numerator_(whole) {}  // NOLINT: implicit by design
    constexpr Fraction(std::int64_t numerator, std::int64_t denominator)
        : numerator_(denominator < 0 ? -numerator : numerator),
          denominator_(denominator < 0 ? -denominator : denominator) {
        const auto divisor = std::gcd(numerator_, denominator_);
        if (divisor > 1) {
            numerator_ /= divisor;
            denominator_ /= divisor;
        }
    }

    [[nodiscard]] constexpr std::int64_t numerator() const { return numerator_; }
    [[nodiscard]] constexpr std::int64_t denominator() const { return denominator_; }
    [[nodiscard]] constexpr bool is_whole() const { return denominator_ == 1; }
    /// Largest whole number not above the value.
    [[nodiscard]] constexpr std::int64_t floor() const {
        const auto quotient = numerator_ / denominator_;
        return (numerator_ % denominator_ < 0) ? quotient - 1 : quotient;
    }
    [[nodiscard]] constexpr double to_double() const {
        return static_cast<double>(numerator_) / static_cast<double>(denominator_);
    }
    /// "3", "1/2", "-3/4".
    [[nodiscard]] std::string to_string() const {
        return is_whole() ? std::to_string(numerator_)
                          : std::to_string(numerator_) + "/" + std::to_string(denominator_);
    }

    constexpr Fraction operator-() const { return {-numerator_, denominator_}; }
    friend constexpr Fraction operator+(Fraction a, Fraction b) {
        const auto divisor = std::gcd(a.denominator_, b.denominator_);
        const auto scale = b.denominator_ / divisor;
        return {a.numerator_ * scale + b.numerator_ * (a.denominator_ / divisor),
                a.denominator_ * scale};
    }
    friend constexpr Fraction operator-(Fraction a, Fraction b) { return a + (-b); }
    friend constexpr Fraction operator*(Fraction a, Fraction b) {
        const Fraction left(a.numerator_, b.denominator_);
        const Fraction right(b.numerator_, a.denominator_);
        return {left.numerator_ * right.numerator_, left.denominator_ * right.denominator_};
    }
    /// Precondition: b is not zero.
    friend constexpr Fraction operator/(Fraction a, Fraction b) {
        return a * Fraction(b.denominator_, b.numerator_);
    }
    constexpr Fraction& operator+=(Fraction b) { return *this = *this + b; }
    constexpr Fraction& operator-=(Fraction b) { return *this = *this - b; }

    friend constexpr bool operator==(Fraction, Fraction) = default;
    friend constexpr std::strong_ordering operator<=>(Fraction a, Fraction b) {
        return a.numerator_ * b.denominator_ <=> b.numerator_ * a.denominator_;
    }

private:
    std::int64_t numerator_ = 0;
    std::int64_t denominator_ = 1;
};

/// A length or offset as a fraction of a whole note: a quarter note is Time(1, 4).
using Time = Fraction;
/// A length or offset in beats of the meter in force (dotted beats in 6/8, 9/8, 12/8).
using Beats = Fraction;

}  // namespace relead
