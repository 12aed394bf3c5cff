#include "core/papers/faults_json.h"

#include <cmath>
#include <nlohmann/json.hpp>

namespace yw::papers {

namespace {

using Json = nlohmann::ordered_json;

/// To four decimals, so that the same figure has the same bytes.
double rounded(double value) { return std::round(value * 1e4) / 1e4; }
Json finite(double value) { return std::isfinite(value) ? Json(rounded(value)) : Json(nullptr); }

Json named(const Digest& d, Id id) {
  return id ? Json{{"id", id.value}, {"label", d.label(id)}} : Json(nullptr);
}
Json placeJson(const Digest& d, const circuit::RunPlace& at) {
  if (!at.run) return nullptr;
  return {{"run", named(d, at.run)}, {"place", at.place}, {"pixel", d.pixelName(at.run, at.place)}};
}

const char* wordOf(circuit::ColorFigure::Color color) {
  static constexpr const char* kWords[] = {"red", "green", "blue", "white"};
  return kWords[static_cast<std::size_t>(color)];
}
const char* wordOf(circuit::PartShort::End end) {
  static constexpr const char* kWords[] = {"fuse_opens", "supply_cuts_off", "stays"};
  return kWords[static_cast<std::size_t>(end)];
}

Json conditionJson(const Digest& d, const char* name, const circuit::Power& power) {
  double amps = 0.0, watts = 0.0;
  for (const auto& [id, supply] : power.supplies) {
    amps += supply.amps;
    watts += supply.watts;
  }
  Json out{{"condition", name}, {"amps", rounded(amps)}, {"watts", rounded(watts)}};
  out["tints"] = Json::array();
  for (const auto& [run, tint] : power.tints) {
    if (tint.firstPlace == 0) continue;
    Json one = named(d, run);
    one["weakest_of_strongest"] = rounded(tint.whiteness);
    one["pixels"] = tint.count;
    one["first"] = placeJson(d, {run, tint.firstPlace});
    out["tints"].push_back(std::move(one));
  }
  return out;
}

Json colorJson(const Digest& d, const circuit::ColorFigure& color) {
  Json out{{"condition", wordOf(color.color)},
           {"amps", rounded(color.amps)},
           {"watts", rounded(color.watts)},
           {"lowest_V", color.run ? Json(rounded(color.volts)) : Json(nullptr)},
           {"at", placeJson(d, {color.run, color.place})}};
  out["supplies"] = Json::array();
  for (const auto& [id, amps] : color.supplyAmps) {
    Json one = named(d, id);
    one["amps"] = rounded(amps);
    out["supplies"].push_back(std::move(one));
  }
  return out;
}

Json lossJson(const Digest& d, const circuit::LossFigure& loss) {
  Json out = named(d, loss.lost);
  out["kind"] = loss.supply ? "supply" : loss.feed ? "feed" : "fuse";
  out["feed"] = named(d, loss.feed);
  out["at"] = placeJson(d, loss.at);
  out["carried_A"] = rounded(loss.carried);
  out["dark_pixels"] = loss.dark;
  out["low_pixels"] = loss.low;
  out["worst"] = placeJson(d, loss.worst);
  out["worst_V"] = loss.worst.run ? Json(rounded(loss.volts)) : Json(nullptr);
  out["next"] = named(d, loss.next);
  out["next_A"] = rounded(loss.nextAmps);
  out["next_before_A"] = rounded(loss.nextBefore);
  out["next_of_fuse"] = rounded(loss.nextShare);
  out["next_may_open"] = loss.follows;
  out["pixels_if_it_opens"] = loss.follows ? Json(loss.afterwards) : Json(nullptr);
  out["wire_A"] = rounded(loss.wireAmps);
  out["wire_limit_A"] = rounded(loss.wireLimit);
  out["next_supply"] = named(d, loss.nextSupply);
  out["next_supply_A"] = rounded(loss.nextSupplyAmps);
  out["through_strings_A"] = rounded(loss.crossing);
  out["could_take_over"] = Json::array();
  for (const Id id : loss.spares) out["could_take_over"].push_back(named(d, id));
  return out;
}

Json shortJson(const Digest& d, const circuit::ShortFigure& fault) {
  Json out = named(d, fault.gate);
  out["feed"] = named(d, fault.feed);
  out["at"] = placeJson(d, fault.at);
  out["fuse_A"] = fault.fuse.count > 0 ? Json(base::amps(fault.fuse).si) : Json(nullptr);
  out["prospective_A"] = rounded(fault.prospective);
  out["amps"] = rounded(fault.amps);
  out["ends"] = wordOf(fault.end);
  const bool opens = fault.end == circuit::PartShort::End::Clears;
  out["opens_after_s"] = opens ? finite(fault.least) : Json(nullptr);
  out["opens_within_s"] = opens ? finite(fault.most) : Json(nullptr);
  out["wire_A"] = rounded(fault.wireAmps);
  out["wire_limit_A"] = rounded(fault.wireLimit);
  return out;
}

}  // namespace

nlohmann::ordered_json conditionsJson(const Digest& d) {
  Json out = Json::array();
  out.push_back(conditionJson(d, "brightness limit", d.a.limit));
  out.push_back(conditionJson(d, "full white", d.a.fullWhite));
  for (const circuit::ColorFigure& color : d.a.colors()) out.push_back(colorJson(d, color));
  return out;
}

nlohmann::ordered_json faultsJson(const Digest& d) {
  Json out;
  out["lost"] = Json::array();
  for (const auto& [id, loss] : d.a.faults().lost) out["lost"].push_back(lossJson(d, loss));
  out["shorts"] = Json::array();
  for (const auto& [id, fault] : d.a.faults().shorts) out["shorts"].push_back(shortJson(d, fault));
  out["zero_open"] = Json::array();
  for (const auto& [run, open] : d.a.faults().zeroOpen)
    out["zero_open"].push_back({{"board", named(d, open.board)}, {"from", placeJson(d, open.at)}});
  return out;
}

}  // namespace yw::papers
