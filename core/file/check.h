#pragma once
#include <map>

#include "core/base/result.h"
#include "core/yard/yard.h"

namespace yw::file {

/// Do the records fit together? One Settings and one Site, ids below the counter, every reference names a
/// record of a right kind, ranges the right way round, no pixel twice in the runs. `lines` gives the line of
/// each record for the error; it may be empty.
base::Result<void> checkWhole(const yard::Yard& yard, const std::map<base::Id, std::int64_t>& lines);

/// `prop 12 (Arch 2)`: how errors name a record.
std::string recordName(const yard::Yard& yard, base::Id id);

}  // namespace yw::file
