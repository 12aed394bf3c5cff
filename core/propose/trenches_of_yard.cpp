// Trenches that cables share, where digging has a price. Everything that cables join along the ground is one
// net; each net gets the shortest trench over its ends, and of that what is worth its digging.
#include <algorithm>
#include <map>

#include "core/findings/rule_help.h"
#include "core/propose/plan.h"
#include "core/routes/shared_trench.h"
#include "core/yard/labels.h"
#include "core/yard/this_year.h"

namespace yw::propose {

using namespace yw::yard;

namespace {

using routes::Lay;
using Lines = std::vector<std::vector<base::Vec2>>;

/// What cables join along the ground.
struct Net {
  std::vector<base::Vec2> ends;
  std::vector<Id> records;  ///< what stands at its ends
};

class TrenchesPlanner {
 public:
  explicit TrenchesPlanner(const assess::AssessmentPtr& assessment)
      : a_(*assessment),
        before_(assessment),
        price_(static_cast<double>(settings(a_.yard).diggingPrice.count) * 1e-4) {}

  YardPlan plan() {
    if (price_ <= 0.0) return std::move(out_);
    findNets();
    Lines chosen;
    out_.costBefore = out_.costAfter = costOf(chosen);
    double digging = 0.0;
    std::vector<std::pair<const Net*, Lines>> planned;
    for (const Net& net : nets_) {
      const routes::SharedTrench trench = routes::sharedTrench(*a_.ground, net.ends);
      if (trench.blocked) continue;
      digging = std::max(digging, trench.bound);
      if (kept(net)) continue;
      Lines lines = worthDigging(chosen, trench.lines);
      if (lines.empty()) continue;
      chosen.insert(chosen.end(), lines.begin(), lines.end());
      planned.emplace_back(&net, std::move(lines));
    }
    out_.bound = std::min(out_.costAfter, shortestWire() + price_ * digging);
    write(planned);
    return std::move(out_);
  }

 private:
  void findNets() {
    std::vector<std::pair<std::size_t, std::size_t>> joined;
    std::vector<base::Vec2> places;
    std::vector<std::vector<Id>> records;
    const auto indexOf = [&](base::Vec2 place, Id record) {
      std::size_t i = 0;
      while (i < places.size() && base::distance(places[i], place) > kSamePlace) ++i;
      if (i == places.size()) {
        places.push_back(place);
        records.emplace_back();
      }
      if (record && std::find(records[i].begin(), records[i].end(), record) == records[i].end())
        records[i].push_back(record);
      return i;
    };
    for (const auto& [key, cable] : a_.routes.cables) {
      if (std::find(cable.lays.begin(), cable.lays.end(), Lay::Ground) == cable.lays.end()) continue;
      const auto from = standsAt(cable.from), to = standsAt(cable.to);
      joined.emplace_back(indexOf(base::plan(cable.path.front()), from),
                          indexOf(base::plan(cable.path.back()), to));
    }
    std::vector<std::size_t> net(places.size());
    for (std::size_t i = 0; i < net.size(); ++i) net[i] = i;
    for (const auto& [i, j] : joined) {
      const std::size_t from = net[i], to = net[j];
      for (std::size_t& n : net)
        if (n == from) n = to;
    }
    std::map<std::size_t, Net> found;
    for (std::size_t i = 0; i < places.size(); ++i) {
      found[net[i]].ends.push_back(places[i]);
      found[net[i]].records.insert(found[net[i]].records.end(), records[i].begin(), records[i].end());
    }
    for (auto& [n, one] : found)
      if (one.ends.size() > 2) nets_.push_back(std::move(one));
  }

  Id standsAt(const Terminal& end) const {
    const Id box = boxOf(a_.yard, end.record);
    return box ? box : end.record;
  }

  bool kept(const Net& net) const {
    return std::any_of(net.records.begin(), net.records.end(),
                       [&](Id id) { return keptAsIs(a_.yard, id, "trench"); });
  }

  edit::Editor with(const Lines& lines, std::vector<Id>* added = nullptr) const {
    edit::Editor editor(a_.yard);
    for (const auto& line : lines) {
      GroundFeature trench;
      trench.kind = FeatureKind::Trench;
      trench.blocksLeads = false;
      trench.name = freeName(editor.yard(), RecordKind::GroundFeature,
                             base::text(base::Message{"plan_trench_name", {}}));
      for (const base::Vec2 p : line) trench.outline.push_back(base::point(p));
      const Id id = editor.add(trench);
      if (added) added->push_back(id);
    }
    return editor;
  }

