#pragma once
// Outlines and points for own shapes from open formats. Nothing is guessed: what is left out is said.
#include <string>
#include <string_view>
#include <vector>

#include "core/base/number_text.h"
#include "core/base/result.h"
#include "core/yard/records.h"

namespace yw::file {

struct OwnLines {
  std::vector<yard::OwnLine> lines;
  std::vector<base::Message> notes;  ///< what was left out or taken for granted
  /// Of SVG and DXF, one a line: the layer or group it is drawn on, and its own title; else empty.
  std::vector<std::string> layers, titles;
  bool sized = false;  ///< the drawing itself says how large it is
};

/// Curves are laid as straight pieces no farther from them than this.
inline constexpr double kCurveError = 0.0005;  // metres: half a millimetre, less than a hole's own error

/// Most points of one drawing; more is refused.
inline constexpr std::size_t kMostPoints = 200'000;

/// A table of points, `x,y` or `x;y` or tabs, one a line; a first line of words is skipped; an empty line
/// begins a new set. Each point is a pixel. Numbers are in `unit`, or carry their own: `2' 6"`. Errors name
/// the line.
base::Result<OwnLines> readCsvPoints(const std::string& bytes, base::LengthUnit unit);

/// SVG 1.1: path, line, polyline, polygon, rect, circle and ellipse, with their transforms. Size from width
/// and viewBox; without a unit 96 to the inch (CSS). y up. Text, images and uses are left out and said.
base::Result<OwnLines> readSvg(const std::string& bytes);

/// DXF in ASCII: LINE, LWPOLYLINE and POLYLINE with bulges, ARC, CIRCLE, POINT. The unit is the drawing's own
/// ($INSUNITS), else `unit`. SPLINE and ELLIPSE are refused; other things are left out and said.
base::Result<OwnLines> readDxf(const std::string& bytes, base::LengthUnit unit);

/// By the ending of the file's name: .csv, .txt, .svg, .dxf.
base::Result<OwnLines> readOwnLines(const std::string& path, base::LengthUnit unit);

/// The same without the limit on how far a drawing reaches, for what is larger than a prop.
/// `curveError`: as kCurveError, finer for a drawing that is to be enlarged.
base::Result<OwnLines> readSvgLines(const std::string& bytes, double curveError = kCurveError);
base::Result<OwnLines> readDxfLines(const std::string& bytes, base::LengthUnit unit);

// For the readers.

/// Metres in one of a unit.
double metresIn(base::LengthUnit unit);
/// Points of an arc about a middle, both ends taken, as many as `error` asks for. Radians.
std::vector<base::Vec2> arcPoints(base::Vec2 middle, double radius, double from, double to,
                                  double error = kCurveError);
/// A line of points in metres; closed if the last falls on the first.
yard::OwnLine ownLine(const std::vector<base::Vec2>& metres, bool closed);
/// The whole text is a number, in the C locale; else nothing.
bool readNumber(std::string_view text, double& value);
/// Refuses what is empty or beyond kMostPoints or 300 m.
base::Result<OwnLines> checkedLines(OwnLines lines);

}  // namespace yw::file
