#include "core/papers/sketch.h"

#include <algorithm>
#include <cmath>

#include "core/papers/characters.h"

namespace yw::papers {

Item& Sketch::add(Item::Type type, std::vector<Mm> points, Pen pen) {
  Item item;
  item.type = type;
  item.record = record_;
  item.role = pen.role;
  item.width = pen.width;
  item.dash = pen.dash;
  item.points = std::move(points);
  items_->push_back(std::move(item));
  return items_->back();
}

Item& Sketch::line(std::vector<Mm> points, Pen pen, bool arrow) {
  Item& item = add(Item::Type::Line, std::move(points), pen);
  item.arrow = arrow;
  return item;
}

Item& Sketch::area(std::vector<Mm> points, Pen pen) { return add(Item::Type::Area, std::move(points), pen); }

Item& Sketch::filled(std::vector<Mm> points, Role role) {
  Item& item = add(Item::Type::Area, std::move(points), {role, 0.0});
  item.filled = true;
  return item;
}

Item& Sketch::hatched(std::vector<Mm> points, Pen pen) {
  Item& item = add(Item::Type::Area, std::move(points), pen);
  item.hatched = true;
  return item;
}

Item& Sketch::cloud(std::vector<Mm> points, Role role, double dot) {
  return add(Item::Type::Cloud, std::move(points), {role, dot});
}

Item& Sketch::text(Mm at, const std::string& words, Type type) {
  Item& item = add(Item::Type::Text, {at}, {type.role});
  item.text = printable(words);
  item.size = type.size;
  item.bold = type.bold;
  item.mono = type.mono;
  item.align = type.align;
  item.turn = type.turn;
  return item;
}

double Sketch::paragraph(Mm at, double width, const std::string& words, Type type) {
  for (const std::string& line : brokenLines(printable(words), width, type.size, type.bold, type.mono)) {
    if (!line.empty()) text(at, line, type);
    at.y += type.size * kLineStep;
  }
  return at.y;
}

void Sketch::tickBox(Mm upperLeft, double side) {
  rect({upperLeft.x, upperLeft.y, side, side}, {Role::Ink, 0.35});
}

void Sketch::clip(const Rect& r) { add(Item::Type::ClipBegin, r.corners(), {}); }
void Sketch::endClip() { add(Item::Type::ClipEnd, {}, {}); }

void Sketch::bar(const Rect& r, double used) {
  constexpr double kTick = 0.8;  // the allowance ends at this part of the bar
  const double part = std::clamp(used, 0.0, 1.25) * kTick;
  rect(r, {Role::SecondInk, 0.13});
  if (part > 0.0)
    filled(Rect{r.x, r.y, r.w * part, r.h}.corners(), used > 1.0 ? Role::Danger : Role::SecondInk);
  const double tick = r.x + r.w * kTick;
  line({{tick, r.y - 0.6}, {tick, r.bottom() + 0.6}}, {Role::Ink, 0.5});
}

double widthOf(const std::string& words, const Type& type) {
  return textWidth(printable(words), type.size, type.bold, type.mono);
}

std::string shortened(const std::string& words, double width, const Type& type) {
  if (widthOf(words, type) <= width) return words;
  std::vector<char32_t> codes = codePoints(words);
  while (!codes.empty() && widthOf(utf8Of(codes) + "…", type) > width) codes.pop_back();
  return utf8Of(codes) + "…";
}

void settle(std::vector<Item>& items) {
  for (Item& item : items)
    for (Mm& p : item.points) {
      p.x = std::round(p.x * 1000.0) / 1000.0 + 0.0;
      p.y = std::round(p.y * 1000.0) / 1000.0 + 0.0;
    }
}

}  // namespace yw::papers
