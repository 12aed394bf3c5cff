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

/// 1-based place of `id` among what the box has; 0 if it is not there.
std::size_t placeOf(const std::map<Id, std::vector<Id>>& in, Id box, Id id) {
  const auto all = in.find(box);
  if (all == in.end()) return 0;
  const auto found = std::find(all->second.begin(), all->second.end(), id);
  return found == all->second.end() ? 0 : static_cast<std::size_t>(found - all->second.begin()) + 1;
}

std::string withoutNumber(std::string stem) {
  while (!stem.empty() && stem.back() >= '0' && stem.back() <= '9') stem.pop_back();
  while (!stem.empty() && stem.back() == ' ') stem.pop_back();
  return stem;
}

}  // namespace

Labels::Labels(const Yard& yard) : yard_(yard) {
  std::map<Id, std::map<std::int64_t, Id>> numbers;  // box: port number: its board
  std::vector<std::pair<Id, const Port*>> ports;
  for (const auto& [id, record] : yard.records) {
    if (const auto* supply = std::get_if<Supply>(record.get())) suppliesIn_[supply->box].push_back(id);
    if (const auto* c = std::get_if<Controller>(record.get())) portOwnersIn_[c->box].push_back(id);
    if (const auto* r = std::get_if<Receiver>(record.get())) portOwnersIn_[r->box].push_back(id);
    if (const auto* port = std::get_if<Port>(record.get())) ports.emplace_back(id, port);
  }
  for (const auto& [id, port] : ports) {
    const Id box = boxOf(yard, port->owner);
    const auto [first, fresh] = numbers[box].try_emplace(port->number, id);
    if (box && !fresh && portOwnersIn_[box].size() > 1) portNumbersClash_[box] = true;
  }
  for (const auto& [id, run] : all<Run>(yard))
    for (std::size_t i = 0; i < run->items.size(); ++i)
      if (run->items[i].lead) leadOf_.try_emplace(run->items[i].lead, id, static_cast<int>(i));
}

std::string Labels::ownerLabel(Id owner) const {
  const auto it = yard_.records.find(owner);
  if (it == yard_.records.end()) return "?";
  const std::string name = std::visit([](const auto& r) { return ownName(r); }, *it->second);
  const Id box = boxOf(yard_, owner);
  if (!name.empty() || !box) return nameOrKind(*it->second, owner);
  return fmt::format("{}-C{}", of(box), placeOf(portOwnersIn_, box, owner));
}

std::string Labels::portLabel(const Port& port) const {
  const Id box = boxOf(yard_, port.owner);
  if (!box) return fmt::format("{}-P{:02}", ownerLabel(port.owner), port.number);
  if (!portNumbersClash_.contains(box)) return fmt::format("{}-P{:02}", of(box), port.number);
  return fmt::format("{}-C{}-P{:02}", of(box), placeOf(portOwnersIn_, box, port.owner), port.number);
}

std::string Labels::supplyLabel(Id id, const Supply& supply) const {
  if (!supply.box) return supply.name.empty() ? kindAndId(RecordKind::Supply, id) : supply.name;
  return fmt::format("{}-V{}", of(supply.box), placeOf(suppliesIn_, supply.box, id));
}

std::string Labels::fuseLabel(const FusePosition& fuse) const {
  const auto* supply = find<Supply>(yard_, fuse.supply);
  if (supply == nullptr) return fmt::format("F{:02}", fuse.number);
  const bool alone = supply->box && suppliesIn_.at(supply->box).size() == 1;
  return fmt::format("{}-F{:02}", alone ? of(supply->box) : supplyLabel(fuse.supply, *supply), fuse.number);
}

std::string Labels::cableLabel(Id id, const Cable& cable) const {
  if (!cable.name.empty()) return cable.name;
  for (const Terminal* end : {&cable.from, &cable.to})
    if (end->kind == TerminalKind::FusePosition && end->record) return of(end->record);
  const auto lead = leadOf_.find(id);
  if (lead == leadOf_.end()) return kindAndId(RecordKind::Cable, id);
  return of(lead->second.first) + "-" + pieceLetter(lead->second.second);
}

std::string Labels::of(Id id) const {
  const auto it = yard_.records.find(id);
  if (it == yard_.records.end()) return "?";
  const Record& record = *it->second;
  if (const auto* port = std::get_if<Port>(&record)) return portLabel(*port);
  if (const auto* fuse = std::get_if<FusePosition>(&record)) return fuseLabel(*fuse);
  if (const auto* supply = std::get_if<Supply>(&record)) return supplyLabel(id, *supply);
  if (const auto* cable = std::get_if<Cable>(&record)) return cableLabel(id, *cable);
  if (const auto* run = std::get_if<Run>(&record))
    if (find<Port>(yard_, run->port) != nullptr) return of(run->port);
  if (std::holds_alternative<Controller>(record) || std::holds_alternative<Receiver>(record))
    return ownerLabel(id);
  return nameOrKind(record, id);
}

std::string labelOf(const Yard& yard, Id id) {
  const auto it = yard.records.find(id);
  if (it == yard.records.end()) return "?";
  const bool plain = std::visit(
      []<class R>(const R&) {
        return !(std::is_same_v<R, Port> || std::is_same_v<R, FusePosition> || std::is_same_v<R, Supply> ||
                 std::is_same_v<R, Cable> || std::is_same_v<R, Run> || std::is_same_v<R, Controller> ||
                 std::is_same_v<R, Receiver>);
      },
      *it->second);
  return plain ? nameOrKind(*it->second, id) : Labels(yard).of(id);
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
