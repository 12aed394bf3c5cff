#include "ui/canvas/items/pixel_colors.h"

#include <algorithm>
#include <cmath>

namespace yw::ui {

using base::Id;

std::uint8_t voltsCode(double volts, double lowest, double nominal, double dark, bool fed) {
  if (!fed || volts < dark) return pixel_code::kDark;
  if (nominal <= lowest) return pixel_code::kMagnitudes - 1;
  const double part = std::clamp((volts - lowest) / (nominal - lowest), 0.0, 1.0);
  return static_cast<std::uint8_t>(
      std::min<int>(pixel_code::kMagnitudes - 1, static_cast<int>(part * pixel_code::kMagnitudes)));
}

namespace {

struct Volts {
  double lowest = 0, nominal = 0, dark = 0;
};

Volts voltsOf(const yard::Yard& yard, Id propId) {
  const auto* prop = yard::find<yard::Prop>(yard, propId);
  const auto* product = prop ? yard::productOf(yard, *prop) : nullptr;
  if (!product) return {};
  return {base::volts(product->lowestVolts).si, base::volts(product->voltage).si,
          base::volts(product->darkVolts).si};
}

std::uint8_t kindCode(std::size_t n) { return static_cast<std::uint8_t>(pixel_code::kFirstKind + n % 8); }

/// Codes along one run: `codeOf(place)` for each place that is a prop's pixel.
template <class CodeOf>
void along(PixelColors& colors, const circuit::RunLayout& layout, CodeOf codeOf) {
  for (std::size_t i = 0; i < layout.pixels.size(); ++i) {
    const circuit::RunPixel& place = layout.pixels[i];
    const auto found = colors.pixels.find(place.prop);
    if (found == colors.pixels.end()) continue;
    const auto at = static_cast<std::size_t>(place.pixel - 1);
    if (at < found->second.size()) found->second[at] = codeOf(i, place);
  }
}

void outlines(PixelColors& colors) {
  for (const auto& [prop, codes] : colors.pixels) {
    if (codes.empty() || codes.front() == pixel_code::kUnwired) continue;
    if (std::all_of(codes.begin(), codes.end(), [&](std::uint8_t c) { return c == codes.front(); }))
      colors.outline[prop] = codes.front();
  }
}

void byVolts(PixelColors& colors, const assess::Assessment& a) {
  for (const auto& [run, layout] : a.layouts) {
    const auto figure = a.limit.runs.find(run);
    if (figure == a.limit.runs.end()) continue;
    const circuit::RunFigure& f = figure->second;
    Id prop;
    Volts volts;
    along(colors, *layout, [&](std::size_t i, const circuit::RunPixel& place) {
      if (place.prop != prop) volts = voltsOf(a.yard, prop = place.prop);
      const bool fed = i < f.volts.size() && (i >= f.fed.size() || f.fed[i]);
      return voltsCode(i < f.volts.size() ? f.volts[i] : 0.0, volts.lowest, volts.nominal, volts.dark, fed);
    });
  }
}

}  // namespace

PixelColors pixelColors(const assess::Assessment& a, ColorBy question) {
  PixelColors colors;
  for (const auto& [id, shape] : a.shapes)
    colors.pixels[id].assign(shape->pixels.size(), pixel_code::kUnwired);
  std::size_t n = 0;
  for (const auto& [id, run] : yard::all<yard::Run>(a.yard)) colors.runs[id] = kindCode(n++);
  n = 0;
  for (const auto& [id, shape] : a.shapes) {
    const auto* prop = yard::find<yard::Prop>(a.yard, id);
    if (!prop) continue;
    const Id product = yard::productIdOf(a.yard, *prop);
    if (product && !colors.products.contains(product)) colors.products[product] = kindCode(n++);
  }
  switch (question) {
    case ColorBy::Volts:
      byVolts(colors, a);
      break;
    case ColorBy::Run:
      for (const auto& [run, layout] : a.layouts)
        along(colors, *layout, [&](std::size_t, const circuit::RunPixel&) { return colors.runs[run]; });
      outlines(colors);
      break;
    case ColorBy::Product:
      for (auto& [id, codes] : colors.pixels) {
        const auto* prop = yard::find<yard::Prop>(a.yard, id);
        const auto found =
            prop ? colors.products.find(yard::productIdOf(a.yard, *prop)) : colors.products.end();
        if (found != colors.products.end()) std::fill(codes.begin(), codes.end(), found->second);
      }
      outlines(colors);
      break;
  }
  return colors;
}

}  // namespace yw::ui
