#pragma once
#include <compare>

#include "core/base/exact.h"

namespace yw::base {

/// A physical value in SI units with its dimension in the type: mass, length, time, current, temperature.
/// Only like dimensions add; products and quotients carry the right dimension; a plain number is Quantity<>.
template <int M = 0, int L = 0, int T = 0, int I = 0, int K = 0>
struct Quantity {
  double si = 0.0;  ///< value in coherent SI units

  constexpr auto operator<=>(const Quantity&) const = default;
  constexpr Quantity operator-() const { return {-si}; }
  constexpr Quantity operator+(Quantity o) const { return {si + o.si}; }
  constexpr Quantity operator-(Quantity o) const { return {si - o.si}; }
  constexpr Quantity& operator+=(Quantity o) {
    si += o.si;
    return *this;
  }
  constexpr Quantity operator*(double k) const { return {si * k}; }
  constexpr Quantity operator/(double k) const { return {si / k}; }
  friend constexpr Quantity operator*(double k, Quantity q) { return {k * q.si}; }
  template <int M2, int L2, int T2, int I2, int K2>
  constexpr Quantity<M + M2, L + L2, T + T2, I + I2, K + K2> operator*(Quantity<M2, L2, T2, I2, K2> o) const {
    return {si * o.si};
  }
  template <int M2, int L2, int T2, int I2, int K2>
  constexpr Quantity<M - M2, L - L2, T - T2, I - I2, K - K2> operator/(Quantity<M2, L2, T2, I2, K2> o) const {
    return {si / o.si};
  }
};

using Metres = Quantity<0, 1>;
using SquareMetres = Quantity<0, 2>;
using Seconds = Quantity<0, 0, 1>;
using Amps = Quantity<0, 0, 0, 1>;
using Volts = Quantity<1, 2, -3, -1>;
using Ohms = Quantity<1, 2, -3, -2>;
using Siemens = Quantity<-1, -2, 3, 2>;
using Watts = Quantity<1, 2, -3>;
using OhmsPerMetre = Quantity<1, 1, -3, -2>;
using Kilograms = Quantity<1>;
using KelvinDifference = Quantity<0, 0, 0, 0, 1>;

constexpr Metres metres(Length v) { return {static_cast<double>(v.count) * 1e-9}; }
constexpr Volts volts(Voltage v) { return {static_cast<double>(v.count) * 1e-6}; }
constexpr Amps amps(Current v) { return {static_cast<double>(v.count) * 1e-6}; }
constexpr Ohms ohms(Resistance v) { return {static_cast<double>(v.count) * 1e-6}; }
constexpr Watts watts(Power v) { return {static_cast<double>(v.count) * 1e-3}; }
constexpr Seconds seconds(Duration v) { return {static_cast<double>(v.count) * 1e-9}; }
constexpr double fraction(Ratio v) { return static_cast<double>(v.count) * 1e-6; }
constexpr double degrees(Angle v) { return static_cast<double>(v.count) * 1e-6; }
constexpr double radians(Angle v) { return degrees(v) * 3.14159265358979323846 / 180.0; }
constexpr double celsius(Temperature v) { return static_cast<double>(v.count) * 1e-3; }

/// Nearest stored value, halves away from zero.
inline Length toLength(Metres v) { return {roundedCount(v.si * 1e9)}; }
inline Voltage toVoltage(Volts v) { return {roundedCount(v.si * 1e6)}; }
inline Current toCurrent(Amps v) { return {roundedCount(v.si * 1e6)}; }
inline Resistance toResistance(Ohms v) { return {roundedCount(v.si * 1e6)}; }
inline Power toPower(Watts v) { return {roundedCount(v.si * 1e3)}; }
inline Duration toDuration(Seconds v) { return {roundedCount(v.si * 1e9)}; }
inline Ratio toRatio(double fraction) { return {roundedCount(fraction * 1e6)}; }
inline Angle toAngle(double degrees) { return {roundedCount(degrees * 1e6)}; }

}  // namespace yw::base
