// Nights of the season by the proleptic Gregorian calendar (ISO 8601).
#include <charconv>
#include <chrono>
#include <optional>

#include "core/circuit/mains.h"

namespace yw::circuit {

namespace {

std::optional<int> number(std::string_view digits) {
  int value = 0;
  const auto [end, error] = std::from_chars(digits.data(), digits.data() + digits.size(), value);
  if (error != std::errc{} || end != digits.data() + digits.size() || value < 0) return std::nullopt;
  return value;
}

/// A whole date YYYY-MM-DD that exists; nothing else.
std::optional<std::chrono::sys_days> dayOf(std::string_view text) {
  if (text.size() != 10 || text[4] != '-' || text[7] != '-') return std::nullopt;
  const auto year = number(text.substr(0, 4)), month = number(text.substr(5, 2)),
             day = number(text.substr(8, 2));
  if (!year || !month || !day) return std::nullopt;
  const std::chrono::year_month_day date{std::chrono::year{*year},
                                         std::chrono::month{static_cast<unsigned>(*month)},
                                         std::chrono::day{static_cast<unsigned>(*day)}};
  if (!date.ok()) return std::nullopt;
  return std::chrono::sys_days{date};
}

}  // namespace

std::int64_t nightsOf(const yard::Site& site) {
  const auto first = dayOf(site.showFrom), last = dayOf(site.showTo);
  if (!first || !last || *last < *first) return 0;
  return (*last - *first).count() + 1;
}

}  // namespace yw::circuit
