// Controllers for what is not wired yet, where the ports that are there do not suffice.
#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <set>

#include "core/data/data.h"
#include "core/edit/usual.h"
#include "core/findings/rule_help.h"
#include "core/propose/plan.h"
#include "core/propose/port_figures.h"
#include "core/routes/places.h"
#include "core/yard/labels.h"

namespace yw::propose {

using namespace yw::yard;

double controllerCost(std::int64_t ports) { return 30.0 + 6.0 * static_cast<double>(ports); }
double receiverCost(std::int64_t ports) { return 12.0 + 4.0 * static_cast<double>(ports); }

namespace {

/// Sizes they are sold in (common practice, no source).
constexpr std::int64_t kSizes[] = {4, 8, 16};
/// Of a lead's reach, for a box that is new: below what the planner of ports plans on, and without boosters.
constexpr std::int64_t kMostReceivers = 4;  // that one controller feeds; our own judgement, no source
constexpr double kShareOfReach = 0.9;
/// A port for each prop as far as one controller goes (common practice, no source), else a tenth to spare.
constexpr std::int64_t kOwnPorts = 16;

/// Pieces of props that share ports: of one driver family and voltage.
struct Group {
  std::vector<std::int64_t> pieces;  ///< pixels of each
  std::int64_t most = 0;             ///< pixels on a port
  std::vector<Id> props;
  std::int64_t pixels = 0;
  double amps = 0.0;
  base::Vec2 middle;  ///< of its props, the sum until all are in
};

using Family = std::pair<std::string, Voltage>;

class ControllersPlanner {
 public:
  explicit ControllersPlanner(const assess::AssessmentPtr& assessment)
      : before_(assessment), a_(*assessment), editor_(assessment->yard) {}

  YardPlan plan() {
    findGroups();
    findPorts();
    for (auto& [family, group] : groups_) {
      group.middle = group.middle * (1.0 / static_cast<double>(group.props.size()));
      planGroup(family, group);
    }
    if (!groups_.empty()) addWhereNoneServes();
    out_.change = editor_.finish(base::text(base::Message{"plan_controllers_done", {{"count", added_}}}));
    return std::move(out_);
  }

 private:
  const Yard& yard() const { return a_.yard; }
  struct Free {
    Voltage volts{0};  ///< of the supply; 0: none yet, any
    std::int64_t most = 0;
  };

  void findGroups() {
    const double brightness = base::fraction(settings(yard()).brightnessLimit);
    for (const auto& [id, pixels] : a_.unwired) {
      const Prop* prop = find<Prop>(yard(), id);
      const Product* product = prop ? productOf(yard(), *prop) : nullptr;
      if (!product || prop->status == PropStatus::Idea || prop->status == PropStatus::NotThisYear) continue;
      if (keptAsIs(yard(), id, "port")) continue;
      Group& group = groups_[{product->chip, product->voltage}];
      const std::int64_t most =
          std::min(Controller{}.pixelsPerPort, data::mostPixels(*product, settings(yard()).frameRate));
      if (most <= 0) continue;
      group.most = group.most > 0 ? std::min(group.most, most) : most;
      for (std::int64_t left = pixels; left > 0; left -= most) group.pieces.push_back(std::min(left, most));
      const double volts = base::volts(product->voltage).si;
      group.amps +=
          circuit::evaluate(circuit::loadOf(*product, brightness), volts).amps * static_cast<double>(pixels);
      group.pixels += pixels;
      group.props.push_back(id);
      group.middle = group.middle + base::plan(findings::placeOfPixel(a_, id, 1));
    }
    std::erase_if(groups_, [](const auto& entry) { return entry.second.pieces.empty(); });
    for (const auto& [family, group] : groups_) volts_.insert(family.second);
    for (const auto& [id, supply] : all<Supply>(yard())) volts_.insert(supply->voltage);
  }

  void findPorts() {
    const auto of = [&](Id owner, Id box, const std::vector<PowerSection>& sections, std::int64_t most) {
      if (!find<Box>(yard(), box)) return;
      for (const auto& [id, port] : portsOf(yard(), owner)) {
        if (runOnPort(yard(), id) || keptAsIs(yard(), id, "port")) continue;
        const auto section = static_cast<std::size_t>(port->section) - 1;
        const Supply* supply =
            section < sections.size() ? find<Supply>(yard(), sections[section].supply) : nullptr;
        free_.push_back({supply ? supply->voltage : Voltage{0}, most});
      }
    };
    for (const auto& [id, c] : all<Controller>(yard())) of(id, c->box, c->sections, c->pixelsPerPort);
    for (const auto& [id, r] : all<Receiver>(yard())) of(id, r->box, r->sections, r->pixelsPerPort);
  }

