#include "core/propose/plan.h"

#include "core/catalog/conductors.h"
#include "core/routes/places.h"

namespace yw::propose {

using namespace yw::yard;

bool keptAsIs(const Yard& yard, Id subject, const std::string& what) {
  for (const auto& [id, keep] : all<KeepAsIs>(yard))
    if (keep->subject == subject && (keep->what == what || keep->what.empty())) return true;
  return false;
}

double pricePerMetre(const Wire& wire) {
  if (wire.pricePerMetre.count > 0) return static_cast<double>(wire.pricePerMetre.count) * 1e-4;
  const double squareMillimetres = catalog::conductorArea(static_cast<int>(wire.gauge)).si * 1e6;
  return 0.5 + 0.5 * squareMillimetres;
}

double coverCost(const assess::Assessment& a, const routes::Lie& lie) {
  if (!lie.onGround) return 0.0;
  std::vector<base::Vec2> points;
  for (const base::Vec3& at : lie.path) points.push_back(base::plan(at));
  return kCoverCost * static_cast<double>(a.ground->crossed(points).size());
}

}  // namespace yw::propose
