#pragma once
// The ground from open formats: outlines of house, walks, beds and lines, each with the kind it is taken for.
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "core/base/number_text.h"
#include "core/edit/change.h"

namespace yw::file {

/// One outline or line of a drawing, in plan places (x east or right, y north or up).
struct Outline {
  std::string layer;  ///< of the drawing: layer, group, or what a map says it is; may be empty
  std::string name;   ///< of its own; may be empty
  std::vector<base::Point> points;
  bool closed = false;
  std::optional<yard::FeatureKind> kind;  ///< taken for this; nothing: left out
};

struct Outlines {
  std::vector<Outline> outlines;
  std::vector<base::Message> notes;  ///< what was left out or taken for granted
  bool sized = false;                ///< the file says how large it is: a DXF's unit, an SVG's width, a map
  bool northUp = false;              ///< a map: straight up is true north
};

/// Most outlines of one file, and the farthest a corner may lie from their middle.
inline constexpr std::size_t kMostOutlines = 2'000;
inline constexpr double kFarthestCorner = 2'000;  // metres
/// Curves and wavering lines become straight sides that stay within this of them.
inline constexpr double kOutlineError = 0.01;  // metres

/// SVG and DXF by the readers of own shapes (own_lines.h). A drawing far from its zero is brought with its
/// middle to the yard's zero, which is said.
base::Result<Outlines> readOutlines(const std::string& bytes, const std::string& ending,
                                    base::LengthUnit unit);
/// By the ending of the file's name: .svg, .dxf, .geojson, .json.
base::Result<Outlines> readOutlinesFile(const std::string& path, base::LengthUnit unit);

/// GeoJSON (RFC 7946): polygons and lines of longitude and latitude in degrees (WGS 84) become metres east
/// and north on the plane that touches the ellipsoid at their middle, which comes to the yard's zero. Points
/// and holes are left out, which is said. Errors name the feature.
base::Result<Outlines> readGeoJson(const std::string& bytes);

/// What a layer's or an outline's words say it is: `Garage` a house, `gas main` a buried line. Nothing if no
/// word is known.
std::optional<yard::FeatureKind> kindFromWords(const std::string& words);

/// Multiplies all places, about the yard's zero.
Outlines scaled(Outlines outlines, double factor);

/// The outlines as ground features with no more corners than kOutlineError asks for, one change; a house gets
/// its walls. Kinds with an inside whose outline has no three corners are left out. A map is turned where the
/// site's north is not straight up.
edit::Change takeOutlines(const yard::Yard& yard, const Outlines& outlines);

/// Fewest corners within kOutlineError (Douglas and Peucker 1973); ends and, of a closed line, the corner
/// farthest from its first stay.
std::vector<base::Vec2> fewerCorners(const std::vector<base::Vec2>& line, bool closed);

}  // namespace yw::file
