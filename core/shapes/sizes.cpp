#include "core/shapes/sizes.h"

#include <algorithm>
#include <cmath>

namespace yw::shapes {

SizeInfo lengthSize(std::string name, std::string label, Length usual, std::string help, Length least,
                    Length most) {
  return {std::move(name), std::move(label), SizeType::Length, usual.count,
          least.count,     most.count,       std::move(help)};
}

SizeInfo countSize(std::string name, std::string label, std::int64_t usual, std::int64_t least,
                   std::int64_t most, std::string help) {
  return {std::move(name), std::move(label), SizeType::Count, usual, least, most, std::move(help)};
}

SizeInfo angleSize(std::string name, std::string label, int usual, int least, int most, std::string help) {
  constexpr std::int64_t kDegree = 1'000'000;
  return {std::move(name), std::move(label), SizeType::Angle, usual * kDegree,
          least * kDegree, most * kDegree,   std::move(help)};
}

SizeInfo ratioSize(std::string name, std::string label, int usual, int least, int most, std::string help) {
  constexpr std::int64_t kThousandth = 1'000;
  return {std::move(name),     std::move(label),   SizeType::Ratio, usual * kThousandth,
          least * kThousandth, most * kThousandth, std::move(help)};
}

SizeInfo pitchSize(Length usual) {
  return lengthSize("pitch", "Pitch", usual, "From pixel to pixel along the mount, not the wire between them",
                    base::millimetres(1), base::millimetres(10'000));
}

SizeInfo stripHoleSize() {
  return lengthSize("hole_spacing", "Strip has a hole every", {0},
                    "0: drilled to the pitch; else the pixels stand in the hole nearest to the pitch", {0},
                    base::millimetres(1'000));
}

std::int64_t tiesAlong(double length, double every) {
  return 1 + std::max<std::int64_t>(1, static_cast<std::int64_t>(std::ceil(length / every - 1e-9)));
}

ChoiceInfo facesChoice() { return {"faces", "Faces", {{"one", "One"}, {"two", "Two, back to back"}}}; }

std::int64_t facesOf(const Sizes& size) { return size.chosen("faces", "two") ? 2 : 1; }

std::int64_t Sizes::count(const std::string& name) const { return prop_.sizes.at(name); }
double Sizes::metres(const std::string& name) const { return base::metres(length(name)).si; }
double Sizes::radians(const std::string& name) const { return base::radians(base::Angle{count(name)}); }
double Sizes::fraction(const std::string& name) const { return base::fraction(base::Ratio{count(name)}); }
bool Sizes::chosen(const std::string& choice, const std::string& option) const {
  return prop_.choices.at(choice) == option;
}

std::int64_t countAlong(double length, double pitch) {
  constexpr double kMost = 1e8, kForgiven = 1e-6;
  const double fits = std::floor(length / pitch + kForgiven);
  return fits >= kMost ? static_cast<std::int64_t>(kMost)
                       : std::max<std::int64_t>(0, static_cast<std::int64_t>(fits));
}

std::int64_t countEndToEnd(double length, double pitch) {
  return length < 0 ? 0 : countAlong(length, pitch) + 1;
}

base::Fact sizeFact(const SizeInfo& size, std::int64_t stored) {
  switch (size.type) {
    case SizeType::Length:
      return base::Length{stored};
    case SizeType::Angle:
      return base::Angle{stored};
    case SizeType::Ratio:
      return base::Ratio{stored};
    case SizeType::Count:
      break;
  }
  return stored;
}

base::Error sizeError(const std::string& where, const std::string& key,
                      std::map<std::string, base::Fact> facts) {
  return {base::ErrorCode::BadInput, {key, std::move(facts)}, where};
}

std::optional<base::Error> checkPixels(std::int64_t total, const std::string& lengthField, Length length,
                                       Length pitch) {
  if (total <= 0) return sizeError(lengthField, "shape_no_pixels", {{"length", length}, {"pitch", pitch}});
  if (total > kMostPixels)
    return sizeError("pitch", "shape_too_many_pixels",
                     {{"count", total}, {"most", kMostPixels}, {"pitch", pitch}});
  return std::nullopt;
}

}  // namespace yw::shapes
