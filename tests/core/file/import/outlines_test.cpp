#include "core/file/import/outlines.h"

#include <gtest/gtest.h>

#include <cmath>

#include "core/yard/yard.h"

namespace yw::file {
namespace {

using base::LengthUnit;
using yard::FeatureKind;

double inMetres(base::Length length) { return base::metres(length).si; }
double sideOf(const Outline& outline, std::size_t from, std::size_t to) {
  return base::distance(base::vec(outline.points[from]), base::vec(outline.points[to]));
}
std::string refusal(const std::string& bytes, const std::string& ending) {
  const auto read = readOutlines(bytes, ending, LengthUnit::Feet);
  if (read) return "read";
  EXPECT_TRUE(base::hasWording(read.error().message.key)) << read.error().message.key;
  return read.error().message.key + (read.error().where.empty() ? "" : " " + read.error().where);
}

std::string geoJson(const std::string& geometry, const std::string& properties = "{}") {
  return R"({"type":"FeatureCollection","features":[{"type":"Feature","properties":)" + properties +
         R"(,"geometry":)" + geometry + "}]}";
}

// Lengths of a degree at 45° on WGS 84: 111 131.75 m of latitude (radius 6 367 381.8 m), 78 846.8 m of
// longitude (radius 6 388 838.3 m), by a (1 - e²) / W³ and a / W with W² = 1 - e² / 2.
TEST(Outlines, LaysLongitudeAndLatitudeFlatInTrueMetres) {
  const auto read = readGeoJson(geoJson(
      R"({"type":"Polygon","coordinates":[[[10,45],[10.001,45],[10.001,45.001],[10,45.001],[10,45]]]})",
      R"({"name":"Our house"})"));
  ASSERT_TRUE(read) << base::text(read.error());
  ASSERT_EQ(read->outlines.size(), 1u);
  const Outline& house = read->outlines[0];
  ASSERT_EQ(house.points.size(), 4u);
  EXPECT_TRUE(house.closed);
  EXPECT_NEAR(sideOf(house, 1, 2), 111.13175, 2e-4);
  EXPECT_NEAR(sideOf(house, 0, 1), 78.84683, 2e-4);
  EXPECT_NEAR(sideOf(house, 2, 3), 78.84545, 2e-4) << "by the cosine less, 0.001° farther north";
  EXPECT_GT(house.points[1].x.count, house.points[0].x.count);
  EXPECT_GT(house.points[2].y.count, house.points[1].y.count);
  EXPECT_NEAR(inMetres(house.points[0].x), -39.4234, 1e-3) << "the middle is the yard's zero";
  EXPECT_TRUE(read->northUp);
}

TEST(Outlines, ReadsLinesCollectionsAndYardsOnTheDateLine) {
  const auto read = readOutlines(
      R"({"type":"GeometryCollection","geometries":[
          {"type":"MultiLineString","coordinates":[[[179.9999,0],[-179.9999,0]]]},
          {"type":"Point","coordinates":[180,0]}]})",
      ".json", LengthUnit::Feet);
  ASSERT_TRUE(read) << base::text(read.error());
  ASSERT_EQ(read->outlines.size(), 1u);
  EXPECT_FALSE(read->outlines[0].closed);
  EXPECT_NEAR(sideOf(read->outlines[0], 0, 1), 22.2639, 1e-3) << "0.0002° of the equator";
  EXPECT_EQ(read->notes.back().key, "outlines_points_left_out");
}

TEST(Outlines, ProposesKindsFromNamesAndLayers) {
  EXPECT_EQ(kindFromWords("Garage"), FeatureKind::House);
  EXPECT_EQ(kindFromWords("L-WALKS"), FeatureKind::Walk);
  EXPECT_EQ(kindFromWords("Drive_way"), FeatureKind::Drive);
  EXPECT_EQ(kindFromWords("water main"), FeatureKind::BuriedLine);
  EXPECT_EQ(kindFromWords("Pond"), FeatureKind::Water);
  EXPECT_EQ(kindFromWords("Main street 12"), std::nullopt) << "no tree in a street";
  EXPECT_EQ(kindFromWords("bedroom"), std::nullopt);
}

