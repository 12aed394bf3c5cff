#pragma once
// How the things props are built of are sold and what they weigh.
#include <string>
#include <vector>

#include "core/shapes/shape.h"

namespace yw::shapes {

/// One kind of stock. Weight is per metre, per square metre (width > 0), or of one piece (length 0).
struct Stock {
  std::string what;      ///< as in Cut::stock
  std::string sold;      ///< `1/2 in plastic pipe, 10 ft`
  Length length, width;  ///< as sold; length 0: counted; width > 0: sheet goods
  double kilograms = 0.0;
  std::string source;
  double across = 0.0;  ///< metres: how thick it is in a bundle, a coil or a stack
  bool coiled = false;  ///< goes into the shed as a coil or a roll, not as straight pieces
};

/// All that the kinds use.
const std::vector<Stock>& stocks();
/// Null for a name that no kind uses.
const Stock* findStock(const std::string& what);

/// Kilograms of the pieces together; what is not in the list weighs nothing.
double weightOf(const std::vector<Cut>& cuts);

/// Across of a coil or of a roll's turns, metres (common practice, no source).
inline constexpr double kCoilAcross = 0.45;

/// What is cut from all stocks but `without`, as it is stored: straight pieces bundled in a square, none
/// longer than a length of its stock since joints come apart; what bends coiled; sheet goods flat.
std::vector<Stored> storedByStock(const std::vector<Cut>& cuts, const std::vector<std::string>& without);

}  // namespace yw::shapes
