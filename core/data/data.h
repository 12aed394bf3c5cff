#pragma once
#include <map>
#include <vector>

#include "core/circuit/power.h"
#include "core/yard/yard.h"

namespace yw::data {

using base::Id;

/// Frame time of n pixels: (header + n·channels·bits)/rate + reset, exact in ns.
base::Duration frameTime(const yard::Product& product, std::int64_t pixels);
/// Most pixels that keep `frameRate`; 0 when not even one does.
std::int64_t mostPixels(const yard::Product& product, base::Frequency frameRate);

/// A pixel's first slot: universe from 1, slot 1..512.
struct Address {
  std::int64_t universe = 1, slot = 1;
  auto operator<=>(const Address&) const = default;
};
/// Address of pixel `number` (1-based) counted from `start`; `channels` slots each. ANSI E1.31 knows no
/// pixels.
Address addressOf(Address start, std::int64_t number, std::int64_t channels, yard::AddressMode mode);

/// A gap the data must cross on its own: from the last driver to the next pixel.
struct Hop {
  std::int64_t item = 0;  ///< index into Run::items of the thing it reaches
  bool fromPort = false;  ///< else from a pixel or booster
  double length = 0.0;    ///< m of lead
  double limit = 0.0;     ///< m
};

struct RunData {
  std::int64_t pixels = 0;  ///< lit ones
  std::int64_t nulls = 0, boosters = 0, unused = 0;
  std::int64_t slots() const { return (pixels + nulls + unused); }  ///< pixel places the port sends
  std::int64_t limitByFrame = 0;                                    ///< most places by frame rate
  std::int64_t limitByController = 0;
  std::int64_t limit() const {
    return limitByController && limitByController < limitByFrame ? limitByController : limitByFrame;
  }
  base::Duration frame{0};
  bool addressed = false;     ///< false: no port yet
  Address start, end;         ///< end: last slot used
  std::int64_t channels = 3;  ///< slots of a pixel; of the largest where pixels are mixed
  std::vector<Hop> hops;
  std::vector<Id> products;  ///< all met along the run, in order, once each
};

struct Overlap {
  Id runA, runB;
  Address first;
};

struct Data {
  std::map<Id, RunData> runs;
  std::vector<Overlap> overlaps;
  std::map<Id, std::int64_t> universesOf;  ///< per controller, receivers' ports included
  std::vector<Id> freePorts;
  std::map<Id, double> receiverLink;  ///< receiver -> m of link
};

/// Start addresses not fixed by the person follow one another by controller, receiver, port; a controller
/// begins a new universe.
Data compute(const yard::Yard& yard, const routes::Shapes& shapes, const routes::Routes& routes,
             const circuit::Layouts& layouts);

}  // namespace yw::data
