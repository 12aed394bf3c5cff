// Trenches that cables share, where digging has a price. What the cables of a box join along the ground is
// one net; each net gets the shortest trench over its ends, and of that what is worth its digging.
#include <algorithm>
#include <map>
#include <set>

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

/// What the cables of one box join along the ground.
struct Net {
  base::Vec2 root;  ///< where the box stands, else an end
  std::vector<base::Vec2> ends;
  std::vector<Id> records;  ///< what stands at its ends
  std::set<Id> own;         ///< its runs and cables
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
    out_.costBefore = out_.costAfter = costOf(a_.yard, chosen);
    std::vector<std::pair<const Net*, Lines>> planned;
    for (const Net& net : nets_) {
      if (net.ends.size() < 3 || kept(net)) continue;
      Lines lines = worthDigging(net, chosen, pieces(routes::sharedTrench(*a_.ground, net.ends).lines));
      if (lines.empty()) continue;
      chosen.insert(chosen.end(), lines.begin(), lines.end());
      planned.emplace_back(&net, std::move(lines));
    }
    const double digging = price_ * routes::diggingBound(*a_.ground, joinedByCables());
    out_.bound = std::min(out_.costAfter, shortestWire() + digging);
    write(planned);
    return std::move(out_);
  }

 private:
  /// The box a cable belongs to: that of its port, fuse position, supply or receiver.
  Id boxOfCable(const routes::RoutedCable& cable) const {
    const auto* run = find<Run>(a_.yard, cable.key.of);
    if (run) return boxOf(a_.yard, run->port);
    const Id box = boxOf(a_.yard, cable.from.record);
    return box ? box : boxOf(a_.yard, cable.to.record);
  }

  void findNets() {
    std::map<Id, Net> found;
    for (const auto& [key, cable] : a_.routes.cables) {
      if (std::find(cable.lays.begin(), cable.lays.end(), Lay::Ground) == cable.lays.end()) continue;
      Net& net = found[boxOfCable(cable)];
      net.own.insert({key.of, cable.record});
      const auto take = [&](const base::Vec3& place, Id record) {
        const base::Vec2 at = base::plan(place);
        if (std::none_of(net.ends.begin(), net.ends.end(),
                         [&](base::Vec2 end) { return base::distance(end, at) < kSamePlace; }))
          net.ends.push_back(at);
        if (record && std::find(net.records.begin(), net.records.end(), record) == net.records.end())
          net.records.push_back(record);
      };
      take(cable.path.front(), standsAt(cable.from));
      take(cable.path.back(), standsAt(cable.to));
    }
    for (auto& [box, net] : found) {
      net.root = box ? base::plan(findings::placeOfRecord(a_, box)) : net.ends.front();
      nets_.push_back(std::move(net));
    }
  }

  /// Ends that cables along the ground join with each other, whatever belongs to which box. A prop joins its
  /// own two ends above the ground.
  std::vector<std::vector<base::Vec2>> joinedByCables() const {
    std::vector<std::vector<base::Vec2>> parts;
    const auto partOf = [&](base::Vec2 at) {
      return std::find_if(parts.begin(), parts.end(), [&](const auto& part) {
        return std::any_of(part.begin(), part.end(),
                           [&](base::Vec2 end) { return base::distance(end, at) < kSamePlace; });
      });
    };
    for (const auto& [key, cable] : a_.routes.cables) {
      if (std::find(cable.lays.begin(), cable.lays.end(), Lay::Ground) == cable.lays.end()) continue;
      const base::Vec2 from = base::plan(cable.path.front()), to = base::plan(cable.path.back());
      auto a = partOf(from);
      if (a == parts.end()) a = parts.insert(parts.end(), {from});
      const auto first = a - parts.begin();
      const auto b = partOf(to);
      if (b == parts.end()) {
        parts[static_cast<std::size_t>(first)].push_back(to);
      } else if (b - parts.begin() != first) {
        auto moved = std::move(*b);
        auto& into = parts[static_cast<std::size_t>(first)];
        into.insert(into.end(), moved.begin(), moved.end());
        parts.erase(parts.begin() + (b - parts.begin()));
      }
    }
    return parts;
  }

  Id standsAt(const Terminal& end) const {
    const Id box = boxOf(a_.yard, end.record);
    return box ? box : end.record;
  }

  bool kept(const Net& net) const {
    return std::any_of(net.records.begin(), net.records.end(),
                       [&](Id id) { return keptAsIs(a_.yard, id, "trench"); });
  }

  edit::Editor with(const Yard& yard, const Lines& lines, std::vector<Id>* added = nullptr) const {
    edit::Editor editor(yard);
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

  /// The yard with the runs and cables of one net alone: what the others do does not change with its trenches
  /// (but for what they would then share, which is looked at in the end).
  Yard alone(const Net& net) const {
    Yard yard = a_.yard;
    std::erase_if(yard.records, [&](const auto& record) {
      return !net.own.contains(record.first) &&
             (std::holds_alternative<Run>(*record.second) || std::holds_alternative<Cable>(*record.second));
    });
    return yard;
  }

  double wireOf(const routes::RoutedCable& cable) const {
    const Wire* wire = find<Wire>(a_.yard, cable.wire);
    return cable.owned ? 0.0 : wire ? pricePerMetre(*wire) : 1.0;
  }

  /// Wire of all cables along the ground and what is dug for them, with these trenches.
  double costOf(const Yard& of, const Lines& lines) const {
    const Yard yard = with(of, lines).yard();
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
      if (s.walkCrossing == Crossing::AtAPrice) s.walkCrossing = Crossing::AtWill;
      if (s.driveCrossing == Crossing::AtAPrice) s.driveCrossing = Crossing::AtWill;
    });
    const Yard now = thisYear(editor.yard());
    const routes::Routes found = routes::route(now, a_.shapes, routes::Ground(editor.yard()));
    double cost = 0.0;
    for (const auto& [key, cable] : found.cables)
      if (std::any_of(cable.lays.begin(), cable.lays.end(), [](Lay lay) { return lay != Lay::Above; }))
        cost += wireOf(cable) * cable.length();
    return cost;
  }

  /// Each straight piece by itself.
  static Lines pieces(const Lines& lines) {
    Lines out;
    for (const auto& line : lines)
      for (std::size_t i = 0; i + 1 < line.size(); ++i) out.push_back({line[i], line[i + 1]});
    return out;
  }

  /// Pieces that follow one another and meet no third are one line.
  static Lines joined(Lines lines) {
    const auto meet = [](base::Vec2 a, base::Vec2 b) { return base::distance(a, b) < 1e-9; };
    const auto ends = [&](base::Vec2 at) {
      std::size_t count = 0;
      for (const auto& line : lines)
        count += static_cast<std::size_t>(meet(line.front(), at)) +
                 static_cast<std::size_t>(meet(line.back(), at));
      return count;
    };
    for (std::size_t i = 0; i < lines.size(); ++i)
      for (std::size_t j = i + 1; j < lines.size();) {
        auto &a = lines[i], &b = lines[j];
        if (meet(a.back(), b.back()) || meet(a.front(), b.back())) std::reverse(b.begin(), b.end());
        if (meet(a.front(), b.front())) std::reverse(a.begin(), a.end());
        if (!meet(a.back(), b.front()) || ends(b.front()) != 2) {
          ++j;
          continue;
        }
        a.insert(a.end(), b.begin() + 1, b.end());
        lines.erase(lines.begin() + static_cast<std::ptrdiff_t>(j));
        j = i + 1;
      }
    return lines;
  }

  struct Choice {
    Lines lines;
    double cost = 0.0;
  };

  /// Pieces of a tree from its root outwards, each kept if it pays.
  Choice outwards(const Yard& yard, Lines pieces, base::Vec2 root) {
    Choice best{{}, costOf(yard, {})};
    std::vector<base::Vec2> reached{root};
    const auto meets = [&](base::Vec2 at) {
      return std::any_of(reached.begin(), reached.end(),
                         [&](base::Vec2 r) { return base::distance(r, at) < kSamePlace; });
    };
    while (tries_ > 0) {
      const auto next = std::find_if(pieces.begin(), pieces.end(), [&](const auto& piece) {
        return meets(piece.front()) || meets(piece.back());
      });
      if (next == pieces.end()) break;
      const auto piece = *next;
      pieces.erase(next);
      best.lines.push_back(piece);
      --tries_;
      const double cost = costOf(yard, best.lines);
      if (cost > best.cost + 1e-9) {
        best.lines.pop_back();
        continue;
      }
      best.cost = cost;
      reached.push_back(meets(piece.front()) ? piece.back() : piece.front());
    }
    return best;
  }

  /// All pieces, less each that is not worth its digging.
  Choice inwards(const Yard& yard, const Lines& pieces) {
    Choice best{pieces, costOf(yard, pieces)};
    for (std::size_t i = 0, unchanged = 0; unchanged < best.lines.size() && tries_ > 0; --tries_) {
      if (i >= best.lines.size()) i = 0;
      Lines fewer = best.lines;
      fewer.erase(fewer.begin() + static_cast<std::ptrdiff_t>(i));
      const double cost = costOf(yard, fewer);
      if (cost >= best.cost - 1e-9) {
        ++i;
        ++unchanged;
        continue;
      }
      best = {std::move(fewer), cost};
      unchanged = 0;
    }
    return best;
  }

  /// Of a net's pieces those that pay; costAfter is then with them.
  Lines worthDigging(const Net& net, const Lines& before, const Lines& pieces) {
    constexpr std::size_t kFew = 40;
    constexpr std::size_t kTries = 2000, kLeastTries = 60;
    tries_ = static_cast<int>(std::max(kLeastTries, kTries / nets_.size()));
    const Yard yard = alone(net);
    Choice best = outwards(yard, pieces, net.root);
    if (pieces.size() <= kFew)
      if (Choice other = inwards(yard, pieces); other.cost < best.cost) best = std::move(other);
    if (best.lines.empty()) return {};
    best.lines = joined(std::move(best.lines));
    Lines whole = before;
    whole.insert(whole.end(), best.lines.begin(), best.lines.end());
    const double cost = costOf(a_.yard, whole);
    if (cost >= out_.costAfter * (1.0 - 1e-9) || !holds(whole)) return {};
    out_.costAfter = cost;
    return std::move(best.lines);
  }

  /// Ways through a trench are longer: no reach and no volts may be lost by it.
  bool holds(const Lines& lines) const {
    const auto was = graveness(a_), is = graveness(*assess::assess(with(a_.yard, lines).yard(), before_));
    return is[0] <= was[0] && is[1] <= was[1];
  }

  void write(const std::vector<std::pair<const Net*, Lines>>& planned) {
    if (planned.empty()) return;
    Lines all;
    for (const auto& [net, lines] : planned) all.insert(all.end(), lines.begin(), lines.end());
    std::vector<Id> added;
    edit::Editor editor = with(a_.yard, all, &added);
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
  int tries_ = 0;  ///< left for this net: work is bounded by tries, never by the clock
  YardPlan out_;
};

}  // namespace

YardPlan planTrenchesOf(const assess::AssessmentPtr& assessment) {
  return TrenchesPlanner(assessment).plan();
}

}  // namespace yw::propose
