#include <map>
#include <stdexcept>

#include "core/catalog/catalog.h"
#include "core/yard/codec.h"
#include "core/yard/yard.h"

namespace yw::yard {
namespace {

// Our choice of what most yards use.
constexpr const char* kUsualProduct = "node_12v_resistor";
constexpr const char* kUsualLead = "lead_18_3";
constexpr const char* kUsualFeed = "feed_14_2";

/// The record of a catalog entry. The catalog is part of the program, so a fault in it is a bug and throws.
Record recordOf(const catalog::Entry& entry) {
  auto made = decode("{\"id\":1," + entry.record.substr(1));
  if (!made) throw std::logic_error("catalog entry " + entry.key + ": " + base::text(made.error()));
  return std::move(made->second);
}

Yard freshYard() {
  Yard yard;
  const auto put = [&yard](Id id, Record record) {
    yard.records[id] = std::make_shared<const Record>(std::move(record));
  };
  Id settingsPlace{yard.nextId++}, sitePlace{yard.nextId++};
  std::map<std::string, Id> ids;
  for (const catalog::Entry& entry : catalog::entries()) ids.emplace(entry.key, Id{yard.nextId++});
  for (const catalog::Entry& entry : catalog::entries()) {
    Record record = recordOf(entry);
    if (auto* product = std::get_if<Product>(&record); product != nullptr && !entry.stringWireKey.empty())
      product->stringWire = ids.at(entry.stringWireKey);
    put(ids.at(entry.key), std::move(record));
  }
  Settings settings;
  settings.usualProduct = ids.at(kUsualProduct);
  settings.usualLead = ids.at(kUsualLead);
  settings.usualFeed = ids.at(kUsualFeed);
  put(settingsPlace, settings);
  put(sitePlace, Site{});
  return yard;
}

}  // namespace

Yard emptyYard() {
  static const Yard fresh = freshYard();  // copies share the records
  return fresh;
}

}  // namespace yw::yard
