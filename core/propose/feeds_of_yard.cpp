// Feeds for the runs of a yard: what each run is offered (feed_offers.h) is planned, tried in the whole
// yard's circuit, tightened, relieved and made safe there, and becomes a change.
#include <algorithm>
#include <cmath>
#include <optional>
#include <set>

#include "core/findings/rule_help.h"
#include "core/propose/feed_offers.h"
#include "core/propose/feed_plan.h"
#include "core/propose/fit_fuses.h"
#include "core/propose/plan.h"
#include "core/yard/labels.h"

namespace yw::propose {

using namespace yw::yard;

namespace {

/// A plan is changed only for one that saves this share: what hangs already is worth something.
constexpr double kWorthChanging = 0.05;

class FeedsPlanner {
 public:
  FeedsPlanner(const assess::AssessmentPtr& assessment, std::vector<Id> runs)
      : before_(assessment), runs_(std::move(runs)) {}

  YardPlan plan() {
    choose();
    strip();
    for (AskedRun& asked : asked_) {
      offers_->figure(asked);
      solve(asked);
    }
    edit::Editor editor = write();
    constexpr int kRounds = 3;
    for (int round = 0; round < kRounds && tighten(editor.yard()); ++round) editor = write();
    constexpr int kSecureRounds = 5;
    for (int round = 0; round < kSecureRounds && secure(editor.yard()); ++round) {
      editor = write();
      if (tighten(editor.yard())) editor = write();
    }
    fitFuses(editor, before_, gates(editor.yard()));
    report(editor);
    return std::move(out_);
  }

 private:
  const Yard& yard() const { return before_->yard; }

  void choose() {
    for (const auto& [id, run] : all<Run>(yard())) {
      if (!runs_.empty() && std::find(runs_.begin(), runs_.end(), id) == runs_.end()) continue;
      const auto layout = before_->layouts.find(id);
      if (layout == before_->layouts.end() || layout->second->pixels.empty()) continue;
      AskedRun asked;
      asked.run = id;
      bool kept = keptAsIs(yard(), id, "feed");
      for (const auto& [feed, figure] : before_->limit.feeds) {
        if (figure.run != id) continue;
        asked.feedsBefore.push_back(feed);
        kept = kept || keptAsIs(yard(), feed, "feed");
        const auto cable = before_->routes.cables.find({routes::CableRole::Feed, feed, 0});
        const Wire* wire =
            cable == before_->routes.cables.end() ? nullptr : find<Wire>(yard(), cable->second.wire);
        if (wire)
          asked.costBefore +=
              feedCost(*wire, cable->second.length()) + coverCost(yard(), cable->second.crosses);
      }
      if (kept || (!run->port && asked.feedsBefore.empty())) continue;
      asked.heldBefore = runHolds(*before_, id, nullptr);
      asked_.push_back(std::move(asked));
    }
  }

  /// The yard without the feeds that are planned anew.
  void strip() {
    edit::Editor editor(yard());
    std::vector<Id> gone;
    for (const AskedRun& asked : asked_)
      gone.insert(gone.end(), asked.feedsBefore.begin(), asked.feedsBefore.end());
    editor.remove(gone);
    for (const AskedRun& asked : asked_) {
      const Run* run = find<Run>(yard(), asked.run);
      if (run->port && !run->portPower && findings::supplyOfPort(*before_, run->port) &&
          !keptAsIs(yard(), asked.run, "port"))
        editor.update<Run>(asked.run, [](Run& r) { r.portPower = true; });
    }
    bare_ = assess::assess(editor.yard(), before_);
    offers_.emplace(before_, bare_);
  }

  /// A that the supply still has with the yard as it is, without the feeds that are planned anew.
  double roomOf(const assess::Assessment& a, Id supply) const {
    const double usable = base::fraction(settings(yard()).supplyUsable) * 0.999;
    const auto figure = a.limit.supplies.find(supply);
    return base::amps(find<Supply>(yard(), supply)->ratedAmps).si * usable -
           (figure == a.limit.supplies.end() ? 0.0 : figure->second.amps);
  }

