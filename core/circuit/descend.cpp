// The way down for islands in which plain Newton steps do not arrive. The whole island has a potential (half
// the watts of every resistance, and the integral of every load's curve) whose minimum is an operating point;
// each step lowers it, so a state is always reached.
#include <algorithm>
#include <cmath>

#include "core/circuit/island.h"

namespace yw::circuit {

Island::Ray Island::ray() const {
  Ray ray{0.0, 0.0};
  const auto across = [&](double siemens, double volts, double move) {
    ray.slope += siemens * volts * move;
    ray.curvature += siemens * move * move;
  };
  const auto top = [](const std::vector<double>& x, std::int32_t i) { return i < 0 ? 0.0 : x[i]; };
  for (const LinePart& line : lines_) {
    const double v = top(now_.top, line.a) - top(now_.top, line.b);
    const double next = top(nextTop_, line.a) - top(nextTop_, line.b);
    across(line.siemens, v + line.fixed, next - v);
  }
  for (const CommonPart& common : commons_) {
    double v = 0.0, next = 0.0;
    for (int k = 0; k < 4; ++k) {
      v += common.weight[k] * top(now_.top, common.at[k]);
      next += common.weight[k] * top(nextTop_, common.at[k]);
    }
    across(common.siemens, v + common.fixed, next - v);
  }
  for (const Inner::Piece& piece : inner_.pieces()) {
    double v = 0.0, next = 0.0, ohms = 0.0;
    if (piece.from >= 0) {
      v = now_.pairVolts[piece.from];
      next = nextPairVolts_[piece.from];
      ohms = piece.firstOhms;
    }
    const auto segment = [&](double v2, double next2) {
      if (ohms > 0.0) across(1.0 / ohms, v - v2, (next - next2) - (v - v2));
      v = v2;
      next = next2;
    };
    std::size_t q = piece.at;
    for (std::int32_t i = 0; i < piece.count; ++i, q += kLanes) {
      segment(now_.volts[q], nextVolts_[q]);
      ohms = inner_.ohms(q);
    }
    segment(now_.pairVolts[piece.to], nextPairVolts_[piece.to]);
  }
  return ray;
}

double Island::raySlope(const Ray& ray, double along) const {
  double slope = ray.slope + along * ray.curvature;
  eachLoad([&](std::int32_t curve, double volts, double next) {
    const double move = next - volts;
    slope += curves_[curve].amps(volts + along * move) * move;
  });
  return slope;
}

double Island::rayRise(const Ray& ray, double along) const {
  double rise = along * (ray.slope + 0.5 * along * ray.curvature);
  eachLoad([&](std::int32_t curve, double volts, double next) {
    rise += curves_[curve].integral(volts + along * (next - volts)) - curves_[curve].integral(volts);
  });
  return rise;
}

void Island::moveAlong(double along) {
  const auto blend = [along](std::vector<double>& now, const std::vector<double>& next) {
    for (std::size_t i = 0; i < now.size(); ++i) now[i] += along * (next[i] - now[i]);
  };
  blend(now_.top, nextTop_);
  blend(now_.pairVolts, nextPairVolts_);
  blend(now_.volts, nextVolts_);
}

double Island::largestMove() const {
  double largest = 0.0;
  eachLoad(
      [&](std::int32_t, double volts, double next) { largest = std::max(largest, std::abs(next - volts)); });
  return largest;
}

void Island::descend() {
  constexpr int kMost = 500, kBisections = 30;
  constexpr double kStill = 1e-9;  // V
  constexpr double kNear =
      1e-5;  // V; below it rounding hides which way is down, and Newton doubles the digits
  constexpr double kNoise = 1e-12;  // W, rounding of the potential's change
  for (int i = 0; i < kMost; ++i) {
    freshRegions();
    Ray way{};
    double largest = 0.0;
    setLines(Slopes::True, 1.0);
    bool whole = step();
    if (whole) {
      way = ray();
      largest = largestMove();
      if (largest < kNear) {
        moveAlong(1.0);
        if (largest < kStill) return;
        continue;
      }
      whole = raySlope(way, 0.0) < 0.0;
    }
    if (!whole) {
      setLines(Slopes::Raised, 1.0);
      if (!step()) return;
      way = ray();
    }
    double low = 0.0, high = 1.0;
    if (raySlope(way, 1.0) > 0.0) {
      for (int k = 0; k < kBisections; ++k) {
        const double middle = 0.5 * (low + high);
        (raySlope(way, middle) > 0.0 ? high : low) = middle;
      }
    }
    double along = high;
    for (int k = 0; k < kBisections && rayRise(way, along) > kNoise; ++k) along *= 0.5;
    moveAlong(along);
  }
}

}  // namespace yw::circuit
