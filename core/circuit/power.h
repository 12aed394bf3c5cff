#pragma once
#include <map>
#include <memory>
#include <vector>

#include "core/circuit/mains.h"
#include "core/circuit/network.h"
#include "core/routes/routes.h"

namespace yw::circuit {

using base::Id;
using routes::CableKey;
using routes::Routes;
using routes::Shapes;

enum class Condition { BrightnessLimit, FullWhite };

/// A run as the electricity sees it: its stretches end to end, null pixels and boosters in place.
/// `pixels` maps each place along the run to its prop and pixel.
struct RunPixel {
  Id prop;                 ///< none: a null pixel
  std::int64_t pixel = 0;  ///< 1-based in the prop
  std::int64_t item = 0;   ///< index into Run::items
};
struct RunLayout {
  std::vector<RunPixel> pixels;    ///< in the order of the data
  std::vector<double> along;       ///< m of wire from the first pixel to each; the port's lead is not counted
  std::vector<double> wireBefore;  ///< m of wire before each pixel (string or jumper); 0 before the first
  std::vector<Id> wire;  ///< wire of that segment (string wire or jumper); none: product without one
  /// Lead or jumpers before a place (0-based), in the order of the data; absent inside a string. Several
  /// where a booster or a dropped stretch lies between.
  std::map<std::int64_t, std::vector<CableKey>> cablesBefore;
};
/// Gauge taken for a string whose product names no wire, and for a cable without one: assumed, from memory of
/// strings as sold (18 to 22 AWG).
inline constexpr std::int64_t kAssumedGauge = 20;
RunLayout layoutOf(const yard::Yard& yard, const Shapes& shapes, const Routes& routes, Id run);

/// A feed's figures under one condition. `run` none: it ends at no pixel of a run.
struct FeedFigure {
  Id feed, fusePosition;
  double amps = 0.0;  ///< size of the V+ current through its fuse, either way
  double voltsAtFuse = 0.0, voltsAtPixel = 0.0;
  std::int64_t runPixel = 0;  ///< 1-based place along the run
  Id run;
};

/// What one run does under one condition.
struct RunFigure {
  std::vector<double> volts;  ///< per pixel of the layout
  std::vector<double> zeroVolts;
  std::vector<std::uint8_t> fed;
  double portAmps = 0.0;         ///< size of the V+ current of its lead, either way
  double totalAmps = 0.0;        ///< all its pixels draw
  std::int64_t lowestPixel = 0;  ///< 1-based, among fed pixels of props; 0: run has none
  double lowestVolts = 0.0;
  std::vector<double> segmentAmps;  ///< larger of V+ and 0 V, per segment before each pixel
  /// Some of its constant-power pixels stay dark because not all can be on; `volts` are the cut-off state.
  bool noOperatingPoint = false;
  double loadFactor = 1.0;        ///< largest factor on all loads that has an operating point
  std::int64_t weakestPixel = 0;  ///< 1-based
};

/// A supply's output, and what it takes from the house: I = P / (V line · efficiency · power factor), as
/// technical manuals of switching supplies give it, at the volts its cords leave. Without an outlet the line
/// is taken as 120 V. Negative amps: it is fed back into; its watts are 0 then.
struct SupplyFigure {
  double amps = 0.0, watts = 0.0, lineAmps = 0.0;
};
/// V+ away from the cable's `from` end and 0 V back to it; negative: the other way.
struct CableFigure {
  double positiveAmps = 0.0, zeroAmps = 0.0;
};
/// All amps of a house circuit, of which its other loads; the standing earth leakage of its supplies, A; what
/// they draw if all start cold at once, A.
struct CircuitFigure {
  double amps = 0.0, standing = 0.0, leakage = 0.0;
  double inrush = 0.0;
  std::int64_t supplies = 0;
  double watts = 0.0;  ///< of its supplies and cords
};

/// How white a run's white is: the weakest color against the strongest.
struct TintFigure {
  double whiteness = 1.0;       ///< of its worst pixel that lights
  std::int64_t firstPlace = 0;  ///< first along the run below the yard's limit, 1-based; 0: none
  std::int64_t count = 0;       ///< pixels below it
};

/// All figures of the yard under one condition.
struct Power {
  Condition condition = Condition::BrightnessLimit;
  std::map<Id, RunFigure> runs;
  std::map<Id, TintFigure> tints;  ///< by run
  std::map<Id, double> portAmps;
  std::map<std::pair<Id, std::int64_t>, double> sectionAmps;  ///< controller or receiver, 1-based section
  std::map<Id, FeedFigure> feeds;                             ///< by cable record
  std::map<CableKey, CableFigure> cables;
  std::map<Id, SupplyFigure> supplies;
  std::map<Id, CircuitFigure> circuits;
  Mains mains;
};

/// How far each color is asked for, 0..1. A product draws for the colors it has; one of fewer than three
/// channels is white alone.
struct Levels {
  double red = 0.0, green = 0.0, blue = 0.0, white = 0.0;
};
/// Every color that the product has at one level.
Levels levelsOf(const yard::Product& product, double level);

/// Load of one pixel of a product at these levels, or with every color at a brightness 0..1.
Load loadOf(const yard::Product& product, const Levels& levels);
Load loadOf(const yard::Product& product, double brightness);

/// What is left of each color of white at some volts, 1: all of it, in the order of Load::channels. A pixel
/// whose colors fade together (regulated, in series, one color) has none and is always true white.
struct Tint {
  std::array<double, 4> share{};
  std::size_t count = 0;
  /// Weakest color against the strongest; 1: true white, and also where nothing lights.
  double whiteness() const;
};
Tint tintOf(const yard::Product& product, double volts);

/// Layouts of all runs, once for all conditions.
using Layouts = std::map<Id, std::shared_ptr<const RunLayout>>;
Layouts layouts(const yard::Yard& yard, const Shapes& shapes, const Routes& routes);

struct YardNetwork;
/// Solves the network of the whole yard: 0 V of supplies joined inside a box and through every data lead.
/// `net` is networkOf() the same yard; from one network all conditions follow.
Power compute(const YardNetwork& net, const yard::Yard& yard, const Routes& routes, const Layouts& layouts,
              Condition condition);
/// The same with the network built for it alone.
Power compute(const yard::Yard& yard, const Shapes& shapes, const Routes& routes, const Layouts& layouts,
              Condition condition);

/// The network compute() solves, for tests and benchmarks.
struct Built {
  Network network;
  std::vector<Id> chainRun;  ///< run of each chain
};
Built build(const yard::Yard& yard, const Shapes& shapes, const Routes& routes, const Layouts& layouts,
            Condition condition);

}  // namespace yw::circuit
