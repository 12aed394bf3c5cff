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

double pricePerMetre(const yard::Wire& wire) {
  if (wire.pricePerMetre.count > 0) return static_cast<double>(wire.pricePerMetre.count) * 1e-4;
  const double squareMillimetres = catalog::conductorArea(static_cast<int>(wire.gauge)).si * 1e6;
  return 0.5 + 0.5 * squareMillimetres;
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
