#include "core/circuit/faults.h"

#include <algorithm>
#include <cmath>
#include <set>

#include "core/circuit/joined_sets.h"
#include "core/circuit/yard_network.h"

namespace yw::circuit {

namespace {

/// A part with the yard's numbers of what is in it.
struct Placed {
  std::shared_ptr<Part> part = std::make_shared<Part>();
  std::vector<std::size_t> chains, gates, sources;  ///< of the yard's network
};

/// Cuts the yard's network into what is joined.
class Parter {
 public:
  Parter(const yard::Yard& yard, const Routes& routes, const Layouts& layouts, const YardNetwork& net)
      : yard_(yard),
        routes_(routes),
        layouts_(layouts),
        net_(net),
        network_(net.built.network),
        still_(net.loads({})),
        sets_(static_cast<std::size_t>(network_.extraNodes) + network_.chains.size()) {
    std::int64_t pixels = 0;
    for (const Chain& chain : network_.chains) {
      first_.push_back(pixels);
      pixels += static_cast<std::int64_t>(chain.load.size());
    }
  }

  std::vector<Placed> run() {
    for (const Conductor& c : network_.conductors)
      if (std::isfinite(c.ohms)) sets_.join(unit(c.a), unit(c.b));
    for (const Source& s : network_.sources) sets_.join(unit(s.positive), unit(s.zero));
    members();
    std::vector<Placed> all;
    for (auto& [root, placed] : placed_)
      if (!placed.chains.empty() && !placed.sources.empty()) all.push_back(std::move(placed));
    return all;
  }

 private:
  std::size_t extra() const { return static_cast<std::size_t>(network_.extraNodes); }
  /// Free node, or the chain a node is of.
  std::size_t unit(std::int32_t node) const {
    if (node < network_.extraNodes) return static_cast<std::size_t>(node);
    const std::int64_t pixel = (node - network_.extraNodes) / 2;
    const auto after = std::upper_bound(first_.begin(), first_.end(), pixel);
    return extra() + static_cast<std::size_t>(after - first_.begin()) - 1;
  }

  void members() {
    std::vector<std::int32_t> local(extra(), -1), firstLocal(network_.chains.size(), 0);
    for (std::size_t n = 0; n < extra(); ++n) local[n] = placed_[sets_.root(n)].part->network.extraNodes++;
    for (std::size_t c = 0; c < network_.chains.size(); ++c) {
      Placed& p = placed_[sets_.root(extra() + c)];
      std::int32_t pixels = 0;
      for (const Chain& before : p.part->network.chains)
        pixels += static_cast<std::int32_t>(before.load.size());
      firstLocal[c] = p.part->network.extraNodes + 2 * pixels;
      p.chains.push_back(c);
      p.part->network.chains.push_back(network_.chains[c]);
      p.part->wireLimits.push_back(wireLimits(c));
    }
    const auto node = [&](std::int32_t n) {
      const std::size_t u = unit(n);
      if (u < extra()) return local[u];
      const std::size_t c = u - extra();
      return firstLocal[c] + n - network_.extraNodes - 2 * static_cast<std::int32_t>(first_[c]);
    };
    std::vector<std::int32_t> conductorLocal(network_.conductors.size(), -1);
    for (std::size_t i = 0; i < network_.conductors.size(); ++i) {
      const Conductor& c = network_.conductors[i];
      if (!std::isfinite(c.ohms)) continue;
      Network& n = placed_[sets_.root(unit(c.a))].part->network;
      conductorLocal[i] = static_cast<std::int32_t>(n.conductors.size());
      n.conductors.push_back({node(c.a), node(c.b), c.ohms});
    }
    for (std::size_t i = 0; i < network_.sources.size(); ++i) {
      const Source& s = network_.sources[i];
      Placed& p = placed_[sets_.root(unit(s.positive))];
      p.sources.push_back(i);
      p.part->network.sources.push_back({node(s.positive), node(s.zero), s.volts, s.ohms});
      const auto* supply = yard::find<yard::Supply>(yard_, Id{s.tag});
      p.part->sourceRated.push_back(supply != nullptr ? base::amps(supply->ratedAmps).si : 0.0);
    }
    gates(conductorLocal);
    loads();
  }

