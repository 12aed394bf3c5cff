#include "core/circuit/unknowns.h"

#include <algorithm>
#include <cmath>

#include "core/circuit/joined_sets.h"
#include "core/circuit/load_curve.h"
#include "core/circuit/normal.h"

namespace yw::circuit {

namespace {

/// Extra current of the solve that tells sensitivities, A: small against any pixel's, large against rounding.
constexpr double kProbeAmps = 1e-4;

Load scaledLoad(Load load, double factor) {
  load.idle *= factor;
  load.watts *= factor;
  for (Load::Channel& channel : load.channels) {
    channel.amps *= factor;
    channel.ohms /= factor;
  }
  return load;
}

class Maker {
 public:
  Maker(const yard::Yard& yard, const Shapes& shapes, const Routes& routes, const Layouts& layouts)
      : yard_(yard), routes_(routes), layouts_(layouts), settings_(yard::settings(yard)), perMetre_(yard) {
    out_.net = networkOf(yard, shapes, routes, layouts, Condition::BrightnessLimit);
    std::int32_t node = network().extraNodes;
    for (const Chain& chain : network().chains) {
      firstNode_.push_back(node);
      node += 2 * static_cast<std::int32_t>(chain.load.size());
    }
  }

  UncertainYard make() {
    split();
    findUnknowns();
    for (JoinedPart& part : out_.parts) part.reach.resize(part.unknowns.size());
    for (const auto& [run, chain] : out_.net.chainOf) {
      loads(run, chain);
      segments(run, chain);
    }
    cables();
    sources();
    return std::move(out_);
  }

 private:
  const Network& network() const { return out_.net.built.network; }

  /// Extra nodes, then chains.
  std::size_t unitOf(std::int32_t node) const {
    if (node < network().extraNodes) return static_cast<std::size_t>(node);
    const auto it = std::upper_bound(firstNode_.begin(), firstNode_.end(), node);
    return static_cast<std::size_t>(network().extraNodes) +
           static_cast<std::size_t>(it - firstNode_.begin()) - 1;
  }

  void split() {
    const auto extra = static_cast<std::size_t>(network().extraNodes);
    JoinedSets joined(extra + network().chains.size());
    for (const Conductor& c : network().conductors)
      if (std::isfinite(c.ohms)) joined.join(unitOf(c.a), unitOf(c.b));
    for (const Source& s : network().sources) joined.join(unitOf(s.positive), unitOf(s.zero));
    // Only what has pixels is a part.
    std::map<std::size_t, std::size_t> partOf;
    for (std::size_t c = 0; c < network().chains.size(); ++c) {
      const auto [it, made] = partOf.emplace(joined.root(extra + c), out_.parts.size());
      if (made) out_.parts.emplace_back();
      JoinedPart& part = out_.parts[it->second];
      out_.runPlace[out_.net.built.chainRun[c]] = {it->second, part.chains.size()};
      part.chains.push_back(c);
      part.runs.push_back(out_.net.built.chainRun[c]);
      part.network.chains.push_back(network().chains[c]);
    }
    nodeIn_.assign(extra, -1);
    partOfNode_.assign(extra, -1);
    for (std::size_t n = 0; n < extra; ++n) {
      const auto it = partOf.find(joined.root(n));
      if (it == partOf.end()) continue;
      JoinedPart& part = out_.parts[it->second];
      partOfNode_[n] = static_cast<std::int32_t>(it->second);
      nodeIn_[n] = part.network.extraNodes++;
      part.extraNode.push_back(static_cast<std::int32_t>(n));
    }
    for (JoinedPart& part : out_.parts) {
      part.network.loads = network().loads;
      part.eachSigma.assign(network().loads.size(), 0.0);
    }
    elements(partOf, joined);
  }

  std::int32_t nodeInPart(const JoinedPart& part, std::int32_t node) const {
    if (node < network().extraNodes) return nodeIn_[static_cast<std::size_t>(node)];
    const std::size_t unit = unitOf(node), c = unit - static_cast<std::size_t>(network().extraNodes);
    const std::size_t chain = out_.runPlace.at(out_.net.built.chainRun[c]).second;
    return part.network.positiveNode(chain, 0) + (node - firstNode_[c]);
  }

