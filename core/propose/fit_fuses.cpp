#include "core/propose/fit_fuses.h"

#include <algorithm>

#include "core/catalog/conductors.h"
#include "core/circuit/fuse_curve.h"
#include "core/findings/rule_help.h"
#include "core/propose/plan.h"

namespace yw::propose {

using namespace yw::yard;

namespace {

using Fuses = std::map<Id, base::Current>;

/// Fuses that would open at the short and last under their load.
Fuses wantedFuses(const assess::Assessment& a, const std::set<Id>& gates) {
  const double usable = base::fraction(settings(a.yard).fuseUsable) * 0.999;
  Fuses wanted;
  for (const auto& [gate, fault] : a.faults().shorts) {
    const bool stays = fault.end == circuit::PartShort::End::Stays &&
                       (fault.wireLimit <= 0.0 || fault.wireAmps > fault.wireLimit);
    if (!stays || !gates.contains(gate)) continue;
    const base::Current fuse = catalog::largestFuseUpTo({fault.amps / circuit::kOpensFrom});
    if (fuse.count <= 0 || fuse >= fault.fuse) continue;
    if (findings::ampsThrough(a, gate) <= base::amps(fuse).si * usable) wanted.emplace(gate, fuse);
  }
  return wanted;
}

edit::Editor with(edit::Editor editor, const Fuses& fuses) {
  for (const auto& [gate, fuse] : fuses) {
    const base::Current amps = fuse;
    if (find<Port>(editor.yard(), gate))
      editor.update<Port>(gate, [&](Port& p) { p.fuse = amps; });
    else if (find<FusePosition>(editor.yard(), gate))
      editor.update<FusePosition>(gate, [&](FusePosition& p) { p.fuse = amps; });
  }
  return editor;
}

/// Findings that name each of them: fewer of the worst come first.
std::map<Id, std::array<std::int64_t, 3>> gravenessOf(const assess::Assessment& a, const Fuses& gates) {
  std::map<Id, std::array<std::int64_t, 3>> count;
  for (const auto& [gate, fuse] : gates) count[gate] = {};
  for (const findings::Finding& f : findings::report(a).findings) {
    if (f.severity > findings::Severity::CloseToLimit) continue;
    for (const Id subject : f.subjects)
      if (const auto it = count.find(subject); it != count.end())
        ++it->second[static_cast<std::size_t>(f.severity)];
  }
  return count;
}

}  // namespace

void fitFuses(edit::Editor& editor, const assess::AssessmentPtr& before, const std::set<Id>& gates) {
  const assess::AssessmentPtr now = assess::assess(editor.yard(), before);
  Fuses wanted = wantedFuses(*now, gates);
  if (wanted.empty()) return;
  edit::Editor smaller = with(editor, wanted);
  assess::AssessmentPtr then = assess::assess(smaller.yard(), now);
  const std::size_t asked = wanted.size();
  const auto was = gravenessOf(*now, wanted), is = gravenessOf(*then, wanted);
  std::erase_if(wanted, [&](const auto& one) { return is.at(one.first) >= was.at(one.first); });
  if (wanted.size() < asked) {
    smaller = with(editor, wanted);
    then = assess::assess(smaller.yard(), now);
  }
  if (graveness(*then) < graveness(*now)) editor = std::move(smaller);
}

}  // namespace yw::propose
