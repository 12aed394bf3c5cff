#include "core/shapes/stock.h"

#include <algorithm>

namespace yw::shapes {
namespace {

constexpr double kPound = 0.45359237;  ///< kg, exact by definition
constexpr double kPoundPerFoot = kPound / 0.3048;

constexpr const char* kConduit = "Conduit tables, weight of 10 ft";
constexpr const char* kSteel = "Round steel bar, 7,850 kg/m³";
constexpr const char* kMemory = "From memory; weigh yours";

}  // namespace

const std::vector<Stock>& stocks() {
  using base::feet;
  static const std::vector<Stock> all = {
      {"pixel strip", "perforated strip, 8 ft", feet(8), {0}, 0.045 * kPoundPerFoot, kMemory},
      {"pipe", "1/2 in plastic pipe, 10 ft", feet(10), {0}, 0.16 * kPoundPerFoot, kMemory},
      {"frame pipe", "1/2 in thin-wall conduit, 10 ft", feet(10), {0}, 0.295 * kPoundPerFoot, kConduit},
      {"pole", "1 1/2 in thin-wall conduit, 10 ft", feet(10), {0}, 1.13 * kPoundPerFoot, kConduit},
      {"base ring pipe", "3/4 in flexible pipe, 10 ft", feet(10), {0}, 0.21 * kPoundPerFoot, kMemory},
      {"rod", "1/4 in steel rod, 10 ft", feet(10), {0}, 0.2486, kSteel},
      {"stake bar", "3/8 in steel bar, 10 ft", feet(10), {0}, 0.5594, kSteel},
      {"wire rope", "1/8 in coated wire rope, 250 ft", feet(250), {0}, 0.035 * kPoundPerFoot, kMemory},
      {"mesh", "plastic mesh, 4 × 25 ft", feet(25), feet(4), 0.5, kMemory},
      {"sheet", "fluted plastic sheet, 4 × 8 ft", feet(8), feet(4), 0.8, kMemory},
      {"coupling", "pipe coupling", {0}, {0}, 0.02, kMemory},
      {"topper", "topper with hooks", {0}, {0}, 0.7, kMemory},
      {"center plate", "drilled center plate", {0}, {0}, 0.3, kMemory},
      {"flood", "flood with its bracket", {0}, {0}, 1.0, kMemory},
      {"turnbuckle", "turnbuckle or pulley and cleat", {0}, {0}, 0.15, kMemory},
  };
  return all;
}

const Stock* findStock(const std::string& what) {
  const auto found =
      std::find_if(stocks().begin(), stocks().end(), [&](const Stock& s) { return s.what == what; });
  return found == stocks().end() ? nullptr : &*found;
}

double weightOf(const std::vector<Cut>& cuts) {
  double kilograms = 0;
  for (const Cut& cut : cuts) {
    const Stock* stock = findStock(cut.stock);
    if (!stock) continue;
    const double measure = (stock->length ? base::metres(cut.length).si : 1.0) *
                           (stock->width ? base::metres(cut.width).si : 1.0);
    kilograms += static_cast<double>(cut.pieces) * measure * stock->kilograms;
  }
  return kilograms;
}

}  // namespace yw::shapes