  /// Fewest ports found that hold the pieces: longest first, each where it first fits.
  static std::int64_t packed(const Group& group) {
    std::vector<std::int64_t> sorted = group.pieces, room;
    std::sort(sorted.begin(), sorted.end(), std::greater<>());
    for (const std::int64_t piece : sorted) {
      const auto at =
          std::find_if(room.begin(), room.end(), [&](std::int64_t left) { return left >= piece; });
      if (at == room.end())
        room.push_back(group.most - piece);
      else
        *at -= piece;
    }
    return static_cast<std::int64_t>(room.size());
  }

  /// Takes up to `wanted` free ports of those volts; gives how many.
  std::int64_t takeFree(Voltage volts, std::int64_t wanted) {
    std::int64_t taken = 0;
    for (const bool same : {true, false})
      for (auto it = free_.begin(); it != free_.end() && taken < wanted;) {
        const bool fits = same ? it->volts == volts : it->volts == Voltage{0};
        it = fits ? (++taken, free_.erase(it)) : it + 1;
      }
    return taken;
  }

  void planGroup(const Family& family, const Group& group) {
    const std::int64_t least = packed(group);
    const std::int64_t there = takeFree(family.second, least);
    if (there >= least) return;
    const std::int64_t own = std::min<std::int64_t>(std::ssize(group.pieces), kOwnPorts);
    std::int64_t wanted = std::max(least + (least + 9) / 10, own) - there;
    const Id box = boxFor(group);
    while (wanted > 0) {
      std::int64_t size = kSizes[std::size(kSizes) - 1];
      for (const std::int64_t one : kSizes)
        if (one >= wanted) {
          size = one;
          break;
        }
      addController(family.second, group, box, size);
      wanted -= size;
    }
  }

  struct Link {
    Id controller;
    double length = 0.0, cost = 0.0;  ///< m; of its cable with two plugs
  };

  /// The controller nearest by the ground to a box that it could feed over a differential pair.
  Link linkTo(Id box) const {
    const double reach = base::metres(settings(yard()).receiverReach).si * kShareOfReach;
    const auto place = [&](Id id) { return base::vec(find<Box>(editor_.yard(), id)->at); };
    const Wire* wire = nullptr;
    for (const auto& [id, one] : all<Wire>(yard()))
      if (one->conductors == ConductorSet::DataOnly && !wire) wire = one;
    Link best;
    best.length = std::numeric_limits<double>::infinity();
    for (const auto& [id, controller] : all<Controller>(editor_.yard())) {
      if (!find<Box>(editor_.yard(), controller->box) || fedBy(id) >= kMostReceivers) continue;
      const auto way = a_.ground->shortest(place(controller->box), place(box));
      if (way.blocked || way.length > reach || way.length >= best.length) continue;
      best = {id, way.length, kLeadCost + way.length * (wire ? pricePerMetre(*wire) : 1.0)};
    }
    return best.controller ? best : Link{};
  }

  std::int64_t fedBy(Id controller) const {
    std::int64_t count = 0;
    for (const auto& [id, receiver] : all<Receiver>(editor_.yard()))
      count += static_cast<std::int64_t>(receiver->controller == controller);
    return count;
  }

  Id addOwn(Id box) {
    Controller controller;
    controller.name = freeName(editor_.yard(), RecordKind::Controller, "Controller");
    controller.box = box;
    return editor_.add(controller);
  }
  Id addReceiver(Id box, Id fedBy) {
    Receiver receiver;
    receiver.name = freeName(editor_.yard(), RecordKind::Receiver, "Receiver");
    receiver.box = box;
    receiver.controller = fedBy;
    return editor_.add(receiver);
  }

