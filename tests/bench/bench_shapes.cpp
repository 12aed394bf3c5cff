// About 100,000 pixels of props made from their sizes, against writing as many points to memory.
#include <fmt/format.h>

#include <chrono>
#include <limits>
#include <vector>

#include "core/shapes/shape.h"

namespace {

using namespace yw;

constexpr int kRuns = 15;
constexpr std::size_t kPixels = 100'000;

template <class F>
double bestSeconds(F&& run) {
  double best = std::numeric_limits<double>::infinity();
  for (int i = 0; i < kRuns; ++i) {
    const auto from = std::chrono::steady_clock::now();
    run();
    best = std::min(best, std::chrono::duration<double>(std::chrono::steady_clock::now() - from).count());
  }
  return best;
}

/// All kinds over and over until there are enough pixels.
std::size_t makeAll(const std::vector<yard::Prop>& props) {
  std::size_t made = 0;
  while (made < kPixels)
    for (const yard::Prop& prop : props)
      if (const auto shape = shapes::make(prop)) made += shape->pixels.size();
  return made;
}

}  // namespace

int main() {
  std::vector<yard::Prop> props;
  for (const shapes::Kind& kind : shapes::kinds()) props.push_back(shapes::usualProp(kind.name));
  std::size_t pixels = 0;
  const double ours = bestSeconds([&] { pixels = makeAll(props); });
  std::vector<base::Vec3> points(pixels);
  volatile double seen = 0;
  const double peer = bestSeconds([&] {
    double x = seen;
    for (base::Vec3& p : points) p = {x += 1.0, x * 0.5, x * 0.25};
    seen = points[pixels / 2].y;
  });
  fmt::print("shapes of {} pixels, ms\t{:.3f}\t{:.3f}\t{:.1f}\n", pixels, ours * 1e3, peer * 1e3,
             ours / peer);
  return 0;
}
