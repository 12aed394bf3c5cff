// What holds for every kind of prop, at its usual sizes and at thousands of random ones.
#include <chrono>
#include <functional>
#include <set>
#include <tuple>

#include "tests/core/shapes/random_props.h"
#include "tests/core/shapes/shape_checks.h"

namespace yw::shapes {
namespace {

constexpr double kHair = 1e-9;

bool finite(Vec3 p) { return std::isfinite(p.x) && std::isfinite(p.y) && std::isfinite(p.z); }

std::int64_t count(const Shape& shape) { return static_cast<std::int64_t>(shape.pixels.size()); }

void expectRowsCoverAllOnce(const Shape& shape) {
  std::int64_t next = 1;
  for (const Row& row : shape.rows) {
    EXPECT_EQ(row.first, next) << row.name;
    EXPECT_GE(row.last, row.first) << row.name;
    EXPECT_FALSE(row.name.empty());
    next = row.last + 1;
  }
  EXPECT_EQ(next, count(shape) + 1);
}

void expectJointAtTheEndOfEachRow(const Shape& shape) {
  ASSERT_EQ(shape.joints.size(), shape.rows.size());
  for (std::size_t k = 0; k < shape.rows.size(); ++k) {
    EXPECT_EQ(shape.joints[k].afterPixel, shape.rows[k].last);
    EXPECT_FALSE(shape.joints[k].landmark.empty());
  }
}

void expectHopsAtLeastStraight(const Shape& shape) {
  ASSERT_EQ(shape.hop.size() + 1, shape.pixels.size());
  for (std::size_t k = 0; k < shape.hop.size(); ++k) {
    ASSERT_TRUE(finite(shape.pixels[k + 1]) && std::isfinite(shape.hop[k])) << k;
    ASSERT_GE(shape.hop[k], base::distance(shape.pixels[k], shape.pixels[k + 1]) - kHair) << k;
  }
}

/// `left half` and `right half`, `arm 3` and `arm 7`, `ring` and `grid` share no pixel.
std::string groupOf(const std::string& part) {
  if (part.ends_with(" half"))
    return part == "left half" || part == "right half" ? "sideways" : "up and down";
  if (part == "front" || part == "back") return "faces";
  if (part.starts_with("drops of ")) return "drops";
  return part.substr(0, part.find_first_of("0123456789"));
}

void expectPartsAreSound(const Shape& shape) {
  std::map<std::string, std::vector<char>> taken;
  std::set<std::string> names;
  const bool many = shape.pixels.size() > 20'000;  // keep the test quick
  for (const NamedRanges& part : shape.parts) {
    EXPECT_TRUE(names.insert(part.name).second) << part.name << " twice";
    EXPECT_FALSE(part.ranges.empty()) << part.name;
    std::int64_t before = 0;
    for (const yard::Range& r : part.ranges) {
      EXPECT_GT(r.first, before) << part.name;
      EXPECT_GE(r.last, r.first) << part.name;
      before = r.last;
    }
    ASSERT_LE(before, count(shape)) << part.name;
    if (many) continue;
    std::vector<char>& mine = taken[groupOf(part.name)];
    mine.resize(shape.pixels.size());
    for (const yard::Range& r : part.ranges)
      for (std::int64_t k = r.first; k <= r.last; ++k)
        ASSERT_EQ(mine[static_cast<std::size_t>(k - 1)]++, 0) << part.name << " at pixel " << k;
  }
}

void expectOutsideIsTrue(const Shape& shape, bool onWall) {
  double top = -1e9, left = 1e9, right = -1e9;
  Vec2 low{1e9, 1e9}, high{-1e9, -1e9};
  for (const Vec2& p : shape.footprint) {
    low = {std::min(low.x, p.x), std::min(low.y, p.y)};
    high = {std::max(high.x, p.x), std::max(high.y, p.y)};
  }
  ASSERT_GE(shape.footprint.size(), 3U);
  // A round footprint has 48 sides, which cut 1 - cos(3.75 deg) of its radius off.
  const double spare = kHair + 0.0022 * base::distance(low, high);
  for (const Vec3& p : shape.pixels) {
    top = std::max(top, p.z);
    left = std::min(left, p.x);
    right = std::max(right, p.x);
    ASSERT_TRUE(p.x >= low.x - spare && p.x <= high.x + spare && p.y >= low.y - spare &&
                p.y <= high.y + spare)
        << "a pixel at " << p.x << ", " << p.y << " is outside the footprint";
    ASSERT_TRUE(onWall || p.z >= -kHair) << "a pixel is under the ground";
  }
  EXPECT_GE(base::metres(shape.height).si, top - 2e-9);
  EXPECT_GE(base::metres(shape.width).si, right - left - 2e-9);
  EXPECT_TRUE(std::isfinite(shape.windArea) && shape.windArea > 0) << shape.windArea;
  ASSERT_FALSE(shape.frame.empty());
  for (const auto& line : shape.frame) {
    EXPECT_GE(line.size(), 2U);
    for (const Vec3& p : line) ASSERT_TRUE(finite(p));
  }
}

void expectDescribed(const Shape& shape) {
  EXPECT_EQ(shape.facts.count("true pitch"), 1U);
  ASSERT_FALSE(shape.materials.empty());
  for (const MaterialLine& line : shape.materials) {
    EXPECT_GE(line.length.count, 0) << line.what;
    EXPECT_GE(line.pieces, 1) << line.what;
  }
  EXPECT_TRUE(std::isfinite(shape.weight) && shape.weight >= 0);
  EXPECT_GE(shape.windGross, shape.windArea);
  EXPECT_TRUE(solidity(shape) > 0 && solidity(shape) <= 1) << solidity(shape);
  for (const Cut& cut : shape.cuts) {
    EXPECT_GE(cut.length.count, 0) << cut.stock;
    EXPECT_GE(cut.pieces, 1) << cut.stock;
  }
  for (const Fastener& fastener : shape.fasteners) EXPECT_GE(fastener.count, 1) << fastener.what;
  EXPECT_EQ(shape.in.at, shape.pixels.front());
  EXPECT_EQ(shape.out.at, shape.pixels.back());
  EXPECT_FALSE(shape.in.landmark.empty());
  EXPECT_FALSE(shape.out.landmark.empty());
  for (const base::Message& warning : shape.warnings) {
    EXPECT_TRUE(base::hasWording(warning.key)) << warning.key;
    EXPECT_EQ(base::text(warning).find('{'), std::string::npos) << base::text(warning);
  }
}

void expectSound(const Shape& shape, bool onWall) {
  ASSERT_FALSE(shape.pixels.empty());
  EXPECT_LE(count(shape), kMostPixels);
  expectRowsCoverAllOnce(shape);
  expectJointAtTheEndOfEachRow(shape);
  expectHopsAtLeastStraight(shape);
  expectPartsAreSound(shape);
  expectOutsideIsTrue(shape, onWall);
  expectDescribed(shape);
}

/// Words for a person, at a field that the kind has.
void expectRefusedInWords(const base::Error& error, const Kind& kind) {
  const auto isField = [&](const SizeInfo& size) { return size.name == error.where; };
  EXPECT_TRUE(error.where == "path" || error.where == "lines" ||
              std::any_of(kind.sizes.begin(), kind.sizes.end(), isField))
      << error.where;
  EXPECT_TRUE(base::hasWording(error.message.key)) << error.message.key;
  EXPECT_EQ(base::text(error.message).find_first_of("{}[]"), std::string::npos) << base::text(error.message);
}

std::string describe(const yard::Prop& prop) {
  std::string text = prop.kind;
  for (const auto& [name, value] : prop.sizes) text += ", " + name + " " + std::to_string(value);
  for (const auto& [name, option] : prop.choices) text += ", " + name + " " + option;
  for (const Point& p : prop.path) text += ", " + std::to_string(p.x.count) + "/" + std::to_string(p.y.count);
  return text;
}

TEST(EveryKind, IsSoundAtItsUsualSizesAndWarnsOfNothing) {
  EXPECT_EQ(kinds().size(), 27U);
  for (const Kind& kind : kinds()) {
    SCOPED_TRACE(kind.name);
    const Shape shape = made(usualProp(kind.name));
    expectSound(shape, kind.onWall);
    for (const base::Message& warning : shape.warnings) ADD_FAILURE() << base::text(warning);
  }
}

TEST(EveryKind, IsSoundAtRandomSizesOrRefusesInWords) {
  for (const Kind& kind : kinds()) {
    Dice dice(2024);
    int sound = 0;
    for (int i = 0; i < 300; ++i) {
      const yard::Prop prop = randomProp(kind, dice);
      SCOPED_TRACE(describe(prop));
      const auto shape = make(prop);
      if (shape) expectSound(*shape, kind.onWall);
      if (!shape) expectRefusedInWords(shape.error(), kind);
      sound += shape.has_value();
      if (HasFailure()) return;
    }
    EXPECT_GT(sound, 100) << kind.name << ": the test must not pass by being refused";
  }
}

// What a mount allows is a multiple of its holes; nothing stands closer than its holes or than asked for less
// half a hole; a closed loop spreads what is left over.
TEST(EveryKind, NeverSetsPixelsCloserThanTheMountAllows) {
  for (const Kind& kind : kinds()) {
    Dice dice(404);
    for (int i = 0; i < 300; ++i) {
      const yard::Prop prop = randomProp(kind, dice);
      const auto shape = make(prop);
      if (!shape || !prop.sizes.count("pitch")) continue;
      const Length asked{prop.sizes.at("pitch")}, hole = holeSpacing(prop);
      EXPECT_EQ(shape->askedPitch, asked);
      ASSERT_GE(shape->truePitch.count, hole.count) << kind.name;
      ASSERT_GE(shape->truePitch.count + 1, onHoles(asked, hole).count) << kind.name;
      if (!hole) continue;
      ASSERT_EQ(onHoles(asked, hole).count % hole.count, 0);
      if (asked < hole) continue;
      ASSERT_LE(std::abs(onHoles(asked, hole).count - asked.count), hole.count / 2 + 1);
    }
  }
}

TEST(EveryKind, IsSoundOrRefusesAtTheEndsOfWhatIsAllowed) {
  for (const Kind& kind : kinds()) {
    Dice dice(7);
    for (int i = 0; i < 150; ++i) {
      const yard::Prop prop = wildProp(kind, dice);
      SCOPED_TRACE(describe(prop));
      const auto shape = make(prop);
      if (shape) expectSound(*shape, kind.onWall);
      if (!shape) expectRefusedInWords(shape.error(), kind);
      if (HasFailure()) return;
    }
  }
}

TEST(EveryKind, GivesTheSameShapeEachTime) {
  for (const Kind& kind : kinds()) {
    Dice dice(11);
    for (int i = 0; i < 20; ++i) {
      const yard::Prop prop = randomProp(kind, dice);
      const auto once = make(prop), again = make(prop);
      ASSERT_EQ(once.has_value(), again.has_value());
      if (!once) continue;
      EXPECT_EQ(once->pixels, again->pixels);
      EXPECT_EQ(once->hop, again->hop);
      EXPECT_EQ(once->windArea, again->windArea);
    }
  }
}

TEST(EveryKind, FillsMissingSizesAndChoicesWithItsUsualOnes) {
  for (const Kind& kind : kinds()) {
    yard::Prop bare;
    bare.kind = kind.name;
    bare.path = kind.usualPath;
    bare.lines = kind.usualLines;
    EXPECT_EQ(made(bare).pixels, made(usualProp(kind.name)).pixels) << kind.name;
  }
}

TEST(EveryKind, DeclaresItsFormInWords) {
  for (const Kind& kind : kinds()) {
    SCOPED_TRACE(kind.name);
    EXPECT_FALSE(kind.label.empty() || kind.help.empty());
    EXPECT_EQ(findKind(kind.name), &kind);
    EXPECT_EQ(kind.alongPath, !kind.usualPath.empty());
    std::set<std::string> names;
    for (const SizeInfo& size : kind.sizes) {
      EXPECT_TRUE(names.insert(size.name).second) << size.name;
      EXPECT_FALSE(size.label.empty()) << size.name;
      EXPECT_TRUE(size.least <= size.usual && size.usual <= size.most) << size.name;
    }
    for (const ChoiceInfo& choice : kind.choices) {
      EXPECT_TRUE(names.insert(choice.name).second) << choice.name;
      EXPECT_GE(choice.options.size(), 2U) << choice.name;
    }
  }
}

/// All that a size may change.
bool alike(const base::Result<Shape>& a, const base::Result<Shape>& b) {
  if (!a || !b) return a.has_value() == b.has_value() && a.error() == b.error();
  const auto cuts = [](const Shape& shape) {
    std::vector<std::tuple<std::string, std::int64_t, std::int64_t>> all;
    for (const Cut& cut : shape.cuts) all.emplace_back(cut.stock, cut.length.count, cut.pieces);
    return all;
  };
  return a->pixels == b->pixels && a->hop == b->hop && a->facts == b->facts && a->frame == b->frame &&
         cuts(*a) == cuts(*b) && a->windArea == b->windArea && a->warnings == b->warnings &&
         a->in.landmark == b->in.landmark && a->swept.radius == b->swept.radius &&
         a->swept.level == b->swept.level && a->askedPitch == b->askedPitch;
}

/// Whether what `set` changes makes a difference to any of many random props where it counts, or does not
/// count, by its needs; true too where it counts in none of them.
template <class Change>
bool everDiffers(const Kind& kind, const Needs& needs, bool counting, const Change& set,
                 const std::function<void(yard::Prop&)>& given) {
  Dice dice(5);
  bool any = false;
  for (int i = 0; i < 150; ++i) {
    yard::Prop prop = randomProp(kind, dice);
    given(prop);
    if (counts(needs, kind, prop) != counting) continue;
    any = true;
    const auto before = make(prop);
    if (!before) continue;
    yard::Prop other = prop;
    set(other, dice);
    if (!alike(before, make(other))) return true;
  }
  return counting && !any;  // with these given it never counts: nothing to show
}

// What a form shows makes a difference; what it leaves out makes none.
TEST(EveryKind, AsksForWhatCountsAndNothingElse) {
  for (const Kind& kind : kinds()) {
    std::vector<std::pair<std::string, std::function<void(yard::Prop&)>>> givens = {
        {"anything", [](yard::Prop&) {}}};
    for (const ChoiceInfo& choice : kind.choices)
      for (const yard::ChoiceWord& option : choice.options)
        givens.emplace_back(choice.name + "=" + option.name,
                            [name = choice.name, to = option.name](yard::Prop& p) { p.choices[name] = to; });
    for (const SizeInfo& size : kind.sizes)
      for (std::int64_t few = size.least; size.type == SizeType::Count && few <= 1; ++few)
        givens.emplace_back(size.name + "=" + std::to_string(few),
                            [name = size.name, few](yard::Prop& p) { p.sizes[name] = few; });
    const auto expectShown = [&](const std::string& name, const Needs& needs, const auto& set) {
      if (!needs.name.empty()) {
        EXPECT_FALSE(everDiffers(kind, needs, false, set, givens[0].second))
            << kind.name << ": " << name << " makes a difference where it is not asked for";
      }
      for (const auto& [words, given] : givens)
        if (!words.starts_with(name + "=")) {
          EXPECT_TRUE(everDiffers(kind, needs, true, set, given))
              << kind.name << ": " << name << " makes no difference with " << words;
        }
    };
    for (const SizeInfo& size : kind.sizes)
      expectShown(size.name, size.needs, [&](yard::Prop& prop, Dice& dice) {
        prop.sizes[size.name] = randomProp(kind, dice).sizes.at(size.name);
      });
    for (const ChoiceInfo& choice : kind.choices)
      expectShown(choice.name, choice.needs, [&](yard::Prop& prop, Dice& dice) {
        prop.choices[choice.name] = randomProp(kind, dice).choices.at(choice.name);
      });
  }
}

TEST(EveryKind, IsMadeQuickly) {
  using Clock = std::chrono::steady_clock;
  const auto began = Clock::now();
  for (int i = 0; i < 10; ++i)
    for (const Kind& kind : kinds()) made(usualProp(kind.name));
  // 210 props; 5 ms each is what a drag at 60 frames a second leaves many times over, on a slow machine too.
  EXPECT_LT(std::chrono::duration<double>(Clock::now() - began).count(), 210 * 0.005);

  const auto beganBig = Clock::now();
  const Shape big =
      made(propOf("cone_tree", {{"height", 400}, {"pitch", 1}, {"top_diameter", 72}}, {{"strips", 400}}));
  EXPECT_GT(big.pixels.size(), 150'000U);
  EXPECT_LT(std::chrono::duration<double>(Clock::now() - beganBig).count(), 1.0);
}

}  // namespace
}  // namespace yw::shapes
