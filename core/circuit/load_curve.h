#pragma once
#include <array>
#include <limits>

#include "core/circuit/network.h"

namespace yw::circuit {

/// The load with impossible figures mended, so that every curve is continuous and never falls below 0:
/// dark >= 0, full at least 1 mV above dark, cut >= 1 V, negative currents, powers and resistances 0.
Load mended(const Load& load);

/// A straight piece of a load's curve: amps = slope·V + start.
struct LoadLine {
  double slope, start;
};

/// A load cut at its corners into regions in which it is a straight line, or, in the last region of a
/// regulated load, start + watts/V. Region q lies between corner q-1 and corner q.
class LoadCurve {
 public:
  explicit LoadCurve(const Load& load);

  int region(double volts) const {
    int q = 0;
    while (q < corners_ && volts >= corner_[q]) ++q;
    return q;
  }
  /// The tangent in `region` at `volts` (which may lie outside the region).
  LoadLine tangent(int region, double volts) const {
    LoadLine line = line_[region];
    if (watts_ > 0.0 && region == corners_) {
      const double perVolt = watts_ / (volts * volts);
      line.slope -= perVolt;
      line.start += 2.0 * perVolt * volts;
    }
    return line;
  }
  double amps(double volts) const;
  /// Integral of amps over volts from 0, watts. Uses no library logarithm: the same bits everywhere.
  double integral(double volts) const;

  bool regulated() const { return watts_ > 0.0; }
  double watts() const { return watts_; }  ///< of a regulated load that is on
  int lastRegion() const { return corners_; }
  double cut() const { return corner_[corners_ - 1]; }
  /// Bounds of a region, V: low <= V < high.
  double low(int region) const {
    return region == 0 ? -std::numeric_limits<double>::infinity() : corner_[region - 1];
  }
  double high(int region) const {
    return region == corners_ ? std::numeric_limits<double>::infinity() : corner_[region];
  }
  /// The straight line of a region of a load without a nonlinear part there.
  const LoadLine& line(int region) const { return line_[region]; }

 private:
  void setCorners(const Load& mended);
  static double slopeFrom(const Load& mended, double low);

  int corners_ = 0;
  double watts_ = 0.0;
  static constexpr std::size_t kMostCorners = 10;  ///< 0 V, the idle ramp's end, two a channel
  std::array<double, kMostCorners> corner_{};
  std::array<LoadLine, kMostCorners + 1> line_{};
  std::array<double, kMostCorners> area_{};  ///< integral up to each corner
};

/// Natural logarithm by a fixed series, x > 0; error below 1e-15 relative to 1.
double seriesLog(double x);

}  // namespace yw::circuit
