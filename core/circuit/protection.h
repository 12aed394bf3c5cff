#pragma once
// Which fuse and which wire: the smallest fuse that lasts, held against everything behind it, and the
// smallest wire that carries that fuse and loses no more than allowed.
#include <optional>
#include <string>
#include <vector>

#include "core/circuit/power.h"

namespace yw::circuit {

/// Something behind a fuse and what it may carry.
struct CarryLimit {
  double amps = 0.0;   ///< 0: not known
  std::string part;    ///< `18/3`, `18/3 plugs`, `holder`
  std::string source;  ///< who says so, with the code's edition
};
/// The lowest known one; amps 0 where none is known.
CarryLimit lowest(const std::vector<CarryLimit>& limits);
/// Wire and plugs of one cable: its own figure or the table by gauge, and NEC 240.4(D) for small conductors.
std::vector<CarryLimit> limitsOf(const yard::Wire& wire, yard::CodeEdition edition);
/// The lead or feed, and every wire of the run's strings and jumpers, each once.
std::vector<CarryLimit> limitsBehind(const yard::Yard& yard, const Layouts& layouts, Id wire, Id run);

/// The smallest standard fuse whose usable share carries `load`, held against the limits. Source: fuse
/// makers' guide ("Fuseology"), 75 % at 25 °C; ISO 8820-3 ratings.
struct FuseChoice {
  base::Current fuse;     ///< smallest that lasts; 0: none of the series does
  base::Current largest;  ///< largest that the lowest limit permits; 0: none, or no limit known
  CarryLimit limit;       ///< the lowest
  bool fits = false;      ///< `fuse` is within it: else a thicker wire, or a part of the load elsewhere
  bool opensAtFullWhite = false;
};
FuseChoice chooseFuse(double load, double fullWhite, double usable, const std::vector<CarryLimit>& limits);

/// The thinnest copper wire of the sizes sold that may carry `fuse` and loses at most `allowedDrop` volts on
/// both conductors over `length` m of way at `load` amps.
struct WireChoice {
  std::optional<int> gauge;  ///< AWG; none: not even the thickest
  double drop = 0.0;         ///< V at `load` with that gauge
  double limit = 0.0;        ///< A it may carry
  std::string limitSource;
  bool setByDrop = false;  ///< thinner wire would carry the fuse
};
WireChoice chooseWire(double load, base::Current fuse, double length, double allowedDrop,
                      const yard::Settings& settings);

/// What a port or fuse position should have, by what it carries now.
struct Protection {
  Id position, cable, wire, run;  ///< none where nothing is plugged in
  double load = 0.0, fullWhite = 0.0;
  double length = 0.0;  ///< m of way from fuse to landing
  FuseChoice choice;
  WireChoice wireChoice;
};
/// Nothing for a position that carries nothing.
std::optional<Protection> protectionOf(const yard::Yard& yard, const Routes& routes, const Layouts& layouts,
                                       const Power& limit, const Power& fullWhite, Id position);
/// `usual for 6.20 A: 10 A fuse, 14 AWG; limit set by …`.
base::Message usualText(const Protection& protection);

}  // namespace yw::circuit
