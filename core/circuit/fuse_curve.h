#pragma once

namespace yw::circuit {

/// Seconds within which a blade fuse opens at a multiple of its rating; infinite: it need not open.
struct OpeningTime {
  double least, most;
};
/// Published points of a 287-series blade fuse data sheet (ISO 8820-3): 110 %: at least 100 h, 135 %: 0.75 to
/// 600 s, 160 %: 0.25 to 50 s, 200 %: 0.15 to 5 s, 350 %: 0.08 to 0.5 s, 600 %: at most 0.15 s; between them
/// straight on logarithmic scales. No multiple below 135 % opens it for certain.
OpeningTime openingTime(double multiple);

/// From here a blade fuse opens for certain, within 600 s.
inline constexpr double kOpensFrom = 1.35;
/// From here it may open.
inline constexpr double kMayOpenFrom = 1.1;
/// A supply's overload protection: 150 % of its rating for up to 1 s, then it switches off and tries again.
/// Data sheet of a usual 350 W, 12 V unit.
inline constexpr double kSupplyCutsOff = 1.5;

}  // namespace yw::circuit
