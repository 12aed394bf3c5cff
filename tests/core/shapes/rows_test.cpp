#include "core/shapes/rows.h"

#include <array>

#include "tests/core/shapes/random_props.h"
#include "tests/core/shapes/shape_checks.h"

namespace yw::shapes {
namespace {

constexpr std::int64_t kDegree = 1'000'000;

Point feet(double x, double y) {
  return {{std::llround(x * base::kNanometresPerFoot)}, {std::llround(y * base::kNanometresPerFoot)}};
}

double metresApart(const Spot& a, const Spot& b) { return base::distance(base::vec(a.at), base::vec(b.at)); }

TEST(Row, InALineTakesBothEndsAndIsEven) {
  const auto spots = inLine(feet(0, 0), feet(30, 40), 6, {});
  ASSERT_EQ(spots.size(), 6u);
  EXPECT_EQ(spots.front().at, feet(0, 0));
  EXPECT_EQ(spots.back().at, feet(30, 40));
  for (std::size_t k = 1; k < spots.size(); ++k)
    EXPECT_NEAR(metresApart(spots[k - 1], spots[k]), 10 * 0.3048, 1e-8);
  EXPECT_EQ(inLine(feet(0, 0), feet(10, 0), 1, {}).front().at, feet(5, 0));
  EXPECT_TRUE(inLine(feet(0, 0), feet(10, 0), 0, {}).empty());
}

TEST(Row, InAnArcStaysOnTheCircleAndFacesOutOrIn) {
  const auto out = inArc(feet(0, 0), base::feet(10), {-90 * kDegree}, {90 * kDegree}, 4, false);
  ASSERT_EQ(out.size(), 4u);
  for (const Spot& s : out) EXPECT_NEAR(base::norm(base::vec(s.at)), 10 * 0.3048, 1e-8);
  EXPECT_EQ(out.front().heading.count, 0);  // stands at plan -y of the middle and faces on down
  EXPECT_EQ(out.back().heading.count, 90 * kDegree);
  const auto in = inArc(feet(0, 0), base::feet(10), {-90 * kDegree}, {90 * kDegree}, 4, true);
  EXPECT_EQ(in.front().heading.count, 180 * kDegree);
  // A whole circle of five: 72 degrees apart, no two on one place.
  const auto ring = inArc(feet(0, 0), base::feet(10), {0}, {360 * kDegree}, 5, false);
  for (std::size_t k = 0; k < 5; ++k)
    EXPECT_NEAR(metresApart(ring[k], ring[(k + 1) % 5]),
                2 * 10 * 0.3048 * std::sin(36 * 3.14159265358979 / 180), 1e-8);
}

TEST(Row, InAGridGoesRowByRow) {
  const auto spots = inGrid(feet(1, 2), 3, 2, base::feet(4), base::feet(5), {});
  ASSERT_EQ(spots.size(), 6u);
  EXPECT_EQ(spots[2].at, feet(9, 2));
  EXPECT_EQ(spots[3].at, feet(1, 7));
}

TEST(Row, AlongAPathIsEvenAndFacesRightOfTheWay) {
  const auto spots = alongPath({feet(0, 0), feet(10, 0), feet(10, 10)}, 5);
  ASSERT_EQ(spots.size(), 5u);
  EXPECT_EQ(spots[0].at, feet(0, 0));
  EXPECT_EQ(spots[0].heading.count, 0);  // walking to +x, the right hand is plan -y
  EXPECT_NEAR(base::vec(spots[3].at).y, 5 * 0.3048, 1e-8);
  EXPECT_EQ(spots[4].heading.count, 90 * kDegree);
  EXPECT_TRUE(alongPath({feet(1, 1), feet(1, 1)}, 3).empty());
}

TEST(Row, IsNumberedAsOneWalksPast) {
  std::vector<Spot> spots = {{feet(9, 3), {}}, {feet(1, -2), {}}, {feet(5, 1), {}}};
  spots = numberedAlong(spots, {feet(0, 0), feet(10, 0)});
  EXPECT_EQ(spots[0].at, feet(1, -2));
  EXPECT_EQ(spots[1].at, feet(5, 1));
  spots = numberedAlong(spots, {feet(10, 0), feet(0, 0)});
  EXPECT_EQ(spots[0].at, feet(9, 3));
  const auto props = propsAt(usualProp("arch"), spots, 4);
  EXPECT_EQ(props[0].name, "Arch 4");
  EXPECT_EQ(props[2].at, feet(1, -2));
}

// Every pixel of the mirror image stands where a mirror on the line would show it; twice is the prop again.
TEST(Row, MirroredPropIsItsMirrorImageInTheYard) {
  const Length axis = base::millimetres(2'345);
  for (const char* name :
       {"arch", "ring", "mesh_panel", "net", "hooked_cane", "cone_tree", "straight_strip", "spinner",
        "window_outline", "door_outline", "gable", "path_stakes", "figure", "drop_line", "hung_line"}) {
    Dice dice(8);
    for (int i = 0; i < 60; ++i) {
      yard::Prop prop = randomProp(*findKind(name), dice);
      prop.at = {anyLength(dice), anyLength(dice)};
      prop.heading = {dice.between(0, 3) * 90 * kDegree};
      if (prop.choices.count("count")) prop.choices["count"] = "even";
      if (prop.kind == "spinner") {  // two rows, or a hub, of an odd count have no image
        prop.choices["order"] = "zigzag";
        prop.sizes["hub_pixels"] = 0;
      }
      if (prop.choices.count("bottoms")) prop.choices["ends"] = "with";
      const yard::Prop image = mirrored(prop, axis);
      EXPECT_EQ(mirrored(image, axis).at, prop.at) << name;
      EXPECT_EQ(mirrored(image, axis).choices, prop.choices);
      const auto one = make(prop), other = make(image);
      ASSERT_EQ(one.has_value(), other.has_value());
      if (!one) continue;
      ASSERT_EQ(one->pixels.size(), other->pixels.size());
      // The same set of places: order within it follows the choices that have a mirror image.
      const auto places = [&](const Shape& shape, const yard::Prop& p, bool flip) {
        std::vector<std::array<std::int64_t, 3>> all;
        for (const Vec3& v : shape.pixels) {
          const Vec3 at = placementOf({}, p).toYard(v);
          all.push_back({std::llround((flip ? 2 * base::metres(axis).si - at.x : at.x) * 1e4),
                         std::llround(at.y * 1e4), std::llround(at.z * 1e4)});
        }
        std::sort(all.begin(), all.end());
        return all;
      };
      const auto a = places(*one, prop, true), b = places(*other, image, false);
      std::int64_t sum = 0;
      for (std::size_t k = 0; k < a.size(); ++k)
        for (std::size_t c = 0; c < 3; ++c) sum += a[k][c] - b[k][c];
      ASSERT_LE(std::abs(sum), static_cast<std::int64_t>(a.size())) << name << " " << i;
    }
  }
}

TEST(Row, OneChangeAltersAllUntilOneIsDetached) {
  yard::Yard yard;
  const auto put = [&](std::int64_t id, yard::Record record) {
    yard.records[yard::Id{id}] = std::make_shared<const yard::Record>(std::move(record));
  };
  yard::Prop left = usualProp("arch"), right = mirrored(left, {0});
  left.name = "Arch 1";
  right.name = "Arch 2";
  put(1, left);
  put(2, right);
  put(3, left);
  yard::PropArray array;
  array.members = {{yard::Id{1}, false}, {yard::Id{2}, false}, {yard::Id{3}, true}};
  put(4, array);
  yard::Prop after = left;
  after.sizes["radius"] = base::inches(40).count;
  after.at = {base::feet(3), {0}};
  const auto changed = followers(yard, yard::Id{1}, left, after);
  ASSERT_EQ(changed.size(), 1u);
  EXPECT_EQ(changed[0].first, yard::Id{2});
  EXPECT_EQ(changed[0].second.sizes.at("radius"), base::inches(40).count);
  EXPECT_EQ(changed[0].second.at, right.at);
  EXPECT_EQ(changed[0].second.name, "Arch 2");
  EXPECT_EQ(changed[0].second.choices.at("start"), "right") << "a mirrored member keeps its side";
  EXPECT_TRUE(followers(yard, yard::Id{3}, left, after).empty());
}

}  // namespace
}  // namespace yw::shapes
