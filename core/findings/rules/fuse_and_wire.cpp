// Verdict: a fuse is larger than the wire, plug or string behind it may carry, so it would not protect it.
// Judged by ratings alone: no brightness limit holds in a fault.
#include "core/catalog/conductors.h"
#include "core/circuit/protection.h"
#include "core/findings/rule_help.h"
#include "core/findings/rules/rules.h"

namespace yw::findings::verdicts {

using namespace yw::yard;

namespace {

/// What stands behind one fuse: the lead or feed, then the string it lands on.
struct Fused {
  Id position, cable, run;
  base::Current fuse;
  const routes::RoutedCable* routed = nullptr;
};

std::vector<Fused> fusedPaths(const assess::Assessment& a) {
  std::vector<Fused> all;
  for (const auto& [key, cable] : a.routes.cables) {
    if (key.role == routes::CableRole::Lead) {
      const Port* port = find<Port>(a.yard, cable.from.record);
      const Run* run = find<Run>(a.yard, key.of);
      if (port && run && run->portPower)
        all.push_back({cable.from.record, cable.record, key.of, port->fuse, &cable});
    } else if (key.role == routes::CableRole::Feed) {
      const FusePosition* position = find<FusePosition>(a.yard, cable.from.record);
      const auto figure = a.fullWhite.feeds.find(key.of);
      if (position)
        all.push_back({cable.from.record, key.of,
                       figure == a.fullWhite.feeds.end() ? Id{} : figure->second.run, position->fuse,
                       &cable});
    }
  }
  return all;
}

}  // namespace

void fuseAndWire(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out) {
  for (const Fused& fused : fusedPaths(a)) {
    const circuit::CarryLimit weakest =
        circuit::lowest(circuit::limitsBehind(a.yard, a.layouts, fused.routed->wire, fused.run));
    if (weakest.amps <= 0 || fused.fuse.count <= 0) continue;
    const double rating = base::amps(fused.fuse).si;
    if (rating <= weakest.amps + 1e-9) continue;
    Finding finding = begin(a, rule, Severity::Danger, fused.position);
    if (fused.cable) finding.subjects.push_back(fused.cable);
    finding.used = rating / weakest.amps;
    finding.figure = fused.fuse;
    finding.limit = base::toCurrent({weakest.amps});
    finding.condition = "fault";
    finding.source = weakest.source;
    finding.sentence = {"fuse_and_wire",
                        {{"fuse", fused.fuse},
                         {"position", label(a, fused.position)},
                         {"part", weakest.part},
                         {"limit", finding.limit}}};
    // A fuse that would not last is no advice.
    const base::Current largest = catalog::largestFuseUpTo({weakest.amps});
    const bool lasts =
        largest.count > 0 && ampsThrough(a, fused.position) <=
                                 base::amps(largest).si * base::fraction(settings(a.yard).fuseUsable);
    finding.advice = {lasts ? "fuse_and_wire_advice" : "fuse_and_wire_thicker_advice",
                      {{"position", label(a, fused.position)}, {"fuse", largest}, {"part", weakest.part}}};
    out.push_back(std::move(finding));
  }
}

}  // namespace yw::findings::verdicts
