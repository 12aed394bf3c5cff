#include "tests/core/shapes/shape_checks.h"

namespace yw::shapes {
namespace {

yard::Prop panel(double width, double height, double pitch) {
  return propOf("mesh_panel", {{"width", width}, {"height", height}, {"pitch", pitch}});
}

// Counts: floor(W / p) x floor(H / p), half-pitch margins; common practice.
TEST(MeshPanel, HasTheCountsOfCommonPractice) {
  const Shape shape = made(panel(48, 96, 2));
  EXPECT_EQ(shape.pixels.size(), 1152u);
  EXPECT_EQ(std::get<std::int64_t>(shape.facts.at("columns")), 24);
  EXPECT_EQ(std::get<std::int64_t>(shape.facts.at("rows")), 48);
  EXPECT_EQ(pixelsOf(panel(36, 60, 1.5)), 960);
}

TEST(MeshPanel, MatchesAPublishedBuild) {
  // A published build: 38 x 16 = 608 pixels at 2.5 in.
  EXPECT_EQ(pixelsOf(panel(38 * 2.5, 16 * 2.5, 2.5)), 608);
}

TEST(MeshPanel, GoesThereAndBackByColumns) {
  const Shape shape = made(panel(48, 96, 2));
  ASSERT_EQ(shape.rows.size(), 24u);
  EXPECT_EQ(shape.rows[0].name, "column 1, up");
  EXPECT_EQ(shape.rows[1].name, "column 2, down");
  EXPECT_EQ(shape.joints[0].landmark, "column 1, top");
  for (const double hop : shape.hop) EXPECT_NEAR(hop, 2 * kInchMetres, 1e-9);
  EXPECT_EQ(shape.in.landmark, "bottom left");
  EXPECT_EQ(shape.out.landmark, "column 24, bottom");
  EXPECT_NEAR(shape.pixels.front().x, -23 * kInchMetres, 1e-9);  // half a pitch from the edge
  EXPECT_NEAR(shape.pixels.front().z, 13 * kInchMetres, 1e-9);
}

TEST(MeshPanel, StartsAtEveryCornerBothWays) {
  for (const char* order : {"columns", "rows"})
    for (const char* corner : {"bottom_left", "bottom_right", "top_left", "top_right"}) {
      yard::Prop prop = panel(48, 96, 2);
      prop.choices = {{"order", order}, {"corner", corner}, {"backing", "sheet"}};
      const Shape shape = made(prop);
      const std::string at = corner;
      EXPECT_EQ(shape.in.at.x < 0, at.ends_with("left"));
      EXPECT_EQ(shape.in.at.z < 1.5, at.starts_with("bottom"));
      EXPECT_EQ(shape.pixels[0].x == shape.pixels[1].x, std::string(order) == "columns");
    }
}

// Half-inch mesh has holes only at multiples of 0.5 in, quarter-inch of 0.25; common practice.
TEST(MeshPanel, TakesThePitchThatItsHolesAllowAndSaysSo) {
  yard::Prop prop = panel(48, 96, 2.3);
  const Shape half = made(prop);
  ASSERT_EQ(half.warnings.size(), 1u);
  EXPECT_EQ(base::text(half.warnings[0]),
            "The mount has a hole every 1/2″, so the pixels stand 2 1/2″ apart, not 2 5/16″.");
  EXPECT_EQ(half.askedPitch.count, base::kNanometresPerInch * 23 / 10);
  EXPECT_EQ(half.truePitch.count, base::kNanometresPerInch * 5 / 2);
  EXPECT_EQ(half.pixels.size(), 19u * 38u);  // floor(48 / 2.5) x floor(96 / 2.5)
  prop.choices["backing"] = "quarter_inch_mesh";
  EXPECT_EQ(made(prop).truePitch.count, base::kNanometresPerInch * 9 / 4);
  prop.choices["backing"] = "sheet";
  EXPECT_EQ(made(prop).truePitch, made(prop).askedPitch);
  EXPECT_TRUE(made(prop).warnings.empty());
}

TEST(MeshPanel, StrungAllTheSameWayHasReturnWires) {
  yard::Prop prop = panel(48, 96, 2);
  prop.choices["rows_go"] = "same_way";
  const Shape shape = made(prop);
  EXPECT_EQ(shape.rows[1].name, "column 2, up");
  EXPECT_NEAR(shape.hop[47], std::hypot(2, 47 * 2) * kInchMetres, 1e-9);
}

TEST(MeshPanel, NamesItsColumnsFromTheLeftWhicheverWayItIsStrung) {
  for (const char* order : {"columns", "rows"})
    for (const char* corner : {"bottom_left", "top_right"}) {
      yard::Prop prop = panel(12, 9, 2);
      prop.choices["order"] = order;
      prop.choices["corner"] = corner;
      const Shape shape = made(prop);
      const NamedRanges* column = partOf(shape, "column 2 from the left");
      ASSERT_NE(column, nullptr);
      EXPECT_EQ(sizeOf(column->ranges), 4);
      for (const yard::Range& r : column->ranges)
        for (std::int64_t k = r.first; k <= r.last; ++k)
          EXPECT_NEAR(shape.pixels[static_cast<std::size_t>(k - 1)].x, -3 * kInchMetres, 1e-9);
    }
}

TEST(MeshPanel, OnTwoFacesComesBackToItsBeginning) {
  yard::Prop prop = panel(48, 96, 2);
  prop.choices["faces"] = "two";
  const Shape shape = made(prop);
  ASSERT_EQ(shape.pixels.size(), 2304u);
  EXPECT_EQ(shape.pixels.back().x, shape.pixels.front().x);
  EXPECT_EQ(shape.pixels.back().z, shape.pixels.front().z);
  EXPECT_EQ(shape.out.landmark, "back, where the front begins");
  EXPECT_EQ(sizeOf(partOf(shape, "left half")->ranges), 1152);
  EXPECT_EQ(partOf(shape, "back")->ranges, (std::vector<yard::Range>{{1153, 2304}}));
}

TEST(MeshPanel, OfSheetIsASailAndOfMeshIsNot) {
  yard::Prop prop = panel(48, 96, 2);
  const double mesh = made(prop).windArea;
  prop.choices["backing"] = "sheet";
  EXPECT_NEAR(made(prop).windArea, 4 * 8 * 0.3048 * 0.3048, 1e-6);
  EXPECT_LT(mesh, made(prop).windArea / 2);
}

// Counts by exact enumeration of grid points in the circle (published in the trade as a table; recomputed
// here).
TEST(DiscGrid, HasTheCountsOfExactEnumeration) {
  const struct {
    double radius, pitch;
    std::int64_t onPoint, onCell;
  } cases[] = {
      {13, 2, 137, 124}, {16, 2, 197, 208}, {27, 2.5, 365, 376}, {27, 3, 253, 256}, {33, 3, 377, 384}};
  for (const auto& c : cases) {
    const auto disc = [&](const char* center) {
      return pixelsOf(propOf("disc_grid", {{"grid_radius", c.radius}, {"pitch", c.pitch}}, {},
                             {{"ring", "without"}, {"center", center}}));
    };
    EXPECT_EQ(disc("point"), c.onPoint) << c.radius;
    EXPECT_EQ(disc("cell"), c.onCell) << c.radius;
  }
}

TEST(DiscGrid, AgreesWithCountingEveryPoint) {
  for (int tenths = 21; tenths < 400; tenths += 7)
    for (const bool onPoint : {true, false}) {
      const double reach = tenths / 10.0;  // radius in pitches, pitch 2 in
      std::int64_t inside = 0;
      for (int i = -50; i <= 50; ++i)
        for (int j = -50; j <= 50; ++j) {
          const double x = i + (onPoint ? 0 : 0.5), y = j + (onPoint ? 0 : 0.5);
          inside += x * x + y * y <= reach * reach * (1 + 1e-9);
        }
      EXPECT_EQ(pixelsOf(propOf("disc_grid", {{"grid_radius", reach * 2}, {"pitch", 2}}, {},
                                {{"ring", "without"}, {"center", onPoint ? "point" : "cell"}})),
                inside)
          << reach;
    }
}

TEST(DiscGrid, WithItsRingAddsBoth) {
  const yard::Prop prop =
      propOf("disc_grid", {{"grid_radius", 27}, {"pitch", 2.5}, {"ring_diameter", 60}, {"ring_pitch", 2.5}});
  const Shape shape = made(prop);
  EXPECT_EQ(shape.pixels.size(), 439u);  // 74 + 365, common practice
  EXPECT_EQ(partOf(shape, "ring")->ranges, (std::vector<yard::Range>{{1, 74}}));
  EXPECT_EQ(partOf(shape, "grid")->ranges, (std::vector<yard::Range>{{75, 439}}));
  EXPECT_EQ(shape.in.landmark, "6 o'clock of the ring");
  yard::Prop gridFirst = prop;
  gridFirst.choices["first"] = "grid";
  EXPECT_EQ(made(gridFirst).out.landmark, "6 o'clock of the ring");
}

TEST(DiscGrid, ListsTheCountOfEachRow) {
  const Shape shape =
      made(propOf("disc_grid", {{"grid_radius", 4}, {"pitch", 2}}, {}, {{"ring", "without"}}));
  std::vector<std::int64_t> rows;
  for (const Row& row : shape.rows) rows.push_back(row.last - row.first + 1);
  EXPECT_EQ(rows, (std::vector<std::int64_t>{1, 3, 5, 3, 1}));  // i^2 + j^2 <= 4
}

TEST(DiscGrid, ByColumnsHasTheSamePixelsInColumns) {
  yard::Prop prop = propOf("disc_grid", {{"grid_radius", 4}, {"pitch", 2}}, {}, {{"ring", "without"}});
  prop.choices["order"] = "columns";
  const Shape shape = made(prop);
  std::vector<std::int64_t> columns;
  for (const Row& row : shape.rows) columns.push_back(row.last - row.first + 1);
  EXPECT_EQ(columns, (std::vector<std::int64_t>{1, 3, 5, 3, 1}));
  EXPECT_EQ(shape.rows[1].name, "grid column 2, down");
}

TEST(DiscGrid, MindsItsRing) {
  EXPECT_EQ(refusalOf(propOf("disc_grid", {{"grid_radius", 30}, {"ring_diameter", 60}})),
            "shape_inner_over_outer at grid_radius");
  const Shape near = made(propOf("disc_grid", {{"grid_radius", 29.5}, {"ring_diameter", 60}}));
  ASSERT_EQ(near.warnings.size(), 1u);
  EXPECT_EQ(near.warnings[0].key, "shape_grid_touches_ring");
}

// floor(W / p) x floor(H / p), common practice.
TEST(Net, HasTheCountsOfCommonPractice) {
  EXPECT_EQ(pixelsOf(propOf("net", {{"width", 60}, {"height", 36}, {"pitch", 4}})), 135);
  EXPECT_EQ(pixelsOf(propOf("net", {{"width", 72}, {"height", 36}, {"pitch", 6}})), 72);
}

}  // namespace
}  // namespace yw::shapes