  void elements(const std::map<std::size_t, std::size_t>& partOf, JoinedSets& joined) {
    conductorIn_.assign(network().conductors.size(), {-1, 0});
    for (std::size_t i = 0; i < network().conductors.size(); ++i) {
      const Conductor& c = network().conductors[i];
      const auto it = partOf.find(joined.root(unitOf(c.a))), other = partOf.find(joined.root(unitOf(c.b)));
      if (it == partOf.end() || other == partOf.end() || it->second != other->second) continue;
      JoinedPart& part = out_.parts[it->second];
      conductorIn_[i] = {static_cast<std::int32_t>(it->second),
                         static_cast<std::uint32_t>(part.conductors.size())};
      part.conductors.push_back(i);
      part.network.conductors.push_back({nodeInPart(part, c.a), nodeInPart(part, c.b), c.ohms, c.tag});
    }
    for (std::size_t i = 0; i < network().sources.size(); ++i) {
      const Source& s = network().sources[i];
      const auto it = partOf.find(joined.root(unitOf(s.positive)));
      if (it == partOf.end()) continue;
      JoinedPart& part = out_.parts[it->second];
      part.sources.push_back(i);
      part.network.sources.push_back(
          {nodeInPart(part, s.positive), nodeInPart(part, s.zero), s.volts, s.ohms, s.tag});
    }
  }

  double sigmaOf(const Unknown& u) const {
    switch (u.kind) {
      case UnknownKind::PixelCurrent: {
        const auto* product = yard::find<yard::Product>(yard_, u.of);
        return logSigma(product != nullptr ? static_cast<double>(product->spreadPercent) / 100.0 : 0.0);
      }
      case UnknownKind::JointResistance:
        return logSigma(base::fraction(settings_.jointSpread));
      case UnknownKind::WireResistance: {
        const auto* wire = yard::find<yard::Wire>(yard_, u.of);
        return logSigma(base::fraction(wire != nullptr ? wire->tolerance : yard::Wire{}.tolerance));
      }
      default: {
        const auto* supply = yard::find<yard::Supply>(yard_, u.of);
        return supply != nullptr ? base::fraction(supply->voltageSpread) / kNineteenInTwenty : 0.0;
      }
    }
  }

  /// The product of each place; of a null pixel that of the next place that has one, else of the last.
  std::vector<Id> productsOf(const RunLayout& layout) const {
    std::vector<Id> products(layout.pixels.size());
    Id prop, product;
    for (std::size_t k = 0; k < products.size(); ++k) {
      if (layout.pixels[k].prop && layout.pixels[k].prop != prop) {
        prop = layout.pixels[k].prop;
        product = yard::productIdOf(yard_, *yard::find<yard::Prop>(yard_, prop));
      }
      products[k] = product;
    }
    Id next;
    for (std::size_t k = products.size(); k-- > 0;) {
      if (layout.pixels[k].prop)
        next = products[k];
      else if (next)
        products[k] = next;
    }
    return products;
  }

  void findUnknowns() {
    std::map<Unknown, std::vector<std::size_t>> found;  // and the parts it is in
    const auto note = [&](Unknown u, std::size_t part) {
      auto& in = found[u];
      if (in.empty() || in.back() != part) in.push_back(part);
    };
    for (std::size_t p = 0; p < out_.parts.size(); ++p) {
      const JoinedPart& part = out_.parts[p];
      for (const Id run : part.runs) {
        const RunLayout& layout = *layouts_.at(run);
        Id last;
        for (const Id product : productsOf(layout))
          if (product && product != last) note({UnknownKind::PixelCurrent, last = product}, p);
        for (std::size_t k = 0; k < layout.wire.size(); ++k)
          if (layout.wireBefore[k] > 0.0 && (k < 2 || layout.wire[k] != layout.wire[k - 1]))
            note({UnknownKind::WireResistance, layout.wire[k]}, p);
        for (const auto& [place, keys] : layout.cablesBefore)
          for (const CableKey& key : keys)
            note({UnknownKind::WireResistance, routes_.cables.at(key).wire}, p);
      }
      note({UnknownKind::JointResistance, {}}, p);
      for (const Source& s : part.network.sources) note({UnknownKind::SupplyVolts, Id{s.tag}}, p);
    }
    for (const auto& [key, ends] : out_.net.cables)
      for (const std::int32_t conductor : {ends.positive, ends.zero})
        if (conductor >= 0 && conductorIn_[static_cast<std::size_t>(conductor)].first >= 0) {
          auto& in = found[{UnknownKind::WireResistance, routes_.cables.at(key).wire}];
          const auto part = static_cast<std::size_t>(conductorIn_[static_cast<std::size_t>(conductor)].first);
          if (std::find(in.begin(), in.end(), part) == in.end()) in.push_back(part);
        }
    for (const auto& [u, parts] : found) {
      for (const std::size_t p : parts)
        if (out_.parts[p].unknowns.empty() || out_.parts[p].unknowns.back() != out_.unknowns.size())
          out_.parts[p].unknowns.push_back(out_.unknowns.size());
      out_.unknowns.push_back(u);
      out_.sigma.push_back(sigmaOf(u));
    }
  }

