#include <cmath>
#include <nlohmann/json.hpp>

#include "core/file/import/outlines.h"

namespace yw::file {
namespace {

using base::Vec2;
using base::Vec3;
using Json = nlohmann::json;

constexpr double kRadians = 3.14159265358979323846 / 180;

/// Longitude and latitude in degrees.
struct Place {
  double east = 0, north = 0;
};

/// A place on the WGS 84 ellipsoid as x, y, z from the middle of the earth, metres (NIMA TR8350.2, 3.2 and
/// 4.2: a = 6378137 m, 1/f = 298.257223563).
Vec3 onEarth(Place p) {
  constexpr double a = 6'378'137.0, f = 1 / 298.257223563, e2 = f * (2 - f);
  const double lat = p.north * kRadians, lon = p.east * kRadians;
  const double n = a / std::sqrt(1 - e2 * std::sin(lat) * std::sin(lat));
  return {n * std::cos(lat) * std::cos(lon), n * std::cos(lat) * std::sin(lon), n * (1 - e2) * std::sin(lat)};
}

/// Metres east and north of `middle` on the plane that touches the ellipsoid there.
Vec2 onPlane(Place p, Place middle) {
  const Vec3 d = onEarth(p) - onEarth(middle);
  const double lat = middle.north * kRadians, lon = middle.east * kRadians;
  return {-std::sin(lon) * d.x + std::cos(lon) * d.y,
          -std::sin(lat) * std::cos(lon) * d.x - std::sin(lat) * std::sin(lon) * d.y + std::cos(lat) * d.z};
}

struct MapLine {
  std::string layer, name;
  std::vector<Place> places;
  bool closed = false;
};

base::Error refused(std::string key, std::map<std::string, base::Fact> facts, const std::string& where) {
  return {base::ErrorCode::Unreadable, {std::move(key), std::move(facts)}, where};
}

class MapReader {
 public:
  base::Result<Outlines> read(const Json& root) {
    if (!root.is_object() || !root.contains("type")) return tl::unexpected(refused("geojson_no_map", {}, {}));
    if (root.contains("crs")) out_.notes.push_back({"geojson_crs", {}});
    if (auto done = object(root); !done) return tl::unexpected(done.error());
    if (lines_.empty()) return tl::unexpected(refused("geojson_no_lines", {}, {}));
    const Place middle = middleOf();
    for (const MapLine& line : lines_) {
      Outline outline{line.layer, line.name, {}, line.closed, {}};
      for (const Place p : line.places) outline.points.push_back(base::point(onPlane(p, middle)));
      out_.outlines.push_back(std::move(outline));
    }
    out_.sized = out_.northUp = true;
    out_.notes.push_back({"geojson_laid_flat", {}});
    if (points_ > 0) out_.notes.push_back({"outlines_points_left_out", {{"count", points_}}});
    if (holes_ > 0) out_.notes.push_back({"geojson_holes_left_out", {{"count", holes_}}});
    return std::move(out_);
  }

 private:
  using Done = base::Result<int>;

  std::string where() const { return feature_ > 0 ? "feature " + std::to_string(feature_) : std::string(); }
  Done wrong(const char* key, std::map<std::string, base::Fact> facts = {}) const {
    return tl::unexpected(refused(key, std::move(facts), where()));
  }
  static std::string textOf(const Json& object, const char* name) {
    const auto at = object.find(name);
    return at != object.end() && at->is_string() ? at->get<std::string>() : std::string();
  }

  Done object(const Json& json) {
    const std::string type = textOf(json, "type");
    if (type == "FeatureCollection") {
      const auto features = json.find("features");
      if (features == json.end() || !features->is_array()) return wrong("geojson_no_features");
      for (const Json& one : *features) {
        ++feature_;
        if (!one.is_object() || textOf(one, "type") != "Feature") return wrong("geojson_no_feature");
        if (auto done = object(one); !done) return done;
      }
      return 0;
    }
    if (type != "Feature") return geometry(json);
    const auto properties = json.find("properties");
    layer_.clear();
    name_.clear();
    if (properties != json.end() && properties->is_object()) {
      name_ = textOf(*properties, "name");
      // What a map calls it: a property that says so, else the first whose name or value is a known word.
      for (const char* key : {"layer", "kind", "type", "feature"})
        if (layer_.empty()) layer_ = textOf(*properties, key);
      for (const auto& [key, value] : properties->items())
        if (layer_.empty() &&
            (kindFromWords(key) || (value.is_string() && kindFromWords(value.get<std::string>()))))
          layer_ =
              value.is_string() && kindFromWords(value.get<std::string>()) ? value.get<std::string>() : key;
    }
    const auto shape = json.find("geometry");
    if (shape == json.end()) return wrong("geojson_no_geometry");
    return shape->is_null() ? Done(0) : geometry(*shape);
  }

