#pragma once
#include <map>
#include <memory>
#include <string>
#include <vector>

#include "core/yard/records.h"

namespace yw::yard {

using RecordPtr = std::shared_ptr<const Record>;

/// The whole yard as a value: copying shares the records. Only core/edit makes one from another.
struct Yard {
  std::map<Id, RecordPtr> records;
  std::int64_t nextId = 1;
  /// Pictures by the SHA-256 of their bytes; outside the Change, kept as long as a record or the history
  /// names them.
  std::map<std::string, std::shared_ptr<const std::string>> blobs;

  bool operator==(const Yard& other) const;
};

/// A yard with Settings, Site and the usual products and wires from the catalog: what 'new' gives.
Yard emptyYard();

/// The record of that id as an R, or null if there is none or it is another kind.
template <class R>
const R* find(const Yard& yard, Id id) {
  const auto it = yard.records.find(id);
  return it == yard.records.end() ? nullptr : std::get_if<R>(it->second.get());
}

/// All records of one kind, in the order of their ids: id and record.
template <class R>
std::vector<std::pair<Id, const R*>> all(const Yard& yard) {
  std::vector<std::pair<Id, const R*>> found;
  for (const auto& [id, record] : yard.records)
    if (const auto* r = std::get_if<R>(record.get())) found.emplace_back(id, r);
  return found;
}

/// The one Settings and the one Site; defaults if a damaged yard has none.
const Settings& settings(const Yard& yard);
Id settingsId(const Yard& yard);
const Site& site(const Yard& yard);
Id siteId(const Yard& yard);

/// The product a prop uses: its own, else the yard's usual one; null if neither is there.
const Product* productOf(const Yard& yard, const Prop& prop);
Id productIdOf(const Yard& yard, const Prop& prop);

/// Every id that `record` names, in field order (for deleting and for checking).
std::vector<Id> references(const Record& record);

/// One reference: the id, the path of its field (`items[3].prop`) and the kinds it may name (empty: any).
struct Reference {
  Id id;
  std::string field;
  std::vector<RecordKind> kinds;
};
std::vector<Reference> referencesWithFields(const Record& record);

/// The kinds of record that a cable's end of that kind may name.
std::vector<RecordKind> kindsOf(TerminalKind kind);

/// The key into Yard::blobs that `record` names; null if it names none.
const std::string* blobOf(const Record& record);

/// Ports of a controller or receiver, fuse positions of a supply: in the order of their numbers.
std::vector<std::pair<Id, const Port*>> portsOf(const Yard& yard, Id owner);
std::vector<std::pair<Id, const FusePosition*>> fusePositionsOf(const Yard& yard, Id supply);
/// Box of a port's owner or of a fuse position's supply; none if not in a box.
Id boxOf(const Yard& yard, Id portOrFusePosition);
/// The run on that port; none if free.
Id runOnPort(const Yard& yard, Id port);
/// The feed on that fuse position; none if free.
Id feedOnFusePosition(const Yard& yard, Id fusePosition);

}  // namespace yw::yard
