#include "core/circuit/power.h"

#include <algorithm>
#include <cmath>

#include "core/circuit/yard_network.h"

namespace yw::circuit {

namespace {

using namespace yw::yard;

double ampsOf(const Solution& solution, std::int64_t conductor) {
  return conductor < 0 ? 0.0 : solution.conductorAmps[static_cast<std::size_t>(conductor)];
}

/// What the pixels of one chain do.
RunFigure runFigure(const Network& network, const Solution& solution, std::size_t chain,
                    const RunLayout& layout) {
  RunFigure figure;
  figure.volts = solution.volts[chain];
  figure.zeroVolts = solution.zeroVolts[chain];
  figure.fed = solution.fed[chain];
  const std::size_t n = figure.volts.size();
  figure.segmentAmps.resize(n);
  for (std::size_t k = 0; k < n; ++k) {
    figure.segmentAmps[k] =
        k == 0 ? 0.0
               : std::max(std::abs(solution.positiveAmps[chain][k]), std::abs(solution.zeroAmps[chain][k]));
    const Load& load = network.loads[static_cast<std::size_t>(network.chains[chain].load[k])];
    figure.totalAmps += figure.fed[k] ? evaluate(load, figure.volts[k]).amps : 0.0;
    if (!figure.fed[k] || !layout.pixels[k].prop) continue;
    if (figure.lowestPixel == 0 || figure.volts[k] < figure.lowestVolts) {
      figure.lowestPixel = static_cast<std::int64_t>(k) + 1;
      figure.lowestVolts = figure.volts[k];
    }
  }
  const Solution::ChainState& state = solution.chainStates[chain];
  if (state.state == Solution::State::NoOperatingPoint) {
    figure.noOperatingPoint = true;
    figure.loadFactor = state.loadFactor;
    figure.weakestPixel =
        state.weakestChain == chain ? static_cast<std::int64_t>(state.weakestPixel) + 1 : figure.lowestPixel;
  }
  return figure;
}

void addCables(Power& power, const YardNetwork& built, const Solution& solution, const Layouts& layouts) {
  for (const auto& [key, place] : built.cables)
    power.cables[key] = {ampsOf(solution, place.positive), ampsOf(solution, place.zero)};
  for (std::size_t c = 0; c < built.chainRun.size(); ++c)
    for (const auto& [place, keys] : layouts.at(built.chainRun[c])->cablesBefore) {
      if (place == 0) continue;
      const auto k = static_cast<std::size_t>(place);
      for (const CableKey& key : keys)
        power.cables[key] = {solution.positiveAmps[c][k], solution.zeroAmps[c][k]};
    }
}

void addPorts(Power& power, const Yard& yard) {
  for (const auto& [runId, run] : all<Run>(yard)) {
    const Port* port = find<Port>(yard, run->port);
    if (port == nullptr) continue;
    double amps = 0.0;
    for (auto it = power.cables.lower_bound({routes::CableRole::Lead, runId, 0});
         it != power.cables.end() && it->first.role == routes::CableRole::Lead && it->first.of == runId; ++it)
      amps = std::max(amps, std::abs(it->second.positiveAmps));
    power.portAmps[run->port] += amps;
    power.sectionAmps[{port->owner, port->section}] += amps;
    if (const auto figure = power.runs.find(runId); figure != power.runs.end())
      figure->second.portAmps = amps;
  }
}

void addFeeds(Power& power, const YardNetwork& built, const Solution& solution) {
  for (const auto& [id, place] : built.feeds) {
    FeedFigure figure;
    figure.feed = id;
    figure.fusePosition = place.fusePosition;
    figure.run = place.run;
    figure.runPixel = static_cast<std::int64_t>(place.place) + 1;
    figure.amps = ampsOf(solution, built.cables.at({routes::CableRole::Feed, id, 0}).positive);
    figure.voltsAtPixel = solution.volts[place.chain][place.place];
    if (place.supplyPositive >= 0)
      figure.voltsAtFuse = solution.nodeVolts[static_cast<std::size_t>(place.supplyPositive)] -
                           solution.nodeVolts[static_cast<std::size_t>(place.supplyZero)] -
                           figure.amps * place.fuseOhms;
    power.feeds[id] = figure;
  }
}

/// Supplies, then what they take from the house. Line current = P/(V·η·PF): a switching-supply technical
/// manual.
void addMains(Power& power, const Yard& yard, const YardNetwork& built, const Solution& solution) {
  for (const auto& [id, circuit] : all<HouseCircuit>(yard)) power.circuits[id] = {};
  for (const auto& [id, supply] : all<Supply>(yard)) {
    const auto source = built.supplySource.find(id);
    SupplyFigure figure;
    if (source != built.supplySource.end()) figure.amps = solution.sourceAmps[source->second];
    figure.watts = base::volts(supply->voltage).si * std::max(0.0, figure.amps);
    const Outlet* outlet = find<Outlet>(yard, supply->outlet);
    const HouseCircuit* circuit = outlet == nullptr ? nullptr : find<HouseCircuit>(yard, outlet->circuit);
    const double line = circuit == nullptr ? 120.0 : base::volts(circuit->voltage).si;
    const double share = base::fraction(supply->efficiency) * base::fraction(supply->powerFactor);
    figure.lineAmps = share > 0 && line > 0 ? figure.watts / (line * share) : 0.0;
    power.supplies[id] = figure;
    if (outlet != nullptr)
      power.cables[{routes::CableRole::MainsCord, id, 0}] = {figure.lineAmps, figure.lineAmps};
    if (circuit == nullptr) continue;
    power.circuits[outlet->circuit].amps += figure.lineAmps;
    power.circuits[outlet->circuit].leakage += base::amps(supply->leakage).si;
  }
  for (const auto& [id, load] : all<OtherLoad>(yard))
    if (find<HouseCircuit>(yard, load->circuit) != nullptr) {
      power.circuits[load->circuit].amps += base::amps(load->amps).si;
      power.circuits[load->circuit].standing += base::amps(load->amps).si;
    }
}

}  // namespace

Power compute(const Yard& yard, const Shapes& shapes, const Routes& routes, const Layouts& layouts,
              Condition condition) {
  const YardNetwork built = buildYard(yard, shapes, routes, layouts, condition);
  const Solution solution = solve(built.network);
  Power power;
  power.condition = condition;
  for (const auto& [run, layout] : layouts)
    if (layout->pixels.empty()) power.runs[run] = {};
  for (std::size_t c = 0; c < built.chainRun.size(); ++c)
    power.runs[built.chainRun[c]] = runFigure(built.network, solution, c, *layouts.at(built.chainRun[c]));
  addCables(power, built, solution, layouts);
  addPorts(power, yard);
  addFeeds(power, built, solution);
  addMains(power, yard, built, solution);
  return power;
}

}  // namespace yw::circuit
