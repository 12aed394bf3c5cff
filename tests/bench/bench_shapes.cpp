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

/// What `run` gives is let go of after the clock has stopped.
template <class F>
double bestSeconds(F&& run) {
  double best = std::numeric_limits<double>::infinity();
  for (int i = 0; i < kRuns; ++i) {
    const auto from = std::chrono::steady_clock::now();
    [[maybe_unused]] const auto kept = run();
    best = std::min(best, std::chrono::duration<double>(std::chrono::steady_clock::now() - from).count());
  }
  return best;
}

/// All kinds over and over until there are enough pixels.
std::vector<const yard::Prop*> enough(const std::vector<yard::Prop>& props) {
  std::vector<const yard::Prop*> all;
  for (std::size_t pixels = 0; pixels < kPixels;)
    for (const yard::Prop& prop : props) {
      all.push_back(&prop);
      pixels += shapes::make(prop)->pixels.size();
    }
  return all;
}

std::size_t pixelsOf(const std::vector<base::Result<shapes::Shape>>& shapes) {
  std::size_t pixels = 0;
  for (const auto& shape : shapes) pixels += shape->pixels.size();
  return pixels;
}

}  // namespace

int main() {
  std::vector<yard::Prop> props;
  for (const shapes::Kind& kind : shapes::kinds()) props.push_back(shapes::usualProp(kind.name));
  const std::vector<const yard::Prop*> yard = enough(props);
  const std::size_t pixels = pixelsOf(shapes::makeAll(yard));
  const double ours = bestSeconds([&] { return shapes::makeAll(yard); });
  const double alone = bestSeconds([&] {
    std::vector<base::Result<shapes::Shape>> all;
    for (const yard::Prop* prop : yard) all.push_back(shapes::make(*prop));
    return all;
  });
  std::vector<base::Vec3> points(pixels);
  volatile double seen = 0;
  const double peer = bestSeconds([&] {
    double x = seen;
    for (base::Vec3& p : points) p = {x += 1.0, x * 0.5, x * 0.25};
    seen = points[pixels / 2].y;
    return true;
  });
  fmt::print("shapes of {} pixels, as a yard makes them, ms\t{:.3f}\t{:.3f}\t{:.1f}\n", pixels, ours * 1e3,
             peer * 1e3, ours / peer);
  fmt::print("  one after the other, ms\t{:.3f}\t{:.3f}\t{:.1f}\n", alone * 1e3, peer * 1e3, alone / peer);
  return 0;
}
