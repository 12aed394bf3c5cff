#pragma once
#include <string>
#include <string_view>
#include <vector>

namespace yw::catalog {

/// A part as it comes with the program. To use it, its record is copied into the yard.
struct Entry {
  std::string key;      ///< never changed once released, e.g. `node_12v_resistor`
  std::string kind;     ///< "product" or "wire"
  std::string record;   ///< one JSON object in the form of the record codec, without `id` and references
  std::string source;   ///< where the figures come from, for people to read
  std::string edition;  ///< of this entry: goes up when its figures change
  std::string stringWireKey;  ///< products: the wire entry of the string itself; empty: none
};

/// All entries: those of each file in resources/catalog in their order, files by name.
const std::vector<Entry>& entries();
/// Null for an unknown key.
const Entry* find(std::string_view key);

}  // namespace yw::catalog