  static void solve(AskedRun& asked) {
    const auto open = [](double ohms) { return !std::isfinite(ohms); };
    const FeedRun& f = asked.figures;
    if (std::any_of(f.positiveOhms.begin() + 1, f.positiveOhms.end(), open) ||
        std::any_of(f.zeroOhms.begin() + 1, f.zeroOhms.end(), open) || f.supplyVolts.empty()) {
      asked.plan = {};
      return;
    }
    FeedRun tighter = f;
    for (double& volts : tighter.leastVolts) volts += asked.raise;
    tighter.port.most *= asked.share;
    for (FeedOption& option : tighter.options) {
      option.most *= asked.share;
      option.cut = option.cut || asked.cutEverywhere;
    }
    FeedEffort effort;
    effort.comparisons = 3'000'000;
    asked.plan = planFeeds(tighter, effort);
  }

  /// The port's fuse must become a smaller one, which also drops more volts.
  bool fuseTooLarge(const AskedRun& asked) const {
    const Run& run = *find<Run>(yard(), asked.run);
    const Port* port = find<Port>(yard(), run.port);
    return asked.figures.hasPort && port && !keptAsIs(yard(), run.port, "port") &&
           port->fuse > offers_->portFuse(asked, *port, offers_->leadWire(asked));
  }

  bool changes(const AskedRun& asked) const {
    return asked.plan.feasible && (!asked.heldBefore || fuseTooLarge(asked) ||
                                   asked.plan.cost < asked.costBefore * (1.0 - kWorthChanging));
  }

  Id positionFor(edit::Editor& editor, std::set<Id>& taken, const FeedOffer& offer) const {
    std::int64_t number = 1;
    for (const auto& [id, position] : fusePositionsOf(editor.yard(), offer.supply)) {
      number = std::max(number, position->number + 1);
      if (taken.contains(id) || feedOnFusePosition(editor.yard(), id) || position->holderLimit < offer.fuse)
        continue;
      taken.insert(id);
      editor.update<FusePosition>(id, [&](FusePosition& p) { p.fuse = offer.fuse; });
      return id;
    }
    FusePosition position;
    position.supply = offer.supply;
    position.number = number;
    position.fuse = offer.fuse;
    const Id id = editor.add(position);
    taken.insert(id);
    return id;
  }

  /// A port's fuse that does not protect its wires is made smaller even where no feed is wanted.
  void rightPortFuse(edit::Editor& editor, const AskedRun& asked) const {
    const Run& run = *find<Run>(yard(), asked.run);
    const Port* port = find<Port>(yard(), run.port);
    if (!asked.figures.hasPort || !port || keptAsIs(yard(), run.port, "port")) return;
    const base::Current fuse = offers_->portFuse(asked, *port, offers_->leadWire(asked));
    if (port->fuse > fuse) editor.update<Port>(run.port, [&](Port& p) { p.fuse = fuse; });
  }

  edit::Editor write() {
    edit::Editor editor(yard());
    std::vector<Id> gone;
    for (const AskedRun& asked : asked_)
      if (changes(asked)) gone.insert(gone.end(), asked.feedsBefore.begin(), asked.feedsBefore.end());
    editor.remove(gone);
    std::set<Id> taken;
    for (const AskedRun& asked : asked_) {
      if (!changes(asked)) {
        rightPortFuse(editor, asked);
        continue;
      }
      const Run& run = *find<Run>(yard(), asked.run);
      if (asked.figures.hasPort) {
        editor.update<Run>(asked.run, [&](Run& r) { r.portPower = asked.plan.usesPort; });
        const base::Current fuse =
            offers_->portFuse(asked, *find<Port>(yard(), run.port), offers_->leadWire(asked));
        editor.update<Port>(run.port, [&](Port& p) { p.fuse = fuse; });
      }
      for (const std::int32_t chosen : asked.plan.chosen) {
        const FeedOffer& offer = asked.offers[static_cast<std::size_t>(chosen)];
        const FeedOption& option = asked.figures.options[static_cast<std::size_t>(chosen)];
        const circuit::RunPixel& at =
            bare_->layouts.at(asked.run)->pixels[static_cast<std::size_t>(option.place)];
        Cable feed;
        feed.from = {TerminalKind::FusePosition, positionFor(editor, taken, offer), 0};
        feed.to = {TerminalKind::PropPixel, at.prop, at.pixel};
        feed.conductors = ConductorSet::PowerOnly;
        feed.wire = offer.wire;
        feed.cutPositive = option.cut || asked.cutEverywhere;
        editor.add(feed);
      }
    }
    return editor;
  }

