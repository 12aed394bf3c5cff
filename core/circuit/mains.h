#pragma once
// From a supply's output to the house's panel: heat and derating, cords, receptacles, breakers, leakage,
// inrush, energy. A planning check by published figures, never an approval.
#include <map>
#include <string>

#include "core/routes/routes.h"

namespace yw::circuit {

using base::Id;
using routes::CableKey;
using routes::Routes;

struct Power;

/// Line voltage of a supply that is plugged in nowhere: US practice.
inline constexpr double kUsualLineVolts = 120.0;

/// Heat through a closed plastic box's walls in still air, W/(m² K): from memory; the example it is checked
/// against is 46 W in 16 × 12 × 6 in, 18 K.
inline constexpr double kWallHeatFlow = 5.5;
/// Part of the closed box's rise that is left with vents low and high. Common practice, no source.
inline constexpr double kVentedShare = 0.5;
/// Taken for a box that was not measured, one such volume for each supply in it: 16 × 12 × 6 in.
inline constexpr std::int64_t kUsualBoxWidthInches = 16, kUsualBoxHeightInches = 12, kUsualBoxDepthInches = 6;

/// Part of its rating a supply may give in air of that temperature: all of it up to derateFrom, falling in a
/// straight line to derateShare at derateTo, nothing above. The usual curve (100 % to 50 °C, 60 % at 60 °C)
/// is from a switching-supply technical manual.
double deratingAt(const yard::Supply& supply, double celsius);
/// Part left at a low line: all of it from 110 V, 80 % at 90 V, straight between; nothing below, where no
/// figure is published. Source: a switching-supply technical manual. Factors multiply (a supply maker's
/// answers).
double lowLineShare(double lineVolts);
/// Watts of heat a supply gives off while it gives `watts`: watts · (1/efficiency - 1); 0 for no efficiency.
double heatOf(const yard::Supply& supply, double watts);

struct BoxFigure {
  double heat = 0.0;  ///< W, all its supplies; what controllers give off is not counted
  double area = 0.0;  ///< m² of wall that heat leaves through; the back counts only where the box stands free
  double rise = 0.0;         ///< K over the air around it
  double inside = 0.0;       ///< °C
  bool assumedSize = false;  ///< it was not measured
};
BoxFigure boxHeat(const yard::Box& box, double heat, std::size_t supplies, double ambientCelsius);

struct SupplyMains {
  double heat = 0.0;        ///< W
  double air = 0.0;         ///< °C it stands in
  double warmShare = 1.0;   ///< of its rating, by that air
  double lineShare = 1.0;   ///< of its rating, by the volts at its input
  double ratedNow = 0.0;    ///< A: rating × both
  double inputVolts = 0.0;  ///< line less what its cords lose
};

/// A mains cord: a supply's own, or one to a box that all the supplies plugged in there share.
struct CordFigure {
  double amps = 0.0, lost = 0.0;  ///< A; V lost on this cord, both conductors
  double farVolts = 0.0;          ///< at its end
  double lostShare = 0.0;         ///< of the line's volts, from the outlet to its end
  double wholeLength = 0.0;       ///< m from the outlet to its end, cords before it included
  double limit = 0.0;             ///< A; 0: not known
  std::string limitSource;
  std::int64_t joints = 0;  ///< cord to cord on the way from the outlet, strips fed from strips too
  std::int64_t strips = 0;  ///< boxes passed before this one
  Id before;                ///< box it starts in; none: at an outlet
};

struct OutletFigure {
  double amps = 0.0;       ///< all of it
  double worst = 0.0;      ///< A on one receptacle: all of it where the plugs need a strip
  std::int64_t plugs = 0;  ///< cords that want a place
  double limit = 0.0;      ///< A on one receptacle
};

/// What the season costs.
struct EnergyFigure {
  double watts = 0.0;  ///< from the line, supplies and cords; other loads not counted
  double hours = 0.0;  ///< a night
  std::int64_t nights = 0;
  double kwhANight = 0.0, kwh = 0.0;  ///< at the yard's average share of `watts`
  base::Money cost;
  bool priced = false;
};

struct Mains {
  std::map<Id, BoxFigure> boxes;
  std::map<Id, SupplyMains> supplies;
  std::map<CableKey, CordFigure> cords;
  std::map<Id, OutletFigure> outlets;
  EnergyFigure energy;
};

/// Reads supplies' amps and watts; writes their line amps, the circuits, the cords' amps and `power.mains`.
void takeFromHouse(const yard::Yard& yard, const Routes& routes, Power& power);

/// Largest plug-in load of one receptacle: 80 % of its rating. Source: NEC Table 210.21(B)(2), 15 A: 12 A, 20
/// A: 16 A (2017 to 2023).
inline constexpr double kReceptacleShare = 0.8;
/// Class A: trips at 6 mA, not below 4 mA. Source: UL 943.
inline constexpr double kGroundFaultHolds = 0.004, kGroundFaultTrips = 0.006;

/// Most amps of a mains cord of that whole length, m: the lowest of what is printed, its plugs, the cord
/// set's figure (UL 817) and the flexible cord's (NEC Table 400.5(A)(1)); 0 with nothing known.
struct CordLimit {
  double amps = 0.0;
  std::string source;
};
CordLimit cordLimitOf(const yard::Wire& wire, double wholeLength);

/// Season figures of that many watts from the line, by the site's dates and hours, the yard's average share
/// and price.
EnergyFigure energyOf(const yard::Yard& yard, double watts);

/// Nights from the first to the last, both counted; 0 unless both are dates (YYYY-MM-DD) in order.
std::int64_t nightsOf(const yard::Site& site);

}  // namespace yw::circuit
