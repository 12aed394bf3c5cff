#pragma once
#include <compare>
#include <cstdint>

namespace yw::base {

/// Name of a record for good: unique in a yard over all kinds, never used again. 0 means 'none'.
struct Id {
  std::int64_t value = 0;
  auto operator<=>(const Id&) const = default;
  explicit operator bool() const { return value != 0; }
};

}  // namespace yw::base
