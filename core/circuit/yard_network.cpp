// The whole yard as one network. Supplies are sources; the 0 V of all supplies and boards in a box is one
// node, a board's 0 V is also that of the supplies of its sections, and every data lead brings it to its run.
// V+ goes from a supply through a power section and a port's fuse, or through a fuse position and a feed.
#include "core/circuit/yard_network.h"

#include <algorithm>
#include <limits>
#include <set>

namespace yw::circuit {

namespace {

using yard::ConductorSet;
using yard::TerminalKind;

constexpr double kOpen = std::numeric_limits<double>::infinity();
/// A blade fuse drops about 0.1 V at its rated current (299-series blade fuse data sheet: 96 mV at 40 A).
constexpr double kFuseVolts = 0.1;

double fuseOhms(base::Current fuse) { return fuse.count > 0 ? kFuseVolts / base::amps(fuse).si : 0.0; }

bool hasPositive(ConductorSet set) {
  return set == ConductorSet::PowerAndData || set == ConductorSet::PowerOnly ||
         set == ConductorSet::PositiveOnly;
}
/// Data never goes without its 0 V.
bool hasZero(ConductorSet set) { return set != ConductorSet::PositiveOnly && set != ConductorSet::Mains; }

Load loadAt(const YardNetwork::LoadOf& of, const Levels& levels) {
  if (of.product == nullptr) return {};
  if (of.null) return Load{.idle = loadOf(*of.product, 0.0).idle};
  return loadOf(*of.product, levels);
}

class Builder {
 public:
  Builder(const yard::Yard& yard, const Shapes& shapes, const Routes& routes, const Layouts& layouts,
          Condition condition)
      : yard_(yard),
        shapes_(shapes),
        routes_(routes),
        layouts_(layouts),
        settings_(yard::settings(yard)),
        levels_(levelsUnder(yard, condition)),
        perMetre_(yard) {}

  YardNetwork make() {
    nodes();
    chains();
    findPlaces();
    sources();
    boards();
    leads();
    for (const auto& [key, cable] : routes_.cables)
      if (key.role == routes::CableRole::Feed || key.role == routes::CableRole::Trunk ||
          key.role == routes::CableRole::Tie)
        powerCable(cable);
    gates();
    out_.zeros = boardZero_;
    return std::move(out_);
  }

 private:
  using Rails = YardNetwork::Rails;

  Network& network() { return out_.built.network; }
  std::int32_t newNode() { return network().extraNodes++; }
  std::int32_t join(std::int32_t a, std::int32_t b, double ohms) {
    network().conductors.push_back({a, b, ohms});
    return static_cast<std::int32_t>(network().conductors.size()) - 1;
  }

  struct Board {
    Id box;
    const std::vector<yard::PowerSection>* sections;
  };

  /// All free nodes first: the numbers of the pixels' nodes follow from their count.
  void nodes() {
    for (const auto& [id, supply] : yard::all<yard::Supply>(yard_)) supply_[id] = {newNode(), newNode()};
    for (const auto& [id, box] : yard::all<yard::Box>(yard_)) box_[id] = newNode();
    for (const auto& [id, c] : yard::all<yard::Controller>(yard_)) boards_[id] = {c->box, &c->sections};
    for (const auto& [id, r] : yard::all<yard::Receiver>(yard_)) boards_[id] = {r->box, &r->sections};
    for (const auto& [id, board] : boards_) {
      boardZero_[id] = newNode();
      for (std::size_t s = 0; s < board.sections->size(); ++s) section_[{id, s + 1}] = newNode();
    }
    for (const auto& [id, position] : yard::all<yard::FusePosition>(yard_))
      if (supply_.contains(position->supply)) fuse_[id] = newNode();
  }

  std::int32_t loadNumber(const yard::Product* product, bool null) {
    const auto [it, made] =
        loadNumber_.emplace(std::pair{product, null}, static_cast<std::int32_t>(network().loads.size()));
    if (made) {
      out_.loadOf.push_back({product, null});
      network().loads.push_back(loadAt(out_.loadOf.back(), levels_));
    }
    return it->second;
  }

