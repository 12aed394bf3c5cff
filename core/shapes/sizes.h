#pragma once
// What the files of kinds/ share: declaring sizes and choices, reading them, refusing in words.
#include <optional>
#include <string>
#include <vector>

#include "core/shapes/shape.h"

namespace yw::shapes {

inline constexpr double kPi = 3.14159265358979323846;
inline constexpr double kInch = 0.0254;  ///< metres, exact by definition

/// How deep a bar of a small prop stands in the ground: a 24 in bar, half of it (common practice).
inline constexpr double kInGround = 12 * kInch;
/// How thick a flat frame with its pixels and their wire is, laid down (common practice: 3 in).
inline constexpr double kKeptDepth = 3 * kInch;
/// Ties and clips along a strip or a frame (common practice: 6 to 12 in).
inline constexpr double kTieEvery = 12 * kInch, kMeshTieEvery = 6 * kInch;
/// One at each end and at most `every` apart.
std::int64_t tiesAlong(double length, double every);

constexpr Length halfInches(std::int64_t n) { return {n * base::kNanometresPerInch / 2}; }

/// Largest size that any prop may have, metres: far beyond a yard, so that a slip of the unit is caught.
inline constexpr std::int64_t kMostMetres = 300;

SizeInfo lengthSize(std::string name, std::string label, Length usual, std::string help,
                    Length least = base::millimetres(1), Length most = base::millimetres(kMostMetres * 1000));
SizeInfo countSize(std::string name, std::string label, std::int64_t usual, std::int64_t least,
                   std::int64_t most, std::string help);
/// The size or choice makes a difference only while that choice has one of those options.
template <class Info>
Info onlyWith(Info info, std::string choice, std::vector<std::string> options) {
  info.needs = {std::move(choice), std::move(options), 0};
  return info;
}
/// The size or choice makes a difference only while that count is over so many.
template <class Info>
Info onlyOver(Info info, std::string count, std::int64_t over) {
  info.needs = {std::move(count), {}, over};
  return info;
}

/// In whole degrees.
SizeInfo angleSize(std::string name, std::string label, int usual, int least, int most, std::string help);
/// In thousandths.
SizeInfo ratioSize(std::string name, std::string label, int usual, int least, int most, std::string help);
/// The pitch along the mount, size `pitch`.
SizeInfo pitchSize(Length usual);

/// Sizes and choices of a complete prop (see make()), by name, in computing units. Unknown names are bugs.
class Sizes {
 public:
  explicit Sizes(const yard::Prop& prop) : prop_(prop) {}
  double metres(const std::string& name) const;
  double radians(const std::string& name) const;
  double fraction(const std::string& name) const;
  std::int64_t count(const std::string& name) const;
  Length length(const std::string& name) const { return {count(name)}; }
  bool chosen(const std::string& choice, const std::string& option) const;

 private:
  const yard::Prop& prop_;
};

/// How many pixels stand on an open line with half a pitch free at each end: floor(length / pitch). A
/// millionth of a pitch is forgiven, so that stored lengths in nanometres count as what they mean. At most
/// 100 million.
std::int64_t countAlong(double length, double pitch);
/// The same with a pixel on both very ends: floor(length / pitch) + 1.
std::int64_t countEndToEnd(double length, double pitch);

/// How far apart the mount has holes, size `hole_spacing`; 0: drilled where the pixels are wanted.
SizeInfo stripHoleSize();

/// One face, or two back to back: strung on behind the first, back to where it begins.
ChoiceInfo facesChoice();
std::int64_t facesOf(const class Sizes& size);
/// Between the pixels of two faces (common practice: the frame between them).
inline constexpr double kFaceDepth = 1.5 * kInch;
/// Where the string of two faces ends.
inline constexpr const char* kBackEnd = "back, where the front begins";

/// Refuses before anything is allocated: no pixel at all (names `lengthField`), or more than kMostPixels
/// (names `pitch`).
std::optional<base::Error> checkPixels(std::int64_t total, const std::string& lengthField, Length length,
                                       Length pitch);

/// A stored size as a message shows it: a length, an angle, a share or a number.
base::Fact sizeFact(const SizeInfo& size, std::int64_t stored);

base::Error sizeError(const std::string& where, const std::string& key,
                      std::map<std::string, base::Fact> facts = {});

}  // namespace yw::shapes