  void gates(const std::vector<std::int32_t>& conductorLocal) {
    for (std::size_t g = 0; g < net_.gates.size(); ++g) {
      const YardNetwork::Gate& gate = net_.gates[g];
      const auto conductor = static_cast<std::size_t>(gate.conductor);
      if (conductorLocal[conductor] < 0) continue;
      Placed& p = placed_[sets_.root(unit(network_.conductors[conductor].a))];
      PartGate made{conductorLocal[conductor], base::amps(gate.fuse).si, cableLimit(gate.cable)};
      if (const auto source = net_.sourceOf.find(gate.supply); source != net_.sourceOf.end())
        made.source = indexOf(p.sources, source->second);
      if (const auto chain = net_.chainOf.find(gate.run); chain != net_.chainOf.end() && gate.place >= 0) {
        made.chain = indexOf(p.chains, chain->second);
        made.place = made.chain < 0 ? -1 : static_cast<std::int32_t>(gate.place);
      }
      p.gates.push_back(g);
      p.part->gates.push_back(made);
    }
  }

  static std::int32_t indexOf(const std::vector<std::size_t>& all, std::size_t what) {
    const auto it = std::lower_bound(all.begin(), all.end(), what);
    return it != all.end() && *it == what ? static_cast<std::int32_t>(it - all.begin()) : -1;
  }

  /// Each part gets only the loads it has, numbered as they come.
  void loads() {
    for (auto& [root, p] : placed_) {
      std::vector<std::int32_t> number(network_.loads.size(), -1);
      for (Chain& chain : p.part->network.chains)
        for (std::int32_t& load : chain.load) {
          std::int32_t& to = number[static_cast<std::size_t>(load)];
          if (to < 0) {
            to = static_cast<std::int32_t>(p.part->network.loads.size());
            p.part->network.loads.push_back(network_.loads[static_cast<std::size_t>(load)]);
            p.part->still.push_back(still_[static_cast<std::size_t>(load)]);
            p.part->needs.push_back(need(static_cast<std::size_t>(load)));
          }
          load = to;
        }
    }
  }

  PixelNeed need(std::size_t load) const {
    const YardNetwork::LoadOf& of = net_.loadOf[load];
    if (of.product == nullptr || of.null) return {};
    return {base::volts(of.product->lowestVolts).si, base::volts(of.product->darkVolts).si, true};
  }

  double wireLimit(Id id) {
    const auto [it, made] = limitOf_.try_emplace(id, 0.0);
    if (made)
      if (const auto* wire = yard::find<yard::Wire>(yard_, id)) it->second = routes::limitOf(*wire).si;
    return it->second;
  }
  double cableLimit(const CableKey& key) {
    const auto cable = routes_.cables.find(key);
    return cable == routes_.cables.end() ? 0.0 : wireLimit(cable->second.wire);
  }
  std::vector<double> wireLimits(std::size_t chain) {
    const RunLayout& layout = *layouts_.at(net_.built.chainRun[chain]);
    std::vector<double> all;
    all.reserve(layout.pixels.size());
    Id wire;
    double limit = 0.0;
    for (std::size_t k = 0; k < layout.pixels.size(); ++k) {
      if (k == 0 || layout.wire[k] != wire) limit = wireLimit(wire = layout.wire[k]);
      all.push_back(limit);
    }
    return all;
  }

