#include "core/shapes/hang.h"

#include <cmath>

namespace yw::shapes {

double lineHeight(double height, double sag, double share) { return height - 4 * sag * share * (1 - share); }

double lineLength(double span, double sag) {
  const double a = 4 * sag / span;  // slope at the ends
  return a == 0 ? span : span / 2 * (std::sqrt(1 + a * a) + std::asinh(a) / a);
}

double endPull(double load, double span, double sag) { return load * span / (8 * sag); }

double takeUpTravel(double span, double from, double to) { return 8 / (3 * span) * (from * from - to * to); }

double stretchSag(double span, double stretch) { return span * std::sqrt(3 * stretch / 8); }

}  // namespace yw::shapes
