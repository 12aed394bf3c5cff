#pragma once
#include <set>
#include <string>
#include <vector>

#include "core/papers/digest.h"
#include "core/papers/papers.h"
#include "core/papers/sketch.h"

namespace yw::papers {

/// Plan places in metres.
struct Extent {
  double x0 = 0.0, y0 = 0.0, x1 = 0.0, y1 = 0.0;
  bool empty = true;
  void take(base::Vec2 p);
  double width() const { return x1 - x0; }
  double height() const { return y1 - y0; }
};

/// All that is drawn on a plan.
Extent extentOf(const Digest& digest);

/// Metres of the plan to millimetres of the page.
class PlanScale {
 public:
  explicit PlanScale(const PlanView& view) : view_(view) {}
  Mm at(base::Vec2 p) const {
    return {view_.frameX + (p.x - view_.lowerLeft.x) * view_.scale,
            view_.frameY + view_.frameHeight - (p.y - view_.lowerLeft.y) * view_.scale};
  }
  Mm at(base::Point p) const { return at(base::vec(p)); }
  Rect frame() const { return {view_.frameX, view_.frameY, view_.frameWidth, view_.frameHeight}; }

 private:
  PlanView view_;
};

struct PlanStyle {
  double idSize = kTextSize;  ///< of prop labels; boxes one step larger
  std::set<Id> shown = {};    ///< drawn heavy; others' labels are left off when `onlyShown`
  bool onlyShown = false;     ///< labels and cables of these alone: a map to find the place
  bool cableNames = true;
  double mostGap = 40.0;       ///< mm a name may step aside; what finds no clear place is left off
  std::set<Id> cablesOf = {};  ///< with onlyShown: runs, feeds, supplies whose cables are drawn
};

struct PlanDrawing {
  std::vector<Item> items;
  int leftOff = 0;       ///< names of props, boxes, outlets and keep-outs that found no clear place
  int leadsLeftOff = 0;  ///< names of leads and feeds that found none
  int leaders = 0;       ///< names that had to step aside
};

PlanDrawing drawPlan(const Digest& digest, const PlanView& view, const PlanStyle& style);

/// Yard places of a prop's lines and pixels, projected on the ground.
std::vector<std::vector<base::Vec2>> planLines(const Digest& digest, Id prop);
std::vector<base::Vec2> planPixels(const Digest& digest, Id prop);

/// How a cable of that role is drawn.
Pen cablePen(routes::CableRole role);
/// The sign of a null pixel (open diamond) or booster (solid diamond) in a lead; nothing for a stretch.
void inLineSign(Sketch& s, Mm at, yard::RunItemKind kind);

}  // namespace yw::papers
