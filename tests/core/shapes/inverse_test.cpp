#include "core/shapes/inverse.h"

#include "tests/core/shapes/random_props.h"
#include "tests/core/shapes/shape_checks.h"

namespace yw::shapes {
namespace {

std::int64_t measured(const Shape& shape, Measure measure) {
  return measure == Measure::Pixels  ? static_cast<std::int64_t>(shape.pixels.size())
         : measure == Measure::Width ? shape.width.count
                                     : shape.height.count;
}

/// The answer keeps the limit; one step further goes over it, is refused, or there is none.
void expectTight(const Fit& answer, const FitRequest& request) {
  const auto shape = make(answer.prop);
  ASSERT_TRUE(shape.has_value());
  EXPECT_EQ(measured(*shape, request.measure), answer.reached);
  ASSERT_LE(answer.reached, request.limit);
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
    for (int i = 0; i < 40; ++i) {
      FitRequest request;
      request.prop = randomProp(kind, dice);
      if (!make(request.prop)) continue;
      request.measure = static_cast<Measure>(dice.roll(3));
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
