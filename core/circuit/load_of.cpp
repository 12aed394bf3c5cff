// What a product draws, color by color. At nominal volts idle + level · (full white - idle), as measured per
// string by builders: both ends are measured, the straight line between them is common practice, no source.
// Each color takes an equal share of full white (a string measured 0.66 A for each color, 1.80 A for white).
#include <algorithm>

#include "core/circuit/power.h"

namespace yw::circuit {

namespace {

using Color = std::size_t;  ///< 0 red, 1 green, 2 blue, 3 white, as in Load::channels

/// Test condition of multi-channel sink drivers up to 60 mA: full current from 0.6 V across the driver.
constexpr double kKnee = 0.6;
/// Forward volts of red against green and blue: 2.0 to 2.2 V and 3.0 to 3.4 V in the WS2812B data sheet.
constexpr double kRedShare = 2.1 / 3.2;
/// Volts over which a chip that goes dark as a whole comes up. From memory.
constexpr double kWakeVolts = 0.1;

std::array<double, 4> clamped(const Levels& levels) {
  std::array<double, 4> at{levels.red, levels.green, levels.blue, levels.white};
  for (double& level : at) level = std::clamp(level, 0.0, 1.0);
  return at;
}

/// The colors that a product has: three are red, green and blue, four have white too, fewer are white alone.
std::pair<Color, Color> colorsOf(const yard::Product& product) {
  if (product.channels < 3) return {3, 4};
  return {0, product.channels == 3 ? 3 : 4};
}

double litAmps(const yard::Product& product) {
  return std::max(0.0, base::amps(product.fullWhite).si - base::amps(product.idle).si);
}

/// Volts from which a color of a constant-current pixel is at its full current, and at which it begins.
struct Fade {
  double dark, full;
};
Fade fadeOf(const yard::Product& product, Color color) {
  const double lowest = base::volts(product.lowestVolts).si, dark = base::volts(product.darkVolts).si;
  const std::array<double, 4> entered{base::volts(product.redLowest).si, base::volts(product.greenLowest).si,
                                      base::volts(product.blueLowest).si, 0.0};
  double full = entered[color];
  if (full <= 0.0) full = color == 0 ? std::max(0.0, lowest - kKnee) * kRedShare + kKnee : lowest;
  Fade fade{std::max(full - kKnee, dark), full};
  if (fade.full < fade.dark + kWakeVolts) fade.full = fade.dark + kWakeVolts;
  return fade;
}

/// Forward volts of a resistor-limited color. The product's dark volts are those of red, its longest-lived.
double forwardOf(const yard::Product& product, Color color) {
  const double nominal = base::volts(product.voltage).si, dark = base::volts(product.darkVolts).si;
  const double red = dark < nominal ? dark : 0.0;
  if (color == 0 || colorsOf(product).first == 3) return red;
  const double other = red / kRedShare;
  return other < nominal ? other : red;
}

void setColors(Load& load, const yard::Product& product, const std::array<double, 4>& levels) {
  const auto [first, end] = colorsOf(product);
  const double nominal = base::volts(product.voltage).si;
  const double most = litAmps(product) / static_cast<double>(end - first);
  for (Color color = first; color < end; ++color) {
    const double amps = most * levels[color];
    Load::Channel& channel = load.channels[color];
    if (load.kind == Load::Kind::Resistor) {
      channel.dark = forwardOf(product, color);
      channel.ohms = amps > 0.0 ? (nominal - channel.dark) / amps : 0.0;
    } else {
      const Fade fade = fadeOf(product, color);
      channel = {amps, fade.dark, fade.full, 0.0};
    }
  }
}

double meanLevel(const yard::Product& product, const std::array<double, 4>& levels) {
  const auto [first, end] = colorsOf(product);
  double sum = 0.0;
  for (Color color = first; color < end; ++color) sum += levels[color];
  return sum / static_cast<double>(end - first);
}

}  // namespace

Levels levelsOf(const yard::Product& product, double level) {
  const auto [first, end] = colorsOf(product);
  return first == 3 ? Levels{0.0, 0.0, 0.0, level} : Levels{level, level, level, end == 4 ? level : 0.0};
}

Load loadOf(const yard::Product& product, const Levels& levels) {
  const auto at = clamped(levels);
  Load load;
  load.idle = base::amps(product.idle).si;
  switch (product.load) {
    case yard::LoadModel::ConstantCurrent:
      setColors(load, product, at);
      break;
    case yard::LoadModel::SeriesConstantCurrent: {
      // The dies are in series with bypass switches: whatever lights draws the one current.
      const auto [first, end] = colorsOf(product);
      const double level = *std::max_element(at.begin() + first, at.begin() + end);
      load.channels[0] = {litAmps(product) * level, base::volts(product.darkVolts).si,
                          base::volts(product.lowestVolts).si, 0.0};
      break;
    }
    case yard::LoadModel::Resistor:
      load.kind = Load::Kind::Resistor;
      setColors(load, product, at);
      break;
    case yard::LoadModel::Regulated:
      load.kind = Load::Kind::Regulated;
      load.watts = base::volts(product.voltage).si * litAmps(product) * meanLevel(product, at);
      load.cut = base::volts(product.lowestVolts).si;
      break;
  }
  return load;
}

Load loadOf(const yard::Product& product, double brightness) {
  return loadOf(product, Levels{brightness, brightness, brightness, brightness});
}

double Tint::whiteness() const {
  double least = 1.0, most = 0.0;
  for (std::size_t i = 0; i < count; ++i) {
    least = std::min(least, share[i]);
    most = std::max(most, share[i]);
  }
  return most > 0.0 ? least / most : 1.0;
}

Tint tintOf(const yard::Product& product, double volts) {
  Tint tint;
  const bool apart =
      product.load == yard::LoadModel::ConstantCurrent || product.load == yard::LoadModel::Resistor;
  const auto [first, end] = colorsOf(product);
  if (!apart || end - first < 2) return tint;
  const double nominal = base::volts(product.voltage).si;
  for (Color color = first; color < end; ++color) {
    Fade fade{forwardOf(product, color), nominal};
    if (product.load == yard::LoadModel::ConstantCurrent) fade = fadeOf(product, color);
    tint.share[tint.count++] = std::clamp((volts - fade.dark) / (fade.full - fade.dark), 0.0, 1.0);
  }
  return tint;
}

}  // namespace yw::circuit
