#include <algorithm>
#include <cmath>
#include <numbers>

#include "core/papers/sheets/sheets.h"

namespace yw::papers {
namespace {

constexpr double kLegendRow = 5.4, kLegendColumns = 4;
constexpr double kLabelRoom = 6.0;                         // mm round the plan for labels that step aside
constexpr double kNoteRoom = kNoteSize * kLineStep + 1.0;  // mm for the line under a crowded map
constexpr double kTileOverlap = 8.0;                       // mm that neighbouring zones share
constexpr std::size_t kFewTiles = 6, kMostTiles = 24;      // zone pages a small and a large yard may take

struct LegendEntry {
  const char* word;
  enum class Sign { Line, Hatch, Box, Outlet, Prop, Area, Eye, Null, Booster } sign;
  Pen pen;
  bool arrow = false;
};

const std::vector<LegendEntry>& legend() {
  using Sign = LegendEntry::Sign;
  static const std::vector<LegendEntry> entries{
      {"legend_box", Sign::Box, {Role::Ink, 0.5}},
      {"legend_outlet", Sign::Outlet, {Role::MainsCable, 0.35}},
      {"legend_prop", Sign::Prop, {Role::Frame, 0.35}},
      {"legend_lead", Sign::Line, cablePen(routes::CableRole::Lead)},
      {"legend_feed", Sign::Line, cablePen(routes::CableRole::Feed), true},
      {"legend_mains", Sign::Line, cablePen(routes::CableRole::MainsCord)},
      {"legend_link", Sign::Line, cablePen(routes::CableRole::ReceiverLink)},
      {"legend_null", Sign::Null, {}},
      {"legend_booster", Sign::Booster, {}},
      {"legend_house", Sign::Area, {Role::House, 0.5}},
      {"legend_ground", Sign::Hatch, {Role::Ground, 0.25}},
      {"legend_keep_out", Sign::Hatch, {Role::KeepOut, 0.35}},
      {"legend_lot", Sign::Line, {Role::Ink, 0.35, Dash::LongDot}},
      {"legend_trench", Sign::Line, {Role::Ground, 1.2}},
      {"legend_audience", Sign::Eye, {Role::SecondInk, 0.35}},
  };
  return entries;
}

void legendSign(Sketch& s, const LegendEntry& entry, const Rect& r) {
  using Sign = LegendEntry::Sign;
  const Mm c = r.center();
  switch (entry.sign) {
    case Sign::Line:
      s.line({{r.x, c.y}, {r.right(), c.y}}, entry.pen, entry.arrow);
      break;
    case Sign::Hatch:
      s.hatched(r.corners(), entry.pen);
      break;
    case Sign::Area:
      s.area(r.corners(), entry.pen);
      break;
    case Sign::Box:
      s.rect({c.x - 1.8, c.y - 1.8, 3.6, 3.6}, entry.pen);
      s.line({{c.x - 1.8, c.y - 1.8}, {c.x + 1.8, c.y + 1.8}}, {Role::Ink, 0.35});
      break;
    case Sign::Outlet:
    case Sign::Eye: {
      std::vector<Mm> ring;
      const double radius = entry.sign == Sign::Eye ? 0.8 : 1.3;
      for (int i = 0; i < 20; ++i)
        ring.push_back({c.x + radius * std::cos(i * std::numbers::pi / 10),
                        c.y + radius * std::sin(i * std::numbers::pi / 10)});
      s.area(ring, entry.pen);
      break;
    }
    case Sign::Null:
      inLineSign(s, c, yard::RunItemKind::NullPixel);
      break;
    case Sign::Booster:
      inLineSign(s, c, yard::RunItemKind::Booster);
      break;
    case Sign::Prop:
      s.line({{r.x, c.y}, {r.right(), c.y}}, entry.pen);
      s.cloud({{r.x + 1, c.y}, {r.x + 4, c.y}, {r.x + 7, c.y}}, Role::Pixel, 0.8);
      break;
  }
}

double legendHeight() {
  return std::ceil(static_cast<double>(legend().size()) / kLegendColumns) * kLegendRow + 1.0;
}

void drawLegend(SheetPages& sheet, Mm at) {
  Sketch s = sheet.sketch();
  const double column = sheet.width() / kLegendColumns;
  for (std::size_t i = 0; i < legend().size(); ++i) {
    const double x = at.x + static_cast<double>(i % static_cast<std::size_t>(kLegendColumns)) * column;
    const double y = at.y + std::floor(static_cast<double>(i) / kLegendColumns) * kLegendRow;
    legendSign(s, legend()[i], {x, y + 1.0, 9.0, 3.6});
    s.text({x + 10.5, y + 4.0}, say(legend()[i].word), {kNoteSize});
  }
}

PlanView viewOf(const Rect& frame, const DrawingScale& scale, double centerX, double centerY) {
  PlanView view;
  view.scale = scale.mmPerMetre;
  view.frameX = frame.x;
  view.frameY = frame.y;
  view.frameWidth = frame.w;
  view.frameHeight = frame.h;
  view.lowerLeft = {centerX - frame.w / view.scale / 2, centerY - frame.h / view.scale / 2};
  return view;
}

std::size_t namesOf(const Digest& d) {
  return yard::all<yard::Prop>(d.y).size() + yard::all<yard::Box>(d.y).size() + d.runs().size() +
         d.feeds().size();
}

/// The plan with the largest labels that find a clear place, most of them beside their props; the smallest
/// where none do.
PlanDrawing bestPlan(const Digest& d, const PlanView& view, PlanStyle style) {
  PlanDrawing best;
  for (const double size : {kIdSize, kTextSize, kNoteSize}) {
    style.idSize = size;
    best = drawPlan(d, view, style);
    if (best.leftOff + best.leadsLeftOff == 0 && best.leaders * 4 <= static_cast<int>(namesOf(d))) break;
  }
  return best;
}

void put(SheetPages& sheet, PlanDrawing drawing, const Rect& frame) {
  std::vector<Item>& items = sheet.pages().back().items;
  for (Item& item : drawing.items) {
    if (!item.record) item.record = sheet.record();
    items.push_back(std::move(item));
  }
  sheet.sketch().rect(frame, {Role::Ink, 0.25});
}

struct MapLayout {
  Extent extent;
  DrawingScale scale;
  Rect frame;
};

/// Content of an average page is reckoned from a sheet without foot lines, so that the scale does not depend
/// on them.
MapLayout layoutMap(const Digest& d, const Rect& content) {
  MapLayout map;
  map.extent = extentOf(d);
  const double most = content.h - kScaleStripHeight - legendHeight() - kNoteRoom - 3.0;
  map.scale = fittingScale(d.units, map.extent.width(), map.extent.height(), content.w - 2 * kLabelRoom,
                           most - 2 * kLabelRoom);
  const double need = map.extent.height() * map.scale.mmPerMetre + 2 * kLabelRoom + 6.0;
  map.frame = {content.x, content.y, content.w, std::clamp(need, 60.0, most)};
  return map;
}

PlanView viewOf(const MapLayout& map) {
  return viewOf(map.frame, map.scale, (map.extent.x0 + map.extent.x1) / 2,
                (map.extent.y0 + map.extent.y1) / 2);
}

void propSchedule(SheetPages& sheet, const Digest& d) {
  PaperTable table;
  table.column(say("head_prop")).column(say("head_kind")).column(say("head_plugs_into"));
  table.column(say("head_data_enters")).column(say("head_pixels"), Align::Right);
  std::vector<Id> props;
  for (const auto& [id, prop] : yard::all<yard::Prop>(d.y)) props.push_back(id);
  std::stable_sort(props.begin(), props.end(),
                   [&](Id l, Id r) { return naturalLess(d.label(l), d.label(r)); });
  for (const Id id : props) {
    const auto* prop = yard::find<yard::Prop>(d.y, id);
    const auto* shape = lookUp(d.a.shapes, id);
    const shapes::Kind* kind = shapes::findKind(prop->kind);
    std::string into, enters;
    if (const auto* wired = lookUp(d.a.wiredIn, id))
      for (const auto& [run, item] : *wired) {
        into += (into.empty() ? "" : ", ") + d.runName(run);
        for (const Piece& piece : d.pieces(run))
          if (piece.item == item && enters.empty()) enters = piece.enters;
      }
    table.row(id, {idCell(d.label(id)), textCell(kind != nullptr ? kind->label : prop->kind),
                   textCell(into.empty() ? say("not_wired") : into), textCell(enters),
                   textCell(shape != nullptr ? std::to_string((*shape)->pixels.size()) : "—")});
  }
  if (props.empty()) return;
  sheet.heading(say("prop_schedule"), 30.0);
  draw(sheet, table);
}

struct Tile {
  Rect place;  ///< metres: x, y lower left, w, h
};

struct Zones {
  DrawingScale scale;
  std::vector<Tile> tiles;
};

bool tileHasWork(const Digest& d, const Rect& place) {
  const auto inside = [&](base::Vec2 p) {
    return p.x >= place.x && p.x <= place.right() && p.y >= place.y && p.y <= place.bottom();
  };
  for (const auto& [id, prop] : yard::all<yard::Prop>(d.y))
    for (const base::Vec2 p : planPixels(d, id))
      if (inside(p)) return true;
  for (const auto& [id, box] : yard::all<yard::Box>(d.y))
    if (inside(base::plan(routes::placeOf(d.y, d.a.shapes, {yard::TerminalKind::Box, id, 0})))) return true;
  return false;
}

std::vector<Tile> tilesAt(const Digest& d, const Extent& extent, const DrawingScale& scale, double w,
                          double h) {
  const double stepX = (w - kTileOverlap) / scale.mmPerMetre, stepY = (h - kTileOverlap) / scale.mmPerMetre;
  const double tileW = w / scale.mmPerMetre, tileH = h / scale.mmPerMetre;
  const int columns = std::max(1, static_cast<int>(std::ceil((extent.width() - (tileW - stepX)) / stepX)));
  const int rows = std::max(1, static_cast<int>(std::ceil((extent.height() - (tileH - stepY)) / stepY)));
  if (columns * rows > 400) return {};
  const double left = (extent.x0 + extent.x1) / 2 - ((columns - 1) * stepX + tileW) / 2;
  const double top = (extent.y0 + extent.y1) / 2 + ((rows - 1) * stepY + tileH) / 2;
  std::vector<Tile> tiles;
  for (int r = 0; r < rows; ++r)
    for (int c = 0; c < columns; ++c) {
      const Rect place{left + c * stepX, top - tileH - r * stepY, tileW, tileH};
      if (tileHasWork(d, place)) tiles.push_back({place});
    }
  return tiles;
}

constexpr double kKeyMapWidth = 60.0, kKeyMapHeight = 44.0;

Rect zoneFrame(const SheetPages& sheet) {
  const Rect c = sheet.content();
  return {c.x, c.y, c.w, c.h - kKeyMapHeight - 3.0};
}

/// The largest scale that needs no more than kMostTiles pages, and no more than twice as many as make the
/// labels clear.
Zones zonesOf(const Digest& d, const SheetPages& sheet, const DrawingScale& mapScale) {
  const Extent extent = extentOf(d);
  const Rect frame = zoneFrame(sheet);
  Zones zones;
  const std::size_t most = std::clamp(yard::all<yard::Prop>(d.y).size() / 4, kFewTiles, kMostTiles);
  for (const DrawingScale& scale : largerScales(d.units, mapScale)) {
    std::vector<Tile> tiles = tilesAt(d, extent, scale, frame.w, frame.h);
    if (tiles.empty() || (tiles.size() > most && !zones.tiles.empty())) break;
    zones = {scale, std::move(tiles)};
    PlanStyle small;
    small.idSize = kNoteSize;
    std::size_t names = 0, leads = 0;
    for (const Tile& tile : zones.tiles) {
      const PlanDrawing drawing =
          drawPlan(d, viewOf(frame, scale, tile.place.center().x, tile.place.center().y), small);
      names += static_cast<std::size_t>(drawing.leftOff);
      leads += static_cast<std::size_t>(drawing.leadsLeftOff);
    }
    if (names * 40 <= namesOf(d) && leads * 3 <= d.runs().size() + d.feeds().size()) break;
  }
  return zones;
}

void keyMap(SheetPages& sheet, const Digest& d, const Zones& zones, std::size_t shown, const Rect& frame) {
  const Extent extent = extentOf(d);
  const double scale =
      std::min((frame.w - 8) / std::max(extent.width(), 1.0), (frame.h - 8) / std::max(extent.height(), 1.0));
  PlanView view;
  view.scale = scale;
  view.frameX = frame.x;
  view.frameY = frame.y;
  view.frameWidth = frame.w;
  view.frameHeight = frame.h;
  view.lowerLeft = {(extent.x0 + extent.x1 - frame.w / scale) / 2,
                    (extent.y0 + extent.y1 - frame.h / scale) / 2};
  view.pixels = view.cables = view.labels = false;
  put(sheet, drawPlan(d, view, {}), frame);
  Sketch s = sheet.sketch();
  s.clip(frame);
  const PlanScale at(view);
  for (std::size_t i = 0; i < zones.tiles.size(); ++i) {
    const Rect& place = zones.tiles[i].place;
    const Mm a = at.at(base::Vec2{place.x, place.bottom()}), b = at.at(base::Vec2{place.right(), place.y});
    const Rect r{a.x, a.y, b.x - a.x, b.y - a.y};
    s.rect(r, {Role::Ink, i == shown ? 0.8 : 0.25, i == shown ? Dash::Solid : Dash::Short});
    const std::string number = std::to_string(i + 1);
    const Type type{kTextSize, i == shown, false, Align::Center};
    const double w = widthOf(number, type) + 1.0;
    s.filled(Rect{r.center().x - w / 2, r.center().y - 2.2, w, 4.4}.corners(), Role::Paper);
    s.text({r.center().x, r.center().y + kTextSize * kCapHeight / 2}, number, type);
  }
  s.endClip();
}

}  // namespace

bool mapIsCrowded(const Digest& d) {
  if (extentOf(d).empty) return false;
  const SheetPages sheet(d.set.paper, yard::siteId(d.y), {});
  const MapLayout map = layoutMap(d, sheet.content());
  PlanStyle small;
  small.idSize = kNoteSize;
  const PlanDrawing drawing = drawPlan(d, viewOf(map), small);
  return drawing.leftOff + drawing.leadsLeftOff > 0;
}

void fillMap(SheetPages& sheet, const Digest& d) {
  const MapLayout map = layoutMap(d, sheet.content());
  if (map.extent.empty) {
    sheet.paragraph(say("map_empty"));
    return;
  }
  sheet.setScale(map.scale.name);
  PlanStyle style;
  if (mapIsCrowded(d)) {
    style.cableNames = false;
    style.mostGap = 8.0;
  }
  const PlanDrawing drawing = bestPlan(d, viewOf(map), style);
  put(sheet, drawing, map.frame);
  sheet.y = map.frame.bottom() + 2.0;
  if (!style.cableNames || drawing.leftOff > 0) {
    sheet.paragraph(say("names_on_zones"), {kNoteSize, true});
    sheet.space(1.0);
  }
  drawScaleStrip(sheet, d, map.scale, {sheet.left(), sheet.y}, true);
  sheet.y += kScaleStripHeight;
  drawLegend(sheet, {sheet.left(), sheet.y});
  sheet.y += legendHeight();
  propSchedule(sheet, d);
}

void fillZones(SheetPages& sheet, const Digest& d) {
  const MapLayout map = layoutMap(d, sheet.content());
  const Zones zones = zonesOf(d, sheet, map.scale);
  for (std::size_t i = 0; i < zones.tiles.size(); ++i) {
    if (i > 0) sheet.newPage();
    const auto number = static_cast<std::int64_t>(i + 1);
    sheet.setPageTitle(
        say("zone_title", {{"number", number}, {"count", static_cast<std::int64_t>(zones.tiles.size())}}));
    sheet.setScale(zones.scale.name);
    const Rect frame = zoneFrame(sheet);
    const Rect& place = zones.tiles[i].place;
    put(sheet, bestPlan(d, viewOf(frame, zones.scale, place.center().x, place.center().y), {}), frame);
    keyMap(sheet, d, zones, i,
           {sheet.right() - kKeyMapWidth, frame.bottom() + 3.0, kKeyMapWidth, kKeyMapHeight});
    drawScaleStrip(sheet, d, zones.scale, {sheet.left(), frame.bottom() + 4.0}, false);
    sheet.sketch().text({sheet.left(), frame.bottom() + 4.0 + kScaleStripHeight + kNoteSize},
                        say("zone_note"), {kNoteSize});
  }
}

}  // namespace yw::papers