  const yard::Yard& yard_;
  const Routes& routes_;
  const Layouts& layouts_;
  const YardNetwork& net_;
  const Network& network_;
  std::vector<Load> still_;
  JoinedSets sets_;
  std::vector<std::int64_t> first_;
  std::map<std::size_t, Placed> placed_;
  std::map<Id, double> limitOf_;
};

/// Runs whose data comes without the 0 V of its board.
std::map<Id, ZeroOpen> zeroOpen(const yard::Yard& yard, const YardNetwork& net) {
  const Network& n = net.built.network;
  JoinedSets sets(static_cast<std::size_t>(n.extraNodes + 2 * n.pixelCount()));
  for (const Conductor& c : n.conductors)
    if (std::isfinite(c.ohms)) sets.join(static_cast<std::size_t>(c.a), static_cast<std::size_t>(c.b));
  std::int32_t first = n.extraNodes;
  std::vector<std::int32_t> firstZero;
  for (const Chain& chain : n.chains) {
    firstZero.push_back(first + 1);
    for (std::size_t k = 1; k < chain.zero.size(); ++k)
      if (std::isfinite(chain.zero[k]))
        sets.join(static_cast<std::size_t>(first + 1) + 2 * (k - 1),
                  static_cast<std::size_t>(first + 1) + 2 * k);
    first += 2 * static_cast<std::int32_t>(chain.load.size());
  }
  std::map<Id, ZeroOpen> found;
  for (const auto& [run, chain] : net.chainOf) {
    const auto* port = yard::find<yard::Port>(yard, yard::find<yard::Run>(yard, run)->port);
    const auto board = port == nullptr ? net.zeros.end() : net.zeros.find(port->owner);
    if (board == net.zeros.end()) continue;
    const std::size_t zero = sets.root(static_cast<std::size_t>(board->second));
    const std::size_t count = n.chains[chain].load.size();
    for (std::size_t k = 0; k < count; ++k) {
      if (sets.root(static_cast<std::size_t>(firstZero[chain]) + 2 * k) == zero) continue;
      found[run] = {port->owner, {run, static_cast<std::int64_t>(k) + 1}};
      break;
    }
  }
  return found;
}

/// What could take over tonight.
class Spares {
 public:
  Spares(const yard::Yard& yard, const Routes& routes, const Power& limit)
      : yard_(yard),
        routes_(routes),
        limit_(limit),
        settings_(yard::settings(yard)),
        positions_(yard::all<yard::FusePosition>(yard)),
        ports_(yard::all<yard::Port>(yard)),
        ownedLeads_(yard::all<yard::OwnedLead>(yard)),
        supplies_(yard::all<yard::Supply>(yard)) {
    for (const auto& [id, run] : yard::all<yard::Run>(yard)) taken_.insert(run->port);
    for (const auto& [key, cable] : routes.cables)
      if (key.role != routes::CableRole::Lead) taken_.insert(cable.from.record);
  }

  std::vector<Id> of(const YardNetwork::Gate& gate, double amps) const {
    std::vector<Id> all;
    const auto* lost = yard::find<yard::Supply>(yard_, gate.supply);
    const auto* port = yard::find<yard::Port>(yard_, gate.id);
    for (const auto& [id, position] : positions_) {
      if (port != nullptr || lost == nullptr || taken_.contains(id)) continue;
      const auto* supply = yard::find<yard::Supply>(yard_, position->supply);
      if (supply == nullptr) continue;
      if (supply->box == lost->box && supply->voltage == lost->voltage && fits(position->fuse, amps) &&
          (position->supply == gate.supply || left(position->supply) >= amps))
        all.push_back(id);
    }
    for (const auto& [id, other] : ports_)
      if (port != nullptr && other->owner == port->owner && !taken_.contains(id) &&
          base::amps(other->limit).si >= amps && fits(other->fuse, amps))
        all.push_back(id);
    if (const auto cable = routes_.cables.find(gate.cable); cable != routes_.cables.end())
      for (const auto& [id, lead] : ownedLeads_) {
        const auto* wire = yard::find<yard::Wire>(yard_, lead->wire);
        if (wire != nullptr && lead->length >= cable->second.cutLength && routes::limitOf(*wire).si >= amps)
          all.push_back(id);
      }
    return all;
  }

