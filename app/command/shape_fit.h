#pragma once
#include <cstdint>
#include <string>
#include <vector>

namespace yw::command {

/// `shapes --kind ring --size diameter=5ft --fit-pixels 300`
struct FitOptions {
  std::string kind;
  std::vector<std::string> sizes;  ///< `name=value`, sizes and choices
  std::int64_t pixels = 0;
  std::string width, height, depth, strip;  ///< as typed
  std::int64_t strips = 0, stripPixels = 0;
  std::string port, yard;
  std::string solve;
  bool metric = false, json = false;
};

int writeFit(const FitOptions& options);

}  // namespace yw::command
