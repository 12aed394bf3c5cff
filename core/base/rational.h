#pragma once
#include <cstdint>
#include <optional>

namespace yw::base {

__extension__ typedef __int128 Int128;

/// An exact fraction in lowest terms, `den` > 0. Every operation gives nothing instead of a wrong figure when
/// the result does not fit.
struct Rational {
  Int128 num = 0, den = 1;

  static std::optional<Rational> make(Int128 num, Int128 den);
  /// Nearest whole number, halves away from zero; nothing when it does not fit.
  std::optional<std::int64_t> rounded() const;
  double value() const { return static_cast<double>(num) / static_cast<double>(den); }
};

std::optional<Rational> sum(const Rational& a, const Rational& b);
std::optional<Rational> difference(const Rational& a, const Rational& b);
std::optional<Rational> product(const Rational& a, const Rational& b);
/// Nothing for b = 0 too.
std::optional<Rational> quotient(const Rational& a, const Rational& b);

}  // namespace yw::base