  std::vector<Id> ofSupply(Id lost, double amps) const {
    std::vector<Id> all;
    const auto& record = *yard::find<yard::Supply>(yard_, lost);
    for (const auto& [id, supply] : supplies_)
      if (id != lost && supply->voltage == record.voltage && left(id) >= amps) all.push_back(id);
    return all;
  }

 private:
  bool fits(base::Current fuse, double amps) const {
    return fuse.count == 0 || base::amps(fuse).si * base::fraction(settings_.fuseUsable) >= amps;
  }
  double left(Id supply) const {
    const auto figure = limit_.supplies.find(supply);
    const auto& record = *yard::find<yard::Supply>(yard_, supply);
    return base::amps(record.ratedAmps).si * base::fraction(settings_.supplyUsable) -
           (figure == limit_.supplies.end() ? 0.0 : figure->second.amps);
  }

  const yard::Yard& yard_;
  const Routes& routes_;
  const Power& limit_;
  const yard::Settings& settings_;
  std::vector<std::pair<Id, const yard::FusePosition*>> positions_;
  std::vector<std::pair<Id, const yard::Port*>> ports_;
  std::vector<std::pair<Id, const yard::OwnedLead*>> ownedLeads_;
  std::vector<std::pair<Id, const yard::Supply*>> supplies_;
  std::set<Id> taken_;
};

/// Turns a part's numbers into records.
class Namer {
 public:
  Namer(const YardNetwork& net, const Power& limit, const Spares& spares, Faults& out)
      : net_(net), limit_(limit), spares_(spares), out_(out) {}

  void take(const Placed& placed, const PartFaults& faults) {
    for (std::size_t g = 0; g < placed.gates.size(); ++g) {
      const YardNetwork::Gate& gate = gateOf(placed, static_cast<std::int32_t>(g));
      LossFigure figure = loss(placed, faults.gates[g]);
      figure.lost = gate.id;
      figure.feed = gate.feed;
      if (gate.run && gate.place >= 0) figure.at = {gate.run, gate.place + 1};
      figure.carried = carried(gate);
      figure.spares = spares_.of(gate, figure.carried);
      out_.lost[gate.id] = std::move(figure);
      out_.most[gate.id] = {faults.most[g].amps, lost(placed, faults.most[g].lost)};
      if (faults.shorts[g].chain >= 0) out_.shorts[gate.id] = shortAt(placed, gate, faults.shorts[g]);
    }
    for (std::size_t s = 0; s < placed.sources.size(); ++s) {
      const Id supply{net_.built.network.sources[placed.sources[s]].tag};
      LossFigure figure = loss(placed, faults.sources[s]);
      figure.lost = supply;
      figure.supply = true;
      if (const auto at = limit_.supplies.find(supply); at != limit_.supplies.end())
        figure.carried = at->second.amps;
      figure.spares = spares_.ofSupply(supply, figure.carried);
      out_.lost[supply] = std::move(figure);
    }
    for (std::size_t c = 0; c < placed.chains.size(); ++c)
      if (faults.worstGate[c] >= 0)
        out_.worst[run(placed, static_cast<std::int32_t>(c))] = {gateOf(placed, faults.worstGate[c]).id,
                                                                 faults.worst[c]};
  }

 private:
  const YardNetwork::Gate& gateOf(const Placed& placed, std::int32_t gate) const {
    return net_.gates[placed.gates[static_cast<std::size_t>(gate)]];
  }
  Id run(const Placed& placed, std::int32_t chain) const {
    return net_.built.chainRun[placed.chains[static_cast<std::size_t>(chain)]];
  }
  RunPlace place(const Placed& placed, std::int32_t chain, std::int32_t k) const {
    return chain < 0 ? RunPlace{} : RunPlace{run(placed, chain), std::int64_t{k} + 1};
  }

