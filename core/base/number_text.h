#pragma once
#include <optional>
#include <string>
#include <string_view>

#include "core/base/message.h"
#include "core/base/result.h"

namespace yw::base {

/// Reads a length typed by a person: the whole text or a refusal with the reason, never a part of it.
/// Accepts 12' 6" (straight, curly or true primes), 12'6 1/2", 6-1/2", 12ft 6in, 12.5ft, 3.8m, 3,8m, 380cm,
/// 40mm, 1/2in, arithmetic + - * / ( ); a bare number takes `bareUnit`. Comma and dot are both decimal;
/// thousands marks are refused, and for `1,000` both readings are shown in the refusal.
/// An unspaced hyphen before a fraction joins (6-1/2" is 6.5 in), a spaced one subtracts.
enum class LengthUnit { Feet, Inches, Metres, Centimetres, Millimetres };
Result<Length> parseLength(std::string_view typed, LengthUnit bareUnit);

/// The same for a plain decimal number with an optional unit after it (`4.5 A`, `12V`, `30 %`);
/// `unit` is the one unit text accepted besides none. Metric prefixes m and k before the unit are read
/// (`55 mA` is 0.055). Value in that unit.
Result<double> parseNumber(std::string_view typed, std::string_view unit);

/// 12′ 6″, 12′ 6 1/2″ (to the nearest 1/16 inch), 3.81 m. Unicode primes. A minus is U+2212.
std::string lengthText(Length length, UnitSystem units);

/// 46.3 ft or 14.1 m: long lengths of cable, one decimal.
std::string longLengthText(Length length, UnitSystem units);

/// Fixed number of decimals, dot, no locale; a minus is U+2212; thousands by a thin space U+2009 from 10 000.
std::string numberText(double value, int decimals);

}  // namespace yw::base
