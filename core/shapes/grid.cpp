#include "core/shapes/grid.h"

#include "core/shapes/sizes.h"

namespace yw::shapes {
namespace {

bool atRight(Corner c) { return c == Corner::BottomRight || c == Corner::TopRight; }
bool atTop(Corner c) { return c == Corner::TopLeft || c == Corner::TopRight; }

/// Does the line-th line in string order run towards greater coordinates?
bool runsUp(const Grid& grid, std::size_t line) {
  const bool first = grid.byColumns ? !atTop(grid.start) : !atRight(grid.start);
  return grid.sameWay ? first : first == (line % 2 == 0);
}

std::string lineName(const Grid& grid, std::size_t line) {
  return (grid.name.empty() ? "" : grid.name + " ") + (grid.byColumns ? "column " : "row ") +
         std::to_string(line + 1);
}

std::string farEnd(const Grid& grid, std::size_t line) {
  const bool up = runsUp(grid, line);
  return lineName(grid, line) + (grid.byColumns ? (up ? ", top" : ", bottom") : (up ? ", right" : ", left"));
}

}  // namespace

std::vector<GridLine> fullGrid(std::int64_t cols, std::int64_t rows, double pitch, Vec2 corner,
                               bool byColumns) {
  std::vector<GridLine> lines;
  for (std::int64_t i = 0; i < (byColumns ? cols : rows); ++i) {
    const double step = static_cast<double>(i) * pitch;
    lines.push_back(byColumns ? GridLine{corner.x + step, corner.y, rows, pitch}
                              : GridLine{corner.y + step, corner.x, cols, pitch});
  }
  return lines;
}

void addGrid(ShapeBuilder& build, const Grid& grid) {
  const bool fromLast = grid.byColumns ? atRight(grid.start) : atTop(grid.start);
  for (std::size_t i = 0; i < grid.lines.size(); ++i) {
    const GridLine& line = grid.lines[fromLast ? grid.lines.size() - 1 - i : i];
    const bool up = runsUp(grid, i);
    build.startRow(lineName(grid, i) +
                   (grid.byColumns ? (up ? ", up" : ", down") : (up ? ", to the right" : ", to the left")));
    for (std::int64_t k = 0; k < line.pixels; ++k) {
      const double along = line.first + static_cast<double>(up ? k : line.pixels - 1 - k) * line.pitch;
      build.add(grid.byColumns ? Vec3{line.across, 0, along} : Vec3{along, 0, line.across});
    }
    build.endRow(farEnd(grid, i));
  }
}

std::string gridStart(const Grid& grid) {
  return std::string(atTop(grid.start) ? "top " : "bottom ") + (atRight(grid.start) ? "right" : "left");
}

std::string gridEnd(const Grid& grid) { return farEnd(grid, grid.lines.size() - 1); }

ChoiceInfo rowsGoChoice() {
  return {"rows_go",
          "Rows go",
          {{"there_and_back", "There and back"}, {"same_way", "All the same way, with return wires"}}};
}

bool sameWayOf(const yard::Prop& prop) { return Sizes(prop).chosen("rows_go", "same_way"); }

ChoiceInfo cornerChoice() {
  return {"corner",
          "Starts at, seen from the front",
          {{"bottom_left", "Bottom left"},
           {"bottom_right", "Bottom right"},
           {"top_left", "Top left"},
           {"top_right", "Top right"}}};
}

Corner cornerOf(const yard::Prop& prop) {
  const Sizes size(prop);
  return size.chosen("corner", "bottom_left")    ? Corner::BottomLeft
         : size.chosen("corner", "bottom_right") ? Corner::BottomRight
         : size.chosen("corner", "top_left")     ? Corner::TopLeft
                                                 : Corner::TopRight;
}

}  // namespace yw::shapes
