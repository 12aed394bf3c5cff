#include <cmath>

#include "core/shapes/builder.h"
#include "core/shapes/kinds/kinds.h"
#include "core/shapes/sizes.h"

namespace yw::shapes {
namespace {

constexpr std::int64_t kArms = 6;
constexpr double kBranchTurn = kPi / 3;   // branches leave at 60°, as in ice
constexpr double kCarrier = 0.5 * kInch;  // bullets on a three-wire cord (our judgement)
constexpr double kHalfDepth = 0.15 * 0.3048;

/// A place on the structure: how far out its arm, then how far along a branch that leaves there.
struct Spot {
  double out = 0;
  double along = 0;
  std::int64_t pair = -1;  ///< -1: on the arm itself
  int side = 0;            ///< 1 right, -1 left, looking outward
};

struct Stretch {
  std::string name;
  std::vector<Spot> spots;
};

struct Flake {
  std::int64_t main, pairs, firstBranch, growth;
  double pitch, hub, centre, reach;

  std::int64_t branchPixels(std::int64_t pair) const { return firstBranch + pair * growth; }
  std::int64_t armPixels() const {
    std::int64_t n = main;
    for (std::int64_t j = 0; j < pairs; ++j) n += 2 * branchPixels(j);
    return n;
  }
  double armLength() const { return hub + static_cast<double>(main - 1) * pitch; }
  double node(std::int64_t pair) const {
    return hub + (armLength() - hub) * static_cast<double>(pair + 1) / static_cast<double>(pairs + 1);
  }
  /// Arm 0 points up; the next ones follow clockwise seen from the front.
  Vec3 at(std::int64_t arm, const Spot& s) const {
    const double turn = 2 * kPi / kArms * static_cast<double>(arm), branch = turn + s.side * kBranchTurn;
    return {s.out * std::sin(turn) + s.along * std::sin(branch), 0,
            centre + s.out * std::cos(turn) + s.along * std::cos(branch)};
  }
};

/// Wire along the structure: into a branch and back it is doubled, without pixels.
double wireBetween(const Spot& a, const Spot& b, bool sameArm) {
  if (!sameArm) return a.along + a.out + b.out + b.along;
  if (a.pair == b.pair && a.side == b.side) return std::abs(a.along - b.along) + std::abs(a.out - b.out);
  return a.along + std::abs(a.out - b.out) + b.along;
}

void appendPair(std::vector<Stretch>& arm, const Flake& flake, std::int64_t pair) {
  for (const int side : {1, -1}) {
    Stretch branch{"branch " + std::to_string(pair + 1) + (side > 0 ? " right" : " left"), {}};
    for (std::int64_t k = 1; k <= flake.branchPixels(pair); ++k)
      branch.spots.push_back({flake.node(pair), static_cast<double>(k) * flake.pitch, pair, side});
    arm.push_back(std::move(branch));
  }
}

/// One arm in string order: branches on the way out, or out to the tip first and branches on the way back.
std::vector<Stretch> armStretches(const Flake& flake, bool onWayOut) {
  std::vector<Stretch> arm;
  std::int64_t k = 0;
  const auto stem = [&](double until, const std::string& name) {
    Stretch s{name, {}};
    for (; k < flake.main && flake.hub + static_cast<double>(k) * flake.pitch <= until + 1e-9; ++k)
      s.spots.push_back({flake.hub + static_cast<double>(k) * flake.pitch, 0, -1, 0});
    if (!s.spots.empty()) arm.push_back(std::move(s));
  };
  for (std::int64_t j = 0; onWayOut && j < flake.pairs; ++j) {
    stem(flake.node(j), "stem to branch " + std::to_string(j + 1));
    appendPair(arm, flake, j);
  }
  stem(flake.armLength(), "stem to the tip");
  for (std::int64_t j = flake.pairs - 1; !onWayOut && j >= 0; --j) appendPair(arm, flake, j);
  return arm;
}

Flake flakeOf(const Sizes& size) {
  Flake flake{size.count("main_pixels"),
              size.count("branch_pairs"),
              size.count("branch_pixels"),
              size.count("branch_growth"),
              size.metres("pitch"),
              size.metres("hub"),
              0,
              0};
  double reach = flake.armLength();
  for (std::int64_t j = 0; j < flake.pairs; ++j) {
    const double b = static_cast<double>(flake.branchPixels(j)) * flake.pitch;
    reach = std::max(reach, std::hypot(flake.node(j) + b * std::cos(kBranchTurn), b * std::sin(kBranchTurn)));
  }
  flake.reach = reach;
  flake.centre = size.metres("stake") + reach;
  return flake;
}

/// Neighbors' branches meet where a branch is as long as its place is far out (60° arms and branches).
void warnOfCrossing(ShapeBuilder& build, const Flake& flake) {
  for (std::int64_t j = 0; j < flake.pairs; ++j) {
    const double length = static_cast<double>(flake.branchPixels(j)) * flake.pitch;
    if (length >= flake.node(j))
      build.warn("shape_branches_cross", {{"branch", j + 1},
                                          {"length", base::toLength({length})},
                                          {"most", base::toLength({flake.node(j)})}});
  }
}

void describe(ShapeBuilder& build, const Flake& flake) {
  double structure = flake.armLength() * kArms;
  for (std::int64_t arm = 0; arm < kArms; ++arm) {
    build.frameLine({flake.at(arm, {}), flake.at(arm, {flake.armLength(), 0, -1, 0})});
    for (std::int64_t j = 0; j < flake.pairs; ++j) {
      const double b = static_cast<double>(flake.branchPixels(j)) * flake.pitch;
      structure += 2 * b;
      build.frameLine({flake.at(arm, {flake.node(j), b, j, 1}), flake.at(arm, {flake.node(j), 0, j, 1}),
                       flake.at(arm, {flake.node(j), b, j, -1})});
    }
  }
  build.windArea(structure * kCarrier, kPi * flake.reach * flake.reach);
  build.cut("rod", flake.armLength(), kArms, "arm");
  for (std::int64_t j = 0; j < flake.pairs; ++j)
    build.cut("rod", static_cast<double>(flake.branchPixels(j)) * flake.pitch, 2 * kArms,
              "branch " + std::to_string(j + 1));
  double aside = 0;  // how far the branches of one arm reach to a side
  for (std::int64_t j = 0; j < flake.pairs; ++j)
    aside = std::max(aside, static_cast<double>(flake.branchPixels(j)) * flake.pitch * std::sin(kBranchTurn));
  build.keep("arm with its branches", kArms, flake.reach, std::max(2 * aside, kCarrier), kCarrier, {"rod"});
  build.fasten("cable tie", kArms * flake.armPixels());  // one a pixel (common practice)
  build.lengthFact("true pitch", flake.pitch);
  build.fact("pixels on an arm", flake.armPixels());
  build.lengthFact("center height", flake.centre);
}

/// On a stake it faces one way; hung, it turns in the wind unless its foot is tethered.
void addMount(ShapeBuilder& build, const Flake& flake, const Sizes& size) {
  const double stake = size.metres("stake");
  if (size.chosen("mount", "hung")) {
    build.swept({flake.reach, flake.centre, true});
    build.footprintSector(std::hypot(flake.reach, facesOf(size) == 2 ? kFaceDepth : 0.0), 2 * kPi);
    build.cut("wire rope", flake.reach, 2, "hanger and lower tether");
    return;
  }
  build.footprintBox(-flake.reach, -kHalfDepth, flake.reach, kHalfDepth);
  if (stake > 0) build.frameLine({{0, 0, 0}, {0, 0, stake}});
  build.cut("stake bar", flake.centre + kInGround, 1, "stake up to the middle");
}

base::Result<Shape> makeSnowflake(const yard::Prop& prop) {
  const Sizes size(prop);
  const Flake flake = flakeOf(size);
  if (flake.pairs > 0 && flake.branchPixels(flake.pairs - 1) < 1)
    return tl::unexpected(
        sizeError("branch_growth", "shape_branch_vanishes",
                  {{"branch", flake.pairs}, {"pixels", flake.branchPixels(flake.pairs - 1)}}));
  const std::int64_t total = kArms * flake.armPixels() * facesOf(size);
  if (total > kMostPixels)
    return tl::unexpected(
        sizeError("main_pixels", "shape_too_many_pixels_counted", {{"count", total}, {"most", kMostPixels}}));

  ShapeBuilder build(total);
  const std::vector<Stretch> stretches = armStretches(flake, size.chosen("order", "way_out"));
  Spot last;
  for (std::int64_t arm = 0; arm < kArms; ++arm) {
    const std::string name = "arm " + std::to_string(arm + 1);
    const std::int64_t first = build.count() + 1;
    for (std::size_t s = 0; s < stretches.size(); ++s) {
      build.startRow(name + ", " + stretches[s].name);
      for (const Spot& spot : stretches[s].spots) {
        build.addByWire(flake.at(arm, spot), wireBetween(last, spot, build.count() >= first));
        last = spot;
      }
      build.endRow("end of " + name + ", " + stretches[s].name);
    }
    build.part(name, first, build.count());
  }
  describe(build, flake);
  addMount(build, flake, size);
  warnOfCrossing(build, flake);
  const bool two = size.chosen("faces", "two");
  if (two) build.backFace(kFaceDepth);
  return build.finish("middle, arm 1", two ? kBackEnd : "arm 6, " + stretches.back().name);
}

}  // namespace

Kind snowflakeKind() {
  Kind kind;
  kind.name = "snowflake";
  kind.label = "Snowflake";
  kind.help = "Six arms with pairs of branches, one arm at a time";
  kind.alongPath = kind.onWall = false;
  kind.sizes = {
      countSize("main_pixels", "Pixels on a stem", 10, 1, 2000, "From the middle to the tip of one arm"),
      countSize("branch_pairs", "Pairs of branches", 2, 0, 50, "On each arm, evenly along it"),
      onlyOver(countSize("branch_pixels", "Pixels on an inner branch", 3, 1, 1000,
                         "On each branch of the pair nearest to the middle"),
               "branch_pairs", 0),
      onlyOver(countSize("branch_growth", "More on each next pair", 1, -100, 100,
                         "Less than 0: branches get shorter outward"),
               "branch_pairs", 1),
      pitchSize(base::inches(2)),
      lengthSize("hub", "Middle to first pixel", halfInches(5), "From the middle of the flake"),
      lengthSize("stake", "Clear under it", base::inches(24),
                 "From the ground to the circle that the arms reach", {0}),
  };
  kind.choices = {
      {"order",
       "String order in an arm",
       {{"way_back", "Out to the tip, branches on the way back"}, {"way_out", "Branches on the way out"}},
       {"branch_pairs", {}, 0}},
      {"mount", "Mount", {{"stake", "On a stake or pole"}, {"hung", "Hung, with a lower tether"}}},
      facesChoice()};
  kind.make = makeSnowflake;
  return kind;
}

}  // namespace yw::shapes
