#pragma once
// Statics of a line hung between two posts, as far as it sets where things hang.

namespace yw::shapes {

/// Height of a line hung between two ends `height` up, `sag` lower in the middle, at `share` of its span.
/// The parabola of a load spread evenly along the span.
double lineHeight(double height, double sag, double share);

/// Length along that parabola, closed form.
double lineLength(double span, double sag);

/// Sideways pull at each end, in the unit of `load`: w L² / (8 d), `load` the whole weight on the line.
double endPull(double load, double span, double sag);

/// Travel of a take-up that pulls a line from the sag `from` to the sag `to`: 8 / (3 L) (from² - to²).
double takeUpTravel(double span, double from, double to);

/// Sag of a line set straight that then stretches by `stretch` (0.01: one percent): L sqrt(3 stretch / 8).
double stretchSag(double span, double stretch);

}  // namespace yw::shapes
