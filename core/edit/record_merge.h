#pragma once
#include <optional>
#include <string>
#include <vector>

#include "core/edit/ideas.h"

namespace yw::edit {

/// Two versions of a record that grew from one, put together field by field.
struct Merged {
  RecordPtr record;                  ///< null: not there
  std::vector<std::string> clashes;  ///< fields that both changed, by their name; `` for the whole record
};
/// `yards` and `ideas` grew from `base`; null: not there. A clash takes the side that `onClash` names (the
/// yard's for Refuse).
Merged mergeRecords(Id id, const RecordPtr& base, const RecordPtr& yards, const RecordPtr& ideas,
                    OnClash onClash);

/// One side of an IdeaChange as a record, and back.
RecordPtr recordOf(const std::string& line);
std::string lineOf(Id id, const RecordPtr& record);

}  // namespace yw::edit
