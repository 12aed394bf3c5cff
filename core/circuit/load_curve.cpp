#include "core/circuit/load_curve.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace yw::circuit {

namespace {

constexpr double kLeastKnee = 1e-3;  ///< V; a steeper knee than this is a jump
constexpr double kIdleRamp = 1.0;    ///< V over which the idle current comes up
constexpr double kLeastCut = 1.0;    ///< V

double unit(double x) { return std::clamp(x, 0.0, 1.0); }

}  // namespace

Load mended(const Load& load) {
  Load m = load;
  m.idle = std::max(0.0, load.idle);
  m.watts = std::max(0.0, load.watts);
  m.cut = std::max(load.cut, kLeastCut);
  for (Load::Channel& c : m.channels) {
    c.amps = std::max(0.0, c.amps);
    c.dark = std::max(0.0, c.dark);
    c.full = std::max(c.full, c.dark + kLeastKnee);
    c.ohms = std::max(0.0, c.ohms);
  }
  return m;
}

LoadPoint evaluate(const Load& load, double volts) {
  const Load m = mended(load);
  if (volts <= 0.0) return {0.0, 0.0};
  LoadPoint p{m.idle * unit(volts / kIdleRamp), volts < kIdleRamp ? m.idle / kIdleRamp : 0.0};
  switch (m.kind) {
    case Load::Kind::ConstantCurrent:
      for (const Load::Channel& c : m.channels) {
        p.amps += c.amps * unit((volts - c.dark) / (c.full - c.dark));
        if (volts >= c.dark && volts < c.full) p.slope += c.amps / (c.full - c.dark);
      }
      break;
    case Load::Kind::Resistor:
      for (const Load::Channel& c : m.channels) {
        if (volts < c.dark || c.ohms <= 0.0) continue;
        p.amps += (volts - c.dark) / c.ohms;
        p.slope += 1.0 / c.ohms;
      }
      break;
    case Load::Kind::Regulated:
      p.amps += volts >= m.cut ? m.watts / volts : m.watts * volts / (m.cut * m.cut);
      p.slope += volts >= m.cut ? -m.watts / (volts * volts) : m.watts / (m.cut * m.cut);
      break;
  }
  return p;
}

/// A mended load's corners, rising, each once.
void LoadCurve::setCorners(const Load& m) {
  std::array<double, kMostCorners> corner{0.0, kIdleRamp};
  std::size_t count = 2;
  for (const Load::Channel& c : m.channels) {
    if (m.kind == Load::Kind::ConstantCurrent && c.amps > 0.0) {
      corner[count++] = c.dark;
      corner[count++] = c.full;
    }
    if (m.kind == Load::Kind::Resistor && c.ohms > 0.0) corner[count++] = c.dark;
  }
  // The cut is the last corner of a regulated load: it is never below the ramp's end.
  if (m.kind == Load::Kind::Regulated) corner[count++] = m.cut;
  std::sort(corner.begin(), corner.begin() + count);
  const auto end = std::unique(corner.begin(), corner.begin() + count);
  corners_ = static_cast<int>(end - corner.begin());
  corner_ = corner;
}

/// Slope of a mended load from `low` volts to its next corner, without the curved part of a regulated one.
double LoadCurve::slopeFrom(const Load& m, double low) {
  double slope = low < kIdleRamp ? m.idle / kIdleRamp : 0.0;
  for (const Load::Channel& c : m.channels) {
    if (m.kind == Load::Kind::ConstantCurrent && low >= c.dark && low < c.full)
      slope += c.amps / (c.full - c.dark);
    if (m.kind == Load::Kind::Resistor && low >= c.dark && c.ohms > 0.0) slope += 1.0 / c.ohms;
  }
  if (m.kind == Load::Kind::Regulated && low < m.cut) slope += m.watts / (m.cut * m.cut);
  return slope;
}

LoadCurve::LoadCurve(const Load& load) {
  const Load m = mended(load);
  setCorners(m);
  double amps = 0.0, area = 0.0;
  for (int q = 1; q <= corners_; ++q) {
    const double low = corner_[q - 1];
    LoadLine& line = line_[q];
    line.slope = slopeFrom(m, low);
    line.start = amps - line.slope * low;
    area_[q - 1] = area;
    if (q == corners_) break;
    const double width = corner_[q] - low;
    area += width * (amps + 0.5 * line.slope * width);
    amps += line.slope * width;
  }
  if (m.kind == Load::Kind::Regulated && m.watts > 0.0) {
    watts_ = m.watts;
    line_[corners_] = {0.0, m.idle};
  }
}

double LoadCurve::amps(double volts) const {
  const int q = region(volts);
  if (q == 0) return 0.0;
  const double straight = line_[q].start + line_[q].slope * volts;
  return watts_ > 0.0 && q == corners_ ? straight + watts_ / volts : straight;
}

double LoadCurve::integral(double volts) const {
  const int q = region(volts);
  if (q == 0) return 0.0;
  const double low = corner_[q - 1], width = volts - low;
  const double straight = width * (line_[q].start + line_[q].slope * (low + 0.5 * width));
  const double curved = watts_ > 0.0 && q == corners_ ? watts_ * seriesLog(volts / low) : 0.0;
  return area_[q - 1] + straight + curved;
}

double seriesLog(double x) {
  int exponent = 0;
  double m = std::frexp(x, &exponent);
  if (m < 0.70710678118654752) {
    m *= 2.0;
    --exponent;
  }
  const double s = (m - 1.0) / (m + 1.0), square = s * s;
  double sum = 0.0;
  for (int k = 23; k >= 1; k -= 2) sum = sum * square + 1.0 / k;
  return 2.0 * s * sum + exponent * 0.69314718055994531;
}

}  // namespace yw::circuit
