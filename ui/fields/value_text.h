#pragma once
#include <QString>

#include "core/base/number_text.h"
#include "ui/fields/value_field.h"

namespace yw::ui {

/// What reading and showing a value depends on besides its field.
struct TextStyle {
  base::UnitSystem units = base::UnitSystem::FeetInches;
  std::string currency = "$";
};

/// How a plain number is shown: stored count = number × perUnit.
struct NumberStyle {
  QString unit;  ///< read after the number, and shown at its right
  double perUnit = 1.0;
  int decimals = 6;    ///< most that are shown
  double wheel = 1.0;  ///< one notch, in the unit
  QString prefix;      ///< accepted before the number: a currency sign
};
NumberStyle numberStyle(const yard::FieldInfo& field, const TextStyle& style);

/// Unit that a bare number takes in this field, as shown beside it.
QString unitText(const yard::FieldInfo& field, const TextStyle& style);

/// The value as a person may type it again. Lists and places have none.
QString valueText(const yard::FieldInfo& field, const yard::FieldValue& value, const TextStyle& style);

/// Reads the whole of what was typed, or refuses it with the reason. `+=2ft`, `-=`, `*=2`, `/=` change each
/// record's own value.
base::Result<FieldEdit> readTyped(const yard::FieldInfo& field, const QString& typed, const TextStyle& style);

/// What stands beneath: a length in both units; nothing for the rest.
QString readingText(const yard::FieldInfo& field, const yard::FieldValue& value, const TextStyle& style);

/// One notch of the wheel up; nothing where the wheel does nothing.
FieldEdit wheelEdit(const yard::FieldInfo& field, int notches, const TextStyle& style);

}  // namespace yw::ui
