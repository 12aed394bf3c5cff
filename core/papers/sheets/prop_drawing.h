#pragma once
#include <algorithm>

#include "core/papers/sheets/sheets.h"

namespace yw::papers {

/// From where a prop is looked at.
enum class PropView { Front, Back, Above };

/// How a prop of that shape is best shown: flat on the ground from above, else from the front and mirrored
/// from the back.
std::vector<PropView> viewsOf(const shapes::Shape& shape);

/// Height over width of the prop as seen from there.
double heightToWidth(const shapes::Shape& shape, PropView view);

/// What of a prop is shown: the pixels from where data enters to where it leaves (entered > left: turned
/// round); others are drawn pale and without numbers. Feeds by the prop's pixel.
struct PropMarks {
  std::int64_t entered = 1, left = 1;
  std::vector<std::pair<std::int64_t, std::string>> feeds = {};
  bool dimensioned = false;     ///< width and height over all beside the drawing
  std::size_t mostNumbers = 0;  ///< so many numbers at most, evenly over the rows; 0: at every joint
  bool rowsNumbered = false;    ///< each row's own number at its outer end instead of pixels'
  std::int64_t first() const { return std::min(entered, left); }
  std::int64_t last() const { return std::max(entered, left); }
};

/// One prop with its string in order: arrows the way the data goes, IN and OUT, feeds, the numbers at every
/// joint. Returns how many numbers found no place.
int drawPropView(Sketch sketch, const Digest& d, Id prop, PropView view, const Rect& frame,
                 const PropMarks& marks);

}  // namespace yw::papers
