// Start universes: each run begins a universe of its own, with room to grow, so that something put in later
// moves nothing that is there.
#include <algorithm>
#include <set>

#include "core/propose/plan.h"
#include "core/yard/groups.h"
#include "core/yard/labels.h"

namespace yw::propose {

using namespace yw::yard;

namespace {

constexpr std::int64_t kSlots = 512;
/// ANSI E1.31-2018 6.2.7: universes 1 to 63,999.
constexpr std::int64_t kLastUniverse = 63'999;
/// A run whose last universe is fuller than this gets one more to grow into; a controller begins at the next
/// full ten and one. Our own judgement.
constexpr double kFull = 0.8;
constexpr std::int64_t kBlock = 10;

struct Block {
  std::int64_t first, last;
};

class AddressPlanner {
 public:
  explicit AddressPlanner(const assess::Assessment& a) : a_(a) {}

  YardPlan plan() {
    edit::Editor editor(a_.yard);
    collect();
    for (const auto& [controller, runs] : byController_) {
      std::int64_t from = baseOf(runs);
      for (const Id run : runs) {
        if (const auto it = given_.find(run); it != given_.end()) {
          from = it->second.last + 1;
          continue;
        }
        if (keptAsIs(a_.yard, run, "address")) continue;  // kept without one
        const std::int64_t wanted = universesOf(a_.data.runs.at(run));
        const std::int64_t first = freeFrom(from, wanted);
        if (first + wanted - 1 > kLastUniverse) {
          out_.cannot.push_back(
              {run, {"plan_cannot_universe", {{"run", labelOf(a_.yard, run)}, {"last", kLastUniverse}}}});
          continue;
        }
        given_[run] = {first, first + wanted - 1};
        from = first + wanted;
        editor.update<Run>(run, [&](Run& r) {
          r.startUniverse = first;
          r.startSlot = 1;
        });
        out_.steps.push_back(
            {run,
             {"plan_address",
              {{"run", labelOf(a_.yard, run)}, {"universe", first}, {"last", first + wanted - 1}}}});
      }
    }
    out_.change = editor.finish(base::text(
        base::Message{"plan_addresses_done", {{"count", static_cast<std::int64_t>(out_.steps.size())}}}));
    return std::move(out_);
  }

 private:
  /// Runs by controller (receivers' after its own) and port number; those whose address stays.
  void collect() {
    std::map<Id, std::vector<std::pair<std::pair<Id, std::int64_t>, Id>>> found;
    for (const auto& [id, run] : all<Run>(a_.yard)) {
      const Port* port = find<Port>(a_.yard, run->port);
      const auto data = a_.data.runs.find(id);
      if (!port || data == a_.data.runs.end() || data->second.slots() == 0) continue;
      const Receiver* receiver = find<Receiver>(a_.yard, port->owner);
      const Id controller = controllerOf(a_.yard, *port);
      found[controller].push_back({{receiver ? port->owner : Id{}, port->number}, id});
    }
    for (auto& [controller, runs] : found) {
      std::sort(runs.begin(), runs.end());
      for (const auto& [key, id] : runs) byController_[controller].push_back(id);
    }
    std::set<Id> moved;
    for (const data::Overlap& overlap : a_.data.overlaps) {
      const bool keepB = keptAsIs(a_.yard, overlap.runB, "address");
      moved.insert(keepB ? overlap.runA : overlap.runB);
    }
    for (const auto& [controller, runs] : byController_)
      for (const Id id : runs) {
        const Run& run = *find<Run>(a_.yard, id);
        const data::RunData& data = a_.data.runs.at(id);
        const bool kept = keptAsIs(a_.yard, id, "address");
        if (run.startUniverse > 0 && (kept || !moved.contains(id)))
          given_[id] = {data.start.universe, data.end.universe};
      }
  }

  std::int64_t universesOf(const data::RunData& run) const {
    const bool packed = settings(a_.yard).addressMode == AddressMode::Packed;
    const std::int64_t channels = std::max<std::int64_t>(run.channels, 1);
    const std::int64_t slots = packed ? run.slots() * channels : run.slots(),
                       each = packed ? kSlots : kSlots / channels;
    const std::int64_t used = (slots + each - 1) / each;
    const double lastFull = static_cast<double>(slots - (used - 1) * each) / static_cast<double>(each);
    return used + (lastFull > kFull ? 1 : 0);
  }

  std::int64_t freeFrom(std::int64_t from, std::int64_t wanted) const {
    for (bool moved = true; moved;) {
      moved = false;
      for (const auto& [run, block] : given_)
        if (block.first <= from + wanted - 1 && block.last >= from) {
          from = block.last + 1;
          moved = true;
        }
    }
    return from;
  }

  /// Where a controller begins: at its first run that has an address, else behind all the others.
  std::int64_t baseOf(const std::vector<Id>& runs) const {
    std::int64_t own = 0, last = 0;
    for (const Id run : runs)
      if (const auto it = given_.find(run); it != given_.end())
        own = own == 0 ? it->second.first : std::min(own, it->second.first);
    if (own > 0) return own;
    for (const auto& [run, block] : given_) last = std::max(last, block.last);
    return (last + kBlock - 1) / kBlock * kBlock + 1;
  }

  const assess::Assessment& a_;
  std::map<Id, std::vector<Id>> byController_;
  std::map<Id, Block> given_;
  YardPlan out_;
};

}  // namespace

YardPlan planAddressesOf(const assess::AssessmentPtr& assessment) {
  return AddressPlanner(*assessment).plan();
}

}  // namespace yw::propose
