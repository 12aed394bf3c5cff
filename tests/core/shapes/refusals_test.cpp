// What cannot be made is refused in words at the field, at once.
#include <chrono>

#include "tests/core/shapes/shape_checks.h"

namespace yw::shapes {
namespace {

base::Error errorOf(const yard::Prop& prop) {
  const auto shape = make(prop);
  if (shape) ADD_FAILURE() << prop.kind << " was made";
  return shape ? base::Error{} : shape.error();
}

std::string fact(const base::Error& error, const std::string& name) {
  return std::get<std::string>(error.message.facts.at(name));
}

TEST(Refusal, OfAnUnknownKindNamesTheNearest) {
  for (const auto& [typed, meant] : std::map<std::string, std::string>{{"cone-tree", "cone_tree"},
                                                                       {"snow_flake", "snowflake"},
                                                                       {"rings", "ring"},
                                                                       {"mesh_pannel", "mesh_panel"}}) {
    yard::Prop prop;
    prop.kind = typed;
    const base::Error error = errorOf(prop);
    EXPECT_EQ(error.where, "kind");
    EXPECT_EQ(error.message.key, "shape_unknown_kind");
    EXPECT_EQ(fact(error, "nearest"), meant);
    EXPECT_NE(base::text(error.message).find(meant), std::string::npos);
  }
}

TEST(Refusal, OfAnUnknownSizeNamesTheNearest) {
  yard::Prop prop = usualProp("cone_tree");
  prop.sizes["hight"] = 1;
  const base::Error error = errorOf(prop);
  EXPECT_EQ(error.where, "hight");
  EXPECT_EQ(error.message.key, "shape_unknown_size");
  EXPECT_EQ(fact(error, "nearest"), "height");
}

TEST(Refusal, OfAnUnknownChoiceOrOptionNamesTheNearest) {
  yard::Prop prop = usualProp("ring");
  prop.choices["directoin"] = "clockwise";
  EXPECT_EQ(errorOf(prop).message.key, "shape_unknown_choice");
  EXPECT_EQ(fact(errorOf(prop), "nearest"), "direction");
  prop = usualProp("ring");
  prop.choices["direction"] = "clock-wise";
  EXPECT_EQ(errorOf(prop).where, "direction");
  EXPECT_EQ(errorOf(prop).message.key, "shape_unknown_option");
  EXPECT_EQ(fact(errorOf(prop), "nearest"), "clockwise");
  prop = usualProp("eave_line");  // has no choices at all
  prop.choices["order"] = "rows";
  EXPECT_EQ(refusalOf(prop), "shape_no_choices at order");
}

TEST(Refusal, OfEverySizeBelowItsLeastAndAboveItsMostNamesTheField) {
  for (const Kind& kind : kinds())
    for (const SizeInfo& size : kind.sizes) {
      yard::Prop prop = usualProp(kind.name);
      for (const std::int64_t below : {size.least - 1, INT64_MIN}) {
        prop.sizes[size.name] = below;
        EXPECT_EQ(refusalOf(prop), "shape_size_too_small at " + size.name) << kind.name;
      }
      for (const std::int64_t above : {size.most + 1, INT64_MAX}) {
        prop.sizes[size.name] = above;
        EXPECT_EQ(refusalOf(prop), "shape_size_too_large at " + size.name) << kind.name;
      }
    }
}

TEST(Refusal, OfZeroAndNegativePitchesAndLengths) {
  for (const Kind& kind : kinds())
    for (const std::int64_t value : {std::int64_t{0}, std::int64_t{-25'400'000}}) {
      if (kind.name == "path_stakes" || kind.name == "flood") continue;
      yard::Prop prop = usualProp(kind.name);
      prop.sizes["pitch"] = value;
      EXPECT_EQ(refusalOf(prop), "shape_size_too_small at pitch") << kind.name;
    }
  EXPECT_EQ(refusalOf(propOf("cone_tree", {{"height", 0}})), "shape_size_too_small at height");
  EXPECT_EQ(refusalOf(propOf("ring", {{"diameter", -30}})), "shape_size_too_small at diameter");
  EXPECT_EQ(refusalOf(propOf("cone_tree", {}, {{"strips", 0}})), "shape_size_too_small at strips");
  EXPECT_EQ(refusalOf(propOf("star", {}, {{"points", 2}})), "shape_size_too_small at points");
  // The words say what was typed and what is the least.
  const std::string words = base::text(errorOf(propOf("cone_tree", {}, {{"strips", 0}})).message);
  EXPECT_EQ(words, "Strips: 0 is too small; the least it can be is 1.");
}

// The field is said once: by its label, or before a sentence that does not name it.
TEST(Refusal, NamesTheFieldOnce) {
  EXPECT_EQ(base::text(errorOf(propOf("ring", {{"diameter", 0}}))),
            "Diameter: 0″ is too small; the least it can be is 1/16″.");
  EXPECT_EQ(base::text(errorOf(propOf("ring", {{"diameter", 1}, {"pitch", 12}}))),
            "Diameter: No pixel fits: 1″ is too short for pixels 1′ 0″ apart. Make it longer or set the "
            "pixels closer.");
  EXPECT_EQ(base::text(errorOf(propOf("disc_grid", {{"grid_radius", 31}}))),
            "Grid radius: The inner one (2′ 7″) must be smaller than the outer one (2′ 6″).");
  yard::Prop prop;
  prop.kind = "rings";
  EXPECT_EQ(base::text(errorOf(prop)), "There is no kind of prop called \"rings\". The nearest is \"ring\".");
}

// A pitch longer than what it is to fit into leaves no pixel: floor(L / p) = 0.
TEST(Refusal, OfAPitchLongerThanTheLengthNamesTheLength) {
  const struct {
    const char* kind;
    std::map<std::string, double> sizes;
    const char* field;
  } cases[] = {
      {"straight_strip", {{"length", 2}, {"pitch", 3}}, "length"},
      {"strip_pole", {{"length", 2}, {"pitch", 3}}, "length"},
      {"ring", {{"diameter", 1}, {"pitch", 12}}, "diameter"},
      {"concentric_rings", {{"inner_radius", 0.2}, {"pitch", 2}}, "inner_radius"},
      {"star", {{"inner_level_radius", 0.1}}, "inner_level_radius"},
      {"cone_tree", {{"height", 5}, {"base_diameter", 10}, {"pitch", 12}}, "height"},
      {"mesh_panel", {{"width", 1}}, "width"},
      {"mesh_panel", {{"height", 1}}, "height"},
      {"net", {{"height", 1}}, "height"},
      {"hooked_cane", {{"stem", 1}, {"hook_radius", 1}, {"pitch", 12}}, "stem"},
      {"gable", {{"run", 2}, {"pitch", 12}}, "run"},
      {"window_outline", {{"width", 2}, {"height", 2}}, "width"},
      {"door_outline", {{"width", 2}, {"height", 2}}, "height"},
  };
  for (const auto& c : cases)
    EXPECT_EQ(refusalOf(propOf(c.kind, c.sizes)), std::string("shape_no_pixels at ") + c.field) << c.kind;
}

TEST(Refusal, OfInnerOverOuterNamesTheInner) {
  EXPECT_EQ(refusalOf(propOf("star", {{"radius", 12}, {"inner_level_radius", 13}})),
            "shape_inner_over_outer at inner_level_radius");
  EXPECT_EQ(refusalOf(propOf("concentric_rings", {{"outer_radius", 12}, {"inner_radius", 13}})),
            "shape_inner_over_outer at inner_radius");
  EXPECT_EQ(refusalOf(propOf("disc_grid", {{"grid_radius", 31}, {"ring_diameter", 60}})),
            "shape_inner_over_outer at grid_radius");
  EXPECT_EQ(refusalOf(propOf("cone_tree", {{"base_diameter", 20}, {"top_diameter", 21}})),
            "shape_top_over_base at top_diameter");
}

TEST(Refusal, OfPathsThatAreMissingOrRepeatPoints) {
  for (const char* kind : {"eave_line", "figure", "path_stakes"}) {
    yard::Prop prop = usualProp(kind);
    prop.path.clear();
    EXPECT_EQ(refusalOf(prop), "shape_path_too_short at path") << kind;
    prop.path = {{{0}, {0}}, {base::feet(1), {0}}, {base::feet(1), {0}}, {base::feet(2), base::feet(3)}};
    const base::Error error = errorOf(prop);
    EXPECT_EQ(error.where, "path");
    EXPECT_EQ(base::text(error.message),
              "Points 2 and 3 of the path are at the same place. Take one of them out.");
  }
}

/// Sizes that ask for ten million pixels and more: a slip of a unit or of the decimal point.
TEST(Refusal, OfTenMillionPixelsComesAtOnce) {
  const double most = 300 / kInchMetres, least = 0.001 / kInchMetres;  // 300 m and 1 mm
  const struct {
    const char* kind;
    std::map<std::string, double> sizes;
    std::map<std::string, std::int64_t> counts;
  } cases[] = {
      {"straight_strip", {{"length", most}, {"pitch", least}}, {}},
      {"strip_pole", {{"length", most}, {"pitch", least}}, {{"strips", 200}}},
      {"arch", {{"radius", most}, {"pitch", least}}, {{"hoops", 50}}},
      {"ring", {{"diameter", most}, {"pitch", least}}, {}},
      {"disc_grid", {{"grid_radius", most / 3}, {"ring_diameter", most}, {"pitch", least}}, {}},
      {"concentric_rings", {{"outer_radius", most}, {"pitch", least}}, {{"rings", 500}}},
      {"star", {{"radius", most}, {"pitch", least}}, {{"levels", 100}}},
      {"cone_tree", {{"height", most}, {"pitch", least}}, {{"strips", 2000}}},
      {"small_cone_tree", {{"height", most}, {"pitch", least}}, {{"strips", 2000}}},
      {"mesh_panel", {{"width", most}, {"height", most}, {"pitch", least}}, {}},
      {"net", {{"width", most}, {"height", most}, {"pitch", least}}, {}},
      {"hooked_cane", {{"stem", most}, {"pitch", least}}, {}},
      {"trunk_wrap", {{"trunk_diameter", most}, {"pitch", least}}, {{"turns", 1000}}},
      {"path_stakes", {}, {{"stakes", 5000}, {"pixels", 5000}}},
      {"gable", {{"run", most}, {"pitch", least}}, {{"pitch_rise", 48}}},
      {"window_outline", {{"width", most}, {"height", most}, {"pitch", least}}, {}},
      {"door_outline", {{"width", most}, {"height", most}, {"pitch", least}}, {}},
      {"snowflake",
       {},
       {{"main_pixels", 2000}, {"branch_pairs", 50}, {"branch_pixels", 1000}, {"branch_growth", 100}}},
      {"spinner", {}, {{"arms", 200}, {"arm_pixels", 5000}, {"bent_pixels", 5000}}},
  };
  const auto began = std::chrono::steady_clock::now();
  for (const auto& c : cases) {
    const base::Error error = errorOf(propOf(c.kind, c.sizes, c.counts));
    EXPECT_TRUE(error.message.key.starts_with("shape_too_many_pixels")) << c.kind << " " << error.message.key;
    ASSERT_TRUE(error.message.facts.count("count")) << c.kind;
    EXPECT_GT(std::get<std::int64_t>(error.message.facts.at("count")), kMostPixels) << c.kind;
  }
  EXPECT_LT(std::chrono::duration<double>(std::chrono::steady_clock::now() - began).count(), 0.2);
}

TEST(Refusal, LeavesTheMostThatOnePropMayHaveMakable) {
  EXPECT_EQ(pixelsOf(propOf("path_stakes", {}, {{"stakes", 200}, {"pixels", 1000}})), kMostPixels);
  EXPECT_EQ(refusalOf(propOf("path_stakes", {}, {{"stakes", 3}, {"pixels", 5000}})), "made");
  const base::Error error = errorOf(propOf("path_stakes", {}, {{"stakes", 201}, {"pixels", 1000}}));
  EXPECT_EQ(error.where, "stakes");
}

// What can be made but not built says so: strips closer at the top than they are wide.
TEST(Warning, OfATopperTooSmallForItsStrips) {
  const Shape shape = made(propOf("cone_tree", {{"top_diameter", 2}}));
  ASSERT_EQ(shape.warnings.size(), 1U);
  EXPECT_EQ(shape.warnings[0].key, "shape_topper_too_small");
  ASSERT_TRUE(unbuildable(shape));
  EXPECT_EQ(unbuildable(shape)->where, "top_diameter");
  EXPECT_FALSE(unbuildable(made(usualProp("cone_tree"))));
  // 16 strips round 2 in: 2 pi / 16 = 0.39 in apart; 16 x 1.5 in / pi = 7.64 in across would hold them.
  EXPECT_NEAR(std::get<Length>(shape.warnings[0].facts.at("spacing")).count / 25.4e6, 0.3927, 1e-4);
  EXPECT_NEAR(std::get<Length>(shape.warnings[0].facts.at("least")).count / 25.4e6, 7.6394, 1e-4);
  EXPECT_TRUE(made(propOf("cone_tree", {{"top_diameter", 7.65}})).warnings.empty());
}

TEST(Warning, OfBranchesThatCross) {
  const Shape shape = made(propOf("snowflake", {}, {{"branch_pixels", 12}, {"branch_growth", 0}}));
  ASSERT_FALSE(shape.warnings.empty());
  EXPECT_EQ(shape.warnings[0].key, "shape_branches_cross");
}

}  // namespace
}  // namespace yw::shapes
