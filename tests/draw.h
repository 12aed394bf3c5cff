#pragma once
#include <cstdint>
#include <random>

namespace yw {

/// Random figures that are the same everywhere: only the raw engine is used.
class Draw {
 public:
  explicit Draw(std::uint32_t seed) : engine_(seed) {}
  int whole(int low, int high) {
    return low + static_cast<int>(engine_() % static_cast<std::uint32_t>(high - low + 1));
  }
  double part(double low, double high) { return low + (high - low) * (engine_() / 4294967296.0); }
  bool one(int in) { return whole(1, in) == 1; }

 private:
  std::mt19937 engine_;
};

}  // namespace yw
