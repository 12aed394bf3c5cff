// Remedies that move part of a run to another port, or mend its data.
#include <algorithm>

#include "core/findings/rule_help.h"
#include "core/propose/candidates.h"
#include "core/yard/labels.h"

namespace yw::propose {

using namespace yw::yard;

std::vector<Id> freePortsNear(const assess::Assessment& a, Id portId, Id productId) {
  const Product* product = find<Product>(a.yard, productId);
  const base::Vec3 here = findings::placeOfRecord(a, portId);
  std::vector<std::pair<double, Id>> ports;
  for (const Id id : a.data.freePorts) {
    const Supply* supply = find<Supply>(a.yard, findings::supplyOfPort(a, id));
    if (product && supply && supply->voltage != product->voltage) continue;
    ports.emplace_back(base::distance(here, findings::placeOfRecord(a, id)), id);
  }
  std::sort(ports.begin(), ports.end());
  std::vector<Id> ids;
  for (const auto& [distance, id] : ports) ids.push_back(id);
  return ids;
}

namespace {

/// Pixels (places) of an item.
std::int64_t placesOf(const circuit::RunLayout& layout, std::int64_t item) {
  return std::count_if(layout.pixels.begin(), layout.pixels.end(),
                       [&](const circuit::RunPixel& p) { return p.item == item; });
}

/// Moves everything from `item` on (of that item only pixels after `keep` places) to a new run on `port`.
std::optional<Proposal> moveTail(const assess::Assessment& a, Id runId, std::size_t item, std::int64_t keep,
                                 Id port) {
  const Run* run = find<Run>(a.yard, runId);
  if (!run || item >= run->items.size()) return {};
  Run head = *run, tail;
  tail.port = port;
  tail.portPower = run->portPower;
  head.items.resize(item);
  std::vector<RunItem> moved(run->items.begin() + static_cast<std::ptrdiff_t>(item), run->items.end());
  if (keep > 0 && moved.front().kind == RunItemKind::Stretch) {
    RunItem stays = moved.front();
    const auto shape = a.shapes.find(stays.prop);
    if (shape == a.shapes.end()) return {};
    if (stays.first == 0) stays.first = 1;
    if (stays.last == 0) stays.last = static_cast<std::int64_t>(shape->second->pixels.size());
    RunItem goes = stays;
    if (stays.reversed) {
      goes.last = stays.last - keep;
      stays.first = goes.last + 1;
    } else {
      goes.first = stays.first + keep;
      stays.last = goes.first - 1;
    }
    goes.lead = {};
    head.items.push_back(stays);
    moved.front() = goes;
  }
  while (!moved.empty() && moved.front().kind != RunItemKind::Stretch) moved.erase(moved.begin());
  if (moved.empty() || head.items.empty()) return {};
  moved.front().lead = {};
  tail.items = moved;
  edit::Editor editor(a.yard);
  editor.replace(runId, head);
  editor.add(tail);
  const RunItem& first = tail.items.front();
  Proposal proposal;
  proposal.sentence = {"remedy_split",
                       {{"prop", labelOf(a.yard, first.prop)},
                        {"pixel", first.first == 0 ? std::int64_t{1} : first.first},
                        {"port", labelOf(a.yard, port)}}};
  proposal.change = editor.finish(base::text(base::Message{"done_split", {{"run", labelOf(a.yard, runId)}}}));
  return proposal;
}

}  // namespace

std::vector<Proposal> splitRun(const Case& c) {
  std::vector<Proposal> out;
  const Id runId = c.finding.subjects.front();
  const auto data = c.a.data.runs.find(runId);
  const auto layout = c.a.layouts.find(runId);
  const Run* run = find<Run>(c.a.yard, runId);
  if (!run || data == c.a.data.runs.end() || layout == c.a.layouts.end() || data->second.products.empty())
    return out;
  const std::vector<Id> ports = freePortsNear(c.a, run->port, data->second.products.front());
  std::int64_t before = 0;
  std::size_t item = 0;
  for (; item < run->items.size(); ++item) {
    const RunItem& it = run->items[item];
    const std::int64_t size = it.kind == RunItemKind::Unused
                                  ? it.count
                                  : placesOf(*layout->second, static_cast<std::int64_t>(item));
    if (before + size > data->second.limit()) break;
    before += size;
  }
  // Split inside the prop at its last joint that still fits, so that whole strips and rows stay together.
  std::int64_t keep = 0;
  if (item < run->items.size() && run->items[item].kind == RunItemKind::Stretch) {
    std::int64_t start = 0;
    for (const auto& pixel : layout->second->pixels) {
      if (pixel.item == static_cast<std::int64_t>(item)) break;
      ++start;
    }
    for (const std::int64_t joint : jointPlaces(c.a, runId)) {
      const std::int64_t inside = joint - start;
      if (inside > 0 && before + inside <= data->second.limit() &&
          joint < start + placesOf(*layout->second, static_cast<std::int64_t>(item)))
        keep = std::max(keep, inside);
    }
    if (keep <= 1) keep = item == 0 ? data->second.limit() : 0;
  }
  for (const Id port : ports) {
    if (auto proposal = moveTail(c.a, runId, item, keep, port)) out.push_back(std::move(*proposal));
    if (keep > 0 && item > 0)
      if (auto proposal = moveTail(c.a, runId, item, 0, port)) out.push_back(std::move(*proposal));
    if (out.size() >= 12) break;
  }
  return out;
}

std::vector<Proposal> splitAtChange(const Case& c) {
  std::vector<Proposal> out;
  const Id runId = c.finding.subjects.front();
  const Run* run = find<Run>(c.a.yard, runId);
  if (!run) return out;
  Id first;
  for (std::size_t i = 0; i < run->items.size(); ++i) {
    const Prop* prop = find<Prop>(c.a.yard, run->items[i].prop);
    if (!prop) continue;
    const Id product = productIdOf(c.a.yard, *prop);
    if (!first) first = product;
    if (product == first) continue;
    for (const Id port : freePortsNear(c.a, run->port, product))
      if (auto proposal = moveTail(c.a, runId, i, 0, port)) out.push_back(std::move(*proposal));
    break;
  }
  return out;
}

std::vector<Proposal> shortenReach(const Case& c) {
  std::vector<Proposal> out;
  const Id runId = c.finding.subjects.front();
  const Run* run = find<Run>(c.a.yard, runId);
  const auto data = c.a.data.runs.find(runId);
  if (!run || data == c.a.data.runs.end()) return out;
  for (const data::Hop& hop : data->second.hops) {
    if (c.finding.condition != findings::gapName(c.a, *run, hop.item)) continue;
    const auto index = static_cast<std::size_t>(hop.item);
    const auto offer = [&](const char* key, auto&& change) {
      edit::Editor editor(c.a.yard);
      editor.update<Run>(runId, change);
      Proposal proposal;
      proposal.sentence = {
          key, {{"prop", labelOf(c.a.yard, run->items[index].prop)}, {"run", labelOf(c.a.yard, runId)}}};
      proposal.change = editor.finish(base::text(proposal.sentence));
      out.push_back(std::move(proposal));
    };
    if (run->items[index].kind == RunItemKind::Stretch)
      offer("remedy_turn_round", [&](Run& r) { r.items[index].reversed = !r.items[index].reversed; });
    const auto insert = [&](RunItemKind kind, int count) {
      return [=](Run& r) {
        for (int i = 0; i < count; ++i) {
          RunItem item;
          item.kind = kind;
          r.items.insert(r.items.begin() + static_cast<std::ptrdiff_t>(index), item);
        }
      };
    };
    offer("remedy_null_pixel", insert(RunItemKind::NullPixel, 1));
    offer("remedy_booster", insert(RunItemKind::Booster, 1));
    offer("remedy_two_boosters", insert(RunItemKind::Booster, 2));
  }
  return out;
}

std::vector<Proposal> freeAddress(const Case& c) {
  std::vector<Proposal> out;
  const auto offer = [&](const std::vector<Id>& runs) {
    edit::Editor editor(c.a.yard);
    for (const Id id : runs) editor.update<Run>(id, [](Run& run) { run.startUniverse = run.startSlot = 0; });
    Proposal proposal;
    proposal.sentence = {"remedy_free_address", {{"run", labelOf(c.a.yard, runs.front())}}};
    proposal.change = editor.finish(base::text(proposal.sentence));
    out.push_back(std::move(proposal));
  };
  if (c.finding.subjects.size() < 2) return out;
  const Id x = c.finding.subjects[0], y = c.finding.subjects[1];
  offer({y});
  offer({x});
  offer({x, y});
  return out;
}

}  // namespace yw::propose
