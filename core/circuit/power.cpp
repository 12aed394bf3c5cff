#include <algorithm>
#include <cmath>

#include "core/circuit/conditions.h"
#include "core/circuit/engine.h"
#include "core/circuit/yard_network.h"

namespace yw::circuit {

namespace {

class Reader {
 public:
  /// `loads`: those of the condition.
  Reader(const yard::Yard& yard, const Layouts& layouts, Condition condition, const YardNetwork& net,
         const std::vector<Load>& loads, const Solution& s)
      : yard_(yard), layouts_(layouts), net_(net), s_(s), curves_(loads.begin(), loads.end()) {
    out_.condition = condition;
  }

  Power read() {
    for (const auto& [id, layout] : layouts_) run(id, *layout);
    sections();
    cables();
    feeds();
    supplies();
    return std::move(out_);
  }

 private:
  double conductor(std::int32_t index) const {
    return index < 0 ? 0.0 : s_.conductorAmps[static_cast<std::size_t>(index)];
  }
  double node(std::int32_t index) const {
    return index < 0 ? 0.0 : s_.nodeVolts[static_cast<std::size_t>(index)];
  }

  void run(Id id, const RunLayout& layout) {
    RunFigure& figure = out_.runs[id];
    const auto chain = net_.chainOf.find(id);
    if (chain == net_.chainOf.end()) return;
    const std::size_t c = chain->second;
    figure.volts = s_.volts[c];
    figure.zeroVolts = s_.zeroVolts[c];
    figure.fed = s_.fed[c];
    const auto lead = net_.leads.find(id);
    YardNetwork::Rails ends;
    if (lead != net_.leads.end()) ends = lead->second;
    figure.portAmps = std::abs(conductor(ends.positive));
    figure.segmentAmps.push_back(std::max(figure.portAmps, std::abs(conductor(ends.zero))));
    for (std::size_t k = 1; k < figure.volts.size(); ++k)
      figure.segmentAmps.push_back(std::max(std::abs(s_.positiveAmps[c][k]), std::abs(s_.zeroAmps[c][k])));
    totals(figure, layout, c);
    states(figure, c);
    const auto& run = *yard::find<yard::Run>(yard_, id);
    if (yard::find<yard::Port>(yard_, run.port) != nullptr) out_.portAmps[run.port] += figure.portAmps;
    gaps(layout, c, ends);
  }

  void totals(RunFigure& figure, const RunLayout& layout, std::size_t c) const {
    const Chain& chain = net_.built.network.chains[c];
    for (std::size_t k = 0; k < figure.volts.size(); ++k) {
      if (!figure.fed[k]) continue;
      figure.totalAmps += curves_[static_cast<std::size_t>(chain.load[k])].amps(figure.volts[k]);
      if (!layout.pixels[k].prop || (figure.lowestPixel > 0 && figure.volts[k] >= figure.lowestVolts))
        continue;
      figure.lowestPixel = static_cast<std::int64_t>(k) + 1;
      figure.lowestVolts = figure.volts[k];
    }
  }

  void states(RunFigure& figure, std::size_t c) const {
    const Solution::ChainState& state = s_.chainStates[c];
    if (state.state != Solution::State::NoOperatingPoint) return;
    figure.noOperatingPoint = true;
    figure.loadFactor = state.loadFactor;
    figure.weakestPixel =
        state.weakestChain == c ? static_cast<std::int64_t>(state.weakestPixel) + 1 : figure.lowestPixel;
  }

  /// The run's lead and jumpers: all cables of one gap carry the same.
  void gaps(const RunLayout& layout, std::size_t c, const YardNetwork::Rails& lead) {
    for (const auto& [place, keys] : layout.cablesBefore)
      for (const CableKey& key : keys) {
        const auto k = static_cast<std::size_t>(place);
        out_.cables[key] = place == 0 ? CableFigure{conductor(lead.positive), -conductor(lead.zero)}
                                      : CableFigure{s_.positiveAmps[c][k], -s_.zeroAmps[c][k]};
      }
  }

  void sections() {
    const auto all = [&](Id id, const std::vector<yard::PowerSection>& list) {
      for (std::size_t s = 1; s <= list.size(); ++s)
        out_.sectionAmps[{id, static_cast<std::int64_t>(s)}] = 0.0;
    };
    for (const auto& [id, controller] : yard::all<yard::Controller>(yard_)) all(id, controller->sections);
    for (const auto& [id, receiver] : yard::all<yard::Receiver>(yard_)) all(id, receiver->sections);
    for (const auto& [id, amps] : out_.portAmps) {
      const auto& port = *yard::find<yard::Port>(yard_, id);
      const auto it = out_.sectionAmps.find({port.owner, port.section});
      if (it != out_.sectionAmps.end()) it->second += amps;
    }
  }

  void cables() {
    for (const auto& [key, at] : net_.cables)
      out_.cables[key] = {conductor(at.positive), -conductor(at.zero)};
  }

  void feeds() {
    for (const auto& [id, end] : net_.feeds) {
      FeedFigure& figure = out_.feeds[id];
      figure.feed = id;
      figure.fusePosition = end.fusePosition;
      figure.amps = std::abs(out_.cables[{routes::CableRole::Feed, id, 0}].positiveAmps);
      figure.voltsAtFuse = node(end.atFuse.positive) - node(end.atFuse.zero);
      if (end.place < 0) continue;
      figure.run = end.run;
      figure.runPixel = end.place + 1;
      figure.voltsAtPixel = s_.volts[net_.chainOf.at(end.run)][static_cast<std::size_t>(end.place)];
    }
  }

  void supplies() {
    for (const auto& [id, source] : net_.sourceOf) {
      SupplyFigure& figure = out_.supplies[id];
      figure.amps = s_.sourceAmps[source];
      figure.watts =
          std::max(0.0, figure.amps) * base::volts(yard::find<yard::Supply>(yard_, id)->voltage).si;
    }
  }

  const yard::Yard& yard_;
  const Layouts& layouts_;
  const YardNetwork& net_;
  const Solution& s_;
  std::vector<LoadCurve> curves_;
  Power out_;
};

}  // namespace

Power compute(const YardNetwork& net, const yard::Yard& yard, const Routes& routes, const Layouts& layouts,
              Condition condition) {
  Engine engine(net.built.network);
  std::vector<Load> loads = net.loads(levelsUnder(yard, condition));
  engine.setLoads(loads);
  const Solution solution = engine.solution();
  Power power = Reader(yard, layouts, condition, net, loads, solution).read();
  for (const auto& [id, figure] : power.runs) power.tints[id] = tintOf(yard, *layouts.at(id), figure);
  takeFromHouse(yard, routes, power);
  return power;
}

Power compute(const yard::Yard& yard, const Shapes& shapes, const Routes& routes, const Layouts& layouts,
              Condition condition) {
  return compute(networkOf(yard, shapes, routes, layouts), yard, routes, layouts, condition);
}

}  // namespace yw::circuit
