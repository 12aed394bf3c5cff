#pragma once
#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "core/edit/change.h"

namespace yw::edit {

/// The crash journal: a file beside nothing the person sees, to which every applied change is appended and
/// flushed at once. It starts with the yard it grew from, so a never-saved yard comes back too.
class Journal {
 public:
  /// Starts a journal for `yard` (opened from `yardFile`, empty: never saved) in `folder`.
  static base::Result<Journal> start(const std::filesystem::path& folder,
                                     const std::filesystem::path& yardFile, const Yard& yard);
  Journal(Journal&&) noexcept;
  Journal& operator=(Journal&&) noexcept;
  ~Journal();

  /// Appends one applied change (undo: the reversed one) and flushes it to the disk.
  base::Result<void> append(const Change& change);
  base::Result<void> appendBlob(const std::string& key, const std::string& bytes);
  /// The yard was saved or closed properly: nothing to offer any more. `reset` starts over from the saved
  /// yard.
  base::Result<void> reset(const std::filesystem::path& yardFile, const Yard& yard);
  void discard();
  const std::filesystem::path& file() const;

 private:
  struct State;
  explicit Journal(std::unique_ptr<State> state);
  std::unique_ptr<State> state_;
};

/// A journal that a killed program left.
struct LeftJournal {
  std::filesystem::path file;      ///< the journal itself
  std::filesystem::path yardFile;  ///< what it was opened from; empty: never saved
  std::string yardName;
  std::int64_t changes = 0;  ///< how many are in it
  std::string lastChange;    ///< name of the last
  std::string savedAt;       ///< ISO 8601 local time of the journal's last write
};

/// Journals in `folder` that hold at least one change and whose program no longer runs. A damaged one is
/// among them, with what stands before the damage; recover() tells what is wrong.
std::vector<LeftJournal> leftJournals(const std::filesystem::path& folder);

/// The yard as it was when the program died. A torn last line is dropped; anything else damaged is an error.
base::Result<Yard> recover(const std::filesystem::path& journal);

}  // namespace yw::edit