  JoinedPart::Reach& reachOf(JoinedPart& part, const Unknown& u) {
    const auto global = static_cast<std::size_t>(
        std::lower_bound(out_.unknowns.begin(), out_.unknowns.end(), u) - out_.unknowns.begin());
    const auto at = std::lower_bound(part.unknowns.begin(), part.unknowns.end(), global);
    return part.reach[static_cast<std::size_t>(at - part.unknowns.begin())];
  }

  void loads(Id run, std::size_t) {
    const auto [p, c] = out_.runPlace.at(run);
    JoinedPart& part = out_.parts[p];
    part.jointSigma = logSigma(base::fraction(settings_.jointSpread));
    const Chain& chain = part.network.chains[c];
    const auto products = productsOf(*layouts_.at(run));
    std::int32_t last = -1;
    for (std::size_t k = 0; k < products.size(); ++k) {
      if (!products[k] || chain.load[k] == last) continue;
      last = chain.load[k];
      auto& list = reachOf(part, {UnknownKind::PixelCurrent, products[k]}).loads;
      const auto load = static_cast<std::uint32_t>(last);
      if (std::find(list.begin(), list.end(), load) == list.end()) list.push_back(load);
      const auto* product = yard::find<yard::Product>(yard_, products[k]);
      if (product != nullptr)
        part.eachSigma[load] = logSigma(static_cast<double>(product->eachPercent) / 100.0);
    }
  }

  void segments(Id run, std::size_t) {
    const auto [p, c] = out_.runPlace.at(run);
    JoinedPart& part = out_.parts[p];
    const RunLayout& layout = *layouts_.at(run);
    const Chain& chain = part.network.chains[c];
    const auto add = [&](const Unknown& u, std::size_t k, double ohms, double contacts) {
      const double positive = std::isfinite(chain.positive[k]) ? ohms : 0.0;
      const double zero = std::isfinite(chain.zero[k]) ? ohms : 0.0;
      if (ohms > 0.0)
        reachOf(part, u).segments.push_back(
            {static_cast<std::uint32_t>(c), static_cast<std::uint32_t>(k), positive, zero, contacts});
    };
    Unknown wire{UnknownKind::WireResistance, {}};
    for (std::size_t k = 1; k < layout.pixels.size(); ++k) {
      if (layout.cablesBefore.contains(static_cast<std::int64_t>(k))) continue;
      wire.of = layout.wire[k];
      add(wire, k, layout.wireBefore[k] * perMetre_(wire.of), 0.0);
    }
    const double joint = base::ohms(settings_.jointResistance).si;
    for (const auto& [place, keys] : layout.cablesBefore) {
      if (place == 0) continue;
      const auto k = static_cast<std::size_t>(place);
      for (const CableKey& key : keys) {
        const auto& cable = routes_.cables.at(key);
        add({UnknownKind::WireResistance, cable.wire}, k, cable.length() * perMetre_(cable.wire), 0.0);
        add({UnknownKind::JointResistance, {}}, k, kContacts * joint, kContacts);
      }
    }
  }

  void cable(const routes::RoutedCable& cable, std::int32_t conductor) {
    if (conductor < 0) return;
    const auto [p, c] = conductorIn_[static_cast<std::size_t>(conductor)];
    if (p < 0) return;
    JoinedPart& part = out_.parts[static_cast<std::size_t>(p)];
    if (!std::isfinite(part.network.conductors[c].ohms)) return;
    reachOf(part, {UnknownKind::WireResistance, cable.wire})
        .joints.push_back({c, cable.length() * perMetre_(cable.wire), 0.0});
    reachOf(part, {UnknownKind::JointResistance, {}})
        .joints.push_back({c, kContacts * base::ohms(settings_.jointResistance).si, kContacts});
  }

  void cables() {
    for (const auto& [run, rails] : out_.net.leads) {
      const auto keys = layouts_.at(run)->cablesBefore.find(0);
      if (keys == layouts_.at(run)->cablesBefore.end()) continue;
      for (const CableKey& key : keys->second)
        for (const std::int32_t conductor : {rails.positive, rails.zero})
          cable(routes_.cables.at(key), conductor);
    }
    for (const auto& [key, rails] : out_.net.cables)
      for (const std::int32_t conductor : {rails.positive, rails.zero})
        cable(routes_.cables.at(key), conductor);
  }

  void sources() {
    for (JoinedPart& part : out_.parts)
      for (std::size_t s = 0; s < part.network.sources.size(); ++s)
        reachOf(part, {UnknownKind::SupplyVolts, Id{part.network.sources[s].tag}})
            .sources.push_back(static_cast<std::uint32_t>(s));
  }

