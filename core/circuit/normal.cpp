#include "core/circuit/normal.h"

#include <algorithm>
#include <cmath>

#include "core/circuit/load_curve.h"

namespace yw::circuit {

namespace {
constexpr double kInverseRootTwoPi = 0.39894228040143268;
constexpr double kLogTwoHigh = 6.93147180369123816490e-01, kLogTwoLow = 1.90821492927058770002e-10;

double density(double x) { return kInverseRootTwoPi * seriesExp(-0.5 * x * x); }

/// Chance above x > 0 by the continued fraction of Mills' ratio (Laplace).
double above(double x) {
  double fraction = x;
  for (int k = 200; k >= 1; --k) fraction = x + k / fraction;
  return density(x) / fraction;
}
}  // namespace

double seriesExp(double x) {
  if (x < -740.0) return 0.0;
  x = std::min(x, 709.0);
  const double k = std::floor(x / 0.69314718055994531 + 0.5);
  const double r = (x - k * kLogTwoHigh) - k * kLogTwoLow;
  double sum = 1.0;
  for (int n = 14; n >= 1; --n) sum = 1.0 + sum * r / n;
  return std::ldexp(sum, static_cast<int>(k));
}

double normalBelow(double x) {
  if (x > 38.0) return 1.0;
  if (x < -38.0) return 0.0;
  if (x < -2.5) return above(-x);
  if (x > 2.5) return 1.0 - above(x);
  // Marsaglia, "Evaluating the normal distribution", Journal of Statistical Software 11 (2004): sum of
  // x^(2n+1) / (1·3·5·…·(2n+1)).
  double term = x, sum = x;
  for (int n = 3; n < 80; n += 2) {
    term *= x * x / n;
    sum += term;
  }
  return 0.5 + sum * density(x);
}

double normalQuantile(double p) {
  if (p > 0.5) return -normalQuantile(1.0 - p);
  p = std::max(p, 1e-300);
  // Abramowitz and Stegun 26.2.23 to begin with, then Halley's steps on the distribution itself.
  const double t = std::sqrt(-2.0 * seriesLog(p));
  double x = -(t - (2.515517 + t * (0.802853 + t * 0.010328)) /
                       (1.0 + t * (1.432788 + t * (0.189269 + t * 0.001308))));
  for (int i = 0; i < 3; ++i) {
    const double step = (normalBelow(x) - p) / density(x);
    x -= step / (1.0 + 0.5 * x * step);
  }
  return x;
}

}  // namespace yw::circuit
