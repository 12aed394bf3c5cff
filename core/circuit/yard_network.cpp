#include "core/circuit/yard_network.h"

#include <cmath>
#include <limits>

namespace yw::circuit {

namespace {

using namespace yw::yard;
using routes::CableRole;
using routes::RoutedCable;

constexpr double kCut = std::numeric_limits<double>::infinity();
/// A blade fuse drops about 0.1 V at its rated current (a 40 A part: 96 mV, blade fuse data sheet).
constexpr double kFuseVoltsAtRating = 0.1;

bool carriesPositive(ConductorSet set) {
  return set == ConductorSet::PowerAndData || set == ConductorSet::PowerOnly ||
         set == ConductorSet::PositiveOnly;
}
/// A data lead always brings its 0 V along: data without it is no data.
bool carriesZero(ConductorSet set) { return set != ConductorSet::PositiveOnly && set != ConductorSet::Mains; }

double fuseOhms(base::Current fuse) {
  const double amps = base::amps(fuse).si;
  return amps > 0 ? kFuseVoltsAtRating / amps : 0.0;
}

class Builder {
 public:
  Builder(const Yard& yard, const Routes& routes, const Layouts& layouts, Condition condition)
      : yard_(yard),
        routes_(routes),
        layouts_(layouts),
        settings_(settings(yard)),
        brightness_(condition == Condition::FullWhite ? 1.0 : base::fraction(settings_.brightnessLimit)),
        joint_(base::ohms(settings_.jointResistance).si) {}

  YardNetwork build() {
    addSupplies();
    for (const auto& [run, layout] : layouts_) addChain(run, *layout);
    placeChains();
    for (const auto& [run, layout] : layouts_) addLead(run, *layout);
    for (const auto& [key, cable] : routes_.cables)
      if (key.role == CableRole::Feed || key.role == CableRole::Tie || key.role == CableRole::Trunk)
        addCable(key, cable);
    return std::move(out_);
  }

 private:
  struct Terminals {
    std::int32_t positive = -1, zero = -1;
    double fuse = 0.0;
  };

  void addSupplies() {
    std::map<Id, std::int32_t> bus;  // box -> 0 V of its first supply
    for (const auto& [id, supply] : all<Supply>(yard_)) {
      const std::int32_t positive = out_.network.extraNodes, zero = positive + 1;
      out_.network.extraNodes += 2;
      terminals_[id] = {positive, zero, 0.0};
      out_.supplySource[id] = out_.network.sources.size();
      out_.network.sources.push_back({positive, zero, base::volts(supply->voltage).si,
                                      base::ohms(supply->internalResistance).si, id.value});
      if (!supply->box) continue;
      const auto [first, fresh] = bus.try_emplace(supply->box, zero);
      if (!fresh) conduct(first->second, zero, 0.0);
    }
    boxZero_ = std::move(bus);
  }

  double ohmsOf(Id wireId, double length) {
    const auto known = perMetre_.find(wireId);
    if (known != perMetre_.end()) return known->second * length;
    const Wire* wire = find<Wire>(yard_, wireId);
    Wire assumed;
    assumed.gauge = kAssumedGauge;
    const double value = routes::resistancePerMetre(wire == nullptr ? assumed : *wire, settings_).si;
    perMetre_.emplace(wireId, value);
    return value * length;
  }

  ConductorSet conductorsOf(const RoutedCable& cable) const {
    const Wire* wire = find<Wire>(yard_, cable.wire);
    // A wire without V+ cannot bring any, whatever the cable is for.
    return wire != nullptr && !carriesPositive(wire->conductors) ? wire->conductors : cable.conductors;
  }

  std::int32_t loadIndex(Id productId, bool null) {
    const auto [entry, fresh] =
        loads_.try_emplace({productId, null}, static_cast<std::int32_t>(out_.network.loads.size()));
    if (fresh) {
      const Product* product = find<Product>(yard_, productId);
      Load load = product == nullptr ? Load{} : loadOf(*product, null ? 0.0 : brightness_);
      out_.network.loads.push_back(load);
    }
    return entry->second;
  }

  /// Product at a place; a null pixel is of the kind of its neighbor.
  Id productAt(const RunLayout& layout, std::size_t place) {
    const auto of = [&](std::size_t k) {
      const Prop* prop = find<Prop>(yard_, layout.pixels[k].prop);
      return prop == nullptr ? Id{} : productIdOf(yard_, *prop);
    };
    for (std::size_t k = place;; --k) {
      if (layout.pixels[k].prop) return of(k);
      if (k == 0) break;
    }
    for (std::size_t k = place; k < layout.pixels.size(); ++k)
      if (layout.pixels[k].prop) return of(k);
    return {};
  }

