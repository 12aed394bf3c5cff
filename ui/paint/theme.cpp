#include "ui/paint/theme.h"

#include <algorithm>
#include <cmath>

#include "core/papers/palette.h"

namespace yw::ui {
namespace {

using papers::Role;

void set(Theme& theme, Role role, QRgb color) {
  theme.colors[static_cast<std::size_t>(role)] = QColor(color);
}

void setKinds(Theme& theme, QRgb first) {
  for (std::size_t i = 0; i < 8; ++i)
    theme.colors[static_cast<std::size_t>(Role::Kind1) + i] = QColor(i == 0 ? first : papers::kindColor(i));
}

Theme paper() {
  Theme t;
  t.look = Theme::Look::Paper;
  for (std::size_t i = 0; i < std::size(t.colors); ++i)
    t.colors[i] = QColor(papers::paperColor(static_cast<Role>(i)));
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

QColor Theme::magnitude(double part) const { return QColor(papers::cividis(part)); }

double contrast(const QColor& a, const QColor& b) {
  const double la = luminance(a), lb = luminance(b);
  return (std::max(la, lb) + 0.05) / (std::min(la, lb) + 0.05);
}

}  // namespace yw::ui