TEST(Outlines, TakesLayersAndTheDrawingsUnitFromDxf) {
  const std::string dxf =
      "0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n2\n0\nENDSEC\n0\nSECTION\n2\nENTITIES\n"
      "0\nLWPOLYLINE\n8\nHOUSE\n70\n1\n10\n0\n20\n0\n10\n40\n20\n0\n10\n40\n20\n30\n10\n0\n20\n30\n"
      "0\nLINE\n8\nFENCE\n10\n0\n20\n-20\n11\n60\n21\n-20\n0\nENDSEC\n0\nEOF\n";
  const auto read = readOutlines(dxf, ".DXF", LengthUnit::Metres);
  ASSERT_TRUE(read) << base::text(read.error());
  ASSERT_EQ(read->outlines.size(), 2u);
  EXPECT_TRUE(read->sized);
  EXPECT_EQ(read->outlines[0].layer, "HOUSE");
  EXPECT_EQ(read->outlines[0].kind, FeatureKind::House);
  EXPECT_EQ(read->outlines[1].kind, FeatureKind::Fence);
  EXPECT_NEAR(sideOf(read->outlines[0], 0, 1), 40 * 0.3048, 1e-9);
}

TEST(Outlines, BringsADrawingFarFromItsZeroHome) {
  const auto read = readOutlines(
      "0\nSECTION\n2\nENTITIES\n0\nLWPOLYLINE\n8\nX\n70\n1\n10\n600000\n20\n200000\n10\n600010\n20\n200000\n1"
      "0\n"
      "600010\n20\n200020\n0\nENDSEC\n",
      ".dxf", LengthUnit::Metres);
  ASSERT_TRUE(read) << base::text(read.error());
  EXPECT_FALSE(read->sized);
  EXPECT_EQ(read->notes.back().key, "outlines_moved");
  EXPECT_EQ(read->outlines[0].points[0], (base::Point{base::toLength({-5}), base::toLength({-10})}));
}

TEST(Outlines, TakesGroupsAndTitlesFromSvgAndLaysCurvesWithinACentimeter) {
  const auto read = readOutlines(
      "<svg xmlns='http://www.w3.org/2000/svg' width='100mm' viewBox='0 0 100 100'>"
      "<g id='Beds'><circle cx='50' cy='50' r='40'><title>Rose bed</title></circle></g></svg>",
      ".svg", LengthUnit::Feet);
  ASSERT_TRUE(read) << base::text(read.error());
  const Outlines large = scaled(*read, 100);  // 1 : 100
  const Outline& bed = large.outlines.at(0);
  EXPECT_EQ(bed.layer, "Beds");
  EXPECT_EQ(bed.name, "Rose bed");
  EXPECT_EQ(bed.kind, FeatureKind::Bed);
  const base::Vec2 middle = (base::vec(bed.points[0]) + base::vec(bed.points[bed.points.size() / 2])) * 0.5;
  for (const base::Point p : bed.points) EXPECT_NEAR(base::distance(base::vec(p), middle), 4.0, 0.2);
}

// A drawing on paper becomes a yard by its scale first; only then are corners spared.
TEST(Outlines, SparesCornersAtTheSizeOfTheYardNotOfTheDrawing) {
  const auto read = readOutlines(
      "<svg xmlns='http://www.w3.org/2000/svg' width='200mm' viewBox='0 0 200 150'>"
      "<circle id='tree' cx='50' cy='50' r='9'/></svg>",
      ".svg", LengthUnit::Feet);
  ASSERT_TRUE(read) << base::text(read.error());
  const yard::Yard before = yard::emptyYard();
  const yard::Yard after = edit::apply(before, takeOutlines(before, scaled(*read, 100)));
  const auto features = yard::all<yard::GroundFeature>(after);
  ASSERT_EQ(features.size(), 1u);
  EXPECT_GT(features[0].second->outline.size(), 10u);
}

