#pragma once
#include <optional>
#include <vector>

#include "core/base/quantity.h"

namespace yw::catalog {

/// Diameter and area of a bare solid conductor; AWG 0 and thinner, 00 is -1. Source: ASTM B258 (gauge 36 is
/// 0.005 in, gauge 0000 is 0.460 in, 39 equal ratios between).
base::Metres conductorDiameter(int awg);
base::SquareMetres conductorArea(int awg);

/// One solid annealed copper conductor at 20 °C. Source: IEC 60028, 1/58 Ω·mm²/m.
base::OhmsPerMetre copperResistance(int awg);

/// Change of copper's resistance from 20 °C, as a factor. Source: IEC 60028, 0.00393 per K.
inline constexpr double kCopperPerKelvin = 0.00393;
double temperatureFactor(base::Temperature temperature);

/// Copper-clad aluminum with 10 % copper by volume against copper of the same size: at least 62.9 % of its
/// conductivity. Source: ASTM B566, as quoted by a wire mill; the factor is 1/0.629.
inline constexpr double kCopperCladConductivity = 0.629;
inline constexpr double kCopperCladFactor = 1.0 / kCopperCladConductivity;

/// Stranded uncoated copper at 75 °C, gauges 18 to 10. Source: NEC Chapter 9 Table 8 (2017 and 2023).
std::optional<base::OhmsPerMetre> strandedResistanceAt75(int awg);
/// A Table 8 figure at another temperature. Source: NEC Chapter 9 Table 8 note 2, 0.00323 per K for copper.
inline constexpr double kTable8PerKelvin = 0.00323;
base::OhmsPerMetre table8At(base::OhmsPerMetre at75, base::Temperature temperature);

/// What a pixel lead or feed of that gauge may carry when nothing else is known: jacketed outdoor wire, two
/// conductors that carry current. Gauges 10 to 24; between the gauges sold, the next thinner one's figure.
/// Nothing for other gauges: the person must enter the limit.
std::optional<base::Amps> usualLimit(int awg);
/// The published figure behind usualLimit, for people to read; "" where it gives nothing.
const char* usualLimitSource(int awg);

/// Largest breaker or fuse for small conductors, 18 to 10 AWG. Source: NEC 240.4(D), 2017 to 2023; 18 and 16
/// AWG only with devices listed for those sizes.
std::optional<base::Current> largestFuse(int awg);

/// Flexible cord with two loaded conductors at 30 °C, 18 to 10 AWG. Source: NEC Table 400.5(A)(1) column B.
std::optional<base::Current> cordLimit(int awg);

/// An extension cord set of that whole length, 16 to 10 AWG. Source: UL 817 as quoted in a public trade forum
/// (16 AWG 13 A to 50 ft, 10 A beyond; 14 AWG 15 A to 50 ft; 12 AWG 20 A to 50 ft, 15 A beyond; 10 AWG 20 A);
/// 14 AWG beyond 50 ft, 13 A, is from memory. For daisy-chained cords add the lengths and take the thinnest.
std::optional<base::Current> cordSetLimit(int awg, base::Length length);

/// Ratings of blade fuses, rising. Source: ISO 8820-3, types C and F.
const std::vector<base::Current>& fuseSeries();
/// Color of the body, "" for a rating that is not in the series. Source: ISO 8820-3 as in two public lists
/// that agree from 2 to 30 A; 1 A in one of them; 40 A from memory.
const char* fuseColor(base::Current rating);
/// The smallest rating whose usable share carries the load; zero where even the largest does not.
/// `usable` is 0.75 by the fuse makers' guide for 25 °C ("Fuseology").
base::Current smallestFuse(base::Amps load, double usable);
/// The largest rating of the series that is not above `most`; zero where even the smallest is.
base::Current largestFuseUpTo(base::Amps most);

}  // namespace yw::catalog