  struct Ohms {
    double positive = 0.0, zero = 0.0;
  };
  /// One cable with its contacts; a conductor that it lacks is open.
  Ohms cableOhms(const routes::RoutedCable& cable) {
    const auto* wire = yard::find<yard::Wire>(yard_, cable.wire);
    const ConductorSet bought = wire != nullptr ? wire->conductors : cable.conductors;
    const double ohms =
        cable.length() * perMetre_(cable.wire) + kContacts * base::ohms(settings_.jointResistance).si;
    return {hasPositive(cable.conductors) && hasPositive(bought) ? ohms : kOpen,
            hasZero(cable.conductors) && hasZero(bought) ? ohms : kOpen};
  }
  Ohms gapOhms(const std::vector<CableKey>& keys) {
    Ohms sum;
    for (const CableKey& key : keys) {
      const Ohms one = cableOhms(routes_.cables.at(key));
      sum.positive += one.positive;
      sum.zero += one.zero;
    }
    return sum;
  }

  void chains() {
    for (const auto& [id, layout] : layouts_) {
      if (layout->pixels.empty()) continue;
      out_.chainOf[id] = network().chains.size();
      out_.built.chainRun.push_back(id);
      network().chains.push_back(chain(*layout));
    }
    std::int64_t pixels = 0;
    for (const Chain& chain : network().chains) {
      firstPixel_.push_back(pixels);
      pixels += static_cast<std::int64_t>(chain.load.size());
    }
  }

  Chain chain(const RunLayout& layout) {
    Chain chain;
    const std::size_t count = layout.pixels.size();
    chain.load.reserve(count);
    chain.positive.reserve(count);
    chain.zero.reserve(count);
    const auto products = productsOf(layout);
    for (std::size_t k = 0; k < count; ++k) {
      chain.load.push_back(loadNumber(products[k], !layout.pixels[k].prop));
      const double ohms = layout.wireBefore[k] * perMetre_(layout.wire[k]);
      chain.positive.push_back(ohms);
      chain.zero.push_back(ohms);
    }
    for (const auto& [place, keys] : layout.cablesBefore) {
      const Ohms ohms = gapOhms(keys);
      chain.positive[static_cast<std::size_t>(place)] = ohms.positive;
      chain.zero[static_cast<std::size_t>(place)] = ohms.zero;
    }
    return chain;
  }

  /// Product of each place; a null pixel takes that of the next place that has one, else of the last.
  std::vector<const yard::Product*> productsOf(const RunLayout& layout) const {
    std::vector<const yard::Product*> products(layout.pixels.size(), nullptr);
    Id prop;
    const yard::Product* product = nullptr;
    for (std::size_t k = 0; k < products.size(); ++k) {
      if (layout.pixels[k].prop && layout.pixels[k].prop != prop) {
        prop = layout.pixels[k].prop;
        product = yard::productOf(yard_, *yard::find<yard::Prop>(yard_, prop));
      }
      products[k] = product;
    }
    const yard::Product* next = nullptr;
    for (std::size_t k = products.size(); k-- > 0;) {
      if (layout.pixels[k].prop)
        next = products[k];
      else if (next != nullptr)
        products[k] = next;
    }
    return products;
  }

  struct Place {
    Id run;
    std::int64_t place = -1;
  };

  /// Prop and 1-based pixel at a cable's end; pixel 0: it does not end at a prop.
  std::pair<Id, std::int64_t> pixelAt(const yard::Terminal& end) const {
    if (end.kind == TerminalKind::PropPixel) return {end.record, end.pixel};
    if (end.kind == TerminalKind::PropIn) return {end.record, 1};
    const auto shape = shapes_.find(end.record);
    if (end.kind != TerminalKind::PropOut || shape == shapes_.end()) return {};
    return {end.record, static_cast<std::int64_t>(shape->second->pixels.size())};
  }

