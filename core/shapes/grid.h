#pragma once
// Pixels in rows or columns, there and back (serpentine).
#include <string>
#include <vector>

#include "core/shapes/builder.h"

namespace yw::shapes {

/// One row or column of a grid in the front plane.
struct GridLine {
  double across;  ///< the coordinate that all its pixels share: z of a row, x of a column
  double first;   ///< the other coordinate of its leftmost or lowest pixel
  std::int64_t pixels;
  double pitch;
};

enum class Corner { BottomLeft, BottomRight, TopLeft, TopRight };

struct Grid {
  std::vector<GridLine> lines;  ///< from the bottom up, or from left to right; every line has a pixel
  bool byColumns = false;
  Corner start = Corner::BottomLeft;
  bool sameWay = false;  ///< all lines the way of the first, with return wires
  std::string name;      ///< before the rows' names, `grid`; empty: none
};

/// A full grid of cols x rows with its lowest left pixel at `corner`, as lines of the chosen sort.
std::vector<GridLine> fullGrid(std::int64_t cols, std::int64_t rows, double pitch, Vec2 corner,
                               bool byColumns);

/// Adds rows `row 2, to the left` with joints `row 2, left`. Row 1 is the one at the start corner.
void addGrid(ShapeBuilder& build, const Grid& grid);
/// `bottom left`, and where the last line ends: `row 12, right`.
std::string gridStart(const Grid& grid);
std::string gridEnd(const Grid& grid);

/// Choice `rows_go`: there and back, or all the same way.
ChoiceInfo rowsGoChoice();
bool sameWayOf(const yard::Prop& prop);
ChoiceInfo cornerChoice();
Corner cornerOf(const yard::Prop& prop);

}  // namespace yw::shapes
