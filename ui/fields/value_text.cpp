#include "ui/fields/value_text.h"

#include <fmt/format.h>

#include <cmath>

namespace yw::ui {

namespace {

using base::UnitSystem;
using yard::FieldInfo;
using yard::FieldType;
using yard::FieldValue;

/// Where no more than this is allowed, a bare number means inches or centimetres, else feet or metres.
constexpr std::int64_t kHandScale = 10'000'000'000;

std::int64_t countOf(const FieldValue& value) {
  const auto* count = std::get_if<std::int64_t>(&value);
  return count ? *count : 0;
}

/// `+=`, `-=`, `*=`, `/=` at the start of what was typed, or 0.
char operatorOf(const QString& typed) {
  const QString text = typed.trimmed();
  if (text.size() < 2 || text[1] != u'=') return 0;
  const QChar first = text[0] == QChar(0x2212) ? QChar(u'-') : text[0];
  return QStringLiteral("+-*/").contains(first) ? static_cast<char>(first.unicode()) : 0;
}

std::string afterOperator(const QString& typed) { return typed.trimmed().mid(2).toStdString(); }

/// value × factor or ÷ factor, for `*=` and `/=`.
base::Result<FieldEdit> scaled(const QString& typed, char op) {
  const auto factor = base::parseNumber(afterOperator(typed), "");
  if (!factor) return tl::unexpected(factor.error());
  if (op == '/' && *factor == 0.0) {
    return base::fail(base::ErrorCode::BadInput, {"field_divide_by_zero", {}});
  }
  const double by = op == '*' ? *factor : 1.0 / *factor;
  return FieldEdit([by](const FieldValue& before) -> FieldValue {
    return base::roundedCount(static_cast<double>(countOf(before)) * by);
  });
}

FieldEdit setOrAdd(char op, std::int64_t count) {
  return [op, count](const FieldValue& before) -> FieldValue {
    if (op == '+') return countOf(before) + count;
    if (op == '-') return countOf(before) - count;
    return count;
  };
}

base::LengthUnit bareUnit(const FieldInfo& field, UnitSystem units) {
  const bool hand = field.most <= kHandScale;
  if (units == UnitSystem::FeetInches) return hand ? base::LengthUnit::Inches : base::LengthUnit::Feet;
  return hand ? base::LengthUnit::Centimetres : base::LengthUnit::Metres;
}

base::Result<FieldEdit> readNumber(const FieldInfo& field, const QString& typed, char op,
                                   const TextStyle& style) {
  const NumberStyle number = numberStyle(field, style);
  QString text = op ? QString::fromStdString(afterOperator(typed)) : typed.trimmed();
  if (!number.prefix.isEmpty() && text.startsWith(number.prefix)) text = text.mid(number.prefix.size());
  const auto value = base::parseNumber(text.toStdString(), number.unit.toStdString());
  if (!value) return tl::unexpected(value.error());
  const double count = *value * number.perUnit;
  if (!(std::abs(count) < 9.0e18)) {
    return base::fail(base::ErrorCode::BadInput, {"field_number_too_large", {}});
  }
  if (number.perUnit == 1.0 && count != std::floor(count)) {
    return base::fail(base::ErrorCode::BadInput, {"field_whole_number", {}});
  }
  return setOrAdd(op, base::roundedCount(count));
}

QString plainNumber(double value, int decimals) {
  std::string text = fmt::format("{:.{}f}", value, decimals);
  if (text.find('.') != std::string::npos) {
    text.erase(text.find_last_not_of('0') + 1);
    if (text.back() == '.') text.pop_back();
  }
  return QString::fromStdString(text == "-0" ? "0" : text);
}

}  // namespace

NumberStyle numberStyle(const FieldInfo& field, const TextStyle& style) {
  const bool feet = style.units == UnitSystem::FeetInches;
  switch (field.type) {
    case FieldType::Voltage:
      return {QStringLiteral("V"), 1e6, 6, 0.1, {}};
    case FieldType::Current:
      if (field.most <= 10'000'000) return {QStringLiteral("mA"), 1e3, 3, 1.0, {}};
      return {QStringLiteral("A"), 1e6, 6, 0.5, {}};
    case FieldType::Resistance:
      return {QStringLiteral("mΩ"), 1e3, 3, 0.1, {}};
    case FieldType::Power:
      return {QStringLiteral("W"), 1e3, 3, 1.0, {}};
    case FieldType::Ratio:
      return {QStringLiteral("%"), 1e4, 4, 1.0, {}};
    case FieldType::Money:
      return {{}, 1e4, 4, 1.0, QString::fromStdString(style.currency)};
    case FieldType::Duration:
      if (field.most <= 1'000'000'000) return {QStringLiteral("µs"), 1e3, 3, 10.0, {}};
      return {QStringLiteral("h"), 3.6e12, 3, 0.5, {}};
    case FieldType::Frequency:
      return {QStringLiteral("Hz"), 1e3, 3, 1.0, {}};
    case FieldType::Temperature:
      return {QStringLiteral("°C"), 1e3, 3, 1.0, {}};
    case FieldType::Mass:
      return {QStringLiteral("g"), 1e3, 3, 1.0, {}};
    case FieldType::Speed:  // a mile is 1,609.344 m exactly (international mile, 1959)
      if (feet) return {QStringLiteral("mph"), 1609344.0 / 3600.0, 1, 1.0, {}};
      return {QStringLiteral("m/s"), 1e3, 3, 1.0, {}};
    case FieldType::Angle:
      return {QStringLiteral("°"), 1e6, 6, 5.0, {}};
    default:
      return {{}, 1.0, 0, 1.0, {}};
  }
}

QString unitText(const FieldInfo& field, const TextStyle& style) {
  if (field.type == FieldType::Length) {
    switch (bareUnit(field, style.units)) {
      case base::LengthUnit::Feet:
        return QStringLiteral("ft");
      case base::LengthUnit::Inches:
        return QStringLiteral("in");
      case base::LengthUnit::Metres:
        return QStringLiteral("m");
      case base::LengthUnit::Centimetres:
        return QStringLiteral("cm");
      case base::LengthUnit::Millimetres:
        return QStringLiteral("mm");
    }
  }
  const NumberStyle number = numberStyle(field, style);
  return number.unit.isEmpty() ? number.prefix : number.unit;
}

QString valueText(const FieldInfo& field, const FieldValue& value, const TextStyle& style) {
  if (const auto* words = std::get_if<std::string>(&value)) return QString::fromStdString(*words);
  if (!std::holds_alternative<std::int64_t>(value)) return {};
  if (field.type == FieldType::Length)
    return QString::fromStdString(base::lengthText({countOf(value)}, style.units));
  const NumberStyle number = numberStyle(field, style);
  return plainNumber(static_cast<double>(countOf(value)) / number.perUnit, number.decimals);
}

base::Result<FieldEdit> readTyped(const FieldInfo& field, const QString& typed, const TextStyle& style) {
  if (field.type == FieldType::Text) {
    return FieldEdit([text = typed.toStdString()](const FieldValue&) -> FieldValue { return text; });
  }
  const char op = operatorOf(typed);
  if (op == '*' || op == '/') return scaled(typed, op);
  if (field.type != FieldType::Length) return readNumber(field, typed, op, style);
  const auto length =
      base::parseLength(op ? afterOperator(typed) : typed.toStdString(), bareUnit(field, style.units));
  if (!length) return tl::unexpected(length.error());
  return setOrAdd(op, length->count);
}

QString readingText(const FieldInfo& field, const FieldValue& value, const TextStyle& style) {
  if (field.type != FieldType::Length) return {};
  const base::Length length{countOf(value)};
  const auto other = style.units == UnitSystem::FeetInches ? UnitSystem::Metric : UnitSystem::FeetInches;
  return QString::fromStdString(base::lengthText(length, style.units) + " = " +
                                base::lengthText(length, other));
}

FieldEdit wheelEdit(const FieldInfo& field, int notches, const TextStyle& style) {
  if (field.type == FieldType::Text) return {};
  if (field.type == FieldType::Length) {
    const bool feet = style.units == UnitSystem::FeetInches;
    return setOrAdd('+', (feet ? base::kNanometresPerInch : std::int64_t{10'000'000}) * notches);
  }
  const NumberStyle number = numberStyle(field, style);
  return setOrAdd('+', base::roundedCount(number.wheel * number.perUnit) * notches);
}

}  // namespace yw::ui