  /// The run with what each supply has left, besides what the run takes from it now. Where not all that is
  /// too much can be taken off, as much of it as the others have room for, or a part of that.
  bool solveWithin(AskedRun& asked, const std::map<Id, double>& room,
                   const std::map<Id, double>& taken) const {
    double others = 0.0;
    for (const Id supply : asked.supplies) others += std::max(0.0, room.at(supply));
    for (const double share : {0.0, 1.0, 0.8, 0.6, 0.4}) {
      asked.figures.supplyRoom.clear();
      for (const Id supply : asked.supplies) {
        const auto mine = taken.find(supply);
        const double own = mine == taken.end() ? 0.0 : mine->second;
        double may = std::max(0.0, room.at(supply) + own);
        if (share > 0.0 && room.at(supply) < 0.0) may = std::max(may, own - share * others);
        asked.figures.supplyRoom.push_back(may);
      }
      solve(asked);
      if (asked.plan.feasible) return true;
      if (others <= 0.0) return false;
    }
    return false;
  }

  /// Where a supply is asked for too much, its runs are planned anew with what each supply can give them, so
  /// that another one takes the rest, behind a cut of V+. False: no supply is, or none can be helped.
  bool relieve(const assess::Assessment& after) {
    std::map<Id, double> room;
    for (const auto& [id, supply] : all<Supply>(yard())) room[id] = roomOf(after, id);
    bool again = false;
    for (AskedRun& asked : asked_) {
      const std::map<Id, double> taken = takenFromSupplies(after, asked.run);
      if (std::none_of(taken.begin(), taken.end(),
                       [&](const auto& one) { return one.second > 0.0 && room[one.first] < -1e-6; }))
        continue;
      const AskedRun was = asked;
      offers_->addAnother(asked, room);
      if (!solveWithin(asked, room, taken)) {
        asked = was;
        continue;
      }
      asked.heldBefore = false;
      const FeedCheck check = checkFeeds(asked.figures, asked.plan.chosen, asked.plan.usesPort);
      for (const auto& [supply, amps] : taken) room[supply] += amps;
      for (std::size_t s = 0; s < asked.supplies.size(); ++s) room[asked.supplies[s]] -= check.supplyAmps[s];
      again = true;
    }
    return again;
  }

  /// Fuse positions of the feeds that are planned, and the ports of their runs.
  std::set<Id> gates(const Yard& now) const {
    std::set<Id> planned, found;
    for (const AskedRun& asked : asked_)
      if (changes(asked)) planned.insert(asked.run);
    for (const Id run : planned)
      if (const Id port = find<Run>(now, run)->port; port && !keptAsIs(now, port, "port")) found.insert(port);
    std::set<Id> before;
    for (const auto& [id, cable] : all<Cable>(yard())) before.insert(id);
    for (const auto& [id, cable] : all<Cable>(now))
      if (!before.contains(id) && cable->from.kind == TerminalKind::FusePosition)
        found.insert(cable->from.record);
    return found;
  }

  /// Asks for more where the whole yard's circuit does not hold; false: it holds everywhere.
  bool tighten(const Yard& now) {
    const assess::AssessmentPtr after = assess::assess(now, before_);
    bool again = relieve(*after);
    for (AskedRun& asked : asked_) {
      RunMiss miss;
      if (!changes(asked) || runHolds(*after, asked.run, &miss)) continue;
      const AskedRun was = asked;
      if (miss.volts > 0) asked.raise += std::min(miss.volts, 1.0) + 0.01;
      if (miss.fuse >= 0) asked.share *= 0.98 / (1.0 + std::min(miss.fuse, 1.0));
      solve(asked);
      // Nothing tighter can be had: what there is does better than none.
      if (asked.plan.feasible)
        again = true;
      else
        asked = was;
    }
    return again;
  }