  void addController(Voltage volts, const Group& group, Id box, std::int64_t ports) {
    const Link link = newBoxes_.contains(box) ? linkTo(box) : Link{};
    const bool receives = link.controller && receiverCost(ports) + link.cost < controllerCost(ports);
    const Id id = receives ? addReceiver(box, link.controller) : addOwn(box);
    edit::addPorts(editor_, id, ports);
    if (volts_.size() > 1) {  // told apart by what feeds its sections
      Supply supply;
      supply.name = freeName(editor_.yard(), RecordKind::Supply, "Supply");
      supply.box = box;
      supply.voltage = volts;
      supply.ratedAmps = {static_cast<std::int64_t>(kUsualSupplyWatts / base::volts(volts).si) * 1'000'000};
      const Id feeding = editor_.add(supply);
      out_.costAfter += supplyCost(supply);
      const auto feed = [&](auto& owner) {
        for (PowerSection& section : owner.sections) section.supply = feeding;
      };
      editor_.update<Controller>(id, feed);
      editor_.update<Receiver>(id, feed);
    }
    ++added_;
    out_.costAfter += receives ? receiverCost(ports) + link.cost : controllerCost(ports);
    out_.steps.push_back(
        {id,
         {receives ? "plan_receiver" : "plan_controller",
          {{"box", labelOf(editor_.yard(), box)},
           {"controller", receives ? labelOf(editor_.yard(), link.controller) : std::string()},
           {"length", findings::said(a_, link.length)},
           {"ports", ports},
           {"props", std::ssize(group.props)},
           {"pixels", group.pixels},
           {"volts", volts}}},
         group.props});
  }

  /// Supplies and ports are planned on trial: what then finds no port gets a controller more, in a new box
  /// near it where no port reaches it. Ends after a fixed number of rounds or when one does not help.
  void addWhereNoneServes() {
    constexpr int kMostRounds = 6;
    std::size_t leftBefore = std::numeric_limits<std::size_t>::max();
    for (int round = 0; round < kMostRounds; ++round) {
      assess::AssessmentPtr now = assess::assess(editor_.yard(), before_);
      const YardPlan supplies = planSuppliesOf(now);
      if (!supplies.change.empty()) now = assess::assess(edit::apply(now->yard, supplies.change), now);
      const PortFigures figures = portFigures(*now);
      if (figures.parts.empty() || figures.ports.empty()) return;
      const std::vector<Unplaced> left = unplacedOf(figures, planPorts(figures.job));
      if (left.empty() || left.size() >= leftBefore) return;
      leftBefore = left.size();
      for (const bool reached : {true, false}) {
        std::map<Family, std::vector<Unplaced>> groups;
        for (const Unplaced& one : left)
          if (const Product* product = productOf(yard(), *find<Prop>(yard(), one.part.prop));
              product && one.reached == reached)
            groups[{product->chip, product->voltage}].push_back(one);
        for (const auto& [family, parts] : groups) serve(family, parts, reached, *now);
      }
    }
  }

  /// A controller for these stretches, or for those of them that one new box reaches.
  void serve(const Family& family, std::vector<Unplaced> parts, bool reached, const assess::Assessment& now) {
    Id box;
    if (!reached) box = newBoxFor(parts, now);
    Group group;
    std::set<Id> props;
    for (const Unplaced& one : parts) {
      group.pieces.push_back(one.part.last - one.part.first + 1);
      group.pixels += group.pieces.back();
      group.amps += one.amps;
      group.middle = group.middle + base::plan(findings::placeOfPixel(a_, one.part.prop, one.part.first));
      props.insert(one.part.prop);
    }
    group.props.assign(props.begin(), props.end());
    group.middle = group.middle * (1.0 / static_cast<double>(parts.size()));
    const auto found = groups_.find(family);
    group.most = found == groups_.end() ? Controller{}.pixelsPerPort : found->second.most;
    if (!box) box = boxFor(group);
    const double each =
        kUsualSupplyWatts / base::volts(family.second).si * base::fraction(settings(yard()).supplyUsable);
    const std::int64_t least = packed(group);
    std::int64_t ports = least + (least + 9) / 10;
    std::int64_t sections = std::max<std::int64_t>(1, std::llround(std::ceil(group.amps / each)));
    while (ports > 0 || sections > 0) {
      std::int64_t size = kSizes[std::size(kSizes) - 1];
      for (const std::int64_t one : kSizes)
        if (one >= ports && (one + 7) / 8 >= sections) {
          size = one;
          break;
        }
      addController(family.second, group, box, size);
      ports -= size;
      sections -= (size + 7) / 8;
    }
  }

