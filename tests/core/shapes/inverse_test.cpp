#include "core/shapes/inverse.h"

#include "tests/core/shapes/random_props.h"
#include "tests/core/shapes/shape_checks.h"

namespace yw::shapes {
namespace {

/// The answer keeps the limit; one step further goes over it, is refused, or there is none.
void expectTight(const Fit& answer, const FitRequest& request) {
  const auto shape = make(answer.prop);
  ASSERT_TRUE(shape.has_value());
  EXPECT_EQ(measured(*shape, request.measure), answer.reached);
  ASSERT_LE(answer.reached, request.limit);
  ASSERT_GT(answer.nextReached.value_or(request.limit + 1), request.limit);
  if (answer.size == kWholeSize) return;  // of no one size
  EXPECT_EQ(answer.prop.sizes.at(answer.size), answer.value);
  if (!answer.nextValue) return;
  yard::Prop next = answer.prop;
  next.sizes[answer.size] = *answer.nextValue;
  const auto beyond = make(next);
  ASSERT_NE(beyond.has_value(), answer.nextRefused.has_value());
  if (beyond) {
    ASSERT_GT(measured(*beyond, request.measure), request.limit);
    EXPECT_EQ(measured(*beyond, request.measure), answer.nextReached);
  }
}

TEST(Fit, NeverExceedsTheLimitAndTheNextStepWould) {
  int answered = 0, tight = 0;
  for (const Kind& kind : kinds()) {
    Dice dice(77);
    for (int i = 0; i < 50; ++i) {
      FitRequest request;
      request.prop = randomProp(kind, dice);
      if (!make(request.prop)) continue;
      request.measure = static_cast<Measure>(dice.roll(5));
      request.limit = request.measure == Measure::Pixels ? dice.between(1, 3000)
                                                         : base::millimetres(dice.between(100, 8000)).count;
      request.units = dice.roll(2) == 0 ? base::UnitSystem::Metric : base::UnitSystem::FeetInches;
      const std::vector<std::string> sizes = fittingSizes(request.prop, request.measure);
      for (const std::string& size : sizes) {
        request.size = size;
        const auto answer = fit(request);
        if (!answer) {
          EXPECT_TRUE(base::hasWording(answer.error().message.key)) << answer.error().message.key;
          continue;
        }
        ++answered;
        tight += answer->nextReached.has_value();
        expectTight(*answer, request);
        if (testing::Test::HasFailure()) FAIL() << kind.name << " by " << size;
      }
    }
  }
  EXPECT_GT(answered, 2000);
  EXPECT_GT(tight, answered / 2);
}

// "I have 300 pixels": at 5/8 in 301 fit round 60 in, made even 300; at 9/16 in 334.
TEST(Fit, SolvesThePitchOfARing) {
  const FitRequest request{usualProp("ring"), Measure::Pixels, 300, "", base::UnitSystem::FeetInches};
  const auto answer = fit(request);
  ASSERT_TRUE(answer.has_value());
  EXPECT_EQ(answer->size, "pitch");
  EXPECT_EQ(answer->value * 8, 5 * base::kNanometresPerInch);
  EXPECT_EQ(answer->reached, 300);
  EXPECT_EQ(answer->nextReached, 334);
  expectTight(*answer, request);
}

// "Fit this span": the widest half circle between two posts 9 ft apart.
TEST(Fit, SolvesTheRadiusForASpan) {
  const FitRequest request{usualProp("arch"), Measure::Width, base::feet(9).count, "radius",
                           base::UnitSystem::FeetInches};
  const auto answer = fit(request);
  ASSERT_TRUE(answer.has_value());
  EXPECT_EQ(answer->value, base::inches(54).count);
}

// Every kind can be made to fit between two posts and under a height; what is deep, or made of strip, into
// that too. Nothing over the limit, and the next step would be, or is refused in words.
TEST(Fit, AnyKindFitsASpan) {
  std::map<Measure, std::string> without;
  for (const Kind& kind : kinds()) {
    const yard::Prop usual = usualProp(kind.name);
    const Shape shape = made(usual);
    for (const Measure measure : {Measure::Width, Measure::Height, Measure::Depth, Measure::Strip}) {
      const std::int64_t now = measured(shape, measure);
      if (now == 0 || fittingSizes(usual, measure).empty()) {
        without[measure] += kind.name + " ";
        continue;
      }
      for (const std::int64_t percent : {70, 160, 333}) {
        const FitRequest request{usual, measure, now / 100 * percent, "", base::UnitSystem::Metric};
        const auto answer = fit(request);
        ASSERT_TRUE(answer.has_value()) << kind.name << ' ' << base::text(answer.error());
        EXPECT_GT(answer->reached, 0) << kind.name;
        expectTight(*answer, request);
      }
    }
  }
  // An upright line and a single flood have no width, what hangs from a level line does not rise, and only
  // what is solid has depth; strip is what its cut list says.
  EXPECT_EQ(without[Measure::Width], "straight_strip flood ");
  EXPECT_EQ(without[Measure::Height], "eave_line drop_line ");
  EXPECT_EQ(without[Measure::Depth].find("cone_tree"), std::string::npos);
  EXPECT_EQ(without[Measure::Depth].find("hoop_tunnel"), std::string::npos);
  EXPECT_EQ(without[Measure::Depth].find("sphere"), std::string::npos);
  EXPECT_EQ(without[Measure::Strip],
            "arch ring disc_grid concentric_rings snowflake spinner mesh_panel net hooked_cane trunk_wrap "
            "hung_line drop_line hoop_tunnel sphere flood own ");
}

// A triangle drawn 3 ft wide into 5 ft: 166 % of it is 4.98 ft; 167 % would be 5.01 ft.
TEST(Fit, EnlargesWhatIsDrawn) {
  const FitRequest request{usualProp("own"), Measure::Width, base::feet(5).count, kWholeSize,
                           base::UnitSystem::FeetInches};
  const auto answer = fit(request);
  ASSERT_TRUE(answer.has_value());
  EXPECT_EQ(answer->value, 1'660'000);
  EXPECT_EQ(answer->nextValue, 1'670'000);
  EXPECT_EQ(answer->reached, base::feet(3).count / 100 * 166);
  EXPECT_EQ(answer->nextReached, base::feet(3).count / 100 * 167);
  EXPECT_EQ(answer->prop.lines[0].points[1].x.count, base::feet(3).count / 100 * 166);
  EXPECT_TRUE(base::text(answerOf(*answer, Measure::Width)).starts_with("The whole of it at 166 %: "));
  EXPECT_EQ(base::text(nextStepOf(*answer, Measure::Width)), "One step more, 167 %, would take 5′ 0 1/8″.");
}

// A 5 ft disc with its grid into 42 in: 70 % of both, to the sixteenth; 71 % would be 42.6 in.
TEST(Fit, EnlargesAllLengthsTogether) {
  const FitRequest request{usualProp("disc_grid"), Measure::Width, base::inches(42).count, "",
                           base::UnitSystem::FeetInches};
  const auto answer = fit(request);
  ASSERT_TRUE(answer.has_value());
  EXPECT_EQ(answer->size, kWholeSize);
  EXPECT_EQ(answer->value, 700'000);
  EXPECT_EQ(answer->prop.sizes.at("ring_diameter"), base::inches(42).count);
  EXPECT_EQ(answer->prop.sizes.at("grid_radius") * 8, 151 * base::kNanometresPerInch);  // 18.9 in: 18 14/16
  EXPECT_EQ(answer->prop.sizes.at("pitch"), request.prop.sizes.at("pitch"));
  EXPECT_EQ(answer->nextReached, 42 * base::kNanometresPerInch + 5 * base::kNanometresPerInch / 8);
  EXPECT_EQ(answer->reached, measured(made(answer->prop), Measure::Width));
}

// Strips of 8 ft on the usual cone: sqrt(H^2 + (36 in - 4 in)^2) = 96 in where H = 90.51 in.
TEST(Fit, FindsTheHeightForStripsOneOwns) {
  const FitRequest request{usualProp("cone_tree"), Measure::Strip, base::feet(8).count, "height",
                           base::UnitSystem::FeetInches};
  const auto answer = fit(request);
  ASSERT_TRUE(answer.has_value());
  EXPECT_EQ(answer->value * 2, 181 * base::kNanometresPerInch);
  EXPECT_LE(answer->reached, base::feet(8).count);
  EXPECT_GT(answer->nextReached, base::feet(8).count);
}

TEST(Fit, StepsByTheHolesOfTheMesh) {
  const FitRequest request{usualProp("mesh_panel"), Measure::Pixels, 1000, "pitch",
                           base::UnitSystem::FeetInches};
  const auto answer = fit(request);
  ASSERT_TRUE(answer.has_value());
  EXPECT_EQ(answer->value * 2, 5 * base::kNanometresPerInch);  // 19 x 38 = 722; 2 in would need 1,152
  EXPECT_EQ(answer->reached, 722);
  EXPECT_EQ(answer->nextReached, 1152);
}

// Sixteen strips of 50 pixels each on the usual cone of 147.5 in slant: floor(147.5 / 2 15/16) = 50.
TEST(Fit, MatchesTheStripsThatOneOwns) {
  const auto answer = matchStrips(usualProp("cone_tree"), 16, 50);
  ASSERT_TRUE(answer.has_value());
  EXPECT_EQ(answer->value * 16, 47 * base::kNanometresPerInch);
  EXPECT_EQ(answer->reached, 800);
}

TEST(Fit, RefusesInWords) {
  const auto words = [](const FitRequest& request) {
    const auto answer = fit(request);
    return answer ? std::string("fits") : answer.error().message.key + " at " + answer.error().where;
  };
  EXPECT_EQ(words({usualProp("ring"), Measure::Pixels, 0, "", {}}), "fit_nothing_to_fit at limit");
  EXPECT_EQ(words({usualProp("ring"), Measure::Pixels, 9, "pitches", {}}), "shape_unknown_size at pitches");
  EXPECT_EQ(words({usualProp("ring"), Measure::Pixels, 9, "stake", {}}), "fit_does_not_follow at stake");
  EXPECT_EQ(words({usualProp("cone_tree"), Measure::Pixels, 9, "", {}}), "fit_too_few_pixels at pitch");
  EXPECT_EQ(words({usualProp("ring"), Measure::Width, 100, "diameter", {}}), "fit_too_short at diameter");
  EXPECT_EQ(words({propOf("cone_tree", {{"top_diameter", 90}}), Measure::Pixels, 3000, "", {}}),
            "shape_top_over_base at top_diameter");
  EXPECT_EQ(matchStrips(usualProp("ring"), 3, 5).error().message.key, "shape_unknown_size");
}

TEST(Fit, KnowsTheRoomOnAPort) {
  yard::Yard yard;
  yard::Controller controller;
  controller.pixelsPerPort = 500;
  yard::Port port;
  port.owner = yard::Id{1};
  yard::Run run;
  run.port = yard::Id{2};
  run.items.resize(3);
  run.items[0].prop = yard::Id{4};
  run.items[1].kind = yard::RunItemKind::NullPixel;
  run.items[2].prop = yard::Id{4};
  run.items[2].first = 1;
  run.items[2].last = 20;
  const auto put = [&](std::int64_t id, yard::Record record) {
    yard.records[yard::Id{id}] = std::make_shared<const yard::Record>(std::move(record));
  };
  put(1, controller);
  put(2, port);
  put(3, run);
  put(4, usualProp("ring"));
  EXPECT_EQ(roomOnPort(yard, yard::Id{2}), 500 - 74 - 1 - 20);
  EXPECT_EQ(roomOnPort(yard, yard::Id{3}).error().message.key, "fit_no_such_port");
}

}  // namespace
}  // namespace yw::shapes
