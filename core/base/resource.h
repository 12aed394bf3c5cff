#pragma once
#include <string_view>
#include <vector>

namespace yw::base {

/// A file of resources/ that was read into the program when it was built.
struct Resource {
  std::string_view path;  ///< below resources/, e.g. `messages/errors.txt`
  std::string_view bytes;
};

/// All of them, in the order of their paths.
const std::vector<Resource>& resources();

}  // namespace yw::base
