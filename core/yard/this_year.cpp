#include "core/yard/this_year.h"

#include <algorithm>
#include <set>

namespace yw::yard {
namespace {

void passBy(Run& run, const std::set<Id>& resting) {
  for (RunItem& item : run.items) {
    if (item.kind != RunItemKind::Stretch || !resting.contains(item.prop)) continue;
    RunItem passed;
    passed.kind = RunItemKind::Unused;
    passed.count = 0;
    passed.lead = item.lead;  // the lead to it is none of another cable's either
    item = passed;
  }
}

}  // namespace

Yard thisYear(const Yard& yard) {
  std::set<Id> resting;
  for (const auto& [id, prop] : all<Prop>(yard))
    if (rests(*prop)) resting.insert(id);
  if (resting.empty()) return yard;
  Yard now = yard;
  for (auto at = now.records.begin(); at != now.records.end();) {
    if (const auto* cable = std::get_if<Cable>(at->second.get());
        cable && (resting.contains(cable->from.record) || resting.contains(cable->to.record))) {
      at = now.records.erase(at);
      continue;
    }
    if (const auto* run = std::get_if<Run>(at->second.get());
        run && std::any_of(run->items.begin(), run->items.end(),
                           [&](const RunItem& item) { return resting.contains(item.prop); })) {
      Run passed = *run;
      passBy(passed, resting);
      at->second = std::make_shared<const Record>(std::move(passed));
    }
    ++at;
  }
  return now;
}

}  // namespace yw::yard