  /// Where the loss of one fuse would overload the next or a wire, or a short makes a wire hot: V+ is cut
  /// before each feed where that holds, else fuses are planned on for less. False: no loss does.
  bool secure(const Yard& now) {
    const assess::AssessmentPtr after = assess::assess(now, before_);
    std::set<Id> runs;
    for (const auto& [id, loss] : after->faults().lost)
      if (loss.follows || loss.wireShare > 1.0 + 1e-6) runs.insert({loss.at.run, loss.wireAt.run});
    constexpr double kHotShare = 2.0;  // as core/findings/rules/short_not_cleared.cpp has it
    std::set<Id> shorted;
    for (const auto& [id, fault] : after->faults().shorts)
      if (fault.end == circuit::PartShort::End::Stays && fault.wireAmps > kHotShare * fault.wireLimit)
        shorted.insert({fault.at.run, fault.wireAt.run});
    bool again = false;
    for (AskedRun& asked : asked_) {
      if (!changes(asked) && asked.plan.feasible && asked.heldBefore &&
          (runs.contains(asked.run) || shorted.contains(asked.run))) {
        asked.heldBefore = false;  // what hangs there now is not safe
        again = true;
        continue;
      }
      if (!changes(asked) || (!runs.contains(asked.run) && !shorted.contains(asked.run))) continue;
      again = dearerButSafe(asked, shorted.contains(asked.run)) || again;
    }
    return again;
  }

  /// Cuts or smaller shares, whichever costs less; false: neither can be had.
  static bool dearerButSafe(AskedRun& asked, bool cutFirst) {
    constexpr double kLess = 0.86;
    const AskedRun was = asked;
    AskedRun cut = asked;
    cut.cutEverywhere = true;
    AskedRun less = asked;
    less.cutEverywhere = false;
    less.share *= kLess * kLess;  // one step alone seldom does
    if (was.cutEverywhere) cut.share *= kLess;
    solve(cut);
    solve(less);
    if (cut.plan.feasible && (cutFirst || !less.plan.feasible || cut.plan.cost <= less.plan.cost)) {
      asked = cut;
      return true;
    }
    less.share = was.share * kLess;
    solve(less);
    if (!less.plan.feasible) return false;
    asked = less;
    return true;
  }

  void report(edit::Editor& editor) {
    const assess::AssessmentPtr after = assess::assess(editor.yard(), before_);
    std::set<Id> used;
    for (const AskedRun& asked : asked_) {
      out_.costBefore += asked.costBefore;
      out_.costAfter += changes(asked) ? asked.plan.cost : asked.costBefore;
      out_.bound += asked.plan.feasible
                        ? std::min(asked.plan.bound, changes(asked) ? asked.plan.cost : asked.costBefore)
                        : 0.0;
      RunMiss miss;
      if (!runHolds(*after, asked.run, &miss))
        out_.cannot.push_back({asked.run, cannotText(*after, asked, miss)});
      for (const auto& [supply, amps] : takenFromSupplies(*after, asked.run))
        if (amps > 0.0) used.insert(supply);
      const Id port = find<Run>(yard(), asked.run)->port;
      if (changes(asked))
        out_.steps.push_back({asked.run, reason(editor.yard(), asked)});
      else if (const Port* was = find<Port>(yard(), port), *is = find<Port>(editor.yard(), port);
               was && was->fuse != is->fuse)
        out_.steps.push_back(
            {port,
             {"plan_port_fuse", {{"port", labelOf(yard(), port)}, {"was", was->fuse}, {"fuse", is->fuse}}},
             {port}});
    }
    tellOverloaded(*after, used);
    std::int64_t feeds = 0;
    for (const AskedRun& asked : asked_)
      if (changes(asked)) feeds += static_cast<std::int64_t>(asked.plan.chosen.size());
    out_.change = editor.finish(base::text(base::Message{"plan_feeds_done", {{"count", feeds}}}));
  }

  /// Supplies that are still asked for more than they are rated for.
  void tellOverloaded(const assess::Assessment& after, const std::set<Id>& used) {
    for (const Id id : used) {
      const Supply& supply = *find<Supply>(after.yard, id);
      const auto figure = after.limit.supplies.find(id);
      const double rated = base::amps(supply.ratedAmps).si;
      if (figure == after.limit.supplies.end() || figure->second.amps <= rated) continue;
      out_.cannot.push_back({id,
                             {"plan_cannot_supply_amps",
                              {{"supply", labelOf(after.yard, id)},
                               {"amps", base::toCurrent({figure->second.amps})},
                               {"rated", supply.ratedAmps},
                               {"over", base::toCurrent({figure->second.amps - rated})}}}});
    }
  }

