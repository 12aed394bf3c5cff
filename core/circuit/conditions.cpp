#include "core/circuit/conditions.h"

#include <algorithm>
#include <cmath>

#include "core/circuit/engine.h"
#include "core/circuit/yard_network.h"

namespace yw::circuit {

namespace {

Levels alone(ColorFigure::Color color, double level) {
  switch (color) {
    case ColorFigure::Color::Red:
      return {level, 0.0, 0.0, 0.0};
    case ColorFigure::Color::Green:
      return {0.0, level, 0.0, 0.0};
    case ColorFigure::Color::Blue:
      return {0.0, 0.0, level, 0.0};
    case ColorFigure::Color::White:
      break;
  }
  return {0.0, 0.0, 0.0, level};
}

bool hasWhite(const YardNetwork& net) {
  return std::any_of(net.loadOf.begin(), net.loadOf.end(), [](const YardNetwork::LoadOf& of) {
    return of.product != nullptr && of.product->channels != 3;
  });
}

ColorFigure read(const yard::Yard& yard, const YardNetwork& net, const Solution& s,
                 ColorFigure::Color color) {
  ColorFigure figure;
  figure.color = color;
  for (const auto& [id, source] : net.sourceOf) {
    const double amps = s.sourceAmps[source];
    figure.supplyAmps[id] = amps;
    figure.amps += amps;
    figure.watts += std::max(0.0, amps) * base::volts(yard::find<yard::Supply>(yard, id)->voltage).si;
  }
  for (const auto& [run, lead] : net.leads)
    if (lead.positive >= 0)
      figure.portAmps[yard::find<yard::Run>(yard, run)->port] +=
          std::abs(s.conductorAmps[static_cast<std::size_t>(lead.positive)]);
  double most = -1e9;
  for (std::size_t c = 0; c < net.built.network.chains.size(); ++c)
    for (std::size_t k = 0; k < s.volts[c].size(); ++k) {
      const auto& of = net.loadOf[static_cast<std::size_t>(net.built.network.chains[c].load[k])];
      if (of.product == nullptr || of.null || !s.fed[c][k]) continue;
      const double nominal = base::volts(of.product->voltage).si;
      const double room = nominal - base::volts(of.product->lowestVolts).si;
      const double used = (nominal - s.volts[c][k]) / std::max(room, 1e-6);
      if (used <= most) continue;
      most = used;
      figure.run = net.built.chainRun[c];
      figure.place = static_cast<std::int64_t>(k) + 1;
      figure.volts = s.volts[c][k];
    }
  return figure;
}

}  // namespace

std::vector<ColorFigure> colorsOf(const yard::Yard& yard, const YardNetwork& net) {
  const double level = base::fraction(yard::settings(yard).brightnessLimit);
  Engine engine(net.built.network);
  std::vector<ColorFigure> all;
  for (const auto color : {ColorFigure::Color::Red, ColorFigure::Color::Green, ColorFigure::Color::Blue,
                           ColorFigure::Color::White}) {
    if (color == ColorFigure::Color::White && !hasWhite(net)) continue;
    engine.setLoads(net.loads(alone(color, level)));
    all.push_back(read(yard, net, engine.solution(), color));
  }
  return all;
}

TintFigure tintOf(const yard::Yard& yard, const RunLayout& layout, const RunFigure& figure) {
  const double least = base::fraction(yard::settings(yard).tintLimit);
  TintFigure tint;
  Id prop;
  const yard::Product* product = nullptr;
  for (std::size_t k = 0; k < figure.volts.size(); ++k) {
    const Id at = layout.pixels[k].prop;
    if (!at) continue;
    if (at != prop) product = yard::productOf(yard, *yard::find<yard::Prop>(yard, prop = at));
    if (product == nullptr || !figure.fed[k] || figure.volts[k] < base::volts(product->darkVolts).si)
      continue;
    const double white = tintOf(*product, figure.volts[k]).whiteness();
    tint.whiteness = std::min(tint.whiteness, white);
    if (white >= least) continue;
    if (tint.firstPlace == 0) tint.firstPlace = static_cast<std::int64_t>(k) + 1;
    ++tint.count;
  }
  return tint;
}

}  // namespace yw::circuit