TEST(Outlines, LeavesNoCornerWithinACentimeterOfASide) {
  const auto fewer = fewerCorners({{0, 0}, {1, 0.009}, {2, 0}, {2, 2}, {1, 2.02}, {0, 2}}, true);
  ASSERT_EQ(fewer.size(), 5u);
  EXPECT_EQ(fewer[1], (base::Vec2{2, 0}));
  EXPECT_EQ(fewerCorners({{0, 0}, {1, 0.001}, {2, 0}}, false).size(), 2u);
}

TEST(Outlines, TakesThemInOneChangeWithWallsForAHouseAndUndoesToTheSameYard) {
  auto read = readGeoJson(geoJson(
      R"({"type":"MultiPolygon","coordinates":[[[[10,45],[10.0001,45],[10.0001,45.0001],[10,45.0001],[10,45]]],
          [[[10,45.0002],[10.0001,45.0002],[10.0001,45.0003],[10,45.0002]]]]})"));
  ASSERT_TRUE(read);
  read->outlines[0].kind = FeatureKind::House;
  read->outlines[1].kind.reset();  // left out
  edit::Editor turned(yard::emptyYard());
  turned.update<yard::Site>(yard::siteId(turned.yard()), [](yard::Site& s) { s.north = base::toAngle(90); });
  const yard::Yard before = turned.yard();
  const edit::Change change = takeOutlines(before, *read);
  const yard::Yard after = edit::apply(before, change);
  const auto features = yard::all<yard::GroundFeature>(after);
  ASSERT_EQ(features.size(), 1u);
  EXPECT_EQ(yard::all<yard::Wall>(after).size(), 4u);
  // With north to the left, what lies east of the middle lies up the plan.
  const base::Point east = read->outlines[0].points[1], placed = features[0].second->outline[1];
  EXPECT_NEAR(inMetres(placed.y), inMetres(east.x), 1e-6);
  EXPECT_NEAR(inMetres(placed.x), -inMetres(east.y), 1e-6);
  EXPECT_EQ(edit::apply(after, edit::reversed(change)), before);
}

TEST(Outlines, RefusesInWordsWhatIsNoOutline) {
  EXPECT_EQ(refusal("{", ".geojson"), "geojson_not_json");
  EXPECT_EQ(refusal("[1]", ".geojson"), "geojson_no_map");
  EXPECT_EQ(refusal(R"({"type":"FeatureCollection"})", ".geojson"), "geojson_no_features");
  EXPECT_EQ(refusal(geoJson(R"({"type":"Polygon","coordinates":[[[500123.4,45],[0,0],[1,1]]]})"), ".geojson"),
            "geojson_not_degrees feature 1");
  EXPECT_EQ(refusal(geoJson(R"({"type":"Polygon","coordinates":[[["a",45]]]})"), ".geojson"),
            "geojson_bad_places feature 1");
  EXPECT_EQ(refusal(geoJson(R"({"type":"Blob","coordinates":[]})"), ".geojson"), "geojson_unknown feature 1");
  EXPECT_EQ(refusal(geoJson("null"), ".geojson"), "geojson_no_lines");
  EXPECT_EQ(refusal(geoJson(R"({"type":"LineString","coordinates":[[0,0],[1,1]]})"), ".geojson"),
            "outlines_too_far");
  EXPECT_EQ(refusal("<svg/>", ".svg"), "outlines_none");
  EXPECT_EQ(refusal("x", ".pdf"), "outlines_unknown_ending");
  EXPECT_EQ(refusal("hello\nworld\n", ".dxf"), "import_dxf_not_one");
}

}  // namespace
}  // namespace yw::file
