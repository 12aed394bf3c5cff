#include "core/yard/labels.h"

#include <fmt/format.h>

#include <algorithm>
#include <set>

namespace yw::yard {
namespace {

std::string kindAndId(RecordKind kind, Id id) { return fmt::format("{} {}", label(kind), id.value); }

template <class R>
std::string ownName(const R& record) {
  if constexpr (requires { record.name; })
    return record.name;
  else
    return {};
}

std::string nameOrKind(const Record& record, Id id) {
  std::string name = std::visit([](const auto& r) { return ownName(r); }, record);
  return name.empty() ? kindAndId(kindOf(record), id) : name;
}

/// 1-based place of `id` among `all`; 0 if it is not there.
std::size_t placeOf(const std::vector<Id>& all, Id id) {
  const auto found = std::find(all.begin(), all.end(), id);
  return found == all.end() ? 0 : static_cast<std::size_t>(found - all.begin()) + 1;
}

std::vector<Id> suppliesIn(const Yard& yard, Id box) {
  std::vector<Id> found;
  for (const auto& [id, supply] : all<Supply>(yard))
    if (supply->box == box) found.push_back(id);
  return found;
}

/// Controllers and receivers of a box in the order of their ids.
std::vector<Id> portOwnersIn(const Yard& yard, Id box) {
  std::vector<Id> found;
  for (const auto& [id, record] : yard.records) {
    const auto* controller = std::get_if<Controller>(record.get());
    const auto* receiver = std::get_if<Receiver>(record.get());
    if ((controller != nullptr && controller->box == box) || (receiver != nullptr && receiver->box == box))
      found.push_back(id);
  }
  return found;
}

/// Does some port number stand on two controllers or receivers of the box?
bool portNumbersClash(const Yard& yard, const std::vector<Id>& owners) {
  std::set<std::int64_t> seen;
  for (const auto& [id, port] : all<Port>(yard))
    if (placeOf(owners, port->owner) != 0 && !seen.insert(port->number).second) return true;
  return false;
}

std::string ownerLabel(const Yard& yard, Id owner) {
  const auto it = yard.records.find(owner);
  if (it == yard.records.end()) return "?";
  const std::string name = std::visit([](const auto& r) { return ownName(r); }, *it->second);
  const Id box = boxOf(yard, owner);
  if (!name.empty() || !box) return nameOrKind(*it->second, owner);
  return fmt::format("{}-C{}", labelOf(yard, box), placeOf(portOwnersIn(yard, box), owner));
}

std::string portLabel(const Yard& yard, const Port& port) {
  const Id box = boxOf(yard, port.owner);
  if (!box) return fmt::format("{}-P{:02}", ownerLabel(yard, port.owner), port.number);
  const auto owners = portOwnersIn(yard, box);
  if (owners.size() < 2 || !portNumbersClash(yard, owners))
    return fmt::format("{}-P{:02}", labelOf(yard, box), port.number);
  return fmt::format("{}-C{}-P{:02}", labelOf(yard, box), placeOf(owners, port.owner), port.number);
}

std::string supplyLabel(const Yard& yard, Id id, const Supply& supply) {
  if (!supply.box) return supply.name.empty() ? kindAndId(RecordKind::Supply, id) : supply.name;
  return fmt::format("{}-V{}", labelOf(yard, supply.box), placeOf(suppliesIn(yard, supply.box), id));
}

std::string fuseLabel(const Yard& yard, const FusePosition& fuse) {
  const auto* supply = find<Supply>(yard, fuse.supply);
  if (supply == nullptr) return fmt::format("F{:02}", fuse.number);
  const bool alone = supply->box && suppliesIn(yard, supply->box).size() == 1;
  return fmt::format(
      "{}-F{:02}", alone ? labelOf(yard, supply->box) : supplyLabel(yard, fuse.supply, *supply), fuse.number);
}

/// A lead of a run: the run's label and its letter.
std::string leadLabel(const Yard& yard, Id cable) {
  for (const auto& [id, run] : all<Run>(yard)) {
    for (std::size_t i = 0; i < run->items.size(); ++i)
      if (run->items[i].lead == cable) return labelOf(yard, id) + "-" + pieceLetter(static_cast<int>(i));
  }
  return {};
}

std::string cableLabel(const Yard& yard, Id id, const Cable& cable) {
  if (!cable.name.empty()) return cable.name;
  for (const Terminal* end : {&cable.from, &cable.to})
    if (end->kind == TerminalKind::FusePosition && end->record) return labelOf(yard, end->record);
  const std::string lead = leadLabel(yard, id);
  return lead.empty() ? kindAndId(RecordKind::Cable, id) : lead;
}

std::string withoutNumber(std::string stem) {
  while (!stem.empty() && stem.back() >= '0' && stem.back() <= '9') stem.pop_back();
  while (!stem.empty() && stem.back() == ' ') stem.pop_back();
  return stem;
}

}  // namespace

std::string labelOf(const Yard& yard, Id id) {
  const auto it = yard.records.find(id);
  if (it == yard.records.end()) return "?";
  const Record& record = *it->second;
  if (const auto* port = std::get_if<Port>(&record)) return portLabel(yard, *port);
  if (const auto* fuse = std::get_if<FusePosition>(&record)) return fuseLabel(yard, *fuse);
  if (const auto* supply = std::get_if<Supply>(&record)) return supplyLabel(yard, id, *supply);
  if (const auto* cable = std::get_if<Cable>(&record)) return cableLabel(yard, id, *cable);
  if (const auto* run = std::get_if<Run>(&record))
    if (find<Port>(yard, run->port) != nullptr) return labelOf(yard, run->port);
  if (std::holds_alternative<Controller>(record) || std::holds_alternative<Receiver>(record))
    return ownerLabel(yard, id);
  return nameOrKind(record, id);
}

std::string pieceLetter(int n) {
  static constexpr std::string_view kLetters = "ACDEFGHJKLMNPRTUVWXY";
  const int base = static_cast<int>(kLetters.size());
  std::string out;
  for (int rest = std::max(n, 0); rest >= 0; rest = rest / base - 1)
    out.insert(out.begin(), kLetters[static_cast<std::size_t>(rest % base)]);
  return out;
}

std::string freeName(const Yard& yard, RecordKind kind, const std::string& stem) {
  std::set<std::string> taken;
  for (const auto& [id, record] : yard.records)
    if (kindOf(*record) == kind) taken.insert(std::visit([](const auto& r) { return ownName(r); }, *record));
  std::string root = withoutNumber(stem);
  if (root.empty()) root = label(kind);
  const bool code = root.size() <= 2;  // K1, K2; but Arch, Arch 2
  if (!code && !taken.contains(root)) return root;
  for (int n = code ? 1 : 2;; ++n) {
    std::string name = fmt::format("{}{}{}", root, code ? "" : " ", n);
    if (!taken.contains(name)) return name;
  }
}

}  // namespace yw::yard
