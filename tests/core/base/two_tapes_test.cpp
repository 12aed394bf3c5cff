#include "core/base/two_tapes.h"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

namespace yw::base {
namespace {

Point at(double x, double y) { return point(Vec2{x, y}); }
Length m(double metres) { return toLength({metres}); }
/// Key and miss of a refusal, `tapes_too_short 1 m`.
std::pair<std::string, Length> refusal(const Result<TapedPlaces>& places) {
  if (places) return {"places", {}};
  EXPECT_TRUE(hasWording(places.error().message.key));
  return {places.error().message.key, std::get<Length>(places.error().message.facts.at("miss"))};
}

TEST(TwoTapes, FindTheCornerOfARightTriangleOnEitherSide) {
  const auto places = byTwoTapes(at(1, 1), m(4), at(4, 5), m(3), m(0.01));  // 3, 4, 5
  ASSERT_TRUE(places);
  EXPECT_NEAR(norm(places->left - Vec2{1, 1}), 4, 1e-9);
  EXPECT_NEAR(norm(places->left - Vec2{4, 5}), 3, 1e-9);
  EXPECT_NEAR(norm(places->right - Vec2{1, 1}), 4, 1e-9);
  EXPECT_NEAR(distance(places->right, {4.84, 2.12}), 0, 1e-9);
  EXPECT_NEAR(places->crossing, 90, 1e-6);
  EXPECT_NEAR(places->error, 0.01 * std::sqrt(2.0), 1e-9) << "square tapes: a diagonal of both errors";
}

TEST(TwoTapes, GiveBackAnyPlaceFromItsTwoDistances) {
  std::mt19937 random(7);
  std::uniform_real_distribution<double> somewhere(-40, 40);
  for (int i = 0; i < 1000; ++i) {
    const Vec2 a{somewhere(random), somewhere(random)}, b{somewhere(random), somewhere(random)},
        p{somewhere(random), somewhere(random)};
    const double side = cross(b - a, p - a);
    if (std::abs(side) < 1) continue;  // nearly in line: nanometres of the tapes grow too large
    const auto places = byTwoTapes(point(a), m(distance(a, p)), point(b), m(distance(b, p)), m(0));
    ASSERT_TRUE(places);
    EXPECT_NEAR(distance(side > 0 ? places->left : places->right, p), 0, 1e-6);
  }
}

TEST(TwoTapes, SayHowFarThePlaceMayBeOff) {
  // Both tapes off by a little either way: no place lies farther off than said, and one lies as far.
  for (const auto& [r, s] : {std::pair{6.0, 7.0}, {4.9, 5.2}, {30.0, 29.0}}) {
    const double e = 1e-4;
    const auto middle = byTwoTapes(at(0, 0), m(r), at(10, 0), m(s), m(e));
    ASSERT_TRUE(middle);
    double most = 0;
    for (const double first : {-e, e})
      for (const double second : {-e, e}) {
        const auto off = byTwoTapes(at(0, 0), m(r + first), at(10, 0), m(s + second), m(0));
        ASSERT_TRUE(off);
        most = std::max(most, distance(off->left, middle->left));
      }
    EXPECT_NEAR(most / middle->error, 1.0, 0.02) << r << ' ' << s;
  }
}

TEST(TwoTapes, RefuseLengthsThatDoNotMeetAndSayByHowMuch) {
  const auto pair = [](const char* key, double miss) { return std::pair<std::string, Length>(key, m(miss)); };
  EXPECT_EQ(refusal(byTwoTapes(at(0, 0), m(4), at(10, 0), m(5), m(0))), pair("tapes_too_short", 1));
  EXPECT_EQ(refusal(byTwoTapes(at(0, 0), m(13.5), at(10, 0), m(3), m(0))), pair("tapes_first_too_long", 0.5));
  EXPECT_EQ(refusal(byTwoTapes(at(0, 0), m(3), at(10, 0), m(13.5), m(0))),
            pair("tapes_second_too_long", 0.5));
  EXPECT_TRUE(byTwoTapes(at(0, 0), m(4), at(10, 0), m(6), m(0)));
  EXPECT_FALSE(byTwoTapes(at(2, 2), m(4), at(2, 2), m(6), m(0)));
  EXPECT_FALSE(byTwoTapes(at(0, 0), m(0), at(10, 0), m(10), m(0)));
}

}  // namespace
}  // namespace yw::base