  const yard::Yard& yard_;
  const Routes& routes_;
  const Layouts& layouts_;
  const yard::Settings& settings_;
  UncertainYard out_;
  std::vector<std::int32_t> firstNode_, nodeIn_, partOfNode_;
  std::vector<std::pair<std::int32_t, std::uint32_t>> conductorIn_;  ///< part (-1: none), number in it
  OhmsPerMetre perMetre_;
};

}  // namespace

Load scaled(const Load& load, double factor) { return scaledLoad(load, factor); }

double logSigma(double spread) { return spread > 0.0 ? seriesLog(1.0 + spread) / kNineteenInTwenty : 0.0; }

UncertainYard uncertain(const yard::Yard& yard, const Shapes& shapes, const Routes& routes,
                        const Layouts& layouts) {
  return Maker(yard, shapes, routes, layouts).make();
}

Network UncertainYard::at(const JoinedPart& part, const std::vector<double>& z) const {
  Network network = part.network;
  for (std::size_t i = 0; i < part.unknowns.size(); ++i) {
    const double step = sigma[part.unknowns[i]] * z[part.unknowns[i]];
    if (step == 0.0) continue;
    const JoinedPart::Reach& reach = part.reach[i];
    const double factor = seriesExp(step), more = factor - 1.0;
    for (const auto& s : reach.segments) {
      network.chains[s.chain].positive[s.pixel] += more * s.positive;
      network.chains[s.chain].zero[s.pixel] += more * s.zero;
    }
    for (const auto& j : reach.joints) network.conductors[j.conductor].ohms += more * j.ohms;
    for (const std::uint32_t s : reach.sources)
      network.sources[s].volts = std::max(0.0, network.sources[s].volts * (1.0 + step));
    for (const std::uint32_t l : reach.loads) network.loads[l] = scaled(network.loads[l], factor);
  }
  return network;
}

Sensitivity sensitivity(const UncertainYard& yard, const JoinedPart& part, const std::vector<double>& z,
                        const Network& network, const Solution& solution, std::size_t chain,
                        std::size_t pixel) {
  Network probed = network;
  Load load = network.loads[static_cast<std::size_t>(network.chains[chain].load[pixel])];
  load.idle += kProbeAmps;
  probed.chains[chain].load[pixel] = static_cast<std::int32_t>(probed.loads.size());
  probed.loads.push_back(load);
  const Solution other = solve(probed);
  const auto change = [](double after, double before) { return (after - before) / kProbeAmps; };

  // Volts lost for each factor on a load's current, summed by load.
  std::vector<double> byLoad(network.loads.size(), 0.0);
  double pixels = 0.0;
  for (std::size_t c = 0; c < network.chains.size(); ++c)
    for (std::size_t k = 0; k < network.chains[c].load.size(); ++k) {
      const auto l = static_cast<std::size_t>(network.chains[c].load[k]);
      const double one = change(other.volts[c][k], solution.volts[c][k]) *
                         evaluate(network.loads[l], solution.volts[c][k]).amps;
      byLoad[l] += one;
      pixels += one * one * part.eachSigma[l] * part.eachSigma[l];
    }
  Sensitivity out;
  double joints = 0.0;
  for (std::size_t i = 0; i < part.unknowns.size(); ++i) {
    const double sigma = yard.sigma[part.unknowns[i]], factor = seriesExp(sigma * z[part.unknowns[i]]);
    const JoinedPart::Reach& reach = part.reach[i];
    double slope = 0.0;
    const auto resistance = [&](double lost, double contacts) {
      slope -= lost;
      if (contacts > 0.0) joints += lost * lost / contacts;
    };
    for (const auto& s : reach.segments) {
      const std::size_t c = s.chain, k = s.pixel;
      const double before = solution.positiveAmps[c][k], back = solution.zeroAmps[c][k];
      resistance(s.positive * factor * before * change(other.positiveAmps[c][k], before), s.contacts);
      resistance(s.zero * factor * back * change(other.zeroAmps[c][k], back), s.contacts);
    }
    for (const auto& j : reach.joints) {
      const double before = solution.conductorAmps[j.conductor];
      resistance(j.ohms * factor * before * change(other.conductorAmps[j.conductor], before), j.contacts);
    }
    for (const std::uint32_t l : reach.loads) slope += byLoad[l];
    slope *= sigma;
    for (const std::uint32_t s : reach.sources)
      slope += sigma * part.network.sources[s].volts * change(other.sourceAmps[s], solution.sourceAmps[s]);
    out.slope.push_back(slope);
  }
  out.eachPixel = std::sqrt(pixels);
  out.eachJoint = part.jointSigma * std::sqrt(joints);
  return out;
}

}  // namespace yw::circuit
