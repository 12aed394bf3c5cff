#pragma once
// N alike strips round an axis: poles and cone trees, full or part circle.
#include "core/shapes/builder.h"

namespace yw::shapes {

enum class StripOrder { UpThenDown, DownThenUp, AllUp, AllDown };

struct StripsAround {
  std::int64_t strips = 0, each = 0;  ///< pixels on one strip: `each`
  double pitch = 0;
  double first = 0;  ///< from the strip's lower end to its lowest pixel
  double slant = 0;  ///< a strip's whole length
  double bottomRadius = 0, topRadius = 0, height = 0;
  double foot = 0;  ///< height of the lower ends above the ground
  double arc = 0;   ///< radians; a whole turn: full circle
  StripOrder order = StripOrder::UpThenDown;
  bool fromRight =
      false;  ///< strip 1 is the rightmost (of a full circle: next to the back's middle) seen from the front

  bool fullCircle() const;
  std::int64_t gaps() const { return fullCircle() ? strips : strips - 1; }
  bool up(std::int64_t strip) const;  ///< 0-based
  /// Place on a 0-based strip, `along` from its lower end.
  Vec3 at(std::int64_t strip, double along) const;
};

/// The order words shared by all such kinds, up-then-down first.
ChoiceInfo stripOrderChoice();
ChoiceInfo stripSideChoice();
StripOrder stripOrderOf(const yard::Prop& prop);

/// Pixels, rows `strip 3, up` and joints `strip 3, top`; halves as parts; a frame line a strip.
void addStrips(ShapeBuilder& build, const StripsAround& s);
/// `bottom of strip 1`, `top of strip 7`.
Shape finishStrips(ShapeBuilder& build, const StripsAround& s);

}  // namespace yw::shapes