  double wireOf(const routes::RoutedCable& cable) const {
    const Wire* wire = find<Wire>(a_.yard, cable.wire);
    return cable.owned ? 0.0 : wire ? pricePerMetre(*wire) : 1.0;
  }

  /// Wire of all cables along the ground and what is dug for them, with these trenches.
  double costOf(const Lines& lines) const {
    const Yard yard = with(lines).yard();
    const Yard now = thisYear(yard);
    const routes::Routes found = routes::route(now, a_.shapes, routes::Ground(yard));
    double cost = price_ * routes::diggingOf(yard, found).length;
    for (const auto& [key, cable] : found.cables)
      if (std::any_of(cable.lays.begin(), cable.lays.end(), [](Lay lay) { return lay != Lay::Above; }))
        cost += wireOf(cable) * cable.length();
    return cost;
  }

  /// Every cable on its shortest way: what no digging can better.
  double shortestWire() const {
    edit::Editor editor(a_.yard);
    editor.update<Settings>(settingsId(a_.yard), [](Settings& s) {
      s.diggingPrice = {};
      s.trenchShare = {1'000'000};
    });
    const Yard now = thisYear(editor.yard());
    const routes::Routes found = routes::route(now, a_.shapes, routes::Ground(editor.yard()));
    double cost = 0.0;
    for (const auto& [key, cable] : found.cables)
      if (std::any_of(cable.lays.begin(), cable.lays.end(), [](Lay lay) { return lay != Lay::Above; }))
        cost += wireOf(cable) * cable.length();
    return cost;
  }

  /// Of a net's lines those that pay; costAfter is then with them.
  Lines worthDigging(const Lines& before, const Lines& lines) {
    const auto costWith = [&](const Lines& some) {
      Lines whole = before;
      whole.insert(whole.end(), some.begin(), some.end());
      return costOf(whole);
    };
    Lines best = lines;
    double least = costWith(best);
    for (std::size_t i = 0; i < best.size();) {
      Lines fewer = best;
      fewer.erase(fewer.begin() + static_cast<std::ptrdiff_t>(i));
      const double cost = costWith(fewer);
      if (cost > least) {
        ++i;
        continue;
      }
      best = std::move(fewer);
      least = cost;
      i = 0;
    }
    if (least >= out_.costAfter * (1.0 - 1e-9) || !holds(before, best)) return {};
    out_.costAfter = least;
    return best;
  }

  /// Ways through a trench are longer: no reach and no volts may be lost by it.
  bool holds(const Lines& before, const Lines& lines) const {
    Lines whole = before;
    whole.insert(whole.end(), lines.begin(), lines.end());
    const auto was = graveness(a_), is = graveness(*assess::assess(with(whole).yard(), before_));
    return is[0] <= was[0] && is[1] <= was[1];
  }

  void write(const std::vector<std::pair<const Net*, Lines>>& planned) {
    if (planned.empty()) return;
    Lines all;
    for (const auto& [net, lines] : planned) all.insert(all.end(), lines.begin(), lines.end());
    std::vector<Id> added;
    edit::Editor editor = with(all, &added);
    std::size_t next = 0;
    for (const auto& [net, lines] : planned) {
      double length = 0.0;
      for (const auto& line : lines)
        for (std::size_t i = 0; i + 1 < line.size(); ++i) length += base::distance(line[i], line[i + 1]);
      out_.steps.push_back({added[next],
                            {"plan_trench",
                             {{"length", findings::said(a_, length)},
                              {"count", std::ssize(lines)},
                              {"ends", std::ssize(net->ends)}}},
                            net->records});
      next += lines.size();
    }
    out_.change =
        editor.finish(base::text(base::Message{"plan_trenches_done", {{"count", std::ssize(all)}}}));
  }

  static constexpr double kSamePlace = 0.01;  // m
  const assess::Assessment& a_;
  assess::AssessmentPtr before_;
  double price_;
  std::vector<Net> nets_;
  YardPlan out_;
};

}  // namespace

YardPlan planTrenchesOf(const assess::AssessmentPtr& assessment) {
  return TrenchesPlanner(assessment).plan();
}

}  // namespace yw::propose
