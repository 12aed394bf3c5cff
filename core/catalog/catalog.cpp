#include "core/catalog/catalog.h"

#include <algorithm>
#include <nlohmann/json.hpp>

#include "core/base/resource.h"

namespace yw::catalog {
namespace {

/// The files are part of the program, so a fault in them is a bug and throws.
std::vector<Entry> readAll() {
  std::vector<Entry> all;
  for (const base::Resource& resource : base::resources()) {
    if (!resource.path.starts_with("catalog/")) continue;
    for (const auto& part : nlohmann::ordered_json::parse(resource.bytes)) {
      const auto& record = part.at("record");
      all.push_back({part.at("key"), record.at("kind"), record.dump(), part.at("source"), part.at("edition"),
                     part.value("string_wire", std::string{})});
    }
  }
  return all;
}

}  // namespace

const std::vector<Entry>& entries() {
  static const std::vector<Entry> all = readAll();
  return all;
}

const Entry* find(std::string_view key) {
  const auto& all = entries();
  const auto found = std::find_if(all.begin(), all.end(), [&](const Entry& e) { return e.key == key; });
  return found == all.end() ? nullptr : &*found;
}

}  // namespace yw::catalog
