#include "core/base/rational.h"

namespace yw::base {
namespace {

Int128 commonDivisor(Int128 a, Int128 b) {
  if (a < 0) a = -a;
  while (b != 0) {
    const Int128 rest = a % b;
    a = b;
    b = rest;
  }
  return a;
}

/// -2^127 has no positive twin; keeping away from it lets the sign be turned without a check.
constexpr Int128 kLargest = (((Int128{1} << 126) - 1) << 1) + 1;

bool tooLarge(Int128 v) { return v < -kLargest; }

}  // namespace

std::optional<Rational> Rational::make(Int128 num, Int128 den) {
  if (den == 0 || tooLarge(num) || tooLarge(den)) return std::nullopt;
  if (den < 0) {
    num = -num;
    den = -den;
  }
  const Int128 shared = commonDivisor(num, den);
  return Rational{num / shared, den / shared};
}

std::optional<std::int64_t> Rational::rounded() const {
  const Int128 size = num < 0 ? -num : num;
  Int128 whole = size / den;
  const Int128 rest = size % den;
  if (rest >= den - rest) ++whole;
  if (whole > INT64_MAX) return std::nullopt;
  return static_cast<std::int64_t>(num < 0 ? -whole : whole);
}

std::optional<Rational> sum(const Rational& a, const Rational& b) {
  const Int128 shared = commonDivisor(a.den, b.den);
  Int128 left = 0, right = 0, num = 0, den = 0;
  if (__builtin_mul_overflow(a.num, b.den / shared, &left) ||
      __builtin_mul_overflow(b.num, a.den / shared, &right) || __builtin_add_overflow(left, right, &num) ||
      __builtin_mul_overflow(a.den, b.den / shared, &den))
    return std::nullopt;
  return Rational::make(num, den);
}

std::optional<Rational> difference(const Rational& a, const Rational& b) { return sum(a, {-b.num, b.den}); }

std::optional<Rational> product(const Rational& a, const Rational& b) {
  const Int128 g = commonDivisor(a.num, b.den);
  const Int128 h = commonDivisor(b.num, a.den);
  Int128 num = 0, den = 0;
  if (__builtin_mul_overflow(a.num / g, b.num / h, &num) ||
      __builtin_mul_overflow(a.den / h, b.den / g, &den))
    return std::nullopt;
  return Rational::make(num, den);
}

std::optional<Rational> quotient(const Rational& a, const Rational& b) {
  if (b.num == 0) return std::nullopt;
  return product(a, b.num < 0 ? Rational{-b.den, -b.num} : Rational{b.den, b.num});
}

}  // namespace yw::base
