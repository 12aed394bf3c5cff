#pragma once
#include <cmath>
#include <compare>
#include <cstdint>

namespace yw::base {

/// A stored value: a whole number of one small unit, so that saving, loading and comparing are exact.
/// The unit is named at each alias below. Convert to a Quantity (quantity.h) to compute.
template <class Tag>
struct Exact {
  std::int64_t count = 0;

  auto operator<=>(const Exact&) const = default;
  Exact operator-() const { return {-count}; }
  Exact operator+(Exact o) const { return {count + o.count}; }
  Exact operator-(Exact o) const { return {count - o.count}; }
  Exact operator*(std::int64_t k) const { return {count * k}; }
  Exact& operator+=(Exact o) {
    count += o.count;
    return *this;
  }
  Exact& operator-=(Exact o) {
    count -= o.count;
    return *this;
  }
  explicit operator bool() const { return count != 0; }
};

using Length = Exact<struct LengthTag>;            ///< nanometres; 1/64 inch is exact (396,875 nm)
using Angle = Exact<struct AngleTag>;              ///< millionths of a degree, anticlockwise seen from above
using Voltage = Exact<struct VoltageTag>;          ///< microvolts
using Current = Exact<struct CurrentTag>;          ///< microamperes
using Resistance = Exact<struct ResistanceTag>;    ///< micro-ohms
using Power = Exact<struct PowerTag>;              ///< milliwatts
using Ratio = Exact<struct RatioTag>;              ///< parts per million; 30 % is 300,000
using Money = Exact<struct MoneyTag>;              ///< ten-thousandths of the yard's currency unit
using Duration = Exact<struct DurationTag>;        ///< nanoseconds
using Frequency = Exact<struct FrequencyTag>;      ///< millihertz; 40 frames a second is 40,000
using Temperature = Exact<struct TemperatureTag>;  ///< thousandths of a degree Celsius
using Mass = Exact<struct MassTag>;                ///< milligrams
using Speed = Exact<struct SpeedTag>;              ///< millimetres a second
using Area = Exact<struct AreaTag>;                ///< square millimetres

inline constexpr std::int64_t kNanometresPerMetre = 1'000'000'000;
inline constexpr std::int64_t kNanometresPerInch = 25'400'000;  // exact by definition (ISO 31-1)
inline constexpr std::int64_t kNanometresPerFoot = 12 * kNanometresPerInch;

constexpr Length inches(std::int64_t n) { return {n * kNanometresPerInch}; }
constexpr Length feet(std::int64_t n) { return {n * kNanometresPerFoot}; }
constexpr Length millimetres(std::int64_t n) { return {n * 1'000'000}; }

/// Nearest whole count, halves away from zero.
inline std::int64_t roundedCount(double value) { return std::llround(value); }

}  // namespace yw::base
