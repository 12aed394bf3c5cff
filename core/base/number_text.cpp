#include "core/base/number_text.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace yw::base {
namespace {

constexpr const char* kMinus = "\u2212";
constexpr const char* kThinSpace = "\u2009";

/// Size without a sign; lengths near the ends of the range keep their value.
std::uint64_t magnitude(std::int64_t v) {
  return v < 0 ? ~static_cast<std::uint64_t>(v) + 1 : static_cast<std::uint64_t>(v);
}

std::string grouped(const std::string& digits) {
  const std::size_t whole = std::min(digits.find('.'), digits.size());
  if (whole < 5) return digits;
  std::string out;
  for (std::size_t i = 0; i < digits.size(); ++i) {
    if (i != 0 && i < whole && (whole - i) % 3 == 0) out += kThinSpace;
    out += digits[i];
  }
  return out;
}

std::string feetInchesText(std::int64_t nanometres) {
  constexpr std::uint64_t kSixteenth = kNanometresPerInch / 16;
  const std::uint64_t sixteenths = (magnitude(nanometres) + kSixteenth / 2) / kSixteenth;
  const std::uint64_t feet = sixteenths / (12 * 16);
  const std::uint64_t inches = sixteenths / 16 % 12;
  std::uint64_t top = sixteenths % 16, bottom = 16;
  while (top != 0 && top % 2 == 0) {
    top /= 2;
    bottom /= 2;
  }
  std::string out = nanometres < 0 && sixteenths != 0 ? kMinus : "";
  if (feet != 0) out += fmt::format("{}\u2032 ", feet);
  if (top == 0) return out + fmt::format("{}\u2033", inches);
  if (feet != 0 || inches != 0) out += fmt::format("{} ", inches);
  return out + fmt::format("{}/{}\u2033", top, bottom);
}

}  // namespace

std::string numberText(double value, int decimals) {
  if (std::isnan(value)) return "?";
  std::string digits = std::isinf(value) ? "\u221e" : fmt::format("{:.{}f}", std::abs(value), decimals);
  const bool zero = digits.find_first_not_of("0.") == std::string::npos;
  if (!std::isinf(value)) digits = grouped(digits);
  return value < 0 && !zero ? kMinus + digits : digits;
}

std::string lengthText(Length length, UnitSystem units) {
  if (units == UnitSystem::FeetInches) return feetInchesText(length.count);
  // To the millimetre; the third decimal only where it says something.
  const std::uint64_t millimetres = (magnitude(length.count) + 500'000) / 1'000'000;
  const double metres = static_cast<double>(millimetres) * 1e-3;
  return numberText(length.count < 0 ? -metres : metres, millimetres % 10 == 0 ? 2 : 3) + " m";
}

std::string longLengthText(Length length, UnitSystem units) {
  const double count = static_cast<double>(length.count);
  if (units == UnitSystem::FeetInches)
    return numberText(count / static_cast<double>(kNanometresPerFoot), 1) + " ft";
  return numberText(count * 1e-9, 1) + " m";
}

}  // namespace yw::base
