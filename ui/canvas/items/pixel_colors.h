#pragma once
#include <cstdint>
#include <map>
#include <vector>

#include "core/assess/assess.h"
#include "ui/canvas/look.h"

namespace yw::ui {

/// The color of every pixel under one question, as codes (pixel_code), and the kinds behind them.
struct PixelColors {
  std::map<base::Id, std::vector<std::uint8_t>> pixels;  ///< by prop, in string order
  std::map<base::Id, std::uint8_t>
      outline;  ///< by prop: kind of its one run or product; absent: several or none
  std::map<base::Id, std::uint8_t> runs,
      products;  ///< kind of each run and product, in the order of their ids
};
PixelColors pixelColors(const assess::Assessment& assessment, ColorBy question);

/// Where `volts` stands between the lowest for true white (0) and nominal (15). `fed` false: no source
/// reaches it.
std::uint8_t voltsCode(double volts, double lowest, double nominal, double dark, bool fed);

}  // namespace yw::ui
