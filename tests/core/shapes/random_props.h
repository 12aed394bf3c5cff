#pragma once
// Props of random sizes, the same on every machine.
#include <algorithm>
#include <cstdint>

#include "core/shapes/shape.h"

namespace yw::shapes {

/// A linear congruential generator (constants of Knuth's MMIX); the high bits are used.
class Dice {
 public:
  explicit Dice(std::uint64_t seed) : state_(seed) {}
  /// 0 .. below - 1.
  std::int64_t roll(std::int64_t below) {
    state_ = state_ * 6364136223846793005U + 1442695040888963407U;
    return static_cast<std::int64_t>((state_ >> 11) % static_cast<std::uint64_t>(below));
  }
  /// From `least` to `most`, both included.
  std::int64_t between(std::int64_t least, std::int64_t most) { return least + roll(most - least + 1); }

 private:
  std::uint64_t state_;
};

inline base::Length anyLength(Dice& dice) { return base::millimetres(dice.between(-3000, 3000)); }

/// Sizes from a quarter to three times the usual ones, any choices, any path of up to eight corners.
inline yard::Prop randomProp(const Kind& kind, Dice& dice) {
  yard::Prop prop = usualProp(kind.name);
  for (const SizeInfo& size : kind.sizes) {
    // A size that is usually 0 may be anything small of its sort.
    const std::int64_t scale = size.usual != 0                 ? size.usual
                               : size.type == SizeType::Length ? base::feet(1).count
                               : size.type == SizeType::Count  ? 4
                                                               : size.most / 3;
    const std::int64_t value = scale / 4 + scale / 64 * dice.roll(176) + dice.roll(4);
    prop.sizes[size.name] = std::clamp(value, size.least, size.most);
  }
  for (const ChoiceInfo& choice : kind.choices)
    prop.choices[choice.name] =
        choice.options[static_cast<std::size_t>(dice.roll(static_cast<std::int64_t>(choice.options.size())))]
            .name;
  if (!kind.usualLines.empty()) {
    prop.lines.clear();
    for (std::int64_t lines = dice.between(1, 4); lines > 0; --lines) {
      yard::OwnLine line;
      line.closed = dice.roll(2) == 0;
      line.dots = dice.roll(4) == 0;
      for (std::int64_t points = dice.between(2, 8); points > 0; --points)
        line.points.push_back({anyLength(dice), anyLength(dice)});
      prop.lines.push_back(std::move(line));
    }
  }
  if (!kind.alongPath) return prop;
  prop.path.clear();
  for (std::int64_t corners = dice.between(2, 8); corners > 0; --corners)
    prop.path.push_back({anyLength(dice), anyLength(dice)});
  return prop;
}

/// Sizes anywhere in a 64-bit number, most of them at or near the ends of what is allowed.
inline yard::Prop wildProp(const Kind& kind, Dice& dice) {
  yard::Prop prop = randomProp(kind, dice);
  for (const SizeInfo& size : kind.sizes) switch (dice.roll(10)) {
      case 0:
        prop.sizes[size.name] = size.least;
        break;
      case 1:
        prop.sizes[size.name] = size.most;
        break;
      case 2:
        prop.sizes[size.name] = std::clamp(-size.usual, size.least, size.most);
        break;
      case 3:
        if (dice.roll(20) == 0) prop.sizes[size.name] = dice.roll(2) == 0 ? INT64_MIN : INT64_MAX;
        break;
      case 4:
        if (dice.roll(20) == 0) prop.sizes[size.name] = size.least - 1;
        break;
      default:
        break;
    }
  return prop;
}

}  // namespace yw::shapes
