#include "core/circuit/mains.h"

#include <algorithm>
#include <cmath>

#include "core/base/message.h"
#include "core/catalog/conductors.h"
#include "core/circuit/power.h"

namespace yw::circuit {

double deratingAt(const yard::Supply& supply, double celsius) {
  const double from = base::celsius(supply.derateFrom), to = base::celsius(supply.derateTo);
  const double share = base::fraction(supply.derateShare);
  if (celsius <= from) return 1.0;
  if (celsius > to || to <= from) return 0.0;
  return 1.0 - (1.0 - share) * (celsius - from) / (to - from);
}

double lowLineShare(double lineVolts) {
  constexpr double kFull = 110.0, kLowest = 90.0, kShareAtLowest = 0.8;
  if (lineVolts >= kFull) return 1.0;
  if (lineVolts < kLowest) return 0.0;
  return kShareAtLowest + (1.0 - kShareAtLowest) * (lineVolts - kLowest) / (kFull - kLowest);
}

double heatOf(const yard::Supply& supply, double watts) {
  const double efficiency = base::fraction(supply.efficiency);
  return efficiency > 0.0 ? std::max(0.0, watts) * (1.0 / efficiency - 1.0) : 0.0;
}

namespace {

/// m² of wall: front, sides, top and bottom; the back only where it stands free.
double wallArea(double width, double height, double depth, bool backToo) {
  return (backToo ? 2.0 : 1.0) * width * height + 2.0 * depth * (width + height);
}

bool measured(const yard::Box& box) {
  return box.insideWidth.count > 0 && box.insideHeight.count > 0 && box.insideDepth.count > 0;
}

}  // namespace

BoxFigure boxHeat(const yard::Box& box, double heat, std::size_t supplies, double ambientCelsius) {
  BoxFigure out;
  out.heat = heat;
  out.assumedSize = !measured(box);
  const bool free = !box.wall;
  if (out.assumedSize)
    out.area = static_cast<double>(std::max<std::size_t>(supplies, 1)) *
               wallArea(base::metres(base::inches(kUsualBoxWidthInches)).si,
                        base::metres(base::inches(kUsualBoxHeightInches)).si,
                        base::metres(base::inches(kUsualBoxDepthInches)).si, free);
  else
    out.area = wallArea(base::metres(box.insideWidth).si, base::metres(box.insideHeight).si,
                        base::metres(box.insideDepth).si, free);
  if (box.cooling != yard::BoxCooling::OpenAir)
    out.rise =
        heat / (kWallHeatFlow * out.area) * (box.cooling == yard::BoxCooling::Vented ? kVentedShare : 1.0);
  out.inside = ambientCelsius + out.rise;
  return out;
}

CordLimit cordLimitOf(const yard::Wire& wire, double wholeLength) {
  CordLimit lowest;
  const auto consider = [&](double amps, const std::string& source) {
    if (amps > 0.0 && (lowest.amps == 0.0 || amps < lowest.amps)) lowest = {amps, source};
  };
  const auto say = [](const char* key, const yard::Wire& of) {
    return base::text(base::Message{key, {{"wire", of.name}}});
  };
  const int gauge = static_cast<int>(wire.gauge);
  consider(base::amps(wire.limit).si, say("mains_cord_printed", wire));
  consider(base::amps(wire.contactLimit).si, say("mains_cord_plugs", wire));
  const base::Length length{base::roundedCount(wholeLength * 1e9)};
  if (const auto set = catalog::cordSetLimit(gauge, length))
    consider(base::amps(*set).si, say("mains_cord_set", wire));
  if (const auto cord = catalog::cordLimit(gauge))
    consider(base::amps(*cord).si, say("mains_cord_table", wire));
  if (lowest.amps == 0.0) consider(routes::limitOf(wire).si, routes::limitSource(wire));
  return lowest;
}

namespace {

class House {
 public:
  House(const yard::Yard& yard, const Routes& routes, Power& power)
      : yard_(yard),
        routes_(routes),
        power_(power),
        settings_(yard::settings(yard)),
        boxes_(routes::boxCords(yard)) {}

  void fill() {
    cords();
    lineAmps();
    cordFigures();
    circuits();
    outlets();
    heat();
    energy();
  }

 private:
  struct Plugged {
    double line = kUsualLineVolts, inputVolts = kUsualLineVolts;
    double apparent = 0.0, real = 0.0;  ///< VA and W from the line
    std::vector<CableKey> way;
    Id outlet, circuit;
  };

