#pragma once
#include <string>
#include <vector>

#include "core/base/result.h"
#include "core/yard/yard.h"

namespace yw::edit {

using base::Id;
using yard::RecordPtr;
using yard::Yard;

/// One record before and after; null before: added, null after: removed.
struct Replacement {
  Id id;
  RecordPtr before, after;
};

/// The one kind of change there is. Undo applies it backwards.
struct Change {
  std::string name;                       ///< what the person did, e.g. `Move 3 props`
  std::vector<Replacement> replacements;  ///< sorted by id, each id once
  std::int64_t nextIdBefore = 0, nextIdAfter = 0;
  bool empty() const { return replacements.empty(); }
};

/// The yard with the change made. Asserts (debug) that each `before` is what stands there.
Yard apply(const Yard& yard, const Change& change);
Change reversed(const Change& change);
/// Both made one after the other, as one; a record that ends as it began is left out. Takes the second one's
/// name.
Change combined(const Change& first, const Change& second);

/// What makes one yard of the other.
Change changeBetween(const Yard& before, const Yard& after, std::string name);

/// Ids touched, for listeners.
std::vector<Id> touched(const Change& change);

/// Collects edits on top of a yard and makes one Change of them. References that would dangle after removal
/// are cleared or the naming record is dropped: a removed prop leaves its runs and takes its feeds along.
class Editor {
 public:
  explicit Editor(const Yard& yard);
  const Yard& yard() const { return now_; }
  Id add(yard::Record record);
  void replace(Id id, yard::Record record);
  /// Settings and Site stay: every yard has one of each.
  void remove(Id id) { remove(std::vector<Id>{id}); }
  void remove(const std::vector<Id>& ids);
  template <class R, class F>
  void update(Id id, F change) {
    if (const R* r = yard::find<R>(now_, id)) {
      R copy = *r;
      change(copy);
      replace(id, copy);
    }
  }
  /// What was done, named; records that ended as they began are left out. While an idea is shown it holds
  /// what the idea must remember of it too (edit/ideas.h).
  Change finish(std::string name) const;

 private:
  Yard start_, now_;
};

}  // namespace yw::edit
