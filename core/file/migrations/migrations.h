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

/// The code's edition was free text once: one that the program does not know becomes the one of the same
/// year, or the newest. Says so; nothing to say for known ones.
std::vector<base::Message> takeKnownEdition(RawFile& raw);

}  // namespace yw::file
