// Strung from the other side, a prop is its own mirror image, pixel by pixel; and parts that split a prop add
// up to it.
#include "tests/core/shapes/random_props.h"
#include "tests/core/shapes/shape_checks.h"

namespace yw::shapes {
namespace {

struct Mirrored {
  const char* kind;
  std::map<std::string, std::map<std::string, std::string>>
      options;          ///< choice -> option -> its mirror image
  bool fromLeftCorner;  ///< the frame starts at the lower left corner, not in the middle
};

const std::map<std::string, std::string> kSides = {{"left", "right"}, {"right", "left"}};
const std::map<std::string, std::string> kTurns = {{"clockwise", "counterclockwise"},
                                                   {"counterclockwise", "clockwise"}};
const std::map<std::string, std::string> kHours = {{"3", "9"}, {"9", "3"}, {"6", "6"}, {"12", "12"}};
const std::map<std::string, std::string> kCorners = {{"bottom_left", "bottom_right"},
                                                     {"bottom_right", "bottom_left"},
                                                     {"top_left", "top_right"},
                                                     {"top_right", "top_left"}};
const std::map<std::string, std::string> kRakes = {{"left", "right"}, {"right", "left"}, {"both", "both"}};

const std::vector<Mirrored>& mirroredKinds() {
  static const std::vector<Mirrored> all = {
      {"arch", {{"start", kSides}}, false},
      {"ring", {{"start", kHours}, {"direction", kTurns}}, false},
      {"concentric_rings", {{"start", kHours}, {"direction", kTurns}}, false},
      {"star", {{"direction", kTurns}}, false},
      {"strip_pole", {{"first_strip", kSides}}, false},
      {"cone_tree", {{"first_strip", kSides}}, false},
      {"small_cone_tree", {{"first_strip", kSides}}, false},
      {"mesh_panel", {{"corner", kCorners}}, false},
      {"net", {{"corner", kCorners}}, false},
      {"hooked_cane", {{"hook", kSides}}, false},
      {"trunk_wrap", {{"direction", kTurns}}, false},
      {"gable", {{"start", kSides}, {"sides", kRakes}}, true},
      {"window_outline", {{"corner", kCorners}, {"direction", kTurns}}, true},
      {"door_outline", {{"start", kSides}}, true},
      {"hoop_tunnel", {{"start", kSides}}, false},
      {"disc_grid", {{"corner", kCorners}, {"ring", {{"with", "without"}, {"without", "without"}}}}, false},
      {"flood", {{"start", kSides}}, false},
  };
  return all;
}

/// x of a pixel's mirror image is `axis` - x.
double axisOf(const Mirrored& mirrored, const yard::Prop& prop) {
  if (!mirrored.fromLeftCorner) return 0;
  const bool gable = std::string(mirrored.kind) == "gable";
  return base::metres(Length{prop.sizes.at(gable ? "run" : "width") * (gable ? 2 : 1)}).si;
}

void expectMirrorImages(const Shape& one, const Shape& other, double axis) {
  ASSERT_EQ(one.pixels.size(), other.pixels.size());
  for (std::size_t k = 0; k < one.pixels.size(); ++k) {
    ASSERT_NEAR(one.pixels[k].x, axis - other.pixels[k].x, 1e-9) << k;
    ASSERT_NEAR(one.pixels[k].y, other.pixels[k].y, 1e-9) << k;
    ASSERT_NEAR(one.pixels[k].z, other.pixels[k].z, 1e-9) << k;
  }
  for (std::size_t k = 0; k < one.hop.size(); ++k) ASSERT_NEAR(one.hop[k], other.hop[k], 1e-9) << k;
}

TEST(Mirror, StrungFromTheOtherSideIsTheMirrorImage) {
  for (const Mirrored& mirrored : mirroredKinds()) {
    Dice dice(31);
    int seen = 0;
    for (int i = 0; i < 200; ++i) {
      yard::Prop prop = randomProp(*findKind(mirrored.kind), dice);
      yard::Prop image = prop;
      for (const auto& [choice, options] : mirrored.options)
        image.choices[choice] = options.at(prop.choices.at(choice));
      // Of an odd count a pixel stands right on the starting hour: its image starts one pixel further on.
      if (prop.kind == "disc_grid") prop.choices["ring"] = "without";  // its ring has but one direction
      if (prop.kind == "concentric_rings") prop.choices["start"] = image.choices["start"] = "6";
      if (prop.choices.count("count")) prop.choices["count"] = image.choices["count"] = "even";
      const auto one = make(prop), other = make(image);
      ASSERT_EQ(one.has_value(), other.has_value());
      if (!one) continue;
      ++seen;
      expectMirrorImages(*one, *other, axisOf(mirrored, prop));
      if (testing::Test::HasFailure()) FAIL() << mirrored.kind;
    }
    EXPECT_GT(seen, 80) << mirrored.kind;
  }
}

/// Pixels of all parts whose name begins so.
std::int64_t pixelsInParts(const Shape& shape, const std::string& stem) {
  std::int64_t n = 0;
  for (const NamedRanges& part : shape.parts)
    if (part.name.starts_with(stem)) n += sizeOf(part.ranges);
  return n;
}

TEST(Parts, ThatSplitAPropAddUpToIt) {
  const std::pair<const char*, std::vector<std::string>> splits[] = {
      {"concentric_rings", {"ring "}},
      {"hung_line", {"ornament "}},
      {"drop_line", {"drops of "}},
      {"hoop_tunnel", {"hoop "}},
      {"sphere", {"ring "}},
      {"flood", {"flood "}},
      {"mesh_panel", {"column "}},
      {"star", {"level "}},
      {"star", {"point "}},
      {"snowflake", {"arm "}},
      {"spinner", {"arm ", "hub"}},
      {"hooked_cane", {"stem", "hook"}},
      {"trunk_wrap", {"front", "back"}},
      {"eave_line", {"side "}},
      {"figure", {"side "}},
      {"gable", {"left rake", "right rake"}},
      {"door_outline", {"left side", "top", "right side"}},
      {"window_outline", {"left side", "top", "right side", "bottom"}},
  };
  for (const auto& [kind, stems] : splits) {
    Dice dice(5);
    for (int i = 0; i < 100; ++i) {
      const auto shape = make(randomProp(*findKind(kind), dice));
      if (!shape) continue;
      std::int64_t all = 0;
      for (const std::string& stem : stems) all += pixelsInParts(*shape, stem);
      ASSERT_EQ(all, static_cast<std::int64_t>(shape->pixels.size())) << kind << " by " << stems.front();
    }
  }
}

TEST(Parts, HalvesOfAnEvenRingAreAlike) {
  Dice dice(17);
  for (int i = 0; i < 300; ++i) {
    yard::Prop prop = randomProp(*findKind("ring"), dice);
    prop.choices["count"] = "even";
    const auto shape = make(prop);
    if (!shape) continue;
    const auto half = static_cast<std::int64_t>(shape->pixels.size()) / 2;
    ASSERT_EQ(sizeOf(partOf(*shape, "upper half")->ranges), half);
    ASSERT_EQ(sizeOf(partOf(*shape, "lower half")->ranges), half);
  }
}

}  // namespace
}  // namespace yw::shapes
