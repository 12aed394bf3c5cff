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
  m.set = std::max(0.0, load.set);
  m.watts = std::max(0.0, load.watts);
  m.dark = std::max(0.0, load.dark);
  m.full = std::max(load.full, m.dark + kLeastKnee);
  m.cut = std::max(load.cut, kLeastCut);
  return m;
}

LoadPoint evaluate(const Load& load, double volts) {
  const Load m = mended(load);
  if (volts <= 0.0) return {0.0, 0.0};
  LoadPoint p{m.idle * unit(volts / kIdleRamp), volts < kIdleRamp ? m.idle / kIdleRamp : 0.0};
  switch (m.kind) {
    case Load::Kind::ConstantCurrent:
      p.amps += m.set * unit((volts - m.dark) / (m.full - m.dark));
      if (volts >= m.dark && volts < m.full) p.slope += m.set / (m.full - m.dark);
      break;
    case Load::Kind::Resistor:
      if (volts >= m.dark && m.ohms > 0.0) {
        p.amps += (volts - m.dark) / m.ohms;
        p.slope += 1.0 / m.ohms;
      }
      break;
    case Load::Kind::Regulated:
      p.amps += volts >= m.cut ? m.watts / volts : m.watts * volts / (m.cut * m.cut);
      p.slope += volts >= m.cut ? -m.watts / (volts * volts) : m.watts / (m.cut * m.cut);
      break;
  }
  return p;
}

LoadCurve::LoadCurve(const Load& load) {
  const Load m = mended(load);
  const bool regulated = m.kind == Load::Kind::Regulated && m.watts > 0.0;
  std::array<double, 4> corner{0.0, kIdleRamp, m.dark, m.full};
  corners_ = 4;
  if (m.kind == Load::Kind::Resistor) corners_ = 3;
  if (m.kind == Load::Kind::Regulated) {
    corner[2] = m.cut;
    corners_ = 3;
  }
  for (int i = 1; i < corners_; ++i)
    for (int k = i; k > 0 && corner[k] < corner[k - 1]; --k) std::swap(corner[k], corner[k - 1]);
  corner_ = corner;
  double amps = 0.0, area = 0.0;
  for (int q = 1; q <= corners_; ++q) {
    const double low = corner[q - 1];
    LoadLine& line = line_[q];
    line.slope = 0.0;
    if (low < kIdleRamp) line.slope += m.idle / kIdleRamp;
    if (m.kind == Load::Kind::ConstantCurrent && low >= m.dark && low < m.full)
      line.slope += m.set / (m.full - m.dark);
    if (m.kind == Load::Kind::Resistor && low >= m.dark && m.ohms > 0.0) line.slope += 1.0 / m.ohms;
    if (regulated && low < m.cut) line.slope += m.watts / (m.cut * m.cut);
    line.start = amps - line.slope * low;
    area_[q - 1] = area;
    if (q == corners_) break;
    const double width = corner[q] - low;
    area += width * (amps + 0.5 * line.slope * width);
    amps += line.slope * width;
  }
  if (regulated) {
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
