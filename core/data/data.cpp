#include "core/data/data.h"

#include <algorithm>
#include <set>

#include "core/data/frame.h"
#include "core/routes/places.h"

namespace yw::data {

namespace {

using routes::CableKey;
using routes::CableRole;
using yard::Product;
using yard::Run;
using yard::RunItem;
using yard::RunItemKind;

constexpr std::int64_t kSlots = 512;

/// Places of a universe counted through from universe 1, slot 1.
std::int64_t flat(Address a) { return (a.universe - 1) * kSlots + a.slot - 1; }
Address address(std::int64_t flat) { return {flat / kSlots + 1, flat % kSlots + 1}; }

/// Pixel places of one kind, in the order of the data.
struct Piece {
  const Product* product;
  std::int64_t places;
};

std::int64_t slotsOf(const Piece& piece) {
  return piece.product == nullptr ? 3 : slotsPerPixel(*piece.product);
}

/// Port owners in the order data is given out: each controller, then its receivers; ids rising.
struct Owners {
  std::vector<std::pair<Id, std::vector<Id>>> byController;  ///< controller -> its ports, receivers' after
  std::map<Id, Id> controllerOf;                             ///< port -> controller
};

Owners ownersOf(const yard::Yard& yard) {
  std::map<Id, std::vector<std::pair<std::int64_t, Id>>> ports;  // owner -> (number, port)
  for (const auto& [id, port] : yard::all<yard::Port>(yard))
    ports[port->owner].emplace_back(port->number, id);
  for (auto& [owner, list] : ports) std::sort(list.begin(), list.end());
  Owners out;
  std::map<Id, std::vector<Id>> receivers;
  std::vector<Id> orphans;
  for (const auto& [id, receiver] : yard::all<yard::Receiver>(yard)) {
    const bool known = yard::find<yard::Controller>(yard, receiver->controller) != nullptr;
    if (known)
      receivers[receiver->controller].push_back(id);
    else
      orphans.push_back(id);
  }
  const auto add = [&](Id controller, std::vector<Id>& list, Id owner) {
    for (const auto& [number, port] : ports[owner]) {
      list.push_back(port);
      out.controllerOf[port] = controller;
    }
  };
  for (const auto& [id, controller] : yard::all<yard::Controller>(yard)) {
    std::vector<Id> list;
    add(id, list, id);
    for (const Id receiver : receivers[id]) add(id, list, receiver);
    out.byController.emplace_back(id, std::move(list));
  }
  for (const Id receiver : orphans) {  // fed by no controller: a group of its own
    std::vector<Id> list;
    add(receiver, list, receiver);
    out.byController.emplace_back(receiver, std::move(list));
  }
  return out;
}

class Planner {
 public:
  Planner(const yard::Yard& yard, const routes::Shapes& shapes, const routes::Routes& routes)
      : yard_(yard),
        shapes_(shapes),
        routes_(routes),
        settings_(yard::settings(yard)),
        owners_(ownersOf(yard)) {}

  Data computeAll() {
    for (const auto& [id, run] : yard::all<Run>(yard_)) {
      out_.runs.emplace(id, figuresOf(id, *run));
      if (run->port && !runOn_.contains(run->port)) runOn_.emplace(run->port, id);
    }
    giveAddresses();
    findOverlaps();
    countUniverses();
    for (const auto& [controller, ports] : owners_.byController)
      for (const Id port : ports)
        if (!runOn_.contains(port)) out_.freePorts.push_back(port);
    for (const auto& [key, cable] : routes_.cables)
      if (key.role == CableRole::ReceiverLink) out_.receiverLink[key.of] = cable.length();
    return std::move(out_);
  }

 private:
  RunData figuresOf(Id id, const Run& run);
  void countItems(const Run& run, RunData& data) const;
  void timeFrame(const std::vector<Piece>& pieces, RunData& data) const;
  std::vector<Piece> piecesOf(const Run& run) const;
  void addHops(Id id, const Run& run, RunData& data) const;
  double lengthTo(Id run, std::int64_t item) const;
  void giveAddresses();
  void place(Id run, Address start);
  void findOverlaps();
  void countUniverses();
  /// Last slot used when the pieces start there, and where the next run may begin.
  std::pair<Address, Address> spanFrom(Address start, const std::vector<Piece>& pieces) const;
  bool isFixed(const Run& run) const { return run.startUniverse > 0; }

