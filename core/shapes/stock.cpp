#include "core/shapes/stock.h"

#include <algorithm>
#include <cmath>
#include <functional>

#include "core/shapes/sizes.h"

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
      {"pixel strip", "perforated strip, 8 ft", feet(8), {0}, 0.045 * kPoundPerFoot, kMemory, 1.0 * kInch},
      {"pipe", "1/2 in plastic pipe, 10 ft", feet(10), {0}, 0.16 * kPoundPerFoot, kMemory, 0.840 * kInch},
      {"frame pipe",
       "1/2 in thin-wall conduit, 10 ft",
       feet(10),
       {0},
       0.295 * kPoundPerFoot,
       kConduit,
       0.706 * kInch},
      {"pole",
       "1 1/2 in thin-wall conduit, 10 ft",
       feet(10),
       {0},
       1.13 * kPoundPerFoot,
       kConduit,
       1.740 * kInch},
      {"base ring pipe",
       "3/4 in flexible pipe, 10 ft",
       feet(10),
       {0},
       0.21 * kPoundPerFoot,
       kMemory,
       1.050 * kInch},
      {"rod", "1/4 in steel rod, 10 ft", feet(10), {0}, 0.2486, kSteel, 0.25 * kInch},
      {"stake bar", "3/8 in steel bar, 10 ft", feet(10), {0}, 0.5594, kSteel, 0.375 * kInch},
      {"wire rope",
       "1/8 in coated wire rope, 250 ft",
       feet(250),
       {0},
       0.035 * kPoundPerFoot,
       kMemory,
       0.125 * kInch,
       true},
      {"mesh", "plastic mesh, 4 × 25 ft", feet(25), feet(4), 0.5, kMemory, 0.25 * kInch},
      {"sheet", "fluted plastic sheet, 4 × 8 ft", feet(8), feet(4), 0.8, kMemory, 0.16 * kInch},
      {"hanger cord", "cord, 100 ft", feet(100), {0}, 0.005 * kPoundPerFoot, kMemory, 0.125 * kInch, true},
      {"coupling", "pipe coupling", {0}, {0}, 0.02, kMemory, 1.25 * kInch},
      {"topper", "topper with hooks", {0}, {0}, 0.7, kMemory, 8 * kInch},
      {"center plate", "drilled center plate", {0}, {0}, 0.3, kMemory, 8 * kInch},
      {"flood", "flood with its bracket", {0}, {0}, 1.0, kMemory, 10 * kInch},
      {"turnbuckle", "turnbuckle or pulley and cleat", {0}, {0}, 0.15, kMemory, 3 * kInch},
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

std::vector<Stored> storedByStock(const std::vector<Cut>& cuts, const std::vector<std::string>& without) {
  std::vector<Stored> all;
  std::vector<const Stock*> stockOf;
  for (const Cut& cut : cuts) stockOf.push_back(findStock(cut.stock));
  for (const Stock& stock : stocks()) {
    if (std::find(stockOf.begin(), stockOf.end(), &stock) == stockOf.end() ||
        std::find(without.begin(), without.end(), stock.what) != without.end())
      continue;
    std::int64_t pieces = 0;
    double length = 0, width = 0, whole = 0;
    for (std::size_t c = 0; c < cuts.size(); ++c) {
      if (stockOf[c] != &stock) continue;
      const Cut& cut = cuts[c];
      const double each = base::metres(cut.length).si;
      const double most =
          stock.length && !stock.width && !stock.coiled ? base::metres(stock.length).si : each;
      const auto joined = each > most ? static_cast<std::int64_t>(std::ceil(each / most - 1e-9)) : 1;
      pieces += cut.pieces * joined;
      length = std::max(length, std::min(each, most));
      width = std::max(width, base::metres(cut.width).si);
      whole += each * static_cast<double>(cut.pieces);
    }
    const double n = static_cast<double>(pieces);
    double sides[3];
    std::string how = ", bundled";
    if (!stock.length) {  // counted: as it is, side by side in a square
      const double side = std::ceil(std::sqrt(n)) * stock.across;
      how = "";
      sides[0] = sides[1] = side, sides[2] = stock.across;
    } else if (stock.coiled) {
      // Turns side by side fill a square ring: turns x across^2 = side^2.
      const double turns = std::ceil(whole / (kPi * kCoilAcross));
      how = ", coiled";
      sides[0] = sides[1] = kCoilAcross, sides[2] = std::sqrt(turns) * stock.across;
    } else if (stock.width) {
      how = ", flat";
      sides[0] = length, sides[1] = width, sides[2] = n * stock.across;
    } else {
      const double side = std::ceil(std::sqrt(n)) * stock.across;
      sides[0] = length, sides[1] = side, sides[2] = std::ceil(n / std::ceil(std::sqrt(n))) * stock.across;
    }
    std::sort(std::begin(sides), std::end(sides), std::greater<>());
    all.push_back({stock.what + (pieces == 1 && how == ", bundled" ? "" : how), pieces,
                   base::toLength({sides[0]}), base::toLength({sides[1]}), base::toLength({sides[2]})});
  }
  return all;
}

}  // namespace yw::shapes
