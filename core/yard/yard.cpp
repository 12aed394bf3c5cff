#include "core/yard/yard.h"

#include <algorithm>

namespace yw::yard {
namespace {

template <class R>
const R* onlyOne(const Yard& yard, Id& id) {
  for (const auto& [key, record] : yard.records) {
    if (const auto* r = std::get_if<R>(record.get())) {
      id = key;
      return r;
    }
  }
  return nullptr;
}

/// A blob counts only while a record names it; the rest may be waiting for a redo.
bool sameNamedBlobs(const Yard& a, const Yard& b) {
  for (const auto& [id, record] : a.records) {
    const std::string* name = blobOf(*record);
    if (name != nullptr && a.blobs.contains(*name) != b.blobs.contains(*name)) return false;
  }
  return true;
}

template <class R>
void sortByNumber(std::vector<std::pair<Id, const R*>>& found) {
  std::stable_sort(found.begin(), found.end(),
                   [](const auto& a, const auto& b) { return a.second->number < b.second->number; });
}

Id boxOfOwner(const Yard& yard, Id owner) {
  if (const auto* controller = find<Controller>(yard, owner)) return controller->box;
  if (const auto* receiver = find<Receiver>(yard, owner)) return receiver->box;
  if (const auto* supply = find<Supply>(yard, owner)) return supply->box;
  return {};
}

}  // namespace

bool Yard::operator==(const Yard& other) const {
  if (nextId != other.nextId || records.size() != other.records.size()) return false;
  const auto same = [](const auto& a, const auto& b) {
    return a.first == b.first && (a.second == b.second || *a.second == *b.second);
  };
  return std::equal(records.begin(), records.end(), other.records.begin(), same) &&
         sameNamedBlobs(*this, other);
}

const std::string* blobOf(const Record& record) {
  const auto* site = std::get_if<Site>(&record);
  const auto* wall = std::get_if<Wall>(&record);
  const std::string* photo = site ? &site->photo : wall ? &wall->photo : nullptr;
  return photo == nullptr || photo->empty() ? nullptr : photo;
}

const Settings& settings(const Yard& yard) {
  static const Settings usual;
  Id id;
  const auto* found = onlyOne<Settings>(yard, id);
  return found == nullptr ? usual : *found;
}

Id settingsId(const Yard& yard) {
  Id id;
  onlyOne<Settings>(yard, id);
  return id;
}

const Site& site(const Yard& yard) {
  static const Site usual;
  Id id;
  const auto* found = onlyOne<Site>(yard, id);
  return found == nullptr ? usual : *found;
}

Id siteId(const Yard& yard) {
  Id id;
  onlyOne<Site>(yard, id);
  return id;
}

Id productIdOf(const Yard& yard, const Prop& prop) {
  return prop.product ? prop.product : settings(yard).usualProduct;
}

const Product* productOf(const Yard& yard, const Prop& prop) {
  return find<Product>(yard, productIdOf(yard, prop));
}

std::vector<std::pair<Id, const Port*>> portsOf(const Yard& yard, Id owner) {
  auto found = all<Port>(yard);
  std::erase_if(found, [owner](const auto& p) { return p.second->owner != owner; });
  sortByNumber(found);
  return found;
}

std::vector<std::pair<Id, const FusePosition*>> fusePositionsOf(const Yard& yard, Id supply) {
  auto found = all<FusePosition>(yard);
  std::erase_if(found, [supply](const auto& p) { return p.second->supply != supply; });
  sortByNumber(found);
  return found;
}

Id boxOf(const Yard& yard, Id portOrFusePosition) {
  if (const auto* port = find<Port>(yard, portOrFusePosition)) return boxOfOwner(yard, port->owner);
  if (const auto* fuse = find<FusePosition>(yard, portOrFusePosition)) return boxOfOwner(yard, fuse->supply);
  return boxOfOwner(yard, portOrFusePosition);
}

Id runOnPort(const Yard& yard, Id port) {
  if (!port) return {};
  for (const auto& [id, run] : all<Run>(yard))
    if (run->port == port) return id;
  return {};
}

Id feedOnFusePosition(const Yard& yard, Id fusePosition) {
  if (!fusePosition) return {};
  for (const auto& [id, cable] : all<Cable>(yard)) {
    for (const Terminal* end : {&cable->from, &cable->to})
      if (end->kind == TerminalKind::FusePosition && end->record == fusePosition) return id;
  }
  return {};
}

}  // namespace yw::yard
