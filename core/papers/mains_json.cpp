#include "core/papers/mains_json.h"

#include <cmath>
#include <nlohmann/json.hpp>

#include "core/circuit/code.h"
#include "core/papers/mains_tables.h"

namespace yw::papers {

namespace {

using Json = nlohmann::ordered_json;

/// To four decimals, so that the same figure has the same bytes.
double rounded(double value) { return std::round(value * 1e4) / 1e4; }

Json named(const Digest& d, Id id) { return {{"id", id.value}, {"label", d.label(id)}}; }

Json supplyJson(const Digest& d, Id id, const circuit::SupplyMains& now) {
  const auto& supply = *yard::find<yard::Supply>(d.y, id);
  const circuit::SupplyFigure& figure = d.a.limit.supplies.at(id);
  Json out = named(d, id);
  out["amps"] = rounded(figure.amps);
  out["rated_A"] = base::amps(supply.ratedAmps).si;
  out["rated_now_A"] = rounded(now.ratedNow);
  out["share_by_air"] = rounded(now.warmShare);
  out["share_by_line"] = rounded(now.lineShare);
  out["air_C"] = rounded(now.air);
  out["heat_W"] = rounded(now.heat);
  out["line_A"] = rounded(figure.lineAmps);
  out["input_V"] = rounded(now.inputVolts);
  out["inrush_A"] = base::amps(supply.inrush).si;
  out["leakage_mA"] = rounded(base::amps(supply.leakage).si * 1e3);
  return out;
}

Json boxJson(const Digest& d, Id id, const circuit::BoxFigure& box) {
  Json out = named(d, id);
  out["heat_W"] = rounded(box.heat);
  out["wall_m2"] = rounded(box.area);
  out["rise_K"] = rounded(box.rise);
  out["inside_C"] = rounded(box.inside);
  out["size_assumed"] = box.assumedSize;
  return out;
}

Json cordJson(const Digest& d, const circuit::CableKey& key, const circuit::CordFigure& cord) {
  const routes::RoutedCable* cable = d.cable(key);
  Json out = named(d, cable != nullptr && cable->record ? cable->record : key.of);
  out["label"] = cable != nullptr ? cable->label : "";
  out["wire"] = cable != nullptr ? d.wireName(cable->wire) : "";
  out["amps"] = rounded(cord.amps);
  out["limit_A"] = cord.limit > 0 ? Json(cord.limit) : Json(nullptr);
  out["limit_source"] = circuit::inEdition(d.set.codeEdition, cord.limitSource);
  out["length_from_outlet_m"] = rounded(cord.wholeLength);
  out["lost_V"] = rounded(cord.lost);
  out["lost_from_outlet"] = rounded(cord.lostShare);
  out["end_V"] = rounded(cord.farVolts);
  out["joints"] = cord.joints;
  out["strips_before"] = cord.strips;
  return out;
}

Json circuitJson(const Digest& d, Id id, const circuit::CircuitFigure& circuit) {
  Json out = named(d, id);
  out["amps"] = rounded(circuit.amps);
  out["other_loads_A"] = rounded(circuit.standing);
  out["leakage_mA"] = rounded(circuit.leakage * 1e3);
  out["supplies"] = circuit.supplies;
  out["inrush_A"] = rounded(circuit.inrush);
  out["watts"] = rounded(circuit.watts);
  return out;
}

Json energyJson(const circuit::EnergyFigure& e) {
  Json out{{"watts", rounded(e.watts)},
           {"hours_a_night", rounded(e.hours)},
           {"nights", e.nights},
           {"kWh_a_night", rounded(e.kwhANight)},
           {"kWh", rounded(e.kwh)}};
  out["cost"] = e.priced ? Json(static_cast<double>(e.cost.count) / 1e4) : Json(nullptr);
  return out;
}

Json protectionJson(const Digest& d, Id id, const circuit::Protection& p) {
  Json out = named(d, id);
  out["amps"] = rounded(p.load);
  out["amps_full_white"] = rounded(p.fullWhite);
  out["usual_fuse_A"] = p.choice.fuse ? Json(base::amps(p.choice.fuse).si) : Json(nullptr);
  out["largest_fuse_A"] = p.choice.largest ? Json(base::amps(p.choice.largest).si) : Json(nullptr);
  out["fits"] = p.choice.fits;
  out["opens_at_full_white"] = p.choice.opensAtFullWhite;
  out["limit_A"] = rounded(p.choice.limit.amps);
  out["limit_by"] = p.choice.limit.part;
  out["limit_source"] = p.choice.limit.source;
  out["usual_gauge_AWG"] = p.wireChoice.gauge ? Json(*p.wireChoice.gauge) : Json(nullptr);
  out["text"] = base::text(circuit::usualText(p), d.units);
  return out;
}

}  // namespace

Json mainsJson(const assess::Assessment& assessment) {
  const Digest d(assessment);
  const circuit::Mains& mains = assessment.limit.mains;
  Json out;
  out["condition"] = "brightness limit";
  out["code_edition"] = yard::words(d.set.codeEdition)[static_cast<std::size_t>(d.set.codeEdition)].name;
  for (const char* list : {"supplies", "boxes", "cords", "outlets", "circuits", "fuses"})
    out[list] = Json::array();
  for (const auto& [id, now] : mains.supplies) out["supplies"].push_back(supplyJson(d, id, now));
  for (const auto& [id, box] : mains.boxes) out["boxes"].push_back(boxJson(d, id, box));
  for (const auto& [key, cord] : mains.cords) out["cords"].push_back(cordJson(d, key, cord));
  for (const auto& [id, outlet] : mains.outlets) {
    Json one = named(d, id);
    one["amps"] = rounded(outlet.amps);
    one["one_receptacle_A"] = rounded(outlet.worst);
    one["limit_A"] = rounded(outlet.limit);
    one["plugs"] = outlet.plugs;
    out["outlets"].push_back(std::move(one));
  }
  for (const auto& [id, circuit] : assessment.limit.circuits)
    out["circuits"].push_back(circuitJson(d, id, circuit));
  for (const auto& [id, p] : protections(d)) out["fuses"].push_back(protectionJson(d, id, p));
  out["energy"] = energyJson(mains.energy);
  return out;
}

}  // namespace yw::papers
