#pragma once
#include <string>

#include "core/base/result.h"
#include "core/yard/yard.h"

namespace yw::yard {

/// One record as one line of JSON without a line end: {"id":12,"kind":"prop",…} with every field, in the
/// order of fields(). The same record gives the same bytes everywhere.
std::string encode(Id id, const Record& record);

/// The reverse. Missing fields take their defaults; unknown fields, wrong types and values outside a field's
/// limits are errors that name the field.
base::Result<std::pair<Id, Record>> decode(const std::string& json);

}  // namespace yw::yard