  /// Where along which run the pixels are that cables end at.
  void findPlaces() {
    std::set<Id> props;
    for (const auto& [key, cable] : routes_.cables)
      for (const yard::Terminal& end : {cable.from, cable.to}) {
        const auto [prop, pixel] = pixelAt(end);
        if (pixel <= 0) continue;
        props.insert(prop);
        places_[{prop, pixel}];
      }
    for (const auto& [id, layout] : layouts_) {
      Id prop;
      bool wanted = false;
      for (std::size_t k = 0; k < layout->pixels.size(); ++k) {
        const RunPixel& pixel = layout->pixels[k];
        if (pixel.prop != prop) wanted = props.contains(prop = pixel.prop);
        if (!wanted) continue;
        const auto it = places_.find({prop, pixel.pixel});
        if (it != places_.end() && it->second.place < 0) it->second = {id, static_cast<std::int64_t>(k)};
      }
    }
  }

  Place placeOf(const yard::Terminal& end) const {
    const auto it = places_.find(pixelAt(end));
    return it == places_.end() ? Place{} : it->second;
  }

  Rails pixelNodes(const Place& place) {
    const std::int64_t number = firstPixel_[out_.chainOf.at(place.run)] + place.place;
    const std::int32_t node = network().extraNodes + static_cast<std::int32_t>(2 * number);
    return {node, node + 1};
  }

  void sources() {
    for (const auto& [id, supply] : yard::all<yard::Supply>(yard_)) {
      const Rails at = supply_[id];
      out_.sourceOf[id] = network().sources.size();
      network().sources.push_back({at.positive, at.zero, base::volts(supply->voltage).si,
                                   base::ohms(supply->internalResistance).si, id.value});
      if (box_.contains(supply->box)) join(at.zero, box_[supply->box], 0.0);
    }
    for (const auto& [id, node] : fuse_) {
      const auto& position = *yard::find<yard::FusePosition>(yard_, id);
      positionJoint_[id] = join(supply_[position.supply].positive, node, fuseOhms(position.fuse));
    }
  }

  /// A supply that reaches a board through a cable of its own is not joined to it without resistance.
  std::set<std::pair<Id, Id>> cabledSupplies() const {
    std::set<std::pair<Id, Id>> found;  // board, supply
    for (const auto& [key, cable] : routes_.cables) {
      const auto note = [&](const yard::Terminal& a, const yard::Terminal& b) {
        if (!boards_.contains(b.record) || !hasPositive(cable.conductors)) return;
        const auto* position = yard::find<yard::FusePosition>(yard_, a.record);
        found.emplace(b.record, position != nullptr ? position->supply : a.record);
      };
      if (key.role != routes::CableRole::Feed && key.role != routes::CableRole::Trunk) continue;
      note(cable.from, cable.to);
      note(cable.to, cable.from);
    }
    return found;
  }

  void boards() {
    const auto cabled = cabledSupplies();
    for (const auto& [id, board] : boards_) {
      if (box_.contains(board.box)) join(boardZero_[id], box_[board.box], 0.0);
      for (std::size_t s = 1; s <= board.sections->size(); ++s)
        section(id, s, (*board.sections)[s - 1], cabled);
    }
  }

  void section(Id board, std::size_t s, const yard::PowerSection& section,
               const std::set<std::pair<Id, Id>>& cabled) {
    const auto supply = supply_.find(section.supply);
    if (supply == supply_.end()) return;
    std::int32_t from = supply->second.positive;
    if (cabled.contains({board, section.supply})) {
      const auto [it, first] = inlet_.emplace(std::pair{board, section.supply}, section_[{board, s}]);
      if (first) return;
      from = it->second;
    } else {
      join(supply->second.zero, boardZero_[board], 0.0);
    }
    join(from, section_[{board, s}], 0.0);
  }