  /// Gates first, then supplies.
  Id lost(const Placed& placed, std::int32_t number) const {
    if (number < 0) return {};
    const auto i = static_cast<std::size_t>(number), gates = placed.gates.size();
    return i < gates ? gateOf(placed, number).id
                     : Id{net_.built.network.sources[placed.sources[i - gates]].tag};
  }

  double carried(const YardNetwork::Gate& gate) const {
    if (const auto feed = limit_.feeds.find(gate.feed); feed != limit_.feeds.end()) return feed->second.amps;
    if (const auto port = limit_.portAmps.find(gate.id); port != limit_.portAmps.end()) return port->second;
    const auto cable = limit_.cables.find(gate.cable);
    return cable == limit_.cables.end() ? 0.0 : std::abs(cable->second.positiveAmps);
  }

  LossFigure loss(const Placed& placed, const PartLoss& from) const {
    LossFigure to;
    to.dark = from.dark;
    to.low = from.low;
    to.worst = place(placed, from.chain, from.pixel);
    to.volts = from.volts;
    to.lowest = from.lowest;
    if (from.gate >= 0) {
      to.next = gateOf(placed, from.gate).id;
      to.nextFuse = gateOf(placed, from.gate).fuse;
      to.nextAmps = from.amps;
      to.nextBefore = from.before;
      to.nextShare = from.fuseShare;
    }
    to.wireShare = from.wireShare;
    to.wireAmps = from.wireAmps;
    to.wireLimit = from.wireLimit;
    if (from.wireGate >= 0) to.wireGate = gateOf(placed, from.wireGate).id;
    to.wireAt = place(placed, from.wireChain, from.wireSegment);
    to.follows = from.follows;
    to.afterwards = from.afterwards;
    if (from.source >= 0) {
      to.nextSupply =
          Id{net_.built.network.sources[placed.sources[static_cast<std::size_t>(from.source)]].tag};
      to.nextSupplyAmps = from.sourceAmps;
    }
    to.crossing = from.crossing;
    to.crossingAt = place(placed, from.crossingChain, from.crossingSegment);
    return to;
  }

  ShortFigure shortAt(const Placed& placed, const YardNetwork::Gate& gate, const PartShort& from) const {
    ShortFigure to;
    to.gate = gate.id;
    to.feed = gate.feed;
    to.at = place(placed, from.chain, from.pixel);
    to.fuse = gate.fuse;
    to.end = from.end;
    to.prospective = from.prospective;
    to.amps = from.amps;
    to.least = from.least;
    to.most = from.most;
    to.wireAmps = from.wireAmps;
    to.wireLimit = from.wireLimit;
    to.wireAt = place(placed, from.wireChain, from.wireSegment);
    return to;
  }

  const YardNetwork& net_;
  const Power& limit_;
  const Spares& spares_;
  Faults& out_;
};

}  // namespace

const LossFigure* Faults::ofFeed(Id feed) const {
  for (const auto& [id, figure] : lost)
    if (figure.feed == feed) return &figure;
  return nullptr;
}

Faults faultsOf(const yard::Yard& yard, const Routes& routes, const Layouts& layouts, const YardNetwork& net,
                const Power& limit, const Faults* old) {
  Faults out;
  const Spares spares(yard, routes, limit);
  Namer namer(net, limit, spares, out);
  std::vector<Placed> placed = Parter(yard, routes, layouts, net).run();
  for (const Placed& p : placed) {
    std::shared_ptr<const PartFaults> faults;
    if (old != nullptr)
      for (const Faults::Answered& known : old->parts)
        if (same(*known.part, *p.part)) {
          faults = known.faults;
          break;
        }
    if (faults == nullptr) faults = std::make_shared<const PartFaults>(faultsOf(*p.part));
    namer.take(p, *faults);
    out.parts.push_back({p.part, faults});
  }
  out.zeroOpen = zeroOpen(yard, net);
  return out;
}

}  // namespace yw::circuit
