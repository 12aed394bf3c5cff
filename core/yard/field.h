#pragma once
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace yw::yard {

enum class RecordKind : std::uint8_t;

/// What a record says of one of its fields, in `fields(record, visit)`. The codec, the forms and the command
/// all read this one description.
struct Field {
  const char*
      name;  ///< in the file; lower_snake, never changed once released; a record's is neither `id` nor `kind`
  const char* label;      ///< on a form
  const char* help = "";  ///< one sentence under the field: what is printed on the thing, or what it changes
  /// For a reference: the kinds it may name; empty means any kind.
  std::vector<RecordKind> refersTo = {};
  bool hidden = false;             ///< not shown on the record's form (edited on the Yard or elsewhere)
  std::int64_t least = INT64_MIN;  ///< smallest allowed stored count
  std::int64_t most = INT64_MAX;   ///< largest allowed stored count
};

/// Words of an enumeration in file and form, in the enumerators' order.
struct ChoiceWord {
  const char* name;   ///< in the file
  const char* label;  ///< on a form
};

}  // namespace yw::yard
