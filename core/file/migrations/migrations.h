#pragma once
// Old files are rewritten step by step, one step a version, before any record is read: the reader knows only
// the newest form. A new version adds one file here and one row in migrations.cpp.
#include <vector>

#include "core/file/raw_file.h"

namespace yw::file {

/// Brings `raw` to the newest version; says what each step did.
std::vector<base::Message> migrate(RawFile& raw);

/// Version 0 (before the first release): the settings called `brightness_limit` `cap`, and had no
/// `address_mode`, since whole pixels in a universe were the only way.
base::Message fromVersion0(RawFile& raw);

}  // namespace yw::file
