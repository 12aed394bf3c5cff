#pragma once
// The lines of a journal: one JSON group a line.
#include <optional>
#include <string>
#include <vector>

#include "core/edit/change.h"

namespace yw::edit {

inline constexpr std::int64_t kJournalVersion = 1;

/// First line, then all records and pictures, then the line that says the start is whole.
std::string startLines(const std::string& yardFile, const Yard& yard);
std::string changeLine(const Change& change);
std::string blobLine(const std::string& key, const std::string& bytes);

/// What a journal says when read back.
struct JournalContent {
  std::string yardFile;
  Yard yard;  ///< with all its changes made
  std::int64_t changes = 0;
  std::string lastChange;
  bool started = false;  ///< the start is whole
};

/// Reads all whole lines. A last line that is torn is dropped; any other damage is an error that names the
/// line, and `content` then holds what stood before it.
base::Result<void> readJournal(const std::string& bytes, JournalContent& content);

}  // namespace yw::edit
