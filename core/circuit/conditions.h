#pragma once
// The yard under every condition from one build of its network: only what its pixels draw is changed.
#include "core/circuit/power.h"

namespace yw::circuit {

/// One color alone, at the brightness limit: what each supply and port gives and the pixel that is worst off.
struct ColorFigure {
  enum class Color { Red, Green, Blue, White /* the white of four-color and one-color pixels */ };
  Color color = Color::Red;
  double amps = 0.0, watts = 0.0;  ///< out of all supplies
  std::map<Id, double> supplyAmps, portAmps;
  Id run;  ///< where most of the headroom to the lowest volts for white is used; none: no pixel
  std::int64_t place = 0;  ///< 1-based along it
  double volts = 0.0;
};
/// Red, green, blue, and white where any pixel has one.
std::vector<ColorFigure> colorsOf(const yard::Yard& yard, const YardNetwork& net);

/// Places of a run where white is no longer white by the yard's limit.
TintFigure tintOf(const yard::Yard& yard, const RunLayout& layout, const RunFigure& figure);

}  // namespace yw::circuit
