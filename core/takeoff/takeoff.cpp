#include "core/takeoff/takeoff.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "core/base/rational.h"
#include "core/routes/places.h"
#include "core/routes/plugs.h"
#include "core/yard/this_year.h"

namespace yw::takeoff {

namespace {

using base::Fact;
using base::Message;
using routes::CableRole;
using yard::RunItemKind;

std::string words(const char* key, std::map<std::string, Fact> facts = {}) {
  return base::text(Message{key, std::move(facts)});
}

/// Lower case without blanks around, so that `5 A fuse` and `5 a Fuse ` are one part.
std::string plain(const std::string& name) {
  const auto first = name.find_first_not_of(' ');
  if (first == std::string::npos) return {};
  std::string out = name.substr(first, name.find_last_not_of(' ') - first + 1);
  for (char& c : out)
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  return out;
}

/// A rating as printed on the part: millionths of a unit without idle zeros, `7.5`, `29`.
std::string rating(std::int64_t millionths) {
  std::string out = fmt::format("{}.{:06}", millionths / 1'000'000, millionths % 1'000'000);
  out.erase(out.find_last_not_of('0') + 1);
  if (out.back() == '.') out.pop_back();
  return out;
}

bool counted(const yard::Prop& prop) { return !yard::rests(prop); }

/// What it is made of is in it already.
bool built(const yard::Prop& prop) {
  return prop.status == yard::PropStatus::Ready || prop.status == yard::PropStatus::NeedsRepair;
}

/// count × price of one, rounded up to the smallest unit of money.
Money times(base::Int128 count, base::Int128 unit, base::Int128 per) {
  return {static_cast<std::int64_t>((count * unit + per - 1) / per)};
}

class Counter {
 public:
  Counter(const yard::Yard& yard, const routes::Shapes& shapes, const routes::Routes& routes)
      : yard_(yard), shapes_(shapes), routes_(routes) {
    for (const auto& [id, price] : yard::all<yard::Price>(yard)) prices_.emplace(plain(price->what), price);
    for (const auto& [id, item] : yard::all<yard::OwnedItem>(yard)) {
      if (item->product)
        ownedProducts_[item->product] += item->count;
      else
        ownedThings_[plain(item->what)] += item->count;
    }
  }

  Totals countAll() {
    countRecords();
    addPixels();
    addCables();
    addAdapters();
    addPower();
    addData();
    addMaterials();
    addDigging();
    for (const PartLine& line : out_.parts) {
      out_.cost += line.cost;
      out_.costComplete = out_.costComplete && line.priced;
    }
    return std::move(out_);
  }

 private:
  void countRecords();
  void addPixels();
  void addCables();
  void addAdapters();
  void addPower();
  void addData();
  void addMaterials();
  void addDigging();
  void addThings(const char* group, const std::map<std::string, std::int64_t>& things);
  /// Cost of that many things by the yard's price list; nothing to buy costs nothing.
  void price(PartLine& line, std::int64_t toBuy, Money each, std::int64_t pack);
  const yard::Price* listed(const std::string& what) const {
    const auto it = prices_.find(plain(what));
    return it == prices_.end() ? nullptr : it->second;
  }

