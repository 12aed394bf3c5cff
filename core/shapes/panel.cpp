#include "core/shapes/panel.h"

#include "core/shapes/sizes.h"

namespace yw::shapes {

base::Result<Panel> panelOf(const yard::Prop& prop) {
  const Sizes size(prop);
  const double pitch = size.metres("pitch"), width = size.metres("width"), height = size.metres("height");
  Panel panel;
  panel.cols = countAlong(width, pitch);
  panel.rows = countAlong(height, pitch);
  const std::string narrow = panel.cols == 0 ? "width" : "height";
  if (auto error = checkPixels(panel.cols * panel.rows, narrow, size.length(narrow), size.length("pitch")))
    return tl::unexpected(*error);
  panel.grid.byColumns = size.chosen("order", "columns");
  panel.grid.start = cornerOf(prop);
  const Vec2 corner{-static_cast<double>(panel.cols - 1) * pitch / 2,
                    size.metres("foot") + height / 2 - static_cast<double>(panel.rows - 1) * pitch / 2};
  panel.grid.lines = fullGrid(panel.cols, panel.rows, pitch, corner, panel.grid.byColumns);
  return panel;
}

ChoiceInfo panelOrderChoice() {
  return {"order",
          "String order",
          {{"columns", "By columns, feeds along the bottom"}, {"rows", "By rows, feeds along one side"}}};
}

void addPanel(ShapeBuilder& build, const Panel& panel, const yard::Prop& prop) {
  const Sizes size(prop);
  addGrid(build, panel.grid);
  const double left = -size.metres("width") / 2, foot = size.metres("foot"),
               top = foot + size.metres("height");
  const double middle = (foot + top) / 2, hair = 1e-9;
  build.part("left half", [&](Vec3 p) { return p.x < -hair; });
  build.part("right half", [&](Vec3 p) { return p.x > hair; });
  build.part("upper half", [&](Vec3 p) { return p.z > middle + hair; });
  build.part("lower half", [&](Vec3 p) { return p.z < middle - hair; });
  build.frameLine({{left, 0, foot}, {-left, 0, foot}, {-left, 0, top}, {left, 0, top}, {left, 0, foot}});
  build.lengthFact("true pitch", size.metres("pitch"));
  build.fact("columns", panel.cols);
  build.fact("rows", panel.rows);
}

double meshSpacing(const yard::Prop& prop) {
  const Sizes size(prop);
  return size.chosen("backing", "half_inch_mesh")      ? kInch / 2
         : size.chosen("backing", "quarter_inch_mesh") ? kInch / 4
                                                       : 0;
}

void warnOfMesh(ShapeBuilder& build, const yard::Prop& prop) {
  const Length hole = base::toLength({meshSpacing(prop)}), pitch = Sizes(prop).length("pitch");
  constexpr std::int64_t kForgiven = 100'000;  // 0.1 mm: the mesh gives more than that
  if (!hole) return;
  const std::int64_t over = pitch.count % hole.count;
  if (over <= kForgiven || hole.count - over <= kForgiven) return;
  const Length below{pitch.count - over};
  build.warn("shape_pitch_off_the_mesh",
             {{"pitch", pitch}, {"hole", hole}, {"below", below ? below : hole}, {"above", below + hole}});
}

}  // namespace yw::shapes
