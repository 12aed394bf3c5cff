// Remedies that bring power in along a run.
#include <algorithm>

#include "core/findings/rule_help.h"
#include "core/propose/candidates.h"
#include "core/yard/labels.h"

namespace yw::propose {

using namespace yw::yard;

namespace {

std::int64_t nearestJoint(const std::vector<std::int64_t>& joints, double place) {
  return *std::min_element(joints.begin(), joints.end(), [&](std::int64_t x, std::int64_t y) {
    return std::abs(static_cast<double>(x) - place) < std::abs(static_cast<double>(y) - place);
  });
}

/// Sets of places to try, the fewest feeds first.
std::vector<std::vector<std::int64_t>> placesToTry(const assess::Assessment& a, Id run, std::int64_t worst) {
  const std::vector<std::int64_t> joints = jointPlaces(a, run);
  std::vector<std::vector<std::int64_t>> sets;
  if (joints.empty()) return sets;
  const auto add = [&](std::vector<std::int64_t> places) {
    std::sort(places.begin(), places.end());
    places.erase(std::unique(places.begin(), places.end()), places.end());
    if (std::find(sets.begin(), sets.end(), places) == sets.end()) sets.push_back(std::move(places));
  };
  const double n = static_cast<double>(a.layouts.at(run)->pixels.size());
  add({nearestJoint(joints, static_cast<double>(worst))});
  for (const double part : {0.7, 1.0, 0.5}) add({nearestJoint(joints, 1 + part * (n - 1))});
  for (int count = 2; count <= 6; ++count) {
    std::vector<std::int64_t> toEnd, inside;
    for (int i = 1; i <= count; ++i) {
      toEnd.push_back(nearestJoint(joints, 1 + (n - 1) * i / count));
      inside.push_back(nearestJoint(joints, 1 + (n - 1) * (2.0 * i) / (2.0 * count + 1.0)));
    }
    add(inside);
    add(toEnd);
  }
  return sets;
}

double planLength(const assess::Assessment& a, const Cable& feed, const Yard& yard) {
  const auto* position = find<FusePosition>(yard, feed.from.record);
  if (!position) return 0.0;
  return a.ground
      ->shortest(base::plan(findings::placeOfRecord(a, position->supply)),
                 base::plan(findings::placeOfPixel(a, feed.to.record, feed.to.pixel)))
      .length;
}

base::Message sentenceFor(const assess::Assessment& a, const Yard& yard, const std::vector<Id>& feeds) {
  const Cable& first = *find<Cable>(yard, feeds.front());
  const Wire* wire = find<Wire>(yard, first.wire);
  const std::string wireName = wire ? wire->name : std::string();
  if (feeds.size() == 1)
    return {"remedy_feed",
            {{"prop", labelOf(yard, first.to.record)},
             {"pixel", first.to.pixel},
             {"position", labelOf(yard, first.from.record)},
             {"length", findings::said(a, planLength(a, first, yard))},
             {"wire", wireName}}};
  std::string places;
  double total = 0.0;
  for (const Id id : feeds) {
    const Cable& feed = *find<Cable>(yard, id);
    places += (places.empty() ? "" : "; ") + labelOf(yard, feed.to.record) + " pixel " +
              std::to_string(feed.to.pixel) + " from " + labelOf(yard, feed.from.record);
    total += planLength(a, feed, yard);
  }
  return {"remedy_feeds",
          {{"count", static_cast<std::int64_t>(feeds.size())},
           {"places", places},
           {"length", findings::said(a, total)},
           {"wire", wireName}}};
}

void tryFeeds(const assess::Assessment& a, Id run, std::int64_t worst, std::vector<Proposal>& out) {
  for (const auto& places : placesToTry(a, run, worst)) {
    edit::Editor editor(a.yard);
    std::vector<Id> feeds;
    if (!addFeeds(a, editor, run, places, feeds)) continue;
    Proposal proposal;
    proposal.sentence = sentenceFor(a, editor.yard(), feeds);
    proposal.change = editor.finish(base::text(base::Message{"done_feeds", {{"run", labelOf(a.yard, run)}}}));
    out.push_back(std::move(proposal));
  }
}

/// The run a finding is about: its own subject, or the run of its port, cable or fuse position.
Id runOf(const Case& c) {
  for (const Id id : c.finding.subjects) {
    if (find<Run>(c.a.yard, id)) return id;
    if (find<Port>(c.a.yard, id)) return runOnPort(c.a.yard, id);
    if (const auto figure = c.a.limit.feeds.find(id); figure != c.a.limit.feeds.end())
      return figure->second.run;
    if (const Id feed = feedOnFusePosition(c.a.yard, id))
      if (const auto figure = c.a.limit.feeds.find(feed); figure != c.a.limit.feeds.end())
        return figure->second.run;
  }
  return {};
}

/// The run's port takes its power from a section that no supply feeds: one that stands in the same box would.
void tryPowerOfSection(const assess::Assessment& a, Id runId, std::vector<Proposal>& out) {
  const Run* run = find<Run>(a.yard, runId);
  const Port* port = run && run->portPower ? find<Port>(a.yard, run->port) : nullptr;
  if (!port || findings::supplyOfPort(a, run->port)) return;
  const auto layout = a.layouts.find(runId);
  if (layout == a.layouts.end() || layout->second->pixels.empty()) return;
  const Product* product = findings::productAt(a, *layout->second, 0);
  const auto* controller = find<Controller>(a.yard, port->owner);
  const auto* receiver = find<Receiver>(a.yard, port->owner);
  const Id box = controller ? controller->box : receiver ? receiver->box : Id{};
  if (!product || !box) return;
  for (const auto& [id, supply] : all<Supply>(a.yard)) {
    if (supply->box != box || supply->voltage != product->voltage) continue;
    edit::Editor editor(a.yard);
    const auto give = [section = static_cast<std::size_t>(port->section - 1), supplyId = id](auto& owner) {
      if (section < owner.sections.size()) owner.sections[section].supply = supplyId;
    };
    editor.update<Controller>(port->owner, give);
    editor.update<Receiver>(port->owner, give);
    Proposal proposal;
    proposal.sentence = {"remedy_power_section",
                         {{"section", port->section},
                          {"controller", labelOf(a.yard, port->owner)},
                          {"supply", labelOf(a.yard, id)}}};
    proposal.change = editor.finish(base::text(proposal.sentence));
    out.push_back(std::move(proposal));
  }
}

}  // namespace

std::vector<Proposal> feedRun(const Case& c) {
  std::vector<Proposal> out;
  const Id run = runOf(c);
  const auto figure = c.a.limit.runs.find(run);
  if (figure == c.a.limit.runs.end()) return out;
  if (c.finding.sentence.key == "not_fed") tryPowerOfSection(c.a, run, out);
  const std::int64_t worst =
      figure->second.noOperatingPoint ? figure->second.weakestPixel : figure->second.lowestPixel;
  tryFeeds(c.a, run, std::max<std::int64_t>(worst, 1), out);
  return out;
}

std::vector<Proposal> feedSection(const Case& c) {
  std::vector<Proposal> out;
  if (c.finding.subjects.empty()) return out;
  // The run of the section that takes most from its port goes first.
  std::vector<std::pair<double, Id>> runs;
  for (const auto& [portId, port] : portsOf(c.a.yard, c.finding.subjects.front())) {
    const auto amps = c.a.limit.portAmps.find(portId);
    const Id run = runOnPort(c.a.yard, portId);
    const bool here = c.finding.condition.ends_with("section " + std::to_string(port->section));
    if (run && here && amps != c.a.limit.portAmps.end()) runs.emplace_back(-amps->second, run);
  }
  std::sort(runs.begin(), runs.end());
  for (const auto& [amps, run] : runs) {
    edit::Editor editor(c.a.yard);
    std::vector<Id> feeds;
    if (!addFeeds(c.a, editor, run, {1}, feeds)) continue;
    editor.update<Cable>(feeds[0], [](Cable& feed) { feed.cutPositive = false; });
    editor.update<Run>(run, [](Run& r) { r.portPower = false; });
    Proposal proposal;
    proposal.sentence = sentenceFor(c.a, editor.yard(), feeds);
    proposal.change =
        editor.finish(base::text(base::Message{"done_feeds", {{"run", labelOf(c.a.yard, run)}}}));
    out.push_back(std::move(proposal));
    if (out.size() == 6) break;
  }
  return out;
}

std::vector<Proposal> cutPositive(const Case& c) {
  std::vector<Proposal> out;
  for (const Id id : c.finding.subjects) {
    const Cable* feed = find<Cable>(c.a.yard, id);
    if (!feed || feed->cutPositive) continue;
    edit::Editor editor(c.a.yard);
    editor.update<Cable>(id, [](Cable& cable) { cable.cutPositive = true; });
    Proposal proposal;
    proposal.sentence = {"remedy_cut_positive",
                         {{"prop", labelOf(c.a.yard, feed->to.record)}, {"pixel", feed->to.pixel}}};
    proposal.change = editor.finish(base::text(proposal.sentence));
    out.push_back(std::move(proposal));
  }
  return out;
}

std::vector<Proposal> endAtLast(const Case& c) {
  const Id subject = c.finding.subjects.front(), prop = c.finding.prop;
  const auto count = std::get<std::int64_t>(c.finding.limit);
  edit::Editor editor(c.a.yard);
  Proposal proposal;
  const std::string what = labelOf(c.a.yard, subject), name = labelOf(c.a.yard, prop);
  if (find<Cable>(c.a.yard, subject)) {
    editor.update<Cable>(subject, [&](Cable& cable) { cable.to.pixel = count; });
    proposal.sentence = {"remedy_feed_at_last", {{"what", what}, {"prop", name}, {"pixel", count}}};
  } else {
    const auto gone = [&](const RunItem& item) { return item.prop == prop && item.first > count; };
    const Run* run = find<Run>(c.a.yard, subject);
    const bool off = run && std::any_of(run->items.begin(), run->items.end(), gone);
    editor.update<Run>(subject, [&](Run& r) {
      std::erase_if(r.items, gone);
      for (RunItem& item : r.items) {
        if (item.prop != prop || item.last <= count) continue;
        item.last = item.first > 1 ? count : 0;
        if (item.last == 0) item.first = 0;  // all of it
      }
    });
    if (const Run* left = find<Run>(editor.yard(), subject); left && left->items.empty())
      editor.remove(subject);
    proposal.sentence = {off ? "remedy_stretch_off" : "remedy_stretch_to_last",
                         {{"run", what}, {"prop", name}, {"pixel", count}}};
  }
  proposal.change = editor.finish(base::text(proposal.sentence));
  return {proposal};
}

}  // namespace yw::propose