  Done geometry(const Json& json) {
    const std::string type = json.is_object() ? textOf(json, "type") : std::string();
    if (type == "GeometryCollection") {
      const auto all = json.find("geometries");
      if (all == json.end() || !all->is_array()) return wrong("geojson_no_geometry");
      for (const Json& one : *all)
        if (auto done = geometry(one); !done) return done;
      return 0;
    }
    const auto places = json.is_object() ? json.find("coordinates") : json.end();
    if (!json.is_object() || places == json.end() || !places->is_array())
      return wrong("geojson_unknown", {{"type", type}});
    if (type == "Point" || type == "MultiPoint") {
      points_ += type == "Point" ? 1 : static_cast<std::int64_t>(places->size());
      return 0;
    }
    if (type == "LineString") return line(*places, false);
    if (type == "Polygon") return polygon(*places);
    if (type != "MultiLineString" && type != "MultiPolygon")
      return wrong("geojson_unknown", {{"type", type}});
    for (const Json& one : *places)
      if (auto done = type == "MultiPolygon" ? polygon(one) : line(one, false); !done) return done;
    return 0;
  }

  Done polygon(const Json& rings) {
    if (!rings.is_array() || rings.empty()) return wrong("geojson_bad_places");
    holes_ += static_cast<std::int64_t>(rings.size()) - 1;
    return line(rings[0], true);
  }

  Done line(const Json& places, bool closed) {
    if (!places.is_array()) return wrong("geojson_bad_places");
    MapLine made{layer_, name_, {}, closed};
    for (const Json& place : places) {
      if (!place.is_array() || place.size() < 2 || !place[0].is_number() || !place[1].is_number())
        return wrong("geojson_bad_places");
      const Place p{place[0].get<double>(), place[1].get<double>()};
      if (!(std::abs(p.east) <= 180)) return wrong("geojson_not_degrees", {{"value", place[0].dump()}});
      if (!(std::abs(p.north) <= 90)) return wrong("geojson_not_degrees", {{"value", place[1].dump()}});
      made.places.push_back(p);
      if (++corners_ > kMostCorners) return wrong("outlines_too_many_corners", {{"most", kMostCorners}});
    }
    // A ring repeats its first place (RFC 7946, 3.1.6).
    if (closed && made.places.size() > 1 && made.places.front().east == made.places.back().east &&
        made.places.front().north == made.places.back().north)
      made.places.pop_back();
    if (!made.places.empty()) lines_.push_back(std::move(made));
    return 0;
  }

  /// Of the box round everything, in degrees; a yard on the date line counts from its first place.
  Place middleOf() const {
    const double from = lines_.front().places.front().east;
    double x0 = 1e300, x1 = -1e300, y0 = 1e300, y1 = -1e300;
    for (const MapLine& line : lines_)
      for (const Place p : line.places) {
        const double east = std::remainder(p.east - from, 360);
        x0 = std::min(x0, east), x1 = std::max(x1, east);
        y0 = std::min(y0, p.north), y1 = std::max(y1, p.north);
      }
    return {from + (x0 + x1) / 2, (y0 + y1) / 2};
  }

  static constexpr std::int64_t kMostCorners = 200'000;
  Outlines out_;
  std::vector<MapLine> lines_;
  std::string layer_, name_;
  std::int64_t feature_ = 0, points_ = 0, holes_ = 0, corners_ = 0;
};

}  // namespace

base::Result<Outlines> readGeoJson(const std::string& bytes) {
  const Json root = Json::parse(bytes, nullptr, false);
  if (root.is_discarded()) return tl::unexpected(refused("geojson_not_json", {}, {}));
  return MapReader().read(root);
}

}  // namespace yw::file
