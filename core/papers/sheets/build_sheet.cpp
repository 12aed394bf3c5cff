#include <algorithm>
#include <map>

#include "core/base/number_text.h"
#include "core/papers/sheets/prop_drawing.h"
#include "core/shapes/stock.h"
#include "core/takeoff/cutting.h"

namespace yw::papers {
namespace {

using base::Fact;
using shapes::Shape;

using Lines = std::vector<std::pair<std::string, std::string>>;

std::string lengthOf(const Digest& d, base::Length length) { return base::lengthText(length, d.units); }
std::string lengthOf(const Digest& d, double metres) { return lengthOf(d, base::toLength({metres})); }
std::string massOf(const Digest& d, double kilograms) {
  return base::text(Fact{base::Mass{std::llround(kilograms * 1e6)}}, d.units);
}

Fact sizeFact(const shapes::SizeInfo& size, std::int64_t stored) {
  switch (size.type) {
    case shapes::SizeType::Length:
      return base::Length{stored};
    case shapes::SizeType::Angle:
      return base::Angle{stored};
    case shapes::SizeType::Ratio:
      return base::Ratio{stored};
    case shapes::SizeType::Count:
      break;
  }
  return stored;
}

/// What the person asked for, as the form says it.
Lines askedLines(const Digest& d, const yard::Prop& prop) {
  Lines lines;
  const shapes::Kind* kind = shapes::findKind(prop.kind);
  if (kind == nullptr) return lines;
  for (const shapes::SizeInfo& size : kind->sizes) {
    const auto own = prop.sizes.find(size.name);
    lines.emplace_back(
        size.label, base::text(sizeFact(size, own == prop.sizes.end() ? size.usual : own->second), d.units));
  }
  for (const shapes::ChoiceInfo& choice : kind->choices) {
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

/// The longest piece once it is taken apart: no longer than a length of its stock.
base::Length longestPiece(const Shape& shape) {
  base::Length longest;
  for (const shapes::Cut& cut : shape.cuts) {
    const shapes::Stock* stock = shapes::findStock(cut.stock);
    const bool joined = stock != nullptr && stock->length && !stock->width && cut.length > stock->length;
    if (stock != nullptr && stock->length && cut.stock != "wire rope")
      longest = std::max(longest, joined ? stock->length : cut.length);
  }
  return longest;
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
  if (const base::Length longest = longestPiece(shape))
    lines.emplace_back(say("build_storage"), say("build_storage_line", {{"longest", lengthOf(d, longest)}}));
  for (const auto& [name, fact] : shape.facts) {
    if (name == "true pitch" || name == "asked pitch") continue;
    std::string label = name;
    label[0] = static_cast<char>(label[0] >= 'a' && label[0] <= 'z' ? label[0] - 32 : label[0]);
    lines.emplace_back(label, base::text(fact, d.units));
  }
  return lines;
}

void views(SheetPages& sheet, const Digest& d, Id id, const Shape& shape) {
  constexpr double kTitle = 6.5;
  const std::int64_t count = static_cast<std::int64_t>(shape.pixels.size());
  for (const PropView view : viewsOf(shape)) {
    const double natural = sheet.width() * heightToWidth(shape, view) + 32.0;
    double height = std::clamp(natural, 60.0, 150.0);
    // Rather smaller on this page than alone on the next.
    constexpr double kStillClear = 85.0;
    if (const double room = sheet.room() - kTitle - 4.0; room > kStillClear) height = std::min(height, room);
    sheet.need(height + kTitle + 2.0);
    const char* head = view == PropView::Front  ? "build_front"
                       : view == PropView::Back ? "build_back"
                                                : "from_above";
    Sketch s = sheet.sketch(id);
    s.text({sheet.left(), sheet.y + kTextSize}, say(head), {kTextSize, true});
    const Rect frame{sheet.left(), sheet.y + kTitle, sheet.width(), height};
    s.rect(frame, {Role::SecondInk, 0.25});
    const int missed = drawPropView(s, d, id, view, frame, {1, count, {}, true});
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

void rows(SheetPages& sheet, const Digest& d, Id id, const Shape& shape) {
  const base::Vec3 corner = cornerOf(shape);
  PaperTable table;
  table.rowHeight = 6.4;
  table.column(say("head_row"))
      .column(say("head_pixels"), Align::Right)
      .column(say("head_numbers"), Align::Right);
  table.column(say("head_first_across"), Align::Right)
      .column(say("head_first_up"), Align::Right)
      .column(say("head_jumper_before"), Align::Right)
      .column(say("head_done"), Align::Center);
  for (const shapes::Row& row : shape.rows) {
    const base::Vec3 first = shape.pixels[static_cast<std::size_t>(row.first - 1)];
    const double hop = row.first > 1 ? shape.hop[static_cast<std::size_t>(row.first - 2)] : 0.0;
    table.row(id, {textCell(row.name), textCell(std::to_string(row.last - row.first + 1)),
                   textCell(rangeText(row.first, row.last)), textCell(lengthOf(d, first.x - corner.x)),
                   textCell(lengthOf(d, first.z - corner.z)),
                   textCell(row.first > 1 ? lengthOf(d, hop) : "—"), tickCell()});
  }
  sheet.heading(say("build_rows"), 30.0);
  sheet.paragraph(say("build_rows_note"), {kNoteSize});
  draw(sheet, table);
}

void holes(SheetPages& sheet, const Digest& d, Id id, const Shape& shape) {
  constexpr std::size_t kMost = 150, kAbreast = 3;
  const bool flat = d.a.shapes.at(id)->rows.size() > 1 || shape.pixels.size() > 1;
  if (shape.pixels.size() > kMost || !flat) return;
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
      cells.push_back(textCell(there ? lengthOf(d, p.z - corner.z) : ""));
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

/// How many lengths to buy, and what stays over.
void stock(SheetPages& sheet, const Digest& d, Id id, const Shape& shape) {
  std::map<std::string, std::vector<base::Length>> pieces;
  for (const shapes::Cut& cut : shape.cuts)
    if (cut.length && !cut.width) {
      auto& list = pieces[cut.stock];
      list.insert(list.end(), static_cast<std::size_t>(cut.pieces), cut.length);
    }
  PaperTable table;
  table.rowHeight = 7.0;
  table.column(say("head_stock")).column(say("head_lengths"), Align::Right);
  table.column(say("head_yield"), Align::Right).column(say("head_longest_left"), Align::Right);
  for (const auto& [what, list] : pieces) {
    const shapes::Stock* sold = shapes::findStock(what);
    if (sold == nullptr || !sold->length) continue;
    const takeoff::CutPlan plan = takeoff::cutFrom(list, sold->length);
    base::Length left;
    for (const takeoff::Bar& bar : plan.bars) left = std::max(left, bar.left);
    table.row(id, {twoLines(sold->sold, plan.joined > 0 ? say("build_joined", {{"count", plan.joined}}) : ""),
                   textCell(std::to_string(plan.bars.size())), textCell(trimmed(plan.yield * 100, 0) + " %"),
                   textCell(lengthOf(d, left))});
  }
  if (table.rows.empty()) return;
  sheet.heading(say("build_stock"), 25.0);
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
  for (const shapes::Fastener& fastener : shape.fasteners) {
    const yard::Price* price = priceOf(d, fastener.what);
    const std::int64_t pack = price != nullptr ? std::max<std::int64_t>(1, price->pack) : 1;
    const std::int64_t packs = (fastener.count + pack - 1) / pack;
    const std::string cost =
        price == nullptr ? "—" : d.set.currency + base::text(Fact{price->price * packs}, d.units);
    table.row(id, {textCell(fastener.what), textCell(std::to_string(fastener.count)),
                   textCell(price != nullptr ? std::to_string(packs) : "—"), textCell(cost)});
  }
  if (table.rows.empty()) return;
  sheet.heading(say("build_fasteners"), 25.0);
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
  addDrillTemplate(sheet, d, id);
}

}  // namespace yw::papers
