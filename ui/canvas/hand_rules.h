#pragma once
#include "ui/canvas/canvas_view.h"

namespace yw::ui {

/// How the hand is read on the drawings: kept between sessions, not part of a yard.
struct HandRules {
  bool wheelZooms = true;  ///< false: the wheel pans, Ctrl+wheel zooms
  BandRule band = BandRule::ByDirection;
  bool snaps = true;
  base::Length nudge{0};  ///< 0: 1 inch or 2 cm, by the yard's units

  static HandRules load();
  void save() const;
  void applyTo(CanvasView& view) const;
};

}  // namespace yw::ui
