#pragma once
#include <filesystem>
#include <string>
#include <vector>

#include "core/base/result.h"
#include "core/yard/yard.h"

namespace yw::file {

inline constexpr std::int64_t kFormatVersion = 1;

struct Opened {
  yard::Yard yard;
  /// True when saving now would give other bytes than the file had (hand-edited, migrated).
  bool normalised = false;
  std::vector<base::Message> notes;  ///< what was migrated or normalised
};

/// Reads a yard file. Errors name line, record and field: truncated, not ours, newer, unknown kind or field,
/// dangling or doubled ids, a prop twice at the same place of a run, sizes out of limits.
base::Result<Opened> open(const std::filesystem::path& path);
base::Result<Opened> parse(const std::string& bytes);

/// The exact bytes save() writes.
std::string bytesOf(const yard::Yard& yard);

/// Would open() take what save() would write? If not, why: a reference to a removed record, a value outside
/// its field's limits, a pixel that is in two runs. save() refuses such a yard and leaves the old file as it
/// is.
base::Result<void> checkSavable(const yard::Yard& yard);

/// Writes aside, flushes, renames over, flushes the folder. On any failure the old file is untouched.
base::Result<void> save(const yard::Yard& yard, const std::filesystem::path& path);

/// The same for any bytes (sheets, exports).
base::Result<void> writeWhole(const std::filesystem::path& path, const std::string& bytes);

}  // namespace yw::file
