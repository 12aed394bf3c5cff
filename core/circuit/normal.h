#pragma once

namespace yw::circuit {

// The normal distribution by fixed series of plain arithmetic, so that every machine gives the same bits.

/// e to the x.
double seriesExp(double x);
/// Chance that a standard normal value is below x; also far out in the lower tail with full relative
/// accuracy.
double normalBelow(double x);
/// The value below which a standard normal one lies with chance p, 0 < p < 1.
double normalQuantile(double p);

}  // namespace yw::circuit
