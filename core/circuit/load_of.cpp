#include <algorithm>

#include "core/circuit/power.h"

namespace yw::circuit {

// At nominal volts idle + brightness · (full white - idle), as measured per string by builders: both ends are
// measured, the straight line between them is common practice, no source.
Load loadOf(const yard::Product& product, double brightness) {
  const double idle = base::amps(product.idle).si;
  const double lit =
      std::max(0.0, base::amps(product.fullWhite).si - idle) * std::clamp(brightness, 0.0, 1.0);
  const double nominal = base::volts(product.voltage).si, dark = base::volts(product.darkVolts).si;
  Load load;
  load.idle = idle;
  switch (product.load) {
    case yard::LoadModel::ConstantCurrent:
    case yard::LoadModel::SeriesConstantCurrent:
      load.set = lit;
      load.dark = dark;
      load.full = base::volts(product.lowestVolts).si;
      break;
    case yard::LoadModel::Resistor:
      load.kind = Load::Kind::Resistor;
      load.dark = dark < nominal ? dark : 0.0;
      load.ohms = lit > 0.0 ? (nominal - load.dark) / lit : 0.0;
      break;
    case yard::LoadModel::Regulated:
      load.kind = Load::Kind::Regulated;
      load.watts = nominal * lit;
      load.cut = base::volts(product.lowestVolts).si;
      break;
  }
  return load;
}

}  // namespace yw::circuit
