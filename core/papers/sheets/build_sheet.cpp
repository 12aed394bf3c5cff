#include <algorithm>
#include <map>

#include "core/base/number_text.h"
#include "core/papers/level_table.h"
#include "core/papers/sheets/prop_drawing.h"
#include "core/shapes/sizes.h"
#include "core/shapes/stock.h"
#include "core/takeoff/cutting.h"

namespace yw::papers {
namespace {

using base::Fact;
using shapes::Shape;

using Lines = std::vector<std::pair<std::string, std::string>>;

std::string lengthOf(const Digest& d, base::Length length) { return base::lengthText(length, d.units); }
std::string lengthOf(const Digest& d, double metres) { return lengthOf(d, base::toLength({metres})); }
/// To find room for: never less than it is, to the inch or the centimeter.
std::string roundedUp(const Digest& d, base::Length length) {
  const std::int64_t step =
      d.units == base::UnitSystem::Metric ? base::millimetres(10).count : base::kNanometresPerInch;
  return lengthOf(d, base::Length{(length.count + step - 1) / step * step});
}
std::string massOf(const Digest& d, double kilograms) {
  return base::text(Fact{base::Mass{std::llround(kilograms * 1e6)}}, d.units);
}

/// What the person asked for, as the form says it.
Lines askedLines(const Digest& d, const yard::Prop& prop) {
  Lines lines;
  const shapes::Kind* kind = shapes::findKind(prop.kind);
  if (kind == nullptr) return lines;
  for (const shapes::SizeInfo& size : kind->sizes) {
    if (!shapes::counts(size.needs, *kind, prop)) continue;
    const auto own = prop.sizes.find(size.name);
    if (size.name == "hole_spacing" && (own == prop.sizes.end() ? size.usual : own->second) == 0)
      continue;  // drilled to the pitch, which stands there
    lines.emplace_back(
        size.label,
        base::text(shapes::sizeFact(size, own == prop.sizes.end() ? size.usual : own->second), d.units));
  }
  for (const shapes::ChoiceInfo& choice : kind->choices) {
    if (!shapes::counts(choice.needs, *kind, prop)) continue;
    const auto own = prop.choices.find(choice.name);
    for (const yard::ChoiceWord& option : choice.options)
      if (own == prop.choices.end() || own->second == option.name) {
        lines.emplace_back(choice.label, option.label);
        break;
      }
  }
  return lines;
}

double pixelsWeigh(const Digest& d, Id prop, const Shape& shape) {
  const yard::Product* product = d.product(prop);
  return product == nullptr
             ? 0.0
             : static_cast<double>(product->mass.count) * 1e-6 * static_cast<double>(shape.pixels.size());
}

Lines foundLines(const Digest& d, Id id, const Shape& shape) {
  constexpr double kSquareFoot = 0.3048 * 0.3048;
  const bool metric = d.units == base::UnitSystem::Metric;
  const auto area = [&](double m2) {
    return trimmed(metric ? m2 : m2 / kSquareFoot, 2) + (metric ? " m²" : " sq ft");
  };
  double deep = 0, front = 0;
  for (const base::Vec2 p : shape.footprint) {
    front = std::min(front, p.y);
    deep = std::max(deep, p.y);
  }
  const double pixels = pixelsWeigh(d, id, shape);
  Lines lines = {{say("build_pixels"), std::to_string(shape.pixels.size())},
                 {say("build_over_all"), say("build_box", {{"width", lengthOf(d, shape.width)},
                                                           {"height", lengthOf(d, shape.height)},
                                                           {"depth", lengthOf(d, deep - front)}})}};
  if (shape.truePitch)
    lines.emplace_back(say("build_pitch"), say("build_pitch_line", {{"asked", lengthOf(d, shape.askedPitch)},
                                                                    {"true", lengthOf(d, shape.truePitch)}}));
  lines.emplace_back(say("build_weight"), say("build_weight_line", {{"all", massOf(d, shape.weight + pixels)},
                                                                    {"pixels", massOf(d, pixels)}}));
  lines.emplace_back(say("build_wind"),
                     say("build_wind_line", {{"area", area(shape.windArea)},
                                             {"solidity", trimmed(shapes::solidity(shape) * 100, 0)},
                                             {"height", lengthOf(d, shape.windHeight)}}));
  if (shape.swept.radius > 0)
    lines.emplace_back(say("build_clear"), say(shape.swept.level ? "build_clear_round" : "build_clear_front",
                                               {{"radius", lengthOf(d, shape.swept.radius)},
                                                {"height", lengthOf(d, shape.swept.height)}}));
  base::Length longest;
  for (const shapes::Stored& part : shape.stored) longest = std::max(longest, part.length);
  lines.emplace_back(say("build_storage"), say("build_storage_line", {{"longest", lengthOf(d, longest)}}));
  for (const auto& [name, fact] : shape.facts) {
    if (name == "true pitch" || name == "asked pitch") continue;
    std::string label = name;
    label[0] = static_cast<char>(label[0] >= 'a' && label[0] <= 'z' ? label[0] - 32 : label[0]);
    lines.emplace_back(label, base::text(fact, d.units));
  }
  return lines;
}

enum class Lie { Upright, OnTheGround, Solid };

/// How a tape across and up from a corner finds its pixels: upright, on the ground, or not at all, as a cone
/// or a ball has no such corner. Two faces back to back are still flat.
Lie lieOf(const Shape& shape) {
  constexpr double kFaces = 0.06;  // metres
  base::Vec3 low = shape.pixels.front(), high = low;
  for (const base::Vec3 p : shape.pixels) {
    low = {low.x, std::min(low.y, p.y), std::min(low.z, p.z)};
    high = {high.x, std::max(high.y, p.y), std::max(high.z, p.z)};
  }
  if (high.y - low.y <= kFaces) return Lie::Upright;
  return high.z - low.z <= kFaces ? Lie::OnTheGround : Lie::Solid;
}

/// Up from the corner, as the drawing shows it.
double up(Lie lie, base::Vec3 p, base::Vec3 corner) {
  return lie == Lie::OnTheGround ? p.y - corner.y : p.z - corner.z;
}

void views(SheetPages& sheet, const Digest& d, Id id, const Shape& shape) {
  constexpr double kTitle = 6.5;
  const std::int64_t count = static_cast<std::int64_t>(shape.pixels.size());
  std::vector<PropView> all = viewsOf(shape);
  const bool rowsFromAbove = lieOf(shape) == Lie::Solid && all.front() != PropView::Above;
  if (rowsFromAbove) all.push_back(PropView::Above);
  for (const PropView view : all) {
    const bool rowsNumbered = rowsFromAbove && view == PropView::Above;
    const double natural = sheet.width() * heightToWidth(shape, view) + 32.0;
    double height = std::clamp(natural, 60.0, 150.0);
    // Rather smaller on this page than alone on the next.
    constexpr double kStillClear = 85.0;
    if (const double room = sheet.room() - kTitle - 4.0; room > kStillClear) height = std::min(height, room);
    sheet.need(height + kTitle + 2.0);
    const char* head = view == PropView::Front  ? "build_front"
                       : view == PropView::Back ? "build_back"
                       : rowsNumbered           ? "build_above"
                                                : "from_above";
    Sketch s = sheet.sketch(id);
    s.text({sheet.left(), sheet.y + kTextSize}, say(head), {kTextSize, true});
    const Rect frame{sheet.left(), sheet.y + kTitle, sheet.width(), height};
    s.rect(frame, {Role::SecondInk, 0.25});
    const int missed = drawPropView(s, d, id, view, frame, {1, count, {}, true, 0, rowsNumbered});
    sheet.space(height + kTitle + 1.0);
    if (missed > 0) sheet.paragraph(say("build_numbers_in_table"), {kNoteSize});
    sheet.space(1.0);
  }
}

/// Places are told from the lowest left pixel, so that a tape hooked there reads them.
base::Vec3 cornerOf(const Shape& shape) {
  base::Vec3 corner = shape.pixels.front();
  for (const base::Vec3 p : shape.pixels)
    corner = {std::min(corner.x, p.x), std::min(corner.y, p.y), std::min(corner.z, p.z)};
  return corner;
}

/// How far apart the pixels of a row are if they stand evenly in a straight line; else 0.
double evenly(const Shape& shape, const shapes::Row& row) {
  constexpr double kHair = 1e-4;  // metres
  if (row.last == row.first) return 0.0;
  const auto at = [&](std::int64_t k) { return shape.pixels[static_cast<std::size_t>(k - 1)]; };
  const double steps = static_cast<double>(row.last - row.first);
  const base::Vec3 step = (at(row.last) - at(row.first)) * (1 / steps);
  for (std::int64_t k = row.first; k <= row.last; ++k)
    if (base::distance(at(k), at(row.first) + step * static_cast<double>(k - row.first)) > kHair) return 0.0;
  return base::norm(step);
}

void rows(SheetPages& sheet, const Digest& d, Id id, const Shape& shape) {
  const base::Vec3 corner = cornerOf(shape);
  const Lie lie = lieOf(shape);
  const bool measured = lie != Lie::Solid;
  PaperTable table;
  table.rowHeight = 6.4;
  table.column(say("head_row"))
      .column(say("head_pixels"), Align::Right)
      .column(say("head_numbers"), Align::Right);
  if (measured)
    table.column(say("head_first_across"), Align::Right).column(say("head_first_up"), Align::Right);
  table.column(say("head_apart"), Align::Right);
  table.column(say("head_jumper_before"), Align::Right).column(say("head_done"), Align::Center);
  for (const shapes::Row& row : shape.rows) {
    const base::Vec3 first = shape.pixels[static_cast<std::size_t>(row.first - 1)];
    const double hop = row.first > 1 ? shape.hop[static_cast<std::size_t>(row.first - 2)] : 0.0;
    std::vector<Cell> cells = {textCell(row.name), textCell(std::to_string(row.last - row.first + 1)),
                               textCell(rangeText(row.first, row.last))};
    if (measured) {
      cells.push_back(textCell(lengthOf(d, first.x - corner.x)));
      cells.push_back(textCell(lengthOf(d, up(lie, first, corner))));
    }
    const double apart = evenly(shape, row);
    cells.push_back(textCell(apart > 0 ? lengthOf(d, apart) : "—"));
    cells.push_back(textCell(row.first > 1 ? lengthOf(d, hop) : "—"));
    cells.push_back(tickCell());
    table.row(id, std::move(cells));
  }
  sheet.heading(say("build_rows"), 55.0);
  sheet.paragraph(say(measured ? "build_rows_note" : "build_rows_solid_note"), {kNoteSize});
  draw(sheet, table);
}

void holes(SheetPages& sheet, const Digest& d, Id id, const Shape& shape) {
  constexpr std::size_t kMost = 150, kAbreast = 3;
  if (shape.pixels.size() > kMost || shape.pixels.size() < 2 || lieOf(shape) == Lie::Solid) return;
  // The first hole of a straight, even row and its way in the drawing are enough: no list of its holes.
  if (std::all_of(shape.rows.begin(), shape.rows.end(),
                  [&](const shapes::Row& row) { return row.first == row.last || evenly(shape, row) > 0; }))
    return;
  const base::Vec3 corner = cornerOf(shape);
  PaperTable table;
  table.rowHeight = 5.6;
  for (std::size_t k = 0; k < kAbreast; ++k)
    table.column(say("head_hole"), Align::Right)
        .column(say("head_across"), Align::Right)
        .column(say("head_up"), Align::Right);
  const std::size_t lines = (shape.pixels.size() + kAbreast - 1) / kAbreast;
  for (std::size_t r = 0; r < lines; ++r) {
    std::vector<Cell> cells;
    for (std::size_t k = r; k < lines * kAbreast; k += lines) {
      const bool there = k < shape.pixels.size();
      const base::Vec3 p = there ? shape.pixels[k] : corner;
      cells.push_back(there ? Cell{Cell::Kind::Text, {{std::to_string(k + 1), kTextSize, true}}}
                            : textCell(""));
      cells.push_back(textCell(there ? lengthOf(d, p.x - corner.x) : ""));
      cells.push_back(textCell(there ? lengthOf(d, up(lieOf(shape), p, corner)) : ""));
    }
    table.row(id, std::move(cells));
  }
  sheet.heading(say("build_holes"), 30.0);
  sheet.paragraph(say("build_rows_note"), {kNoteSize});
  draw(sheet, table);
}

void cuts(SheetPages& sheet, const Digest& d, Id id, const Shape& shape) {
  PaperTable table;
  table.rowHeight = 7.0;
  table.column(say("head_stock")).column(say("head_use"));
  table.column(say("head_pieces"), Align::Right)
      .column(say("head_length_each"), Align::Right)
      .column(say("head_done"), Align::Center);
  for (const shapes::Cut& cut : shape.cuts) {
    const std::string length = cut.width    ? lengthOf(d, cut.width) + " × " + lengthOf(d, cut.length)
                               : cut.length ? lengthOf(d, cut.length)
                                            : "—";
    table.row(id, {textCell(cut.stock), noteCell(cut.use), textCell(std::to_string(cut.pieces)),
                   textCell(length), tickCell()});
  }
  if (table.rows.empty()) return;
  sheet.heading(say("build_cuts"), 30.0);
  draw(sheet, table);
}

/// `3 of them: 2′ 6″ + 2′ 6″ + 2′ 6″`, alike ones together, the most cut first.
std::string patternsOf(const Digest& d, const takeoff::CutPlan& plan) {
  constexpr std::size_t kMost = 6;
  std::vector<std::pair<std::string, std::int64_t>> patterns;
  for (const takeoff::Bar& bar : plan.bars) {
    std::string words;
    for (std::size_t k = 0; k < bar.pieces.size();) {
      std::size_t alike = k;
      while (alike < bar.pieces.size() && bar.pieces[alike] == bar.pieces[k]) ++alike;
      words += (words.empty() ? "" : " + ") + (alike - k > 1 ? std::to_string(alike - k) + " × " : "") +
               lengthOf(d, bar.pieces[k]);
      k = alike;
    }
    const auto same =
        std::find_if(patterns.begin(), patterns.end(), [&](const auto& p) { return p.first == words; });
    if (same == patterns.end())
      patterns.emplace_back(words, 1);
    else
      ++same->second;
  }
  std::string all;
  for (std::size_t k = 0; k < patterns.size() && k < kMost; ++k)
    all += (all.empty() ? "" : "; ") +
           say("build_pattern", {{"count", patterns[k].second}, {"pieces", patterns[k].first}});
  return patterns.size() > kMost ? all + "; …" : all;
}

/// How many lengths, sheets or rolls to buy, how to cut them and what stays over.
void stock(SheetPages& sheet, const Digest& d, Id id, const Shape& shape) {
  std::map<std::string, std::vector<base::Length>> pieces;
  std::map<std::string, std::vector<takeoff::SheetPiece>> flat;
  for (const shapes::Cut& cut : shape.cuts) {
    if (!cut.length) continue;
    if (cut.width)
      flat[cut.stock].push_back({cut.length, cut.width, cut.pieces});
    else
      pieces[cut.stock].insert(pieces[cut.stock].end(), static_cast<std::size_t>(cut.pieces), cut.length);
  }
  PaperTable table;
  table.rowHeight = 7.0;
  table.column(say("head_stock")).column(say("head_lengths"), Align::Right);
  table.column(say("head_yield"), Align::Right).column(say("head_longest_left"), Align::Right);
  const auto row = [&](const shapes::Stock& sold, const takeoff::CutPlan& plan) {
    base::Length left;
    for (const takeoff::Bar& bar : plan.bars) left = std::max(left, bar.left);
    Cell what = twoLines(sold.sold, say("build_cut_so", {{"how", patternsOf(d, plan)}}));
    if (plan.joined > 0) what.lines.push_back({say("build_joined", {{"count", plan.joined}}), kNoteSize});
    table.row(id, {std::move(what), textCell(std::to_string(plan.bars.size())),
                   textCell(trimmed(plan.yield * 100, 0) + " %"), textCell(lengthOf(d, left))});
  };
  for (const shapes::Stock& sold : shapes::stocks()) {
    if (const auto list = pieces.find(sold.what); list != pieces.end() && sold.length)
      row(sold, takeoff::cutFrom(list->second, sold.length));
    if (const auto list = flat.find(sold.what); list != flat.end() && sold.width)
      row(sold, takeoff::cutFromSheet(list->second, sold.length, sold.width));
  }
  if (table.rows.empty()) return;
  sheet.heading(say("build_stock"), 25.0);
  draw(sheet, table);
}

/// Where it and those built alike stand on ground that slopes, or hang from a line that sags.
void levelling(SheetPages& sheet, const Digest& d, Id id) {
  PaperTable table;
  table.rowHeight = 6.4;
  table.column(say("head_prop")).column(say("head_what"));
  table.column(say("head_length_each"), Align::Right)
      .column(say("head_pixels"), Align::Right)
      .column(say("head_done"), Align::Center);
  bool ring = false;
  for (const auto& [other, shape] : d.a.shapes) {
    if (other != id && !builtAlike(d, id, other)) continue;
    for (const LevelLine& line : levelLines(d, other)) {
      ring = ring || line.what == LevelLine::What::RingLeg;
      table.row(other,
                {textCell(d.label(other)), textCell(levelText(line)), textCell(lengthOf(d, line.length)),
                 textCell(line.pixels > 0 ? std::to_string(line.pixels) : ""), tickCell()});
    }
  }
  if (table.rows.empty()) return;
  sheet.heading(say("build_levels"), 30.0);
  if (ring) sheet.paragraph(say("build_levels_note"), {kNoteSize});
  draw(sheet, table);
}

/// What to find room for after the season.
void storage(SheetPages& sheet, const Digest& d, Id id, const Shape& shape) {
  constexpr double kCubicFoot = 0.3048 * 0.3048 * 0.3048;
  const bool metric = d.units == base::UnitSystem::Metric;
  PaperTable table;
  table.rowHeight = 7.0;
  table.column(say("head_what")).column(say("head_pieces"), Align::Right);
  table.column(say("head_long"), Align::Right)
      .column(say("head_wide"), Align::Right)
      .column(say("head_thick"), Align::Right);
  double room = 0;
  for (const shapes::Stored& part : shape.stored) {
    room += base::metres(part.length).si * base::metres(part.width).si * base::metres(part.depth).si;
    table.row(
        id, {textCell(part.what), textCell(std::to_string(part.pieces)), textCell(roundedUp(d, part.length)),
             textCell(roundedUp(d, part.width)), textCell(roundedUp(d, part.depth))});
  }
  if (table.rows.empty()) return;
  sheet.heading(say("build_storing"), 25.0);
  sheet.paragraph(say("build_storing_note", {{"room", trimmed(metric ? room : room / kCubicFoot, 1) +
                                                          (metric ? " m³" : " cu ft")}}),
                  {kNoteSize});
  draw(sheet, table);
}

const yard::Price* priceOf(const Digest& d, const std::string& what) {
  for (const auto& [id, price] : yard::all<yard::Price>(d.y))
    if (price->what == what) return price;
  return nullptr;
}

void fasteners(SheetPages& sheet, const Digest& d, Id id, const Shape& shape) {
  PaperTable table;
  table.rowHeight = 7.0;
  table.column(say("head_what")).column(say("head_count"), Align::Right);
  table.column(say("head_packs"), Align::Right).column(say("head_cost"), Align::Right);
  base::Money all{0};
  bool priced = true;
  for (const shapes::Fastener& fastener : shape.fasteners) {
    const yard::Price* price = priceOf(d, fastener.what);
    const std::int64_t pack = price != nullptr ? std::max<std::int64_t>(1, price->pack) : 1;
    const std::int64_t packs = (fastener.count + pack - 1) / pack;
    const std::string cost =
        price == nullptr ? "—" : d.set.currency + base::text(Fact{price->price * packs}, d.units);
    priced = priced && price != nullptr;
    if (price != nullptr) all += price->price * packs;
    table.row(id, {textCell(fastener.what), textCell(std::to_string(fastener.count)),
                   textCell(price != nullptr ? std::to_string(packs) : "—"), textCell(cost)});
  }
  if (table.rows.empty()) return;
  if (priced && shape.fasteners.size() > 1)
    table.row(id, {textCell(say("build_together")), textCell(""), textCell(""),
                   textCell(d.set.currency + base::text(Fact{all}, d.units))});
  sheet.heading(say("build_fasteners"), 25.0);
  if (!priced) sheet.paragraph(say("build_no_price"), {kNoteSize});
  draw(sheet, table);
}

void drawTwoColumns(SheetPages& sheet, const Lines& left, const Lines& right) {
  const double half = (sheet.width() - 6.0) / 2, y = sheet.y;
  const double below = drawFacts(sheet, sheet.left(), y, half, left);
  sheet.y = std::max(below, drawFacts(sheet, sheet.left() + half + 6.0, y, half, right)) + 2.0;
}

}  // namespace

bool builtAlike(const Digest& d, Id one, Id other) {
  const auto *a = yard::find<yard::Prop>(d.y, one), *b = yard::find<yard::Prop>(d.y, other);
  return a != nullptr && b != nullptr && a->kind == b->kind && a->sizes == b->sizes &&
         a->choices == b->choices && a->path == b->path && a->lines == b->lines &&
         a->stringOrder == b->stringOrder && a->product == b->product;
}

void fillBuildSheet(SheetPages& sheet, const Digest& d, Id id) {
  const auto* prop = yard::find<yard::Prop>(d.y, id);
  const auto* found = lookUp(d.a.shapes, id);
  if (prop == nullptr || found == nullptr) return;
  const Shape& shape = **found;
  std::string others;
  for (const auto& [otherId, other] : d.a.shapes)
    if (otherId != id && builtAlike(d, id, otherId))
      others += (others.empty() ? "" : ", ") + d.label(otherId);
  if (!others.empty()) sheet.paragraph(say("build_also", {{"props", others}}), {kTextSize, true});
  drawTwoColumns(sheet, askedLines(d, *prop), foundLines(d, id, shape));
  for (const base::Message& warning : shape.warnings)
    sheet.paragraph(base::text(warning, d.units), {kTextSize, true});
  views(sheet, d, id, shape);
  rows(sheet, d, id, shape);
  holes(sheet, d, id, shape);
  cuts(sheet, d, id, shape);
  stock(sheet, d, id, shape);
  fasteners(sheet, d, id, shape);
  levelling(sheet, d, id);
  storage(sheet, d, id, shape);
  addDrillTemplate(sheet, d, id);
}

}  // namespace yw::papers