  void leads() {
    for (const auto& [id, chain] : out_.chainOf) {
      const auto& run = *yard::find<yard::Run>(yard_, id);
      const auto* port = yard::find<yard::Port>(yard_, run.port);
      const RunLayout& layout = *layouts_.at(id);
      const auto keys = layout.cablesBefore.find(0);
      if (port == nullptr || keys == layout.cablesBefore.end() || !boards_.contains(port->owner)) continue;
      const Ohms ohms = gapOhms(keys->second);
      const Rails pixel = pixelNodes({id, 0});
      Rails& lead = out_.leads[id];
      lead.zero = join(boardZero_[port->owner], pixel.zero, ohms.zero);
      const auto section = section_.find({port->owner, static_cast<std::size_t>(port->section)});
      if (run.portPower && section != section_.end())
        lead.positive = join(section->second, pixel.positive, ohms.positive + fuseOhms(port->fuse));
    }
  }

  /// Nodes at a cable's end.
  Rails nodesAt(const yard::Terminal& end, Id otherSupply) {
    switch (end.kind) {
      case TerminalKind::Supply: {
        const auto it = supply_.find(end.record);
        return it == supply_.end() ? Rails{} : it->second;
      }
      case TerminalKind::FusePosition: {
        const auto it = fuse_.find(end.record);
        if (it == fuse_.end()) return {};
        return {it->second, supply_[yard::find<yard::FusePosition>(yard_, end.record)->supply].zero};
      }
      case TerminalKind::Port: {
        const auto* port = yard::find<yard::Port>(yard_, end.record);
        if (port == nullptr || !boards_.contains(port->owner)) return {};
        const auto it = section_.find({port->owner, static_cast<std::size_t>(port->section)});
        return {it == section_.end() ? -1 : it->second, boardZero_[port->owner]};
      }
      case TerminalKind::Box: {
        const auto it = box_.find(end.record);
        return {-1, it == box_.end() ? -1 : it->second};
      }
      case TerminalKind::Controller:
      case TerminalKind::Receiver: {
        if (!boards_.contains(end.record)) return {};
        const auto inlet = inlet_.find({end.record, otherSupply});
        return {inlet == inlet_.end() ? -1 : inlet->second, boardZero_[end.record]};
      }
      default: {
        const Place place = placeOf(end);
        return place.place < 0 ? Rails{} : pixelNodes(place);
      }
    }
  }

  Id supplyAt(const yard::Terminal& end) const {
    const auto* position = yard::find<yard::FusePosition>(yard_, end.record);
    return position != nullptr ? position->supply : end.record;
  }

  /// A feed, trunk or tie: whatever of V+ and 0 V both its ends and it itself have.
  void powerCable(const routes::RoutedCable& cable) {
    const Rails a = nodesAt(cable.from, supplyAt(cable.to)), b = nodesAt(cable.to, supplyAt(cable.from));
    const Ohms ohms = cableOhms(cable);
    Rails& made = out_.cables[cable.key];
    if (a.positive >= 0 && b.positive >= 0) made.positive = join(a.positive, b.positive, ohms.positive);
    if (a.zero >= 0 && b.zero >= 0) made.zero = join(a.zero, b.zero, ohms.zero);
    if (cable.key.role != routes::CableRole::Feed) return;
    const Place place = placeOf(cable.to);
    if (place.place < 0 && made.positive < 0) return;  // ends at a pixel that is wired nowhere
    out_.feeds[cable.key.of] = {cable.from.record, place.run, place.place, a};
    const auto* record = yard::find<yard::Cable>(yard_, cable.record);
    if (record != nullptr && record->cutPositive && place.place >= 0) cut(place);
  }

  /// Cuts the V+ just before a pixel: the string's, or the port's lead.
  void cut(const Place& place) {
    if (place.place > 0) {
      network().chains[out_.chainOf.at(place.run)].positive[static_cast<std::size_t>(place.place)] = kOpen;
    } else if (const auto lead = out_.leads.find(place.run); lead != out_.leads.end()) {
      if (lead->second.positive >= 0) network().conductors[lead->second.positive].ohms = kOpen;
    }
  }

