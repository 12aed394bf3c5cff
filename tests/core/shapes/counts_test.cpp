// Counts at random sizes against the formulas of common practice, worked out here in whole nanometres where
// they are exact and in long double where they are not.
#include "tests/core/shapes/random_props.h"
#include "tests/core/shapes/shape_checks.h"

namespace yw::shapes {
namespace {

constexpr int kTimes = 500;
constexpr long double kPiLong = 3.14159265358979323846264338L;

/// A random prop and what its formula needs; `usable` false where a size lies on the edge between two counts.
struct Sample {
  yard::Prop prop;
  /// The pitch is the one that the mount's holes give.
  std::int64_t of(const std::string& size) const {
    const Length stored{prop.sizes.at(size)};
    return size == "pitch" ? onHoles(stored, holeSpacing(prop)).count : stored.count;
  }
  std::int64_t faces() const { return prop.choices.at("faces") == "two" ? 2 : 1; }
};

/// How many whole pitches fit, and whether the answer is clear of rounding.
struct Fit {
  std::int64_t whole;
  bool clear;
};
Fit fit(long double length, long double pitch) {
  const long double ratio = length / pitch;
  const long double whole = std::floor(ratio);
  return {static_cast<std::int64_t>(whole), ratio - whole > 1e-5L && whole + 1 - ratio > 1e-5L};
}

/// Whole pitches in a stored length; a millionth of a pitch is forgiven, as lengths are stored in whole
/// nanometres.
std::int64_t whole(std::int64_t length, std::int64_t pitch) { return (length + pitch / 1'000'000) / pitch; }

/// Makes random props and holds those that are made against `formula`, which returns -1 where it cannot tell.
template <class Formula>
void holdAgainst(const std::string& kind, Formula formula) {
  Dice dice(99);
  int held = 0;
  for (int i = 0; i < kTimes; ++i) {
    const Sample sample{randomProp(*findKind(kind), dice)};
    const auto shape = make(sample.prop);
    const std::int64_t expected = shape ? formula(sample) : -1;
    if (expected < 0) continue;
    ++held;
    ASSERT_EQ(static_cast<std::int64_t>(shape->pixels.size()), expected) << kind << " " << i;
  }
  EXPECT_GT(held, kTimes / 4) << kind;
}

// floor(length / p) a strip, half a pitch at each end: exact in whole nanometres.
TEST(Counts, OfAPoleAreStripsTimesWholePitches) {
  holdAgainst("strip_pole",
              [](const Sample& s) { return s.of("strips") * whole(s.of("length"), s.of("pitch")); });
}

// floor(W / p) x floor(H / p).
TEST(Counts, OfPanelsAndNetsAreWholePitchesAcrossAndUp) {
  for (const char* kind : {"mesh_panel", "net"})
    holdAgainst(kind, [](const Sample& s) {
      return (s.prop.kind == "net" ? 1 : s.faces()) * whole(s.of("width"), s.of("pitch")) *
             whole(s.of("height"), s.of("pitch"));
    });
}

// Four sides of floor(side / p); a door has three.
TEST(Counts, OfWindowsAndDoorsAddTheirSides) {
  holdAgainst("window_outline", [](const Sample& s) {
    return 2 * whole(s.of("width"), s.of("pitch")) + 2 * whole(s.of("height"), s.of("pitch"));
  });
  holdAgainst("door_outline", [](const Sample& s) {
    return whole(s.of("width"), s.of("pitch")) + 2 * whole(s.of("height"), s.of("pitch"));
  });
}

// N floor(sqrt(H^2 + (Rb - Rt)^2) / p).
TEST(Counts, OfConeTreesAreStripsTimesWhatFitsTheSlant) {
  for (const char* kind : {"cone_tree", "small_cone_tree"})
    holdAgainst(kind, [](const Sample& s) -> std::int64_t {
      const long double height = s.of("height"), lean = (s.of("base_diameter") - s.of("top_diameter")) / 2.0L;
      const Fit each = fit(std::sqrt(height * height + lean * lean), s.of("pitch"));
      return each.clear ? s.of("strips") * each.whole : -1;
    });
}

// floor(pi D / p), then even.
TEST(Counts, OfARingAreWhatFitsRoundItMadeEven) {
  holdAgainst("ring", [](const Sample& s) -> std::int64_t {
    const Fit around = fit(kPiLong * s.of("diameter"), s.of("pitch"));
    if (!around.clear) return -1;
    return s.faces() * (s.prop.choices.at("count") == "even" ? around.whole / 2 * 2 : around.whole);
  });
}

// Sum of floor(2 pi r / p), radii evenly from the outer to the inner.
TEST(Counts, OfRingsInRingsAddUp) {
  holdAgainst("concentric_rings", [](const Sample& s) -> std::int64_t {
    std::int64_t total = 0;
    const std::int64_t rings = s.of("rings");
    for (std::int64_t k = 0; k < rings; ++k) {
      const long double share =
          rings == 1 ? 0 : static_cast<long double>(k) / static_cast<long double>(rings - 1);
      const long double outer = s.of("outer_radius"), inner = s.of("inner_radius");
      const Fit around = fit(2 * kPiLong * (outer + (inner - outer) * share), s.of("pitch"));
      if (!around.clear) return -1;
      total += around.whole;
    }
    return total * s.faces();
  });
}

// Arms x pixels on an arm, and the hub's.
TEST(Counts, OfASpinnerAreArmsTimesTheirPixels) {
  holdAgainst("spinner", [](const Sample& s) {
    return s.faces() * (s.of("arms") * (s.of("arm_pixels") + s.of("bent_pixels")) + s.of("hub_pixels"));
  });
}

// 6 (main + 2 sum of branches).
TEST(Counts, OfASnowflakeAreSixArmsWithTheirBranches) {
  holdAgainst("snowflake", [](const Sample& s) {
    std::int64_t arm = s.of("main_pixels");
    for (std::int64_t j = 0; j < s.of("branch_pairs"); ++j)
      arm += 2 * (s.of("branch_pixels") + j * s.of("branch_growth"));
    return 6 * arm * s.faces();
  });
}

// Stakes x pixels on a stake.
TEST(Counts, OfPathStakesAreStakesTimesTheirPixels) {
  holdAgainst("path_stakes", [](const Sample& s) { return s.of("stakes") * s.of("pixels"); });
}

// Straight strip: floor((L - 2e) / p) + 1 a face.
TEST(Counts, OfAStraightStripFollowItsEnds) {
  holdAgainst("straight_strip", [](const Sample& s) {
    const std::string ends = s.prop.choices.at("ends");
    const std::int64_t pitch = s.of("pitch");
    const std::int64_t ends2 = ends == "half_pitch" ? pitch : ends == "on_ends" ? 0 : 2 * s.of("end_gap");
    const std::int64_t face = whole(s.of("length") - ends2, pitch) + 1;
    return s.prop.choices.at("faces") == "two" ? 2 * face : face;
  });
}

// floor(L / s) - 1 ornaments, two more with ends, floor(pi D / p) pixels on each.
TEST(Counts, OfAHungLineAreItsOrnamentsTimesTheirPixels) {
  holdAgainst("hung_line", [](const Sample& s) -> std::int64_t {
    const std::int64_t hung =
        whole(s.of("span"), s.of("spacing")) + (s.prop.choices.at("ends") == "with" ? 1 : -1);
    const Fit each = fit(kPiLong * s.of("ring_diameter"), s.of("pitch"));
    return each.clear ? hung * each.whole : -1;
  });
}

// Sum of the pattern over floor(L / s) drops.
TEST(Counts, OfADropLineFollowItsPattern) {
  holdAgainst("drop_line", [](const Sample& s) {
    std::vector<std::int64_t> pattern;
    for (int k = 1; k <= 6 && s.of("drop_" + std::to_string(k)) > 0; ++k)
      pattern.push_back(s.of("drop_" + std::to_string(k)));
    std::int64_t total = 0;
    for (std::int64_t d = 0; d < whole(s.of("length"), s.of("spacing")); ++d)
      total += pattern[static_cast<std::size_t>(d) % pattern.size()];
    return total;
  });
}

// hoops x (floor((2 leg + pi r) / p) + 1).
TEST(Counts, OfATunnelAreHoopsTimesWhatFitsOne) {
  holdAgainst("hoop_tunnel", [](const Sample& s) -> std::int64_t {
    const Fit each = fit(2.0L * s.of("leg") + kPiLong * s.of("radius"), s.of("pitch"));
    return each.clear ? s.of("hoops") * (each.whole + 1) : -1;
  });
}

// Sum of floor(2 pi R cos(latitude) / p).
TEST(Counts, OfASphereAddItsLatitudes) {
  holdAgainst("sphere", [](const Sample& s) -> std::int64_t {
    std::int64_t total = 0;
    const std::int64_t rings = s.of("rings");
    for (std::int64_t k = 0; k < rings; ++k) {
      const long double lat =
          kPiLong * ((static_cast<long double>(k) + 0.5L) / static_cast<long double>(rings) - 0.5L);
      const Fit around = fit(kPiLong * s.of("diameter") * std::cos(lat), s.of("pitch"));
      if (!around.clear) return -1;
      total += around.whole;
    }
    return total;
  });
}

// Zig-zag: an even number of strips comes back to the base, an odd one ends at the top.
TEST(ZigZag, BringsTheOutEndBackToTheBaseWithEvenStrips) {
  for (const char* kind : {"strip_pole", "cone_tree", "small_cone_tree"}) {
    Dice dice(5);
    int held = 0;
    for (int i = 0; i < kTimes; ++i) {
      yard::Prop prop = randomProp(*findKind(kind), dice);
      prop.choices["order"] = dice.roll(2) == 0 ? "up_down" : "down_up";
      const auto shape = make(prop);
      if (!shape) continue;
      ++held;
      const bool even = prop.sizes["strips"] % 2 == 0;
      const bool onePixel =
          shape->rows.front().first == shape->rows.front().last;  // its strip has no upper end
      EXPECT_EQ(std::abs(shape->out.at.z - shape->in.at.z) < 1e-9, even || onePixel) << kind << " " << i;
      EXPECT_EQ(shape->out.landmark.starts_with(shape->in.landmark.substr(0, 3)), even)
          << shape->out.landmark;
    }
    EXPECT_GT(held, kTimes / 4) << kind;
  }
}

}  // namespace
}  // namespace yw::shapes