  void addChain(Id run, const RunLayout& layout) {
    if (layout.pixels.empty()) return;
    Chain chain;
    const std::size_t n = layout.pixels.size();
    chain.load.reserve(n);
    chain.positive.reserve(n);
    chain.zero.reserve(n);
    Id lastProp;
    std::int32_t lastLoad = -1;
    for (std::size_t k = 0; k < n; ++k) {
      const bool null = !layout.pixels[k].prop;
      if (lastLoad < 0 || null || layout.pixels[k].prop != lastProp) {
        lastLoad = loadIndex(productAt(layout, k), null);
        lastProp = layout.pixels[k].prop;
      }
      chain.load.push_back(lastLoad);
      const auto cables = layout.cablesBefore.find(static_cast<std::int64_t>(k));
      if (cables == layout.cablesBefore.end() || k == 0) {
        const double ohms = k == 0 ? 0.0 : ohmsOf(layout.wire[k], layout.wireBefore[k]);
        chain.positive.push_back(ohms);
        chain.zero.push_back(ohms);
      } else {
        addJumper(cables->second, chain);
      }
    }
    chains_[run] = out_.network.chains.size();
    out_.network.chains.push_back(std::move(chain));
    out_.chainRun.push_back(run);
  }

  void addJumper(const std::vector<CableKey>& keys, Chain& chain) {
    double positive = 0.0, zero = 0.0;
    for (const CableKey& key : keys) {
      const RoutedCable& cable = routes_.cables.at(key);
      const ConductorSet set = conductorsOf(cable);
      const double ohms = ohmsOf(cable.wire, cable.length()) + 2 * joint_;
      positive += carriesPositive(set) ? ohms : kCut;
      zero += carriesZero(set) ? ohms : kCut;
    }
    chain.positive.push_back(positive);
    chain.zero.push_back(zero);
  }

  void placeChains() {
    std::int32_t next = out_.network.extraNodes;
    for (const Chain& chain : out_.network.chains) {
      firstNode_.push_back(next);
      next += 2 * static_cast<std::int32_t>(chain.load.size());
    }
  }

  std::int64_t conduct(std::int32_t a, std::int32_t b, double ohms) {
    out_.network.conductors.push_back(
        {a, b, ohms, static_cast<std::int64_t>(out_.network.conductors.size())});
    return static_cast<std::int64_t>(out_.network.conductors.size()) - 1;
  }

  /// V+ and 0 V behind a port: its section's supply; without one the 0 V of the box.
  Terminals portTerminals(Id portId) const {
    const Port* port = find<Port>(yard_, portId);
    if (port == nullptr) return {};
    const auto* controller = find<Controller>(yard_, port->owner);
    const auto* receiver = find<Receiver>(yard_, port->owner);
    const std::vector<PowerSection>* sections = controller ? &controller->sections
                                                : receiver ? &receiver->sections
                                                           : nullptr;
    const Id box = controller ? controller->box : receiver ? receiver->box : Id{};
    Terminals t;
    if (sections && port->section >= 1 && port->section <= static_cast<std::int64_t>(sections->size()))
      if (const auto supply =
              terminals_.find((*sections)[static_cast<std::size_t>(port->section - 1)].supply);
          supply != terminals_.end())
        t = supply->second;
    if (t.zero < 0)
      if (const auto bus = boxZero_.find(box); bus != boxZero_.end()) t.zero = bus->second;
    t.fuse = fuseOhms(port->fuse);
    return t;
  }

  void addLead(Id runId, const RunLayout& layout) {
    const Run* run = find<Run>(yard_, runId);
    const auto chain = chains_.find(runId);
    const auto keys = layout.cablesBefore.find(0);
    if (run == nullptr || chain == chains_.end() || !run->port || keys == layout.cablesBefore.end()) return;
    const Terminals port = portTerminals(run->port);
    double positive = 0.0, zero = 0.0;
    for (const CableKey& key : keys->second) {
      const RoutedCable& cable = routes_.cables.at(key);
      const double ohms = ohmsOf(cable.wire, cable.length()) + 2 * joint_;
      positive += carriesPositive(conductorsOf(cable)) ? ohms : kCut;
      zero += ohms;
    }
    CablePlace place;
    if (run->portPower && port.positive >= 0 && std::isfinite(positive))
      place.positive = conduct(port.positive, positiveNode(chain->second, 0), positive + port.fuse);
    if (port.zero >= 0) place.zero = conduct(port.zero, zeroNode(chain->second, 0), zero);
    for (const CableKey& key : keys->second) out_.cables[key] = place;
  }

  /// Network::positiveNode without its sum over the chains.
  std::int32_t positiveNode(std::size_t chain, std::size_t place) const {
    return firstNode_[chain] + 2 * static_cast<std::int32_t>(place);
  }
  std::int32_t zeroNode(std::size_t chain, std::size_t place) const { return positiveNode(chain, place) + 1; }

