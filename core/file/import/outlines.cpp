#include "core/file/import/outlines.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <fstream>
#include <iterator>
#include <set>

#include "core/edit/ground.h"
#include "core/file/import/own_lines.h"
#include "core/yard/labels.h"

namespace yw::file {
namespace {

using base::Vec2;
using yard::FeatureKind;

base::Error refused(std::string key, std::map<std::string, base::Fact> facts = {}) {
  return {base::ErrorCode::Unreadable, {std::move(key), std::move(facts)}, {}};
}

std::string lower(std::string text) {
  for (char& c : text) c = static_cast<char>(c >= 'A' && c <= 'Z' ? c + 32 : c);
  return text;
}

double distanceToSide(Vec2 p, Vec2 a, Vec2 b) {
  const Vec2 side = b - a;
  const double length = base::norm(side);
  if (length == 0) return base::distance(p, a);
  const double along = std::clamp(base::dot(p - a, side) / (length * length), 0.0, 1.0);
  return base::distance(p, a + side * along);
}

void keepCorners(const std::vector<Vec2>& line, std::size_t first, std::size_t last,
                 std::vector<bool>& kept) {
  std::vector<std::pair<std::size_t, std::size_t>> open{{first, last}};
  while (!open.empty()) {
    const auto [from, to] = open.back();
    open.pop_back();
    std::size_t farthest = from;
    double most = kOutlineError;
    for (std::size_t i = from + 1; i < to; ++i)
      if (const double off = distanceToSide(line[i], line[from], line[to]); off > most)
        most = off, farthest = i;
    if (farthest == from) continue;
    kept[farthest] = true;
    open.emplace_back(from, farthest);
    open.emplace_back(farthest, to);
  }
}

/// Middle of the box round all outlines.
Vec2 middleOf(const std::vector<Outline>& outlines) {
  double x0 = 1e300, x1 = -1e300, y0 = 1e300, y1 = -1e300;
  for (const Outline& outline : outlines)
    for (const base::Point p : outline.points) {
      const Vec2 at = base::vec(p);
      x0 = std::min(x0, at.x), x1 = std::max(x1, at.x), y0 = std::min(y0, at.y), y1 = std::max(y1, at.y);
    }
  return {(x0 + x1) / 2, (y0 + y1) / 2};
}

void proposeKinds(std::vector<Outline>& outlines) {
  for (Outline& outline : outlines) {
    outline.kind = kindFromWords(outline.name);
    if (!outline.kind) outline.kind = kindFromWords(outline.layer);
    if (!outline.kind) outline.kind = outline.closed ? FeatureKind::Bed : FeatureKind::LotLine;
  }
}

base::Result<Outlines> checked(Outlines read) {
  std::erase_if(read.outlines, [](const Outline& o) { return o.points.size() < (o.closed ? 3U : 2U); });
  if (read.outlines.empty()) return tl::unexpected(refused("outlines_none"));
  if (read.outlines.size() > kMostOutlines)
    return tl::unexpected(
        refused("outlines_too_many", {{"count", static_cast<std::int64_t>(read.outlines.size())},
                                      {"most", static_cast<std::int64_t>(kMostOutlines)}}));
  const Vec2 middle = middleOf(read.outlines);
  for (const Outline& outline : read.outlines)
    for (const base::Point p : outline.points)
      if (base::distance(base::vec(p), middle) > kFarthestCorner)
        return tl::unexpected(
            refused("outlines_too_far", {{"far", base::toLength({base::distance(base::vec(p), middle)})},
                                         {"most", base::toLength({kFarthestCorner})}}));
  constexpr double kNear = 300;  // metres: a drawing about its own zero stays where it is
  if (base::norm(middle) > kNear) {
    const base::Point by = base::point(middle);
    for (Outline& outline : read.outlines)
      for (base::Point& p : outline.points) p = p - by;
    read.notes.push_back({"outlines_moved", {}});
  }
  proposeKinds(read.outlines);
  return read;
}

base::Result<Outlines> fromLines(base::Result<OwnLines> lines) {
  if (!lines) return tl::unexpected(lines.error());
  Outlines out;
  out.notes = std::move(lines->notes);
  out.sized = lines->sized;
  std::int64_t dots = 0;
  for (std::size_t i = 0; i < lines->lines.size(); ++i) {
    const yard::OwnLine& line = lines->lines[i];
    if (line.dots) {
      dots += static_cast<std::int64_t>(line.points.size());
      continue;
    }
    out.outlines.push_back({lines->layers[i], lines->titles[i], line.points, line.closed, {}});
  }
  if (dots > 0) out.notes.push_back({"outlines_points_left_out", {{"count", dots}}});
  return checked(std::move(out));
}

/// In small letters, each run of anything else one space, with a space at either end.
std::string wordsOf(const std::string& text) {
  std::string out = " ";
  for (const char c : lower(text)) {
    const bool letter = c >= 'a' && c <= 'z';
    if (letter || out.back() != ' ') out += letter ? c : ' ';
  }
  if (out.back() != ' ') out += ' ';
  return out;
}

}  // namespace

std::vector<Vec2> fewerCorners(const std::vector<Vec2>& line, bool closed) {
  if (line.size() < 3) return line;
  std::vector<Vec2> whole = line;
  if (closed) whole.push_back(line.front());
  std::vector<bool> kept(whole.size(), false);
  kept.front() = kept.back() = true;
  if (closed) {
    std::size_t far = 1;
    for (std::size_t i = 2; i + 1 < whole.size(); ++i)
      if (base::distance(whole[i], whole[0]) > base::distance(whole[far], whole[0])) far = i;
    kept[far] = true;
    keepCorners(whole, 0, far, kept);
    keepCorners(whole, far, whole.size() - 1, kept);
  } else {
    keepCorners(whole, 0, whole.size() - 1, kept);
  }
  std::vector<Vec2> fewer;
  for (std::size_t i = 0; i + (closed ? 1 : 0) < whole.size(); ++i)
    if (kept[i]) fewer.push_back(whole[i]);
  return fewer;
}

std::optional<FeatureKind> kindFromWords(const std::string& text) {
  using enum FeatureKind;
  // The first that is met counts: a `water main` is no water.
  static const std::vector<std::pair<FeatureKind, std::vector<const char*>>> known = {
      {SightTriangle, {"sight", "sight triangle"}},
      {KeepOut, {"keep out", "keepout", "septic", "no dig"}},
      {Trench, {"trench", "duct"}},
      {BuriedLine,
       {"buried", "gas", "water main", "sewer", "utility", "utilities", "conduit", "cable", "irrigation"}},
      {PublicStrip, {"public", "easement", "right of way", "verge", "parkway"}},
      {Drive, {"drive", "driveway", "parking", "service"}},
      {Walk,
       {"walk", "sidewalk", "walkway", "path", "pathway", "footway", "footpath", "patio", "deck", "step"}},
      {House, {"house", "garage", "building", "shed", "dwelling", "roof", "carport", "porch"}},
      {Fence, {"fence", "hedge"}},
      {Tree, {"tree"}},
      {Water, {"pond", "pool", "water", "creek"}},
      {LotLine, {"lot", "parcel", "boundary", "property"}},
      {Bed, {"bed", "garden", "planting", "flower", "lawn", "grass"}},
  };
  const std::string said = wordsOf(text);
  for (const auto& [kind, words] : known)
    for (const std::string word : words)
      if (said.find(" " + word + " ") != std::string::npos ||
          said.find(" " + word + "s ") != std::string::npos)
        return kind;
  return std::nullopt;
}

base::Result<Outlines> readOutlines(const std::string& bytes, const std::string& ending,
                                    base::LengthUnit unit) {
  const std::string kind = lower(ending);
  constexpr double kSmallestScale = 200;  // a paper plan of 1 : 200 keeps its curves within kOutlineError
  if (kind == ".svg") return fromLines(readSvgLines(bytes, kOutlineError / kSmallestScale));
  if (kind == ".dxf") return fromLines(readDxfLines(bytes, unit));
  if (kind != ".geojson" && kind != ".json")
    return tl::unexpected(refused("outlines_unknown_ending", {{"ending", ending}}));
  auto read = readGeoJson(bytes);
  return read ? checked(std::move(*read)) : read;
}

base::Result<Outlines> readOutlinesFile(const std::string& path, base::LengthUnit unit) {
  std::ifstream file(path, std::ios::binary);
  if (!file) return tl::unexpected(refused("import_cannot_read", {{"path", path}}));
  const std::string bytes{std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
  const std::size_t dot = path.rfind('.');
  auto read = readOutlines(bytes, dot == std::string::npos ? std::string() : path.substr(dot), unit);
  if (!read && read.error().where.empty()) read.error().where = path;
  return read;
}

Outlines scaled(Outlines outlines, double factor) {
  for (Outline& outline : outlines.outlines)
    for (base::Point& p : outline.points) p = base::point(base::vec(p) * factor);
  return outlines;
}

edit::Change takeOutlines(const yard::Yard& yard, const Outlines& outlines) {
  edit::Editor editor(yard);
  const double turn = outlines.northUp ? base::radians(yard::site(yard).north) : 0.0;
  const double c = std::cos(turn), s = std::sin(turn);
  std::int64_t taken = 0;
  for (Outline outline : outlines.outlines) {
    std::vector<Vec2> metres;
    for (const base::Point p : outline.points) metres.push_back(base::vec(p));
    outline.points.clear();
    for (const Vec2 p : fewerCorners(metres, outline.closed)) outline.points.push_back(base::point(p));
    if (!outline.kind || outline.points.size() < (yard::isLine(*outline.kind) ? 2U : 3U)) continue;
    yard::GroundFeature feature = edit::usualFeature(*outline.kind);
    feature.outline = outline.points;
    if (outline.closed && yard::isLine(feature.kind)) feature.outline.push_back(feature.outline.front());
    if (turn != 0)
      for (base::Point& p : feature.outline) {
        const Vec2 at = base::vec(p);
        p = base::point({at.x * c - at.y * s, at.x * s + at.y * c});
      }
    const std::string usual = yard::words(FeatureKind{})[static_cast<std::size_t>(feature.kind)].label;
    feature.name = yard::freeName(editor.yard(), yard::RecordKind::GroundFeature,
                                  outline.name.empty() ? usual : outline.name);
    const base::Id id = editor.add(feature);
    if (feature.kind == FeatureKind::House) edit::addWalls(editor, id);
    ++taken;
  }
  return editor.finish(base::text(base::Message{"outlines_step", {{"count", taken}}}));
}

}  // namespace yw::file
