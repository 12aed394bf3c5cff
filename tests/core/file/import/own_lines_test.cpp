#include "core/file/import/own_lines.h"

#include <gtest/gtest.h>

#include <cmath>

namespace yw::file {
namespace {

using base::LengthUnit;

double inchesOf(base::Length length) { return static_cast<double>(length.count) / base::kNanometresPerInch; }
double lengthOf(const yard::OwnLine& line) {
  double sum = 0;
  for (std::size_t i = 1; i < line.points.size(); ++i)
    sum += base::distance(base::vec(line.points[i - 1]), base::vec(line.points[i]));
  if (line.closed) sum += base::distance(base::vec(line.points.back()), base::vec(line.points.front()));
  return sum;
}
std::string keyOf(const base::Result<OwnLines>& read) {
  EXPECT_TRUE(read || base::hasWording(read.error().message.key));
  return read ? "read" : read.error().message.key;
}

TEST(PointTable, ReadsColumnsUnitsAndSets) {
  const auto read = readCsvPoints("x,y\r\n1,2\r\n2' 6\",3.5\r\n\r\n0;1\n", LengthUnit::Inches);
  ASSERT_TRUE(read.has_value()) << base::text(read.error());
  ASSERT_EQ(read->lines.size(), 2u);
  EXPECT_TRUE(read->lines[0].dots);
  EXPECT_NEAR(inchesOf(read->lines[0].points[1].x), 30, 1e-9);
  EXPECT_NEAR(inchesOf(read->lines[0].points[1].y), 3.5, 1e-9);
}

TEST(PointTable, RefusesByTheLine) {
  const auto read = readCsvPoints("1,2\n3,four\n", LengthUnit::Inches);
  ASSERT_FALSE(read.has_value());
  EXPECT_EQ(read.error().where, "line 2");
  EXPECT_EQ(keyOf(readCsvPoints("1 2\n", LengthUnit::Inches)), "import_two_numbers");
  EXPECT_EQ(keyOf(readCsvPoints("", LengthUnit::Inches)), "import_nothing_in_it");
  EXPECT_EQ(keyOf(readCsvPoints("1,99999\n", LengthUnit::Feet)), "import_too_far");
}

TEST(Svg, TakesPathsAtTheirTrueSizeWithYUp) {
  const auto read = readSvg(
      "<svg xmlns='http://www.w3.org/2000/svg' width='10in' height='10in' viewBox='0 0 100 100'>"
      "<path d='M0 100 h 50 v-50 z'/><g transform='translate(10 0) scale(2)'><line x1='0' y1='0' x2='10' "
      "y2='0'/>"
      "</g><text x='1' y='1'>no</text></svg>");
  ASSERT_TRUE(read.has_value()) << base::text(read.error());
  ASSERT_EQ(read->lines.size(), 2u);
  EXPECT_TRUE(read->lines[0].closed);
  EXPECT_EQ(read->lines[0].points.size(), 3u);
  EXPECT_NEAR(inchesOf(read->lines[0].points[1].x), 5, 1e-6);
  EXPECT_NEAR(inchesOf(read->lines[0].points[2].y), 5, 1e-6);
  EXPECT_NEAR(inchesOf(read->lines[1].points[1].x), 3, 1e-6);
  EXPECT_NEAR(inchesOf(read->lines[1].points[1].y), 10, 1e-6);
  ASSERT_EQ(read->notes.size(), 1u);
  EXPECT_EQ(read->notes[0].key, "import_left_out");
}

// A circle as two arcs, as four cubics (error 0.03 %) and as an element is pi d long.
TEST(Svg, LaysCurvesCloseToTheirTrueLength) {
  const std::string head = "<svg width='100mm' viewBox='0 0 100 100'>";
  const double around = 3.14159265 * 0.08;
  for (const char* shape :
       {"<path d='M10 50A40 40 0 0 1 90 50A40 40 0 0 1 10 50Z'/>",
        "<path d='M10,50a40,40,0,1180,0 40 40 0 11-80 0'/>", "<circle cx='50' cy='50' r='40'/>",
        "<ellipse cx='50' cy='50' rx='40' ry='40'/>",
        "<path d='M90 50C90 72.09 72.09 90 50 90S10 72.09 10 50 27.91 10 50 10 90 27.91 90 50'/>"}) {
    const auto read = readSvg(head + shape + "</svg>");
    ASSERT_TRUE(read.has_value()) << shape;
    ASSERT_EQ(read->lines.size(), 1u) << shape;
    EXPECT_NEAR(lengthOf(read->lines[0]) / around, 1, 0.02) << shape;
    EXPECT_TRUE(read->lines[0].closed) << shape;
    for (const base::Point p : read->lines[0].points)
      EXPECT_NEAR(base::distance(base::vec(p), {0.05, 0.05}), 0.04, 1e-4) << shape;
  }
}

// A quadratic (0,0) (50,100) (100,0) is the parabola y = x (100 - x) / 50.
TEST(Svg, LaysQuadraticsOnTheirParabola) {
  const auto read = readSvg("<svg width='100mm' viewBox='0 0 100 100'><path d='M0 100Q50 0 100 100'/></svg>");
  ASSERT_TRUE(read.has_value());
  for (const base::Point p : read->lines[0].points) {
    const base::Vec2 at = base::vec(p) * 1000;
    EXPECT_NEAR(at.y, at.x * (100 - at.x) / 50, 1e-4);
  }
}

TEST(Svg, RefusesWhatIsNone) {
  EXPECT_EQ(keyOf(readSvg("<svg><path d='M0 0L1")), "import_svg_not_xml");
  EXPECT_EQ(keyOf(readSvg("<html/>")), "import_svg_no_drawing");
  EXPECT_EQ(keyOf(readSvg("<svg width='1in' viewBox='0 0 9 9'/>")), "import_nothing_in_it");
  const auto broken = readSvg("<svg width='1in' viewBox='0 0 9 9'><path d='M0 0L5 5L7'/></svg>");
  ASSERT_TRUE(broken.has_value());
  EXPECT_EQ(broken->notes.at(0).key, "import_svg_path_breaks_off");
}

std::string dxf(const std::string& entities, const std::string& header = {}) {
  return "0\nSECTION\n2\nHEADER\n" + header + "0\nENDSEC\n0\nSECTION\n2\nENTITIES\n" + entities +
         "0\nENDSEC\n0\nEOF\n";
}

TEST(Dxf, TakesLinesArcsCirclesAndPolylines) {
  const auto read = readDxf(dxf("0\nLINE\n10\n0\n20\n0\n11\n3\n21\n4\n0\nCIRCLE\n10\n0\n20\n0\n40\n10\n0\nARC"
                                "\n10\n0\n20\n0\n40\n10\n50\n270\n"
                                "51\n90\n0\nLWPOLYLINE\n90\n2\n70\n0\n10\n0\n20\n0\n42\n1\n10\n10\n20\n0\n"
                                "0\nPOLYLINE\n70\n1\n0\nVERTEX\n10\n0\n20\n0\n0\nVERTEX\n10\n1\n20\n0\n0\nVER"
                                "TEX\n10\n1\n20\n1\n0\nSEQEND\n"
                                "0\nPOINT\n10\n5\n20\n6\n0\nTEXT\n10\n0\n"),
                            LengthUnit::Inches);
  ASSERT_TRUE(read.has_value()) << base::text(read.error());
  ASSERT_EQ(read->lines.size(), 6u);
  const double inch = 0.0254, pi = 3.14159265358979;
  EXPECT_NEAR(lengthOf(read->lines[0]), 5 * inch, 1e-6);
  EXPECT_NEAR(lengthOf(read->lines[1]), 20 * pi * inch, 0.01);
  EXPECT_NEAR(lengthOf(read->lines[2]), 10 * pi * inch, 0.01);
  EXPECT_NEAR(inchesOf(read->lines[2].points.front().y), -10, 1e-6);
  EXPECT_NEAR(lengthOf(read->lines[3]), 5 * pi * inch,
              0.005);  // bulge 1: half a circle to the left of the way
  for (const base::Point p : read->lines[3].points) EXPECT_LE(p.y.count, 1);
  EXPECT_TRUE(read->lines[4].closed);
  EXPECT_TRUE(read->lines[5].dots);
  EXPECT_EQ(read->notes.at(0).key, "import_left_out");
}

TEST(Dxf, TakesTheDrawingsOwnUnit) {
  const auto read =
      readDxf(dxf("0\nLINE\n10\n0\n20\n0\n11\n100\n21\n0\n", "9\n$INSUNITS\n70\n4\n"), LengthUnit::Feet);
  ASSERT_TRUE(read.has_value());
  EXPECT_NEAR(lengthOf(read->lines[0]), 0.1, 1e-9);
}

TEST(Dxf, RefusesSplinesAndWhatIsNoDrawing) {
  const auto read = readDxf(dxf("0\nSPLINE\n10\n0\n"), LengthUnit::Feet);
  ASSERT_FALSE(read.has_value());
  EXPECT_NE(base::text(read.error()).find("SPLINE"), std::string::npos);
  EXPECT_EQ(keyOf(readDxf("hello\nthere\n", LengthUnit::Feet)), "import_dxf_not_one");
  EXPECT_EQ(keyOf(readDxf("AutoCAD Binary DXF\r\n", LengthUnit::Feet)), "import_dxf_binary");
  EXPECT_EQ(keyOf(readDxf(dxf(""), LengthUnit::Feet)), "import_nothing_in_it");
}

// Whatever bytes come, the readers answer.
TEST(Import, TakesOrRefusesAnyBytes) {
  std::uint64_t state = 5;
  const std::string letters = "0123456789.-eMLHVCSQTAZz <>/='\"svgpathd\n,;";
  for (int i = 0; i < 3000; ++i) {
    std::string bytes;
    for (int k = 0; k < 60; ++k) {
      state = state * 6364136223846793005U + 1442695040888963407U;
      bytes += letters[(state >> 33) % letters.size()];
    }
    keyOf(readSvg("<svg width='9mm' viewBox='0 0 9 9'><path d='" + bytes.substr(0, 30) + "'/></svg>"));
    keyOf(readSvg(bytes));
    keyOf(readDxf(bytes, LengthUnit::Feet));
    keyOf(readCsvPoints(bytes, LengthUnit::Feet));
  }
}

}  // namespace
}  // namespace yw::file
