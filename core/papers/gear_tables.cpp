#include "core/papers/gear_tables.h"

#include <algorithm>

#include "core/base/number_text.h"
#include "core/papers/table_builder.h"

namespace yw::papers {
namespace {

std::string count(std::int64_t n) { return std::to_string(n); }

/// Ports and fuse positions of a box or of one board, all and those that nothing is on.
struct Places {
  std::int64_t all = 0, free = 0;
};

Places portsOn(const Digest& d, Id owner) {
  Places places;
  for (const auto& [id, port] : yard::portsOf(d.y, owner)) {
    ++places.all;
    if (!yard::runOnPort(d.y, id)) ++places.free;
  }
  return places;
}

Places fusesOn(const Digest& d, Id supply) {
  Places places;
  for (const auto& [id, position] : yard::fusePositionsOf(d.y, supply)) {
    ++places.all;
    if (!yard::feedOnFusePosition(d.y, id)) ++places.free;
  }
  return places;
}

std::string choice(yard::BoxCooling cooling) {
  return yard::words(cooling)[static_cast<std::size_t>(cooling)].label;
}

std::int64_t pixelsOn(const Digest& d, Id owner) {
  std::int64_t pixels = 0;
  for (const auto& [id, port] : yard::portsOf(d.y, owner))
    if (const data::RunData* run = d.dataOf(yard::runOnPort(d.y, id))) pixels += run->pixels;
  return pixels;
}

void boardRow(TableBuilder& t, const Digest& d, Id id, const yard::Controller& r) {
  const Places ports = portsOn(d, id);
  t.row(id, {d.label(id), say("controller"), d.labelOrDash(r.box), "", r.model, r.address, r.protocol,
             count(ports.all), count(ports.free), count(pixelsOn(d, id)), count(r.pixelsPerPort),
             r.universes ? count(r.universes) : ""});
}

void boardRow(TableBuilder& t, const Digest& d, Id id, const yard::Receiver& r) {
  const Places ports = portsOn(d, id);
  t.row(id, {d.label(id), say("receiver"), d.labelOrDash(r.box), d.labelOrDash(r.controller), r.model, "", "",
             count(ports.all), count(ports.free), count(pixelsOn(d, id)), count(r.pixelsPerPort), ""});
}

}  // namespace

Table boxesTable(const Digest& d) {
  TableBuilder t("boxes");
  t.words("box").number("x", d.lengthUnit()).number("y", d.lengthUnit());
  t.words("wall").number("along_wall", d.lengthUnit()).number("up_wall", d.lengthUnit());
  t.number("leads_leave", d.lengthUnit()).number("supplies").number("boards").number("ports");
  t.number("ports_free").number("fuses_free").words("cooling").number("heat", "W").number("air_celsius");
  t.words("notes");
  for (const Id id : d.boxes()) {
    const auto* box = yard::find<yard::Box>(d.y, id);
    const auto owners = d.portOwners(id);
    const auto supplies = d.suppliesIn(id);
    Places ports, fuses;
    for (const Id owner : owners) {
      const Places here = portsOn(d, owner);
      ports.all += here.all;
      ports.free += here.free;
    }
    for (const Id supply : supplies) fuses.free += fusesOn(d, supply).free;
    const auto* heat = lookUp(d.a.limit.mains.boxes, id);
    const PlaceCells place(d, box->wall, box->at);
    t.row(id, {d.label(id), place.east, place.north, place.wall, place.along, place.up,
               fixed(d.inUnit(box->height), 2), count(static_cast<std::int64_t>(supplies.size())),
               count(static_cast<std::int64_t>(owners.size())), count(ports.all), count(ports.free),
               count(fuses.free), choice(box->cooling), heat ? fixed(heat->heat, 1) : "",
               heat ? fixed(heat->inside, 1) : "", box->notes});
  }
  return t.take();
}

Table controllersTable(const Digest& d) {
  TableBuilder t("controllers");
  t.words("board").words("what").words("box").words("controller").words("model").words("network_address");
  t.words("protocol").number("ports").number("ports_free").number("pixels").number("most_a_port");
  t.number("universes");
  std::vector<Id> boards;
  for (const auto& [id, record] : yard::all<yard::Controller>(d.y)) boards.push_back(id);
  for (const auto& [id, record] : yard::all<yard::Receiver>(d.y)) boards.push_back(id);
  std::stable_sort(boards.begin(), boards.end(),
                   [&](Id l, Id r) { return naturalLess(d.label(l), d.label(r)); });
  for (const Id id : boards) {
    if (const auto* controller = yard::find<yard::Controller>(d.y, id)) boardRow(t, d, id, *controller);
    if (const auto* receiver = yard::find<yard::Receiver>(d.y, id)) boardRow(t, d, id, *receiver);
  }
  return t.take();
}

}  // namespace yw::papers
