#include <algorithm>
#include <cmath>

#include "core/catalog/conductors.h"
#include "core/circuit/protection.h"
#include "core/findings/rule_help.h"
#include "core/propose/candidates.h"
#include "core/yard/labels.h"

namespace yw::propose {

using namespace yw::yard;

namespace {

bool isFree(const Yard& yard, Id position, const std::vector<Id>& taken) {
  return !feedOnFusePosition(yard, position) &&
         std::find(taken.begin(), taken.end(), position) == taken.end();
}

}  // namespace

double weakestBehind(const assess::Assessment& a, Id wire, Id run) {
  return circuit::lowest(circuit::limitsBehind(a.yard, a.layouts, wire, run)).amps;
}

std::vector<FeedChoice> feedChoices(const assess::Assessment& a, Id propId, std::int64_t pixel,
                                    const std::vector<Id>& taken) {
  std::vector<FeedChoice> choices;
  const Prop* prop = find<Prop>(a.yard, propId);
  const Product* product = prop ? productOf(a.yard, *prop) : nullptr;
  if (!product) return choices;
  const base::Vec2 target = base::plan(findings::placeOfPixel(a, propId, pixel));
  for (const auto& [supplyId, supply] : all<Supply>(a.yard)) {
    const double ratio = base::volts(supply->voltage).si / base::volts(product->voltage).si;
    if (!supply->box || ratio < 0.85 || ratio > 1.15) continue;
    const double length = a.ground->shortest(base::plan(findings::placeOfRecord(a, supplyId)), target).length;
    Id free;
    for (const auto& [position, record] : fusePositionsOf(a.yard, supplyId))
      if (isFree(a.yard, position, taken)) {
        free = position;
        break;
      }
    choices.push_back({free, supplyId, length});
  }
  // A free position is worth a longer lead: a new one has to be bought and fitted (our own judgement: 20 ft).
  const auto cost = [](const FeedChoice& c) { return c.length + (c.position ? 0.0 : 6.1); };
  std::stable_sort(choices.begin(), choices.end(),
                   [&](const FeedChoice& x, const FeedChoice& y) { return cost(x) < cost(y); });
  return choices;
}

std::vector<std::int64_t> jointPlaces(const assess::Assessment& a, Id run) {
  std::vector<std::int64_t> places;
  const auto found = a.layouts.find(run);
  if (found == a.layouts.end()) return places;
  const auto& pixels = found->second->pixels;
  for (std::size_t i = 0; i < pixels.size(); ++i) {
    if (!pixels[i].prop) continue;
    bool joint = i == 0 || i + 1 == pixels.size() || pixels[i].item != pixels[i - 1].item ||
                 pixels[i].item != pixels[i + 1].item;
    if (const auto shape = a.shapes.find(pixels[i].prop); !joint && shape != a.shapes.end())
      joint = std::any_of(shape->second->joints.begin(), shape->second->joints.end(),
                          [&](const shapes::Joint& j) { return j.afterPixel == pixels[i].pixel; });
    if (joint) places.push_back(static_cast<std::int64_t>(i) + 1);
  }
  return places;
}

namespace {

/// Supply that reaches the run's V+ at its start: the port's, or none.
Id startSupply(const assess::Assessment& a, Id runId) {
  const Run* run = find<Run>(a.yard, runId);
  return run && run->port && run->portPower ? findings::supplyOfPort(a, run->port) : Id{};
}

/// True when all V+ that already reaches the run comes from `supply`.
bool onlySupply(const assess::Assessment& a, Id runId, Id supply) {
  const Id start = startSupply(a, runId);
  if (start && start != supply) return false;
  for (const auto& [feed, figure] : a.limit.feeds)
    if (figure.run == runId)
      if (const auto* position = find<FusePosition>(a.yard, figure.fusePosition);
          position && position->supply != supply)
        return false;
  return true;
}

Id newFusePosition(edit::Editor& editor, Id supply) {
  std::int64_t number = 1;
  for (const auto& [id, position] : fusePositionsOf(editor.yard(), supply))
    number = std::max(number, position->number + 1);
  FusePosition position;
  position.supply = supply;
  position.number = number;
  return editor.add(position);
}

}  // namespace

bool addFeeds(const assess::Assessment& a, edit::Editor& editor, Id run,
              const std::vector<std::int64_t>& places, std::vector<Id>& feeds) {
  const auto layout = a.layouts.find(run);
  if (layout == a.layouts.end()) return false;
  std::vector<Id> taken;
  for (const std::int64_t place : places) {
    const circuit::RunPixel& at = layout->second->pixels.at(static_cast<std::size_t>(place - 1));
    std::vector<FeedChoice> choices = feedChoices(a, at.prop, at.pixel, taken);
    if (choices.empty()) return false;
    // Stay with the supply that feeds the run where its way is not much longer: then V+ needs no cut.
    std::stable_sort(choices.begin(), choices.end(), [&](const FeedChoice& x, const FeedChoice& y) {
      return onlySupply(a, run, x.supply) && !onlySupply(a, run, y.supply) && x.length <= y.length + 6.1 &&
             (x.position || !y.position);
    });
    const FeedChoice& choice = choices.front();
    const Id position = choice.position ? choice.position : newFusePosition(editor, choice.supply);
    taken.push_back(position);
    const Id wire = settings(a.yard).usualFeed;
    const double weakest = weakestBehind(a, wire, run);
    editor.update<FusePosition>(position, [&](FusePosition& p) {
      const base::Current most =
          catalog::largestFuseUpTo({std::min(weakest > 0 ? weakest : 1e9, base::amps(p.holderLimit).si)});
      if (most.count > 0 && (p.fuse > most || !choice.position)) p.fuse = most;
    });
    Cable feed;
    feed.from = {TerminalKind::FusePosition, position, 0};
    feed.to = {TerminalKind::PropPixel, at.prop, at.pixel};
    feed.conductors = ConductorSet::PowerOnly;
    feed.wire = wire;
    feed.cutPositive = !onlySupply(a, run, choice.supply);
    feeds.push_back(editor.add(feed));
  }
  return true;
}

std::optional<Proposal> feedAt(const assess::AssessmentPtr& assessment, Id run, std::int64_t runPixel) {
  const assess::Assessment& a = *assessment;
  const auto layout = a.layouts.find(run);
  if (layout == a.layouts.end() || runPixel < 1 ||
      runPixel > static_cast<std::int64_t>(layout->second->pixels.size()))
    return {};
  if (!layout->second->pixels[static_cast<std::size_t>(runPixel - 1)].prop) return {};
  edit::Editor editor(a.yard);
  std::vector<Id> feeds;
  if (!addFeeds(a, editor, run, {runPixel}, feeds)) return {};
  const Cable& feed = *find<Cable>(editor.yard(), feeds[0]);
  const double length = a.ground
                            ->shortest(base::plan(findings::placeOfRecord(
                                           a, find<FusePosition>(editor.yard(), feed.from.record)->supply)),
                                       base::plan(findings::placeOfPixel(a, feed.to.record, feed.to.pixel)))
                            .length;
  const Wire* wire = find<Wire>(a.yard, feed.wire);
  Proposal proposal;
  proposal.sentence = {"remedy_feed",
                       {{"prop", labelOf(a.yard, feed.to.record)},
                        {"pixel", feed.to.pixel},
                        {"position", labelOf(editor.yard(), feed.from.record)},
                        {"length", findings::said(a, length)},
                        {"wire", wire ? wire->name : std::string("wire")}}};
  proposal.change = editor.finish(base::text(
      base::Message{"done_feed", {{"prop", labelOf(a.yard, feed.to.record)}, {"pixel", feed.to.pixel}}}));
  return proposal;
}

}  // namespace yw::propose