  void cords() {
    for (const auto& [id, figure] : power_.supplies) {
      const auto& supply = *yard::find<yard::Supply>(yard_, id);
      Plugged& p = plugged_[id];
      p.way = routes::cordsTo(yard_, boxes_, id);
      if (const auto* outlet = yard::find<yard::Outlet>(yard_, supply.outlet)) {
        p.outlet = supply.outlet;
        if (const auto* circuit = yard::find<yard::HouseCircuit>(yard_, outlet->circuit)) {
          p.circuit = outlet->circuit;
          p.line = base::volts(circuit->voltage).si;
        }
      }
      p.inputVolts = p.line;
      const double efficiency = base::fraction(supply.efficiency);
      p.real = efficiency > 0.0 ? figure.watts / efficiency : 0.0;
      const double factor = base::fraction(supply.powerFactor);
      p.apparent = factor > 0.0 ? p.real / factor : 0.0;
      for (const CableKey& key : p.way) ohms_.try_emplace(key, loopOhms(key));
    }
  }

  const routes::RoutedCable* routed(const CableKey& key) const {
    const auto it = routes_.cables.find(key);
    return it == routes_.cables.end() ? nullptr : &it->second;
  }
  /// The whole cord counts, what lies coiled too.
  static double lengthOf(const routes::RoutedCable& cable) {
    return cable.cutLength.count > 0 ? base::metres(cable.cutLength).si : cable.length();
  }
  /// Both conductors; contacts are not counted.
  double loopOhms(const CableKey& key) const {
    const auto* cable = routed(key);
    const auto* wire = cable == nullptr ? nullptr : yard::find<yard::Wire>(yard_, cable->wire);
    return wire == nullptr ? 0.0 : 2.0 * routes::resistancePerMetre(*wire, settings_).si * lengthOf(*cable);
  }

  /// A supply takes the same watts at fewer volts, so that its amps rise with what the cords lose: repeated
  /// until still. Below half the line there is no operating point; it is held there.
  void lineAmps() {
    constexpr int kMostRounds = 200;
    constexpr double kStill = 1e-10;
    for (int round = 0; round < kMostRounds; ++round) {
      cordAmps_.clear();
      for (const auto& [id, p] : plugged_)
        for (const CableKey& key : p.way)
          cordAmps_[key] += p.inputVolts > 0.0 ? p.apparent / p.inputVolts : 0.0;
      double moved = 0.0;
      for (auto& [id, p] : plugged_) {
        double volts = p.line;
        for (const CableKey& key : p.way) volts -= cordAmps_[key] * ohms_.at(key);
        volts = std::max(volts, p.line / 2.0);
        moved = std::max(moved, std::abs(volts - p.inputVolts));
        p.inputVolts = volts;
      }
      if (moved < kStill) break;
    }
    for (const auto& [id, p] : plugged_) {
      power_.supplies[id].lineAmps = p.inputVolts > 0.0 ? p.apparent / p.inputVolts : 0.0;
      for (const CableKey& key : p.way) power_.cables[key] = {};
    }
    for (auto& [key, amps] : cordAmps_) amps = 0.0;
    for (const auto& [id, p] : plugged_)
      for (const CableKey& key : p.way) {
        cordAmps_[key] += power_.supplies[id].lineAmps;
        power_.cables[key] = {cordAmps_[key], cordAmps_[key]};
      }
  }

  void cordFigures() {
    for (const auto& [id, p] : plugged_) {
      double volts = p.line, length = 0.0;
      std::int64_t joints = 0, strips = 0;
      for (const CableKey& key : p.way) {
        CordFigure& cord = power_.mains.cords[key];
        cord.amps = cordAmps_[key];
        cord.lost = cord.amps * ohms_.at(key);
        volts -= cord.lost;
        cord.farVolts = volts;
        cord.lostShare = p.line > 0.0 ? (p.line - volts) / p.line : 0.0;
        if (const auto* cable = routed(key)) describe(cord, *cable, length, joints);
        cord.strips = strips++;
        joints = cord.joints + 1;  // the next cord's plug
      }
    }
  }

  void describe(CordFigure& cord, const routes::RoutedCable& cable, double& length,
                std::int64_t joints) const {
    length += lengthOf(cable);
    cord.wholeLength = length;
    cord.joints = joints;
    if (const auto* record = yard::find<yard::Cable>(yard_, cable.record))
      cord.joints += std::max<std::int64_t>(record->pieces, 1) - 1;
    if (cable.from.kind == yard::TerminalKind::Box) cord.before = cable.from.record;
    const auto* wire = yard::find<yard::Wire>(yard_, cable.wire);
    if (wire == nullptr) return;
    const CordLimit limit = cordLimitOf(*wire, length);
    cord.limit = limit.amps;
    cord.limitSource = limit.source;
  }

