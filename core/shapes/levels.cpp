#include "core/shapes/levels.h"

#include <algorithm>
#include <numeric>

#include "core/shapes/sizes.h"

namespace yw::shapes {

base::Result<std::vector<double>> levelRadii(const yard::Prop& prop, const std::string& countField,
                                             const std::string& outerField, const std::string& innerField) {
  const Sizes size(prop);
  const std::int64_t levels = size.count(countField);
  const double outer = size.metres(outerField), inner = size.metres(innerField);
  if (levels > 1 && inner >= outer)
    return tl::unexpected(
        sizeError(innerField, "shape_inner_over_outer",
                  {{"inner", size.length(innerField)}, {"outer", size.length(outerField)}}));
  std::vector<double> radii = {outer};
  for (std::int64_t k = 1; k < levels; ++k)
    radii.push_back(outer + (inner - outer) * static_cast<double>(k) / static_cast<double>(levels - 1));
  return radii;
}

std::vector<std::size_t> levelOrder(std::size_t levels, bool outsideIn) {
  std::vector<std::size_t> order(levels);
  std::iota(order.begin(), order.end(), std::size_t{0});
  if (!outsideIn) std::reverse(order.begin(), order.end());
  return order;
}

ChoiceInfo levelOrderChoice() {
  return {"order",
          "String order",
          {{"outside_in", "From the outside in"}, {"inside_out", "From the inside out"}}};
}

}  // namespace yw::shapes
