#pragma once
// Measured values teach the model: the unknowns that explain them best, the spreads being what is believed
// beforehand (Gauss-Newton steps on the true solver; the posterior is normal about the best point). A reading
// that the model cannot explain within the spreads is left out and named: the largest normalized residual
// above 3, one after another (Abur and Gómez-Expósito, Power System State Estimation, 2004, ch. 5).
#include "core/circuit/margin.h"

namespace yw::circuit {

/// A reading further off than that many standard deviations does not fit.
inline constexpr double kDoesNotFit = 3.0;

/// One figure of one measurement.
struct Reading {
  enum class State : std::uint8_t {
    Used,
    DoesNotFit,  ///< differs from the model by more than the spreads explain
    NotWired,    ///< nothing of the plan's electricity is at that place
    NotFed,      ///< the plan brings no power there
    NoFigure,    ///< neither volts nor amps are entered
  };
  Id measurement;
  bool volts = true;  ///< else amps
  State state = State::Used;
  double measured = 0.0;   ///< V or A
  double planned = 0.0;    ///< by the plan as drawn
  double expected = 0.0;   ///< by the taught model
  double deviation = 0.0;  ///< of the difference: one that does not fit, against the model without it
  double off = 0.0;        ///< standard deviations
  Id run;                  ///< and the 1-based place on it; none: not at a run's pixel
  std::int64_t place = 0;
};

struct Fit {
  std::vector<Reading> readings;  ///< by measurement, volts before amps
  std::vector<double> z;          ///< of belief.unknowns; 0: as planned
  std::vector<double> sigma;      ///< of belief.unknowns
  Belief belief;                  ///< empty: nothing could be learned
  int steps = 0;

  /// Measured values say more of it than its spread: its variance is less than half of what it was.
  bool taught(const Unknown& unknown) const;
};

/// Without measurements nothing is solved.
Fit fit(const yard::Yard& yard, const Shapes& shapes, const Routes& routes, const Layouts& layouts);

/// The yard with the fitted amps, ohms and volts in the place of the planned ones; the origin of a product
/// that was taught is Measured. The same yard where nothing was learned. Never saved.
yard::Yard taughtYard(const yard::Yard& yard, const Fit& fit);

}  // namespace yw::circuit
