#include "core/base/two_tapes.h"

#include <algorithm>
#include <cmath>

namespace yw::base {

Result<TapedPlaces> byTwoTapes(Point first, Length fromFirst, Point second, Length fromSecond,
                               Length tapeError) {
  const Vec2 a = vec(first), way = vec(second) - a;
  const double d = norm(way), r = metres(fromFirst).si, s = metres(fromSecond).si;
  if (d <= 0) return fail(ErrorCode::BadInput, {"tapes_one_point", {}});
  if (r <= 0 || s <= 0) return fail(ErrorCode::BadInput, {"tapes_no_length", {}});
  if (r + s < d)
    return fail(ErrorCode::BadInput,
                {"tapes_too_short",
                 {{"miss", toLength({d - r - s})}, {"sum", toLength({r + s})}, {"apart", toLength({d})}}});
  if (std::abs(r - s) > d)
    return fail(ErrorCode::BadInput, {r > s ? "tapes_first_too_long" : "tapes_second_too_long",
                                      {{"miss", toLength({std::abs(r - s) - d})}, {"apart", toLength({d})}}});
  const double along = (d * d + r * r - s * s) / (2 * d);
  const double off = std::sqrt(std::max(0.0, r * r - along * along));
  const Vec2 x = way * (1 / d), y{-x.y, x.x};
  const double cosine = std::clamp((r * r + s * s - d * d) / (2 * r * s), -1.0, 1.0);
  const double half = std::acos(cosine) / 2;
  TapedPlaces places{a + x * along + y * off, a + x * along - y * off};
  places.error = metres(tapeError).si / std::max(1e-9, std::min(std::sin(half), std::cos(half)));
  places.crossing = 2 * half * 180 / 3.14159265358979323846;
  return places;
}

}  // namespace yw::base
