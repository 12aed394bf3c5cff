#pragma once
#include <gtest/gtest.h>

#include <cmath>
#include <string>

#include "core/shapes/shape.h"

namespace yw::shapes {

constexpr double kInchMetres = 0.0254;

/// A usual prop with some sizes in inches.
inline yard::Prop propOf(const std::string& kind, const std::map<std::string, double>& inches,
                         const std::map<std::string, std::int64_t>& counts = {},
                         const std::map<std::string, std::string>& choices = {}) {
  yard::Prop prop = usualProp(kind);
  for (const auto& [name, value] : inches) prop.sizes[name] = std::llround(value * base::kNanometresPerInch);
  for (const auto& [name, value] : counts) prop.sizes[name] = value;
  for (const auto& [name, value] : choices) prop.choices[name] = value;
  return prop;
}

/// The shape of a prop that must be makable.
inline Shape made(const yard::Prop& prop) {
  auto shape = make(prop);
  if (!shape) {
    ADD_FAILURE() << prop.kind << " refused at " << shape.error().where << ": " << shape.error().message.key;
    return {};
  }
  return *shape;
}

inline std::int64_t pixelsOf(const yard::Prop& prop) {
  return static_cast<std::int64_t>(made(prop).pixels.size());
}

inline double factInches(const Shape& shape, const std::string& name) {
  const auto fact = shape.facts.find(name);
  if (fact == shape.facts.end()) {
    ADD_FAILURE() << "no fact " << name;
    return 0;
  }
  return static_cast<double>(std::get<Length>(fact->second).count) / base::kNanometresPerInch;
}

/// `key at where` of a refusal, or `made`.
inline std::string refusalOf(const yard::Prop& prop) {
  const auto shape = make(prop);
  return shape ? "made" : shape.error().message.key + " at " + shape.error().where;
}

inline const NamedRanges* partOf(const Shape& shape, const std::string& name) {
  for (const NamedRanges& part : shape.parts)
    if (part.name == name) return &part;
  return nullptr;
}

inline std::int64_t sizeOf(const std::vector<yard::Range>& ranges) {
  std::int64_t n = 0;
  for (const yard::Range& r : ranges) n += r.last - r.first + 1;
  return n;
}

}  // namespace yw::shapes
