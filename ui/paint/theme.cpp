#include "ui/paint/theme.h"

#include <algorithm>
#include <cmath>

namespace yw::ui {
namespace {

using papers::Role;

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

void set(Theme& theme, Role role, QRgb color) {
  theme.colors[static_cast<std::size_t>(role)] = QColor(color);
}

/// Okabe & Ito (2008), Color Universal Design: eight kinds that people with any color vision tell apart.
/// Those below 3:1 on the paper are drawn with an ink outline by the painter.
void setKinds(Theme& theme, QRgb first) {
  const QRgb kinds[] = {first, 0x0072B2, 0xD55E00, 0x009E73, 0xCC79A7, 0xE69F00, 0x56B4E9, 0xF0E442};
  for (std::size_t i = 0; i < 8; ++i)
    theme.colors[static_cast<std::size_t>(Role::Kind1) + i] = QColor(kinds[i]);
}

Theme paper() {
  Theme t;
  t.look = Theme::Look::Paper;
  for (QColor& color : t.colors) color = QColor(Qt::black);
  set(t, Role::Paper, 0xFFFFFF);
  set(t, Role::SecondInk, 0x595959);
  set(t, Role::Ground, 0x767676);
  set(t, Role::KeepOut, 0x4D4D4D);
  set(t, Role::Pixel, 0x333333);
  set(t, Role::Blank, 0x595959);
  t.colors[static_cast<std::size_t>(Role::Magnitude)] = t.magnitude(0.0);
  setKinds(t, 0x000000);
  return t;
}

Theme light() {
  Theme t;
  t.look = Theme::Look::Light;
  for (QColor& color : t.colors) color = QColor(0x1B1D20);
  set(t, Role::Paper, 0xFAF9F4);
  set(t, Role::SecondInk, 0x64676B);
  set(t, Role::Accent, 0x8A1C7C);
  set(t, Role::Ground, 0x7E7C70);
  set(t, Role::KeepOut, 0x6B5A45);
  set(t, Role::Frame, 0x2C3137);
  set(t, Role::Pixel, 0x454B52);
  set(t, Role::DataCable, 0x0072B2);
  set(t, Role::FeedCable, 0xC25200);
  set(t, Role::MainsCable, 0x1B1D20);
  set(t, Role::Danger, 0xA33B00);
  set(t, Role::Blank, 0x7E7C70);
  t.colors[static_cast<std::size_t>(Role::Magnitude)] = t.magnitude(0.0);
  setKinds(t, 0x1B1D20);
  return t;
}

Theme dusk() {
  Theme t;
  t.look = Theme::Look::Dusk;
  for (QColor& color : t.colors) color = QColor(0xE4E1D8);
  set(t, Role::Paper, 0x22252A);
  set(t, Role::SecondInk, 0xA9A79F);
  set(t, Role::Accent, 0xF2A7E4);
  set(t, Role::Ground, 0x8E8C82);
  set(t, Role::KeepOut, 0xB59F80);
  set(t, Role::Frame, 0xD2D0C8);
  set(t, Role::Pixel, 0xBEBCB4);
  set(t, Role::DataCable, 0x56B4E9);
  set(t, Role::FeedCable, 0xE69F00);
  set(t, Role::MainsCable, 0xE4E1D8);
  set(t, Role::Danger, 0xFF9466);
  set(t, Role::Blank, 0x8E8C82);
  t.colors[static_cast<std::size_t>(Role::Magnitude)] = t.magnitude(1.0);
  setKinds(t, 0xE4E1D8);
  return t;
}

double linear(double channel) {
  return channel <= 0.04045 ? channel / 12.92 : std::pow((channel + 0.055) / 1.055, 2.4);
}

double luminance(const QColor& color) {
  return 0.2126 * linear(color.redF()) + 0.7152 * linear(color.greenF()) + 0.0722 * linear(color.blueF());
}

}  // namespace

const Theme& Theme::of(Look look) {
  static const Theme themes[] = {paper(), light(), dusk()};
  return themes[static_cast<std::size_t>(look)];
}

QColor Theme::magnitude(double part) const {
  const double place = (part > 0.0 ? std::min(part, 1.0) : 0.0) * kCividisSteps;
  const int below = std::min(static_cast<int>(place), kCividisSteps - 1);
  const double rest = place - below;
  const auto mixed = [&](int channel) {
    return static_cast<int>(std::lround(kCividis[below][channel] +
                                        rest * (kCividis[below + 1][channel] - kCividis[below][channel])));
  };
  return QColor(mixed(0), mixed(1), mixed(2));
}

double contrast(const QColor& a, const QColor& b) {
  const double la = luminance(a), lb = luminance(b);
  return (std::max(la, lb) + 0.05) / (std::min(la, lb) + 0.05);
}

}  // namespace yw::ui
