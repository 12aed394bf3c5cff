#include "core/catalog/conductors.h"
#include "core/routes/routes.h"

namespace yw::routes {

base::OhmsPerMetre resistancePerMetre(const yard::Wire& wire, const yard::Settings& settings) {
  const double warm = catalog::temperatureFactor(settings.wireTemperature);
  // A printed figure is of the cable as it is, strands included, at 20 °C.
  if (wire.perMetre.count > 0) return base::OhmsPerMetre{base::ohms(wire.perMetre).si} * warm;
  base::OhmsPerMetre cold = catalog::copperResistance(static_cast<int>(wire.gauge));
  if (wire.material == yard::Material::CopperCladAluminium) cold = cold * catalog::kCopperCladFactor;
  return cold * (base::fraction(settings.strandingFactor) * warm);
}

base::Amps limitOf(const yard::Wire& wire) {
  if (wire.limit.count > 0) return base::amps(wire.limit);
  return catalog::usualLimit(static_cast<int>(wire.gauge)).value_or(base::Amps{0.0});
}

std::string limitSource(const yard::Wire& wire) {
  if (wire.limit.count > 0) return base::text(base::Message{"routes_limit_printed", {{"wire", wire.name}}});
  return catalog::usualLimitSource(static_cast<int>(wire.gauge));
}

}  // namespace yw::routes
