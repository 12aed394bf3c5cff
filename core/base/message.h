#pragma once
#include <map>
#include <string>
#include <variant>

#include "core/base/exact.h"

namespace yw::base {

/// A value inside a message, formatted by its type and the reader's units.
using Fact = std::variant<std::int64_t, std::string, Length, Angle, Voltage, Current, Resistance, Power,
                          Ratio, Money, Duration, Frequency, Temperature, Mass>;

/// What is said to a person: a key and typed facts, never finished text. The wording stands in
/// resources/messages/*.txt as `key = text with {fact}`, one line a key. `{count} {count|lead|leads}` takes
/// the first word for 1 and the second for all other counts.
struct Message {
  std::string key;
  std::map<std::string, Fact> facts;
  bool operator==(const Message&) const = default;
};

/// How lengths are shown.
enum class UnitSystem { FeetInches, Metric };

/// The wording of `message` with its facts filled in. An unknown key or fact shows itself in brackets
/// (a test holds every key that the code uses against the files).
std::string text(const Message& message, UnitSystem units = UnitSystem::FeetInches);

/// One fact as text with its unit, e.g. `9.30 V`, `12′ 6″`, `30 %`. The same on every locale.
std::string text(const Fact& fact, UnitSystem units = UnitSystem::FeetInches);

/// True if resources/messages has wording for `key`.
bool hasWording(const std::string& key);

}  // namespace yw::base
