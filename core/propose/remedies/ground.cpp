// Remedies on the ground: ways crossed, keep-outs, leads that do not reach.
#include <algorithm>
#include <cmath>

#include "core/findings/rule_help.h"
#include "core/propose/candidates.h"
#include "core/yard/labels.h"

namespace yw::propose {

using namespace yw::yard;

std::vector<Proposal> provideCrossing(const Case& c) {
  const Id way = c.finding.subjects.front();
  if (!find<GroundFeature>(c.a.yard, way)) return {};
  edit::Editor editor(c.a.yard);
  editor.update<GroundFeature>(way, [](GroundFeature& f) { f.crossingAllowed = true; });
  Proposal proposal;
  proposal.sentence = {"remedy_crossing", {{"way", labelOf(c.a.yard, way)}}};
  proposal.change = editor.finish(base::text(proposal.sentence));
  return {std::move(proposal)};
}

std::vector<Proposal> raiseProp(const Case& c) {
  const Id id = c.finding.subjects.front();
  const auto shape = c.a.shapes.find(id);
  const auto* prop = find<Prop>(c.a.yard, id);
  if (!prop || shape == c.a.shapes.end()) return {};
  const shapes::Placement placement = shapes::placementOf(c.a.yard, *prop);
  double lowest = 0.0;
  for (const base::Vec3& pixel : shape->second->pixels) lowest = std::min(lowest, placement.toYard(pixel).z);
  const base::Length by = base::toLength({-lowest});
  edit::Editor editor(c.a.yard);
  editor.update<Prop>(id, [&](Prop& p) { (p.wall ? p.at.y : p.base) += by; });
  Proposal proposal;
  proposal.sentence = {"remedy_raise", {{"prop", labelOf(c.a.yard, id)}, {"length", by}}};
  proposal.change = editor.finish(base::text(proposal.sentence));
  return {std::move(proposal)};
}

std::vector<Proposal> leaveKeepOut(const Case& c) {
  std::vector<Proposal> out;
  const Id id = c.finding.subjects.front();
  // Nearest first: rings of growing distance, eight directions each.
  for (const double away : {0.3, 0.6, 1.0, 1.5, 2.5, 4.0})
    for (int k = 0; k < 8; ++k) {
      const double angle = k * 3.14159265358979323846 / 4;
      const base::Vec2 by{away * std::cos(angle), away * std::sin(angle)};
      const auto moved = [&](Point at) { return base::point(base::vec(at) + by); };
      const Prop* prop = find<Prop>(c.a.yard, id);
      const Box* box = find<Box>(c.a.yard, id);
      const base::Vec2 centre = prop  ? base::vec(moved(prop->at))
                                : box ? base::vec(moved(box->at))
                                      : base::Vec2{};
      if ((!prop && !box) || !c.a.ground->keepOutsAt(centre).empty()) continue;
      edit::Editor editor(c.a.yard);
      editor.update<Prop>(id, [&](Prop& p) { p.at = moved(p.at); });
      editor.update<Box>(id, [&](Box& b) { b.at = moved(b.at); });
      Proposal proposal;
      proposal.sentence = {"remedy_move",
                           {{"what", labelOf(c.a.yard, id)}, {"length", base::toLength({away})}}};
      proposal.change = editor.finish(base::text(proposal.sentence));
      out.push_back(std::move(proposal));
    }
  return out;
}

std::vector<Proposal> cutNewLead(const Case& c) {
  const Id id = c.finding.subjects.front();
  if (!find<Cable>(c.a.yard, id)) return {};
  edit::Editor editor(c.a.yard);
  editor.update<Cable>(id, [](Cable& cable) { cable.ownLength = {}; });
  Proposal proposal;
  proposal.sentence = {"remedy_cut_lead", {{"cable", c.finding.condition}}};
  proposal.change = editor.finish(base::text(proposal.sentence));
  return {std::move(proposal)};
}

}  // namespace yw::propose
