#pragma once
#include <functional>
#include <vector>

#include "core/edit/change.h"

namespace yw::edit {

/// The yard, its past and its future. Every change goes through commit().
class History {
 public:
  explicit History(Yard yard);
  const Yard& yard() const { return yard_; }
  /// Counts every commit, undo and redo; a result computed from another revision is stale.
  std::int64_t revision() const { return revision_; }

  /// Makes the change; drops what could be redone. An empty change does nothing. With a `mergeKey` equal to
  /// the last commit's and no undo between, the two become one step (a held arrow key, one drag). While an
  /// idea is shown the change stays in it.
  void commit(Change change, const std::string& mergeKey = {});
  bool canUndo() const { return position_ > 0; }
  bool canRedo() const { return position_ < steps_.size(); }
  const std::string& undoName() const;
  const std::string& redoName() const;
  void undo();
  void redo();
  /// Names of all steps, oldest first, and how many of them are made now.
  const std::vector<Change>& steps() const { return steps_; }
  std::size_t position() const { return position_; }
  void goTo(std::size_t position);

  void markSaved() { savedPosition_ = static_cast<std::int64_t>(position_); }
  bool isSaved() const { return savedPosition_ == static_cast<std::int64_t>(position_); }
  /// Adds picture bytes to the yard outside any change; gives their key.
  std::string addBlob(std::string bytes);

  /// Called after each commit, undo or redo with the change as it was applied (reversed for undo).
  void listen(std::function<void(const Change&)> listener) { listeners_.push_back(std::move(listener)); }

 private:
  void applied(const Change& change);
  Yard yard_;
  std::vector<Change> steps_;
  std::size_t position_ = 0;
  std::int64_t savedPosition_ = 0;
  std::int64_t revision_ = 0;
  std::string mergeKey_;
  std::vector<std::function<void(const Change&)>> listeners_;
};

}  // namespace yw::edit