  /// Run and place of a prop's pixel; false when it is wired nowhere.
  bool locate(Id prop, std::int64_t pixel, Id& run, std::size_t& place) {
    if (byProp_.empty())
      for (const auto& [id, layout] : layouts_) {
        Id last;
        for (std::size_t k = 0; k < layout->pixels.size(); ++k)
          if (layout->pixels[k].prop != last ||
              (k > 0 && layout->pixels[k].item != layout->pixels[k - 1].item))
            if ((last = layout->pixels[k].prop)) byProp_[last].emplace_back(id, k);
      }
    const auto starts = byProp_.find(prop);
    if (starts == byProp_.end()) return false;
    for (const auto& [id, start] : starts->second) {
      const auto& pixels = layouts_.at(id)->pixels;
      for (std::size_t k = start;
           k < pixels.size() && pixels[k].prop == prop && pixels[k].item == pixels[start].item; ++k)
        if (pixels[k].pixel == pixel) {
          run = id;
          place = k;
          return true;
        }
    }
    return false;
  }

  struct Landing {
    Terminals nodes;
    bool onRun = false;
    Id run;
    std::size_t chain = 0, place = 0;
  };

  Landing landingOf(const Terminal& terminal) {
    Landing landing;
    std::int64_t pixel = terminal.pixel;
    switch (terminal.kind) {
      case TerminalKind::FusePosition:
        if (const auto* position = find<FusePosition>(yard_, terminal.record))
          if (const auto supply = terminals_.find(position->supply); supply != terminals_.end()) {
            landing.nodes = supply->second;
            landing.nodes.fuse = fuseOhms(position->fuse);
          }
        return landing;
      case TerminalKind::Supply:
        if (const auto supply = terminals_.find(terminal.record); supply != terminals_.end())
          landing.nodes = supply->second;
        return landing;
      case TerminalKind::Box:
        if (const auto bus = boxZero_.find(terminal.record); bus != boxZero_.end())
          landing.nodes.zero = bus->second;
        return landing;
      case TerminalKind::Port:
        landing.nodes = portTerminals(terminal.record);
        return landing;
      case TerminalKind::PropIn:
        pixel = 1;
        break;
      case TerminalKind::PropOut:
      case TerminalKind::PropPixel:
        break;
      default:
        return landing;
    }
    if (!locate(terminal.record, pixel, landing.run, landing.place)) return landing;
    const auto chain = chains_.find(landing.run);
    if (chain == chains_.end()) return landing;
    landing.onRun = true;
    landing.chain = chain->second;
    landing.nodes = {positiveNode(chain->second, landing.place), zeroNode(chain->second, landing.place), 0.0};
    return landing;
  }

  void addCable(const CableKey& key, const RoutedCable& cable) {
    const Cable* record = find<Cable>(yard_, key.of);
    if (record == nullptr) return;
    const Landing from = landingOf(cable.from), to = landingOf(cable.to);
    const ConductorSet set = conductorsOf(cable);
    const double ohms = ohmsOf(cable.wire, cable.length()) + 2 * joint_;
    CablePlace place;
    if (carriesPositive(set) && from.nodes.positive >= 0 && to.nodes.positive >= 0)
      place.positive =
          conduct(from.nodes.positive, to.nodes.positive, ohms + from.nodes.fuse + to.nodes.fuse);
    if (carriesZero(set) && from.nodes.zero >= 0 && to.nodes.zero >= 0)
      place.zero = conduct(from.nodes.zero, to.nodes.zero, ohms);
    out_.cables[key] = place;
    if (!to.onRun) return;
    if (record->cutPositive && to.place > 0) out_.network.chains[to.chain].positive[to.place] = kCut;
    if (key.role == CableRole::Feed)
      out_.feeds[key.of] = {cable.from.record,   to.run,         to.chain, to.place, from.nodes.fuse,
                            from.nodes.positive, from.nodes.zero};
  }

  const Yard& yard_;
  const Routes& routes_;
  const Layouts& layouts_;
  const Settings& settings_;
  double brightness_, joint_;
  std::map<Id, Terminals> terminals_;
  std::map<Id, std::int32_t> boxZero_;
  std::map<Id, double> perMetre_;
  std::map<std::pair<Id, bool>, std::int32_t> loads_;
  std::map<Id, std::size_t> chains_;
  std::vector<std::int32_t> firstNode_;
  std::map<Id, std::vector<std::pair<Id, std::size_t>>> byProp_;
  YardNetwork out_;
};

}  // namespace

YardNetwork buildYard(const Yard& yard, const Shapes&, const Routes& routes, const Layouts& layouts,
                      Condition condition) {
  return Builder(yard, routes, layouts, condition).build();
}

Built build(const Yard& yard, const Shapes& shapes, const Routes& routes, const Layouts& layouts,
            Condition condition) {
  YardNetwork built = buildYard(yard, shapes, routes, layouts, condition);
  return {std::move(built.network), std::move(built.chainRun)};
}

}  // namespace yw::circuit