  void gates() {
    std::map<Id, CableKey> behind;
    for (const auto& [key, cable] : routes_.cables)
      if (positionJoint_.contains(cable.from.record)) behind.emplace(cable.from.record, key);
    for (const auto& [id, joint] : positionJoint_) {
      const auto& position = *yard::find<yard::FusePosition>(yard_, id);
      const auto key = behind.find(id);
      if (key == behind.end()) continue;
      YardNetwork::Gate gate{id, {}, {}, position.supply, -1, joint, position.fuse, key->second};
      if (const auto feed = out_.feeds.find(gate.cable.of); feed != out_.feeds.end()) {
        gate.feed = feed->first;
        gate.run = feed->second.run;
        gate.place = feed->second.place;
      }
      out_.gates.push_back(gate);
    }
    for (const auto& [run, lead] : out_.leads) {
      const auto* port = yard::find<yard::Port>(yard_, yard::find<yard::Run>(yard_, run)->port);
      const auto keys = layouts_.at(run)->cablesBefore.find(0);
      if (lead.positive < 0 || port == nullptr) continue;
      const auto& sections = *boards_.at(port->owner).sections;
      out_.gates.push_back({yard::find<yard::Run>(yard_, run)->port,
                            {},
                            run,
                            sections[static_cast<std::size_t>(port->section) - 1].supply,
                            0,
                            lead.positive,
                            port->fuse,
                            keys->second.front()});
    }
    for (const auto& [id, feed] : out_.feeds) {
      if (positionJoint_.contains(feed.fusePosition)) continue;
      const CableKey key{routes::CableRole::Feed, id, 0};
      const std::int32_t conductor = out_.cables.at(key).positive;
      if (conductor < 0) continue;
      const Id supply = supply_.contains(feed.fusePosition) ? feed.fusePosition : Id{};
      out_.gates.push_back({id, id, feed.run, supply, feed.place, conductor, {}, key});
    }
  }

  const yard::Yard& yard_;
  const Shapes& shapes_;
  const Routes& routes_;
  const Layouts& layouts_;
  const yard::Settings& settings_;
  Levels levels_;
  YardNetwork out_;
  std::map<Id, Rails> supply_;
  std::map<Id, std::int32_t> box_, boardZero_, fuse_;
  std::map<Id, std::int32_t> positionJoint_;  ///< fuse position: conductor of its fuse
  std::map<Id, Board> boards_;                ///< controllers and receivers
  std::map<std::pair<Id, std::size_t>, std::int32_t> section_;
  std::map<std::pair<Id, Id>, std::int32_t> inlet_;  ///< board, supply: V+ node where its own cable comes in
  std::map<std::pair<const yard::Product*, bool>, std::int32_t> loadNumber_;
  OhmsPerMetre perMetre_;
  std::vector<std::int64_t> firstPixel_;
  std::map<std::pair<Id, std::int64_t>, Place> places_;  ///< prop, pixel
};

}  // namespace

std::vector<Load> YardNetwork::loads(const Levels& levels) const {
  std::vector<Load> all;
  all.reserve(loadOf.size());
  for (const LoadOf& of : loadOf) all.push_back(loadAt(of, levels));
  return all;
}

double OhmsPerMetre::operator()(Id id) {
  const auto [at, fresh] = known_.try_emplace(id, 0.0);
  if (!fresh) return at->second;
  yard::Wire assumed;
  assumed.gauge = kAssumedGauge;
  const auto* wire = yard::find<yard::Wire>(yard_, id);
  at->second = routes::resistancePerMetre(wire != nullptr ? *wire : assumed, yard::settings(yard_)).si;
  return at->second;
}

Levels levelsUnder(const yard::Yard& yard, Condition condition) {
  const double level =
      condition == Condition::FullWhite ? 1.0 : base::fraction(yard::settings(yard).brightnessLimit);
  return {level, level, level, level};
}

YardNetwork networkOf(const yard::Yard& yard, const Shapes& shapes, const Routes& routes,
                      const Layouts& layouts, Condition condition) {
  return Builder(yard, shapes, routes, layouts, condition).make();
}

Built build(const yard::Yard& yard, const Shapes& shapes, const Routes& routes, const Layouts& layouts,
            Condition condition) {
  return networkOf(yard, shapes, routes, layouts, condition).built;
}

}  // namespace yw::circuit
