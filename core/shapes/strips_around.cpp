#include "core/shapes/strips_around.h"

#include <cmath>

#include "core/shapes/sizes.h"

namespace yw::shapes {

bool StripsAround::fullCircle() const { return arc >= 2 * kPi - 1e-9; }

bool StripsAround::up(std::int64_t strip) const {
  switch (order) {
    case StripOrder::UpThenDown:
      return strip % 2 == 0;
    case StripOrder::DownThenUp:
      return strip % 2 == 1;
    case StripOrder::AllUp:
      return true;
    case StripOrder::AllDown:
      break;
  }
  return false;
}

Vec3 StripsAround::at(std::int64_t strip, double along) const {
  // Turns from the front, growing to the right; strip 0 at the left end, or half a gap left of the back's
  // middle.
  const double place = static_cast<double>(2 * strip - (strips - 1)) / 2;
  double turn = gaps() == 0 ? 0.0 : arc / static_cast<double>(gaps()) * place;
  if (fromRight) turn = -turn;
  const double share = along / slant, radius = bottomRadius + (topRadius - bottomRadius) * share;
  return {radius * std::sin(turn), -radius * std::cos(turn), foot + height * share};
}

ChoiceInfo stripOrderChoice() {
  return {"order",
          "String order",
          {{"up_down", "Up one, down the next"},
           {"down_up", "Down one, up the next"},
           {"all_up", "All up, with return wires"},
           {"all_down", "All down, with return wires"}}};
}

ChoiceInfo stripSideChoice() {
  return {"first_strip",
          "First strip, seen from the front",
          {{"left", "Round by the left"}, {"right", "Round by the right"}}};
}

StripOrder stripOrderOf(const yard::Prop& prop) {
  const Sizes size(prop);
  return size.chosen("order", "up_down")   ? StripOrder::UpThenDown
         : size.chosen("order", "down_up") ? StripOrder::DownThenUp
         : size.chosen("order", "all_up")  ? StripOrder::AllUp
                                           : StripOrder::AllDown;
}

void addStrips(ShapeBuilder& build, const StripsAround& s) {
  for (std::int64_t strip = 0; strip < s.strips; ++strip) {
    const std::string name = "strip " + std::to_string(strip + 1);
    const bool up = s.up(strip);
    const Vec3 low = s.at(strip, 0), whole = s.at(strip, s.slant) - low;
    build.startRow(name + (up ? ", up" : ", down"));
    for (std::int64_t k = 0; k < s.each; ++k) {
      const double along = s.first + static_cast<double>(up ? k : s.each - 1 - k) * s.pitch;
      build.add(low + whole * (along / s.slant));
    }
    build.endRow(name + (up ? ", top" : ", bottom"));
    build.frameLine({low, low + whole});
  }
  for (std::int64_t k = 0; k < s.strips && s.strips > 1; ++k)
    build.part("strip " + std::to_string(k + 1), k * s.each + 1, (k + 1) * s.each);
  const std::int64_t half = s.strips / 2 * s.each;
  const bool halves = s.strips > 1;
  if (halves) build.part(s.fromRight ? "right half" : "left half", 1, half);
  if (halves)
    build.part(s.fromRight ? "left half" : "right half", (s.strips - s.strips / 2) * s.each + 1,
               build.count());
  const double middle =
      s.foot + s.height / s.slant * (s.first + static_cast<double>(s.each - 1) * s.pitch / 2);
  const double hair = 1e-9;
  build.part("upper half", [&](Vec3 p) { return p.z > middle + hair; });
  build.part("lower half", [&](Vec3 p) { return p.z < middle - hair; });
}

Shape finishStrips(ShapeBuilder& build, const StripsAround& s) {
  const std::int64_t last = s.strips - 1;
  return build.finish(s.up(0) ? "bottom of strip 1" : "top of strip 1",
                      (s.up(last) ? "top of strip " : "bottom of strip ") + std::to_string(s.strips));
}

}  // namespace yw::shapes