  const yard::Yard& yard_;
  const routes::Shapes& shapes_;
  const routes::Routes& routes_;
  const yard::Settings& settings_;
  Owners owners_;
  std::map<Id, std::vector<Piece>> pieces_;
  std::map<Id, Id> runOn_;                                    ///< port -> run
  std::vector<std::pair<std::int64_t, std::int64_t>> fixed_;  ///< slots taken by fixed runs: first, last
  Data out_;
};

/// Product of each pixel place. A null pixel or an unused one is like the stretch before it, else the one
/// after.
std::vector<Piece> Planner::piecesOf(const Run& run) const {
  std::vector<Piece> pieces;
  const Product* before = nullptr;
  std::int64_t waiting = 0;
  for (const RunItem& item : run.items) {
    if (item.kind == RunItemKind::Booster) continue;
    if (item.kind != RunItemKind::Stretch) {
      const std::int64_t count = std::max<std::int64_t>(item.count, 0);
      if (before == nullptr)
        waiting += count;
      else
        pieces.push_back({before, count});
      continue;
    }
    const auto* prop = yard::find<yard::Prop>(yard_, item.prop);
    const yard::Range range = routes::rangeOf(item, shapes_);
    const Product* product = prop == nullptr ? nullptr : yard::productOf(yard_, *prop);
    if (product == nullptr) product = yard::find<Product>(yard_, settings_.usualProduct);
    if (waiting > 0) pieces.push_back({product, std::exchange(waiting, 0)});
    pieces.push_back({product, range.last - range.first + 1});
    before = product;
  }
  if (waiting > 0) pieces.push_back({yard::find<Product>(yard_, settings_.usualProduct), waiting});
  return pieces;
}

double Planner::lengthTo(Id run, std::int64_t item) const {
  for (const CableRole role : {CableRole::Lead, CableRole::Jumper})
    if (const auto it = routes_.cables.find(CableKey{role, run, item}); it != routes_.cables.end())
      return it->second.length();
  return 0.0;
}

void Planner::addHops(Id id, const Run& run, RunData& data) const {
  bool first = true;
  const Product* sender = nullptr;  // none: a port or a booster
  bool boosted = false;             // a booster drives its line as a port does (common practice, no source)
  for (std::size_t i = 0; i < run.items.size(); ++i) {
    const RunItem& item = run.items[i];
    if (item.kind == RunItemKind::Unused) continue;
    const auto* prop = item.kind == RunItemKind::Stretch ? yard::find<yard::Prop>(yard_, item.prop) : nullptr;
    const Product* product = prop == nullptr ? sender : yard::productOf(yard_, *prop);
    Hop hop{static_cast<std::int64_t>(i), first && run.port, lengthTo(id, static_cast<std::int64_t>(i)), 0.0};
    const bool bySheet = sender != nullptr && sender->reach.count > 0;
    hop.limit = base::metres(hop.fromPort || boosted ? settings_.controllerReach
                             : bySheet               ? sender->reach
                                                     : settings_.jumperReach)
                    .si;
    if (!first || run.port) data.hops.push_back(hop);
    first = false;
    boosted = item.kind == RunItemKind::Booster;
    sender = boosted ? nullptr : product;
  }
}

RunData Planner::figuresOf(Id id, const Run& run) {
  RunData data;
  countItems(run, data);
  std::vector<Piece> pieces = piecesOf(run);
  timeFrame(pieces, data);
  if (const auto* port = yard::find<yard::Port>(yard_, run.port)) {
    if (const auto* controller = yard::find<yard::Controller>(yard_, port->owner))
      data.limitByController = controller->pixelsPerPort;
    if (const auto* receiver = yard::find<yard::Receiver>(yard_, port->owner))
      data.limitByController = receiver->pixelsPerPort;
  }
  addHops(id, run, data);
  pieces_.emplace(id, std::move(pieces));
  return data;
}

void Planner::countItems(const Run& run, RunData& data) const {
  for (const RunItem& item : run.items) {
    const std::int64_t count = std::max<std::int64_t>(item.count, 0);
    if (item.kind == RunItemKind::NullPixel) data.nulls += count;
    if (item.kind == RunItemKind::Unused) data.unused += count;
    if (item.kind == RunItemKind::Booster) ++data.boosters;
    if (item.kind != RunItemKind::Stretch) continue;
    const yard::Range range = routes::rangeOf(item, shapes_);
    data.pixels += range.last - range.first + 1;
    const auto* prop = yard::find<yard::Prop>(yard_, item.prop);
    const Id product = prop == nullptr ? Id{} : yard::productIdOf(yard_, *prop);
    if (product && std::find(data.products.begin(), data.products.end(), product) == data.products.end())
      data.products.push_back(product);
  }
}

/// One port has one bit rate: with mixed pixels the slowest rate, the longest reset and the longest header
/// count.
void Planner::timeFrame(const std::vector<Piece>& pieces, RunData& data) const {
  std::vector<Piece> known;
  for (const Piece& piece : pieces)
    if (piece.product != nullptr) known.push_back(piece);
  if (known.empty())
    if (const auto* usual = yard::find<Product>(yard_, settings_.usualProduct)) known.push_back({usual, 0});
  if (known.empty()) return;
  Product line = *known.front().product;
  std::int64_t most = mostPixels(line, settings_.frameRate), start = 0, bits = 0;
  data.channels = 0;
  for (const Piece& piece : known) {
    const Product& p = *piece.product;
    most = std::min(most, mostPixels(p, settings_.frameRate));
    line.bitRate = std::min(line.bitRate, p.bitRate);
    line.reset = std::max(line.reset, p.reset);
    start = std::max(start, frameBits(p, 0));
    bits += frameBits(p, piece.places) - frameBits(p, 0);
    data.channels = std::max(data.channels, slotsPerPixel(p));
  }
  data.limitByFrame = most;
  data.frame = timeOf(start + bits, line.bitRate, line.reset);
}

std::pair<Address, Address> Planner::spanFrom(Address start, const std::vector<Piece>& pieces) const {
  Address next = start, end = start;
  for (const Piece& piece : pieces) {
    if (piece.places <= 0) continue;
    const std::int64_t channels = slotsOf(piece);
    const Address last = addressOf(next, piece.places, channels, settings_.addressMode);
    end = address(flat(last) + channels - 1);
    next = address(flat(end) + 1);
  }
  return {end, next};
}

void Planner::place(Id run, Address start) {
  RunData& data = out_.runs.at(run);
  // In whole-pixel mode a start near the end of a universe may not hold one pixel: begin where the first
  // lies.
  data.start = start;
  for (const Piece& piece : pieces_.at(run)) {
    if (piece.places <= 0) continue;
    data.start = addressOf(start, 1, slotsOf(piece), settings_.addressMode);
    break;
  }
  data.end = spanFrom(start, pieces_.at(run)).first;
  data.addressed = true;
}

void Planner::giveAddresses() {
  for (const auto& [port, run] : runOn_) {
    const Run& record = *yard::find<Run>(yard_, run);
    if (!isFixed(record) || !owners_.controllerOf.contains(port)) continue;
    place(run, {record.startUniverse, std::clamp<std::int64_t>(record.startSlot, 1, kSlots)});
    const RunData& data = out_.runs.at(run);
    if (data.slots() > 0) fixed_.emplace_back(flat(data.start), flat(data.end));
  }
  std::sort(fixed_.begin(), fixed_.end());
  std::int64_t next = 0;  // flat
  for (const auto& [controller, ports] : owners_.byController) {
    next = (next + kSlots - 1) / kSlots * kSlots;
    for (const Id port : ports) {
      const auto it = runOn_.find(port);
      if (it == runOn_.end() || out_.runs.at(it->second).addressed) continue;
      const std::vector<Piece>& pieces = pieces_.at(it->second);
      // Leave out what fixed runs take.
      for (const auto& [first, last] : fixed_)
        if (first <= flat(spanFrom(address(next), pieces).first) && last >= next) next = last + 1;
      place(it->second, address(next));
      if (out_.runs.at(it->second).slots() > 0) next = flat(spanFrom(address(next), pieces).second);
    }
  }
}

void Planner::findOverlaps() {
  std::vector<std::pair<std::int64_t, Id>> byStart;
  for (const auto& [id, data] : out_.runs)
    if (data.addressed && data.slots() > 0) byStart.emplace_back(flat(data.start), id);
  std::sort(byStart.begin(), byStart.end());
  for (std::size_t i = 0; i < byStart.size(); ++i) {
    const std::int64_t end = flat(out_.runs.at(byStart[i].second).end);
    for (std::size_t j = i + 1; j < byStart.size() && byStart[j].first <= end; ++j)
      out_.overlaps.push_back({byStart[i].second, byStart[j].second, address(byStart[j].first)});
  }
}

void Planner::countUniverses() {
  for (const auto& [controller, ports] : owners_.byController) {
    std::set<std::int64_t> used;
    for (const Id port : ports) {
      const auto it = runOn_.find(port);
      if (it == runOn_.end()) continue;
      const RunData& data = out_.runs.at(it->second);
      if (!data.addressed || data.slots() == 0) continue;
      for (std::int64_t u = data.start.universe; u <= data.end.universe; ++u) used.insert(u);
    }
    out_.universesOf[controller] = static_cast<std::int64_t>(used.size());
  }
}

}  // namespace

Data compute(const yard::Yard& yard, const routes::Shapes& shapes, const routes::Routes& routes,
             const circuit::Layouts&) {
  return Planner(yard, shapes, routes).computeAll();
}

}  // namespace yw::data
