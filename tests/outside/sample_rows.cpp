// The sample yards as the program sees them: their whole networks against the simulator and the node
// equations.
#include <fmt/format.h>

#include <filesystem>

#include "core/circuit/power.h"
#include "core/file/yard_file.h"
#include "tests/outside/nodal.h"
#include "tests/outside/rows.h"
#include "tests/outside/spice.h"

namespace yw::checks {

namespace {

circuit::Network networkOf(const yard::Yard& yard) {
  routes::Shapes shapes;
  for (const auto& [id, prop] : yard::all<yard::Prop>(yard))
    if (auto shape = shapes::make(*prop))
      shapes.emplace(id, std::make_shared<const shapes::Shape>(std::move(*shape)));
  const routes::Routes routes = routes::route(yard, shapes, routes::Ground(yard));
  return circuit::build(yard, shapes, routes, circuit::layouts(yard, shapes, routes),
                        circuit::Condition::FullWhite)
      .network;
}

void yardRows(const std::filesystem::path& path, Rows& rows) {
  const std::string name = path.stem().string();
  const auto opened = file::open(path);
  if (!opened) {
    rows.push_back({name + ": opens", "the yard file itself", 1.0, 0.0, 0.0});
    return;
  }
  const circuit::Network n = networkOf(opened->yard);
  const auto s = circuit::solve(n);
  const std::string what = fmt::format("{}, {} px, full white", name, n.pixelCount());
  rows.push_back({what + ": one Newton step of the whole node equations moves, V",
                  "Eigen SparseLU of both rails", 0.0, NodalStep(n).change(s), 1e-6});
  if (n.pixelCount() <= 10'000)
    rows.push_back({what + ": largest difference of any pixel, V", "ngspice operating point, reltol 1e-9",
                    0.0, spiceDifference(n, s).value_or(INFINITY), 1e-6});
}

}  // namespace

Rows sampleRows() {
  std::vector<std::filesystem::path> paths;
  for (const auto& entry : std::filesystem::directory_iterator(YARDWRIGHT_ROOT "/sample-yards"))
    if (entry.path().extension() == ".yard") paths.push_back(entry.path());
  std::sort(paths.begin(), paths.end());
  Rows rows;
  for (const auto& path : paths) yardRows(path, rows);
  return rows;
}

}  // namespace yw::checks