  /// A new box half a step from the stretch from where most of the others are reached; `parts` become those.
  Id newBoxFor(std::vector<Unplaced>& parts, const assess::Assessment& now) {
    constexpr double kBeside = 0.5;  // m, our own judgement
    const auto endsOf = [&](const Unplaced& one) {
      return std::array{findings::placeOfPixel(now, one.part.prop, one.part.first),
                        findings::placeOfPixel(now, one.part.prop, one.part.last)};
    };
    const auto away = [&](base::Vec2 from, const Unplaced& one) {
      double least = std::numeric_limits<double>::infinity();
      for (const base::Vec3& end : endsOf(one))
        least = std::min(least, now.ground->shortest(from, base::plan(end)).length + std::abs(end.z));
      return least;
    };
    const double limit = base::metres(settings(yard()).controllerReach).si * kShareOfReach;
    base::Vec2 best = base::plan(endsOf(parts.front())[0]);
    std::size_t most = 0;
    double least = std::numeric_limits<double>::infinity();
    for (const Unplaced& beside : parts) {
      for (const base::Vec3& end : endsOf(beside)) {
        const base::Vec2 at{end.x, end.y - kBeside};
        if (!now.ground->keepOutsAt(at).empty()) continue;
        std::size_t count = 0;
        double sum = 0.0;
        for (const Unplaced& one : parts)
          if (const double length = away(at, one); length <= limit) ++count, sum += length;
        if (count < most || (count == most && sum >= least)) continue;
        most = count, least = sum, best = at;
      }
    }
    std::vector<Unplaced> served;
    for (const Unplaced& one : parts)
      if (away(best, one) <= limit) served.push_back(one);
    if (!served.empty()) parts = std::move(served);
    std::vector<Id> props;
    for (const Unplaced& one : parts) props.push_back(one.part.prop);
    Box box;
    box.name = freeName(editor_.yard(), RecordKind::Box, "K");
    box.at = base::point(best);
    const Id id = editor_.add(box);
    newBoxes_.insert(id);
    out_.steps.push_back({id,
                          {"plan_box_reach",
                           {{"box", labelOf(editor_.yard(), id)},
                            {"place", labelOf(yard(), parts.front().part.prop)},
                            {"count", static_cast<std::int64_t>(parts.size())}}}});
    return id;
  }

  /// The box nearest the middle of them, or a new one beside the nearest outlet, or in their middle.
  Id boxFor(const Group& group) {
    Id best;
    double least = std::numeric_limits<double>::infinity();
    for (const auto& [id, box] : all<Box>(editor_.yard())) {
      if (keptAsIs(yard(), id, "box")) continue;
      const double away = base::distance(base::vec(box->at), group.middle);
      if (away < least) least = away, best = id;
    }
    if (best) return best;
    Box box;
    box.name = freeName(editor_.yard(), RecordKind::Box, "K");
    box.at = base::point(group.middle);
    const Outlet* beside = nullptr;
    for (const auto& [id, outlet] : all<Outlet>(yard()))
      if (!beside || base::distance(base::vec(outlet->at), group.middle) <
                         base::distance(base::vec(beside->at), group.middle))
        beside = outlet;
    if (beside) {
      constexpr double kStep = 0.6;  // m, out of the wall and towards them
      const base::Vec2 from = base::vec(beside->at), way = group.middle - from;
      const double length = base::norm(way);
      box.at = base::point(length > kStep ? from + way * (kStep / length) : group.middle);
    }
    const Id id = editor_.add(box);
    out_.steps.push_back(
        {id,
         {beside ? "plan_box_beside" : "plan_box_middle",
          {{"box", labelOf(editor_.yard(), id)}, {"place", beside ? beside->name : std::string()}}},
         group.props});
    return id;
  }

  assess::AssessmentPtr before_;
  const assess::Assessment& a_;
  edit::Editor editor_;
  std::map<Family, Group> groups_;
  std::set<Voltage> volts_;
  std::set<Id> newBoxes_;  ///< where no port reaches from the others
  std::vector<Free> free_;
  std::int64_t added_ = 0;
  YardPlan out_;
};

}  // namespace

YardPlan planControllersOf(const assess::AssessmentPtr& assessment) {
  return ControllersPlanner(assessment).plan();
}

}  // namespace yw::propose