  static std::int64_t percent(double share) { return std::llround(share * 100); }

  base::Message reason(const Yard& now, const AskedRun& asked) const {
    std::string places;
    double length = 0.0;
    for (const std::int32_t chosen : asked.plan.chosen) {
      const FeedOffer& offer = asked.offers[static_cast<std::size_t>(chosen)];
      const FeedOption& option = asked.figures.options[static_cast<std::size_t>(chosen)];
      const circuit::RunPixel& at =
          bare_->layouts.at(asked.run)->pixels[static_cast<std::size_t>(option.place)];
      const Id feed = feedAt(now, at.prop, at.pixel);
      places += (places.empty() ? "" : "; ") +
                base::text(base::Message{option.cut || asked.cutEverywhere ? "plan_feed_place_cut"
                                                                           : "plan_feed_place",
                                         {{"prop", labelOf(now, at.prop)},
                                          {"pixel", at.pixel},
                                          {"position", labelOf(now, find<Cable>(now, feed)->from.record)},
                                          {"fuse", fuseOf(now, feed)},
                                          {"length", findings::said(*before_, offer.length)},
                                          {"wire", find<Wire>(now, offer.wire)->name}}},
                           settings(now).units);
      length += offer.length;
    }
    const bool off = asked.figures.hasPort && !asked.plan.usesPort;
    const double gap = asked.plan.cost > 0 ? (asked.plan.cost - asked.plan.bound) / asked.plan.cost : 0.0;
    return {asked.plan.chosen.empty() ? "plan_feeds_none"
            : asked.plan.optimal      ? (off ? "plan_feeds_best_port_off" : "plan_feeds_best")
                                      : (off ? "plan_feeds_port_off" : "plan_feeds"),
            {{"run", labelOf(now, asked.run)},
             {"count", static_cast<std::int64_t>(asked.plan.chosen.size())},
             {"places", places},
             {"length", findings::said(*before_, length)},
             {"gap", percent(gap)}}};
  }

  static base::Current fuseOf(const Yard& now, Id feed) {
    return find<FusePosition>(now, find<Cable>(now, feed)->from.record)->fuse;
  }

  static Id feedAt(const Yard& now, Id prop, std::int64_t pixel) {
    Id found;
    for (const auto& [id, cable] : all<Cable>(now))
      if (cable->from.kind == TerminalKind::FusePosition && cable->to.record == prop &&
          cable->to.pixel == pixel)
        found = id;
    return found;
  }

  base::Message cannotText(const assess::Assessment& after, const AskedRun& asked,
                           const RunMiss& miss) const {
    const circuit::RunPixel& at = after.layouts.at(asked.run)->pixels[miss.place];
    const Product* product = findings::productAt(after, *after.layouts.at(asked.run), miss.place);
    const std::string run = labelOf(after.yard, asked.run);
    if (asked.figures.supplyVolts.empty()) return {"plan_cannot_supply", {{"run", run}}};
    if (miss.volts > 1e-6) {
      const double least = leastVoltsOf(product);
      const double volts =
          asked.plan.stuckAt >= 0 && !asked.plan.feasible ? asked.plan.stuckVolts : least - miss.volts;
      return {"plan_cannot_volts",
              {{"run", run},
               {"prop", at.prop ? labelOf(after.yard, at.prop) : run},
               {"pixel", at.pixel},
               {"volts", base::toVoltage({volts})},
               {"least", base::toVoltage({least})},
               {"short", base::toVoltage({std::max(0.0, least - volts)})}}};
    }
    return {"plan_cannot_fuse", {{"run", run}, {"over", percent(std::max(0.0, miss.fuse))}}};
  }

  assess::AssessmentPtr before_, bare_;
  std::vector<Id> runs_;
  std::optional<FeedOffers> offers_;
  std::vector<AskedRun> asked_;
  YardPlan out_;
};

}  // namespace

YardPlan planFeedsOf(const assess::AssessmentPtr& assessment, const std::vector<Id>& runs) {
  return FeedsPlanner(assessment, runs).plan();
}

}  // namespace yw::propose
