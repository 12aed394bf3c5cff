// Remedies on fuses, supplies and house circuits.
#include <algorithm>
#include <tuple>

#include "core/catalog/conductors.h"
#include "core/circuit/protection.h"
#include "core/findings/rule_help.h"
#include "core/propose/candidates.h"
#include "core/yard/labels.h"

namespace yw::propose {

using namespace yw::yard;

namespace {

Proposal withFuse(const Case& c, Id position, base::Current fuse) {
  edit::Editor editor(c.a.yard);
  editor.update<Port>(position, [&](Port& p) { p.fuse = fuse; });
  editor.update<FusePosition>(position, [&](FusePosition& p) { p.fuse = fuse; });
  Proposal proposal;
  proposal.sentence = {"remedy_fuse", {{"fuse", fuse}, {"position", labelOf(c.a.yard, position)}}};
  proposal.change = editor.finish(base::text(proposal.sentence));
  return proposal;
}

}  // namespace

std::vector<Proposal> rightFuse(const Case& c) {
  std::vector<Proposal> out;
  const Id position = c.finding.subjects.front();
  const auto usual =
      circuit::protectionOf(c.a.yard, c.a.routes, c.a.layouts, c.a.limit, c.a.fullWhite, position);
  if (!usual) return out;
  if (usual->choice.fits) out.push_back(withFuse(c, position, usual->choice.fuse));
  if (usual->choice.largest.count > 0) out.push_back(withFuse(c, position, usual->choice.largest));
  // No fuse fits both: take load off by a feed.
  if (usual->run)
    for (Proposal& proposal : feedRun(c)) out.push_back(std::move(proposal));
  return out;
}

/// The largest fuse below the present one that opens in time and lasts under its load; else a feed, so that
/// the load is shared and the short has less wire before it.
std::vector<Proposal> smallerFuse(const Case& c) {
  std::vector<Proposal> out;
  const Id position = c.finding.subjects.front();
  const auto* port = find<Port>(c.a.yard, position);
  const auto* holder = find<FusePosition>(c.a.yard, position);
  if (!port && !holder) return out;
  const base::Current now = port ? port->fuse : holder->fuse;
  double load = 0.0;
  if (const auto amps = c.a.limit.portAmps.find(position); port && amps != c.a.limit.portAmps.end())
    load = amps->second;
  if (const auto feed = c.a.limit.feeds.find(feedOnFusePosition(c.a.yard, position));
      holder && feed != c.a.limit.feeds.end())
    load = feed->second.amps;
  const double usable = base::fraction(settings(c.a.yard).fuseUsable);
  std::vector<base::Current> smaller;
  for (const base::Current fuse : catalog::fuseSeries())
    if ((now.count <= 0 || fuse < now) && base::amps(fuse).si * usable >= load) smaller.push_back(fuse);
  std::sort(smaller.rbegin(), smaller.rend());
  for (const base::Current fuse : smaller) out.push_back(withFuse(c, position, fuse));
  for (Proposal& proposal : feedRun(c)) out.push_back(std::move(proposal));
  return out;
}

void cutBetweenSupplies(const assess::Assessment& a, edit::Editor& editor) {
  struct Landing {
    Id run;
    std::int64_t place;
    Id feed;
  };
  std::vector<Landing> landings;
  for (const auto& [feed, figure] : a.limit.feeds) landings.push_back({figure.run, figure.runPixel, feed});
  std::sort(landings.begin(), landings.end(), [](const Landing& x, const Landing& y) {
    return std::tie(x.run, x.place, x.feed) < std::tie(y.run, y.place, y.feed);
  });
  Id run, supply;
  for (const Landing& landing : landings) {
    if (landing.run != run) {
      run = landing.run;
      const Run* record = find<Run>(editor.yard(), run);
      supply = record && record->portPower ? findings::supplyOfPort(editor.yard(), record->port) : Id{};
    }
    const Cable* feed = find<Cable>(editor.yard(), landing.feed);
    const auto* position = feed ? find<FusePosition>(editor.yard(), feed->from.record) : nullptr;
    if (!position) continue;
    if (supply && supply != position->supply)
      editor.update<Cable>(landing.feed, [](Cable& cable) { cable.cutPositive = true; });
    supply = position->supply;
  }
}

std::vector<Proposal> relieveSupply(const Case& c) {
  std::vector<Proposal> out;
  const Id supplyId = c.finding.subjects.front();
  const Supply* supply = find<Supply>(c.a.yard, supplyId);
  if (!supply) return out;
  // A second supply of the same kind takes the feeds that carry most, then whole power sections.
  struct Load {
    double amps;
    Id position, owner;
    std::size_t section;
  };
  std::vector<Load> loads;
  for (const auto& [positionId, position] : fusePositionsOf(c.a.yard, supplyId))
    if (const auto figure = c.a.limit.feeds.find(feedOnFusePosition(c.a.yard, positionId));
        figure != c.a.limit.feeds.end())
      loads.push_back({figure->second.amps, positionId, {}, 0});
  const auto sectionsOf = [&](Id owner, const std::vector<PowerSection>& sections) {
    for (std::size_t i = 0; i < sections.size(); ++i) {
      const auto amps = c.a.limit.sectionAmps.find({owner, static_cast<std::int64_t>(i) + 1});
      if (sections[i].supply == supplyId && amps != c.a.limit.sectionAmps.end())
        loads.push_back({amps->second, {}, owner, i});
    }
  };
  for (const auto& [id, controller] : all<Controller>(c.a.yard)) sectionsOf(id, controller->sections);
  for (const auto& [id, receiver] : all<Receiver>(c.a.yard)) sectionsOf(id, receiver->sections);
  std::stable_sort(loads.begin(), loads.end(), [](const Load& x, const Load& y) { return x.amps > y.amps; });
  for (std::size_t count = 1; count < loads.size() && count <= 8; ++count) {
    edit::Editor editor(c.a.yard);
    Supply second = *supply;
    second.name = freeName(c.a.yard, RecordKind::Supply, supply->name);
    const Id secondId = editor.add(second);
    std::int64_t number = 1;
    for (std::size_t i = 0; i < count; ++i) {
      const Load& load = loads[i];
      if (load.position) {
        editor.update<FusePosition>(load.position, [&](FusePosition& p) {
          p.supply = secondId;
          p.number = number++;
        });
      } else {
        editor.update<Controller>(load.owner,
                                  [&](Controller& k) { k.sections[load.section].supply = secondId; });
        editor.update<Receiver>(load.owner, [&](Receiver& k) { k.sections[load.section].supply = secondId; });
      }
    }
    cutBetweenSupplies(c.a, editor);
    Proposal proposal;
    proposal.sentence = {"remedy_supply",
                         {{"supply", labelOf(c.a.yard, supplyId)},
                          {"count", static_cast<std::int64_t>(count)},
                          {"volts", supply->voltage},
                          {"rated", supply->ratedAmps},
                          {"box", supply->box ? labelOf(c.a.yard, supply->box) : std::string("the yard")}}};
    proposal.change = editor.finish(base::text(proposal.sentence));
    out.push_back(std::move(proposal));
  }
  return out;
}

std::vector<Proposal> toOutlets(const Case& c, Id supplyId) {
  std::vector<Proposal> out;
  const base::Vec3 here = findings::placeOfRecord(c.a, supplyId);
  std::vector<std::pair<double, Id>> outlets;
  for (const auto& [id, outlet] : all<Outlet>(c.a.yard))
    if (outlet->circuit && id != find<Supply>(c.a.yard, supplyId)->outlet)
      outlets.emplace_back(base::distance(here, findings::placeOfRecord(c.a, id)), id);
  std::sort(outlets.begin(), outlets.end());
  for (const auto& [distance, id] : outlets) {
    edit::Editor editor(c.a.yard);
    editor.update<Supply>(supplyId, [&](Supply& s) { s.outlet = id; });
    Proposal proposal;
    proposal.sentence = {"remedy_outlet",
                         {{"supply", labelOf(c.a.yard, supplyId)},
                          {"outlet", labelOf(c.a.yard, id)},
                          {"circuit", labelOf(c.a.yard, find<Outlet>(c.a.yard, id)->circuit)}}};
    proposal.change = editor.finish(base::text(proposal.sentence));
    out.push_back(std::move(proposal));
  }
  return out;
}

std::vector<Proposal> moveOutlet(const Case& c) {
  std::vector<Proposal> out;
  const Id circuit = c.finding.subjects.front();
  std::vector<std::pair<double, Id>> supplies;
  for (const auto& [id, supply] : all<Supply>(c.a.yard)) {
    const Outlet* outlet = find<Outlet>(c.a.yard, supply->outlet);
    const auto figure = c.a.limit.supplies.find(id);
    if (outlet && outlet->circuit == circuit && figure != c.a.limit.supplies.end())
      supplies.emplace_back(figure->second.lineAmps, id);
  }
  std::sort(supplies.begin(), supplies.end());
  for (const auto& [amps, id] : supplies)
    for (Proposal& proposal : toOutlets(c, id)) {
      const Yard after = edit::apply(c.a.yard, proposal.change);
      const Outlet* outlet = find<Outlet>(after, find<Supply>(after, id)->outlet);
      if (outlet && outlet->circuit != circuit) out.push_back(std::move(proposal));
    }
  return out;
}

std::vector<Proposal> plugIn(const Case& c) { return toOutlets(c, c.finding.subjects.front()); }

}  // namespace yw::propose
