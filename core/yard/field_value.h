#pragma once
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "core/base/result.h"
#include "core/yard/yard.h"

namespace yw::yard {

/// How a form must ask for a field.
enum class FieldType {
  Text,
  Flag,
  Count,
  Choice,
  Reference,
  Length,
  Angle,
  Voltage,
  Current,
  Resistance,
  Power,
  Ratio,
  Money,
  Duration,
  Frequency,
  Temperature,
  Mass,
  Speed,
  Area,
  Point,
  List /* points, nested structs, maps */
};

/// One field of a record at run time, without its type: for forms and the command line.
struct FieldInfo {
  std::string name, label, help;
  FieldType type;
  std::vector<RecordKind> refersTo;
  std::vector<ChoiceWord> choices;
  bool hidden;
  std::int64_t least, most;
};

/// text: Text; number: every stored count, Flag (0/1), Choice (index), Reference (id value); point: Point.
using FieldValue = std::variant<std::int64_t, std::string, Point>;

/// The fields of a kind, in form order; those of a nested struct by its sample value.
std::vector<FieldInfo> fieldsOf(RecordKind kind);
std::vector<FieldInfo> fieldsOf(const PowerSection&);
std::vector<FieldInfo> fieldsOf(const Opening&);

/// Value of a simple field; nothing for List fields or unknown names.
std::optional<FieldValue> valueOf(const Record& record, const std::string& field);
std::optional<FieldValue> valueOf(const PowerSection& record, const std::string& field);
std::optional<FieldValue> valueOf(const Opening& record, const std::string& field);

/// A copy with that field changed, or why not (unknown field, wrong type, out of its limits).
base::Result<Record> withValue(const Record& record, const std::string& field, const FieldValue& value);
base::Result<PowerSection> withValue(const PowerSection& record, const std::string& field,
                                     const FieldValue& value);
base::Result<Opening> withValue(const Opening& record, const std::string& field, const FieldValue& value);

/// Whether a field means anything for this record: a walk has no tolerance, a fence no clear heights.
bool fieldCounts(const Record& record, const std::string& field);

/// A record of that kind with its defaults.
Record defaultRecord(RecordKind kind);

}  // namespace yw::yard
