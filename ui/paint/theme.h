#pragma once
#include <QColor>

#include "core/papers/drawing.h"

namespace yw::ui {

/// The inks of one look: paper (black on white), light (screen, default) and dusk (screen, dark).
struct Theme {
  enum class Look { Paper, Light, Dusk };
  static const Theme& of(Look look);
  QColor color(papers::Role role) const { return colors[static_cast<std::size_t>(role)]; }
  /// Cividis (Nunez, Anderton, Renslow 2018): 0 dark blue .. 1 yellow, clamped.
  QColor magnitude(double part) const;
  Look look = Look::Light;
  QColor colors[32];
};

/// Contrast of two colors, 1..21, by WCAG 2.2 (relative luminance). Lines need 3, text 4.5.
double contrast(const QColor& a, const QColor& b);

}  // namespace yw::ui