  void circuits() {
    for (const auto& [id, circuit] : yard::all<yard::HouseCircuit>(yard_)) power_.circuits[id] = {};
    for (const auto& [id, p] : plugged_) {
      if (!p.circuit) continue;
      const auto& supply = *yard::find<yard::Supply>(yard_, id);
      CircuitFigure& circuit = power_.circuits[p.circuit];
      circuit.amps += power_.supplies[id].lineAmps;
      circuit.leakage += base::amps(supply.leakage).si;
      circuit.inrush += base::amps(supply.inrush).si;
      circuit.watts += realWatts(p, id);
      ++circuit.supplies;
    }
    for (const auto& [id, load] : yard::all<yard::OtherLoad>(yard_)) {
      const auto circuit = power_.circuits.find(load->circuit);
      if (circuit == power_.circuits.end()) continue;
      circuit->second.amps += base::amps(load->amps).si;
      circuit->second.standing += base::amps(load->amps).si;
    }
  }

  /// With this supply's part of what the cords lose: I · (V line - V input), in phase with the current.
  double realWatts(const Plugged& p, Id id) const {
    return p.real + power_.supplies.at(id).lineAmps * (p.line - p.inputVolts);
  }

  void outlets() {
    for (const auto& [id, outlet] : yard::all<yard::Outlet>(yard_)) {
      OutletFigure& figure = power_.mains.outlets[id];
      figure.limit = base::amps(outlet->receptacle).si * kReceptacleShare;
    }
    std::map<CableKey, Id> plugs;
    for (const auto& [id, p] : plugged_)
      if (!p.way.empty() && p.outlet) plugs.emplace(p.way.front(), p.outlet);
    for (const auto& [key, outlet] : plugs) {
      OutletFigure& figure = power_.mains.outlets[outlet];
      figure.amps += cordAmps_[key];
      figure.worst = std::max(figure.worst, cordAmps_[key]);
      ++figure.plugs;
    }
    for (auto& [id, figure] : power_.mains.outlets)
      if (figure.plugs > yard::find<yard::Outlet>(yard_, id)->sockets) figure.worst = figure.amps;
  }

  void heat() {
    struct Inside {
      double heat = 0.0;
      std::size_t supplies = 0;
    };
    std::map<Id, Inside> inside;
    for (const auto& [id, p] : plugged_) {
      const auto& supply = *yard::find<yard::Supply>(yard_, id);
      SupplyMains& figure = power_.mains.supplies[id];
      figure.heat = heatOf(supply, power_.supplies[id].watts);
      if (yard::find<yard::Box>(yard_, supply.box) == nullptr) continue;
      inside[supply.box].heat += figure.heat;
      ++inside[supply.box].supplies;
    }
    const double ambient = base::celsius(settings_.ambient);
    for (const auto& [id, in] : inside)
      power_.mains.boxes[id] = boxHeat(*yard::find<yard::Box>(yard_, id), in.heat, in.supplies, ambient);
    for (auto& [id, figure] : power_.mains.supplies) {
      const auto& supply = *yard::find<yard::Supply>(yard_, id);
      const auto box = power_.mains.boxes.find(supply.box);
      const Plugged& p = plugged_.at(id);
      figure.air = box == power_.mains.boxes.end() ? ambient : box->second.inside;
      figure.warmShare = deratingAt(supply, figure.air);
      figure.inputVolts = p.inputVolts;
      figure.lineShare = p.outlet ? lowLineShare(p.inputVolts) : 1.0;
      figure.ratedNow = base::amps(supply.ratedAmps).si * figure.warmShare * figure.lineShare;
    }
  }

  void energy() {
    double watts = 0.0;
    for (const auto& [id, p] : plugged_) watts += realWatts(p, id);
    power_.mains.energy = energyOf(yard_, watts);
  }

  const yard::Yard& yard_;
  const Routes& routes_;
  Power& power_;
  const yard::Settings& settings_;
  const routes::BoxCords boxes_;
  std::map<Id, Plugged> plugged_;
  std::map<CableKey, double> ohms_, cordAmps_;
};

}  // namespace

EnergyFigure energyOf(const yard::Yard& yard, double watts) {
  const yard::Site& site = yard::site(yard);
  const yard::Settings& settings = yard::settings(yard);
  EnergyFigure e;
  e.watts = watts;
  e.hours = base::seconds(site.hoursANight).si / 3600.0;
  e.nights = nightsOf(site);
  e.kwhANight = watts * base::fraction(settings.averageShare) * e.hours / 1000.0;
  e.kwh = e.kwhANight * static_cast<double>(e.nights);
  e.priced = settings.energyPrice.count > 0;
  e.cost = {base::roundedCount(e.kwh * static_cast<double>(settings.energyPrice.count))};
  return e;
}

void takeFromHouse(const yard::Yard& yard, const Routes& routes, Power& power) {
  House(yard, routes, power).fill();
}

}  // namespace yw::circuit