  const yard::Yard& yard_;
  const routes::Shapes& shapes_;
  const routes::Routes& routes_;
  std::map<std::string, const yard::Price*> prices_;
  std::map<std::string, std::int64_t> ownedThings_;
  std::map<Id, std::int64_t> ownedProducts_;
  Totals out_;
};

void Counter::price(PartLine& line, std::int64_t toBuy, Money each, std::int64_t pack) {
  if (toBuy <= 0) {
    line.priced = true;
    return;
  }
  if (const auto* entry = listed(line.what)) {
    each = entry->price;
    pack = std::max<std::int64_t>(entry->pack, 1);
  }
  if (each.count <= 0) return;
  line.cost = each * ((toBuy + pack - 1) / pack);
  line.priced = true;
}

void Counter::countRecords() {
  for (const auto& [id, prop] : yard::all<yard::Prop>(yard_)) out_.props += counted(*prop) ? 1 : 0;
  std::map<Id, bool> portUsed;
  for (const auto& [id, port] : yard::all<yard::Port>(yard_)) portUsed[id] = false;
  for (const auto& [id, run] : yard::all<yard::Run>(yard_)) {
    ++out_.runs;
    if (const auto it = portUsed.find(run->port); it != portUsed.end()) it->second = true;
    for (const yard::RunItem& item : run->items) {
      if (item.kind == RunItemKind::NullPixel) out_.nulls += std::max<std::int64_t>(item.count, 0);
      if (item.kind == RunItemKind::Booster) ++out_.boosters;
    }
  }
  out_.ports = static_cast<std::int64_t>(portUsed.size());
  for (const auto& [id, used] : portUsed) out_.portsFree += used ? 0 : 1;
  out_.supplies = static_cast<std::int64_t>(yard::all<yard::Supply>(yard_).size());
  out_.receivers = static_cast<std::int64_t>(yard::all<yard::Receiver>(yard_).size());
}

void Counter::addPixels() {
  std::map<Id, std::int64_t> pixels, inProps;  // by product, none: no product; of them in built props
  for (const auto& [id, prop] : yard::all<yard::Prop>(yard_)) {
    const auto shape = shapes_.find(id);
    if (!counted(*prop) || shape == shapes_.end()) continue;
    const auto count = static_cast<std::int64_t>(shape->second->pixels.size());
    out_.pixels += count;
    pixels[yard::productIdOf(yard_, *prop)] += count;
    if (built(*prop)) inProps[yard::productIdOf(yard_, *prop)] += count;
  }
  for (const auto& [id, count] : pixels) {
    const auto* product = yard::find<yard::Product>(yard_, id);
    PartLine line;
    line.group = words("takeoff_pixels");
    line.what = product == nullptr ? words("takeoff_no_product") : product->name;
    line.count = count;
    const auto owned = ownedProducts_.find(id);
    const auto named = ownedThings_.find(plain(line.what));
    line.owned = inProps[id] + (owned == ownedProducts_.end() ? 0 : owned->second) +
                 (named == ownedThings_.end() ? 0 : named->second);
    line.owned = std::min(line.owned, count);
    if (product != nullptr) {
      const std::int64_t each = std::max<std::int64_t>(product->stringCount, 1);
      line.strings = (count - line.owned + each - 1) / each;
      price(line, line.strings, product->price, 1);
    }
    out_.parts.push_back(std::move(line));
  }
}

void Counter::addCables() {
  std::map<std::pair<bool, Id>, PartLine> lines;  // mains cords apart
  for (const auto& [key, cable] : routes_.cables) {
    if (key.role == CableRole::Feed) ++out_.feeds;
    if (key.role == CableRole::Lead || key.role == CableRole::Jumper) ++out_.leads;
    if (key.role == CableRole::Lead || key.role == CableRole::Jumper || key.role == CableRole::Feed)
      out_.leadLength += cable.cutLength;
    PartLine& line = lines[{key.role == CableRole::MainsCord, cable.wire}];
    ++line.count;
    if (cable.owned)
      ++line.owned;
    else
      line.length += cable.cutLength;
  }
  for (auto& [key, line] : lines) {
    const auto* wire = yard::find<yard::Wire>(yard_, key.second);
    line.group = words("takeoff_leads");
    line.what = wire != nullptr ? wire->name : words(key.first ? "takeoff_mains_cord" : "takeoff_no_wire");
    if (line.length.count == 0) {
      line.priced = true;
    } else if (wire != nullptr && wire->pricePerMetre.count > 0) {
      line.cost = times(line.length.count, wire->pricePerMetre.count, base::kNanometresPerMetre);
      line.priced = true;
    } else if (key.first) {
      price(line, line.count - line.owned, {}, 1);  // cords are bought by the piece
    }
    out_.parts.push_back(std::move(line));
  }
}

void Counter::addAdapters() {
  const auto end = [](yard::PlugEnd e) {
    return words(e == yard::PlugEnd::Male ? "takeoff_plug_male" : "takeoff_plug_female");
  };
  std::map<std::string, std::int64_t> things;
  for (const routes::Adapter& a : routes::adaptersOf(yard_, routes_))
    ++things[words("takeoff_adapter", {{"near", a.nearPlug},
                                       {"near_end", end(a.nearEnd)},
                                       {"far", a.farPlug},
                                       {"far_end", end(a.farEnd)}})];
  addThings("takeoff_leads", things);
}

void Counter::addDigging() {
  const base::Money price = yard::settings(yard_).diggingPrice;
  if (price.count <= 0) return;
  PartLine line;
  line.group = words("takeoff_ground");
  line.what = words("takeoff_trench");
  line.length = {base::roundedCount(routes::diggingOf(yard_, routes_).length * 1e9)};
  line.cost = times(line.length.count, price.count, base::kNanometresPerMetre);
  line.priced = true;
  if (line.length.count > 0) out_.parts.push_back(std::move(line));
}

void Counter::addThings(const char* group, const std::map<std::string, std::int64_t>& things) {
  for (const auto& [what, count] : things) {
    if (count <= 0) continue;
    PartLine line;
    line.group = words(group);
    line.what = what;
    line.count = count;
    if (const auto it = ownedThings_.find(plain(what)); it != ownedThings_.end())
      line.owned = std::min(it->second, count);
    price(line, count - line.owned, {}, 1);
    out_.parts.push_back(std::move(line));
  }
}

void Counter::addPower() {
  std::map<std::string, std::int64_t> things;
  for (const auto& [id, supply] : yard::all<yard::Supply>(yard_))
    ++things[supply->model.empty() ? words("takeoff_supply", {{"volts", rating(supply->voltage.count)},
                                                              {"amps", rating(supply->ratedAmps.count)}})
                                   : supply->model];
  addThings("takeoff_power", things);
  std::map<base::Current, std::int64_t> fuses;
  for (const auto& [key, cable] : routes_.cables)
    if (key.role == CableRole::Feed)
      if (const auto* fuse = yard::find<yard::FusePosition>(yard_, cable.from.record)) ++fuses[fuse->fuse];
  for (const auto& [id, run] : yard::all<yard::Run>(yard_))
    if (const auto* port = yard::find<yard::Port>(yard_, run->port); port != nullptr && port->fuse.count > 0)
      ++fuses[port->fuse];
  for (const auto& [fuse, count] : fuses)
    addThings("takeoff_power", {{words("takeoff_fuse", {{"amps", rating(fuse.count)}}), count}});
}

void Counter::addData() {
  std::map<std::string, std::int64_t> things;
  for (const auto& [id, controller] : yard::all<yard::Controller>(yard_))
    ++things[controller->model.empty() ? words("takeoff_controller") : controller->model];
  for (const auto& [id, receiver] : yard::all<yard::Receiver>(yard_))
    ++things[receiver->model.empty() ? words("takeoff_receiver") : receiver->model];
  things[words("takeoff_booster")] += out_.boosters;
  things[words("takeoff_null_pixel")] += out_.nulls;
  addThings("takeoff_data", things);
}

void Counter::addMaterials() {
  std::map<std::string, PartLine> lines;
  std::map<std::string, std::int64_t> inProps;  ///< pieces that are built in
  for (const auto& [id, prop] : yard::all<yard::Prop>(yard_)) {
    const auto shape = shapes_.find(id);
    if (!counted(*prop) || shape == shapes_.end()) continue;
    for (const shapes::MaterialLine& material : shape->second->materials) {
      PartLine& line = lines[material.what];
      line.count += material.pieces;
      line.length += material.length;
      if (built(*prop)) inProps[material.what] += material.pieces;
    }
  }
  for (auto& [what, line] : lines) {
    line.group = words("takeoff_material");
    line.what = what;
    line.owned = inProps[what];
    if (const auto it = ownedThings_.find(plain(what)); it != ownedThings_.end())
      line.owned = std::min(line.owned + it->second, line.count);
    price(line, line.count - line.owned, {}, 1);
    out_.parts.push_back(std::move(line));
  }
}

}  // namespace

Totals compute(const yard::Yard& yard, const routes::Shapes& shapes, const routes::Routes& routes) {
  return Counter(yard, shapes, routes).countAll();
}

}  // namespace yw::takeoff
