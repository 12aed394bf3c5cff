#include "core/propose/plan.h"

#include "core/findings/findings.h"
#include "core/routes/places.h"

namespace yw::propose {

using namespace yw::yard;

std::array<std::int64_t, 3> graveness(const assess::Assessment& a) {
  const findings::Report report = findings::report(a);
  using findings::Severity;
  return {countOf(report, Severity::Danger), countOf(report, Severity::WontWork),
          countOf(report, Severity::CloseToLimit)};
}

bool keptAsIs(const Yard& yard, Id subject, const std::string& what) {
  for (const auto& [id, keep] : all<KeepAsIs>(yard))
    if (keep->subject == subject && (keep->what == what || keep->what.empty())) return true;
  return false;
}

double coverPrice(const Yard& yard, Id way) {
  const auto* feature = find<GroundFeature>(yard, way);
  const Settings& s = settings(yard);
  const bool drive = feature != nullptr && feature->kind == FeatureKind::Drive;
  return static_cast<double>((drive ? s.driveCover : s.walkCover).count) * 1e-4;
}

double coverCost(const Yard& yard, const std::vector<Id>& ways) {
  double cost = 0.0;
  for (const Id way : ways) cost += coverPrice(yard, way);
  return cost;
}

double coverCost(const assess::Assessment& a, const routes::Lie& lie) {
  return lie.onGround ? coverCost(a.yard, routes::crossedBy(*a.ground, lie)) : 0.0;
}

}  // namespace yw::propose
