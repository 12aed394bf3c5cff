#include "core/papers/palette.h"

#include <algorithm>
#include <cmath>
#include <iterator>

namespace yw::papers {
namespace {

/// Every fifth entry of the 256 colors of cividis, Nuñez, Anderton, Renslow (2018), PLoS ONE 13(7) e0199239,
/// supplement; between them straight lines in sRGB stay within 4 of 255 of the full table.
constexpr unsigned char kCividis[][3] = {
    {0, 34, 78},     {0, 38, 86},     {0, 42, 95},     {0, 45, 104},    {0, 48, 112},    {8, 51, 112},
    {22, 55, 112},   {32, 58, 111},   {39, 62, 110},   {46, 65, 109},   {52, 69, 108},   {58, 72, 108},
    {63, 76, 108},   {68, 79, 108},   {73, 83, 108},   {78, 86, 108},   {83, 90, 109},   {87, 93, 109},
    {92, 97, 110},   {96, 100, 111},  {101, 104, 112}, {105, 107, 113}, {109, 111, 114}, {114, 114, 116},
    {118, 118, 118}, {122, 122, 120}, {126, 125, 120}, {131, 129, 121}, {136, 133, 120}, {141, 136, 120},
    {146, 140, 120}, {150, 144, 119}, {155, 148, 118}, {160, 152, 117}, {165, 156, 116}, {170, 160, 115},
    {175, 164, 113}, {181, 168, 111}, {186, 172, 109}, {191, 176, 107}, {196, 180, 104}, {201, 185, 101},
    {207, 189, 98},  {212, 193, 95},  {218, 198, 91},  {223, 202, 87},  {229, 207, 82},  {234, 211, 76},
    {240, 216, 70},  {246, 221, 63},  {252, 226, 54},  {254, 232, 56}};
constexpr int kCividisSteps = static_cast<int>(std::size(kCividis)) - 1;

}  // namespace

std::uint32_t cividis(double part) {
  const double place = (part > 0.0 ? std::min(part, 1.0) : 0.0) * kCividisSteps;
  const int below = std::min(static_cast<int>(place), kCividisSteps - 1);
  const double rest = place - below;
  std::uint32_t color = 0;
  for (int channel = 0; channel < 3; ++channel) {
    const int from = kCividis[below][channel], to = kCividis[below + 1][channel];
    color = color << 8 | static_cast<std::uint32_t>(std::lround(from + rest * (to - from)));
  }
  return color;
}

std::uint32_t kindColor(std::size_t i) {
  static constexpr std::uint32_t kKinds[] = {0x000000, 0x0072B2, 0xD55E00, 0x009E73,
                                             0xCC79A7, 0xE69F00, 0x56B4E9, 0xF0E442};
  return kKinds[std::min<std::size_t>(i, 7)];
}

std::uint32_t paperColor(Role role) {
  switch (role) {
    case Role::Paper:
      return 0xFFFFFF;
    case Role::SecondInk:
    case Role::Blank:
      return 0x595959;
    case Role::Ground:
      return 0x767676;
    case Role::KeepOut:
      return 0x4D4D4D;
    case Role::Pixel:
      return 0x333333;
    case Role::Magnitude:
      return cividis(0.0);
    default:
      break;
  }
  if (role >= Role::Kind1 && role <= Role::Kind8)
    return kindColor(static_cast<std::size_t>(role) - static_cast<std::size_t>(Role::Kind1));
  return 0x000000;
}

}  // namespace yw::papers
