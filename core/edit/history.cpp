#include "core/edit/history.h"

#include "core/base/hash.h"
#include "core/edit/ideas.h"

namespace yw::edit {
namespace {
const std::string kNoName;
}

History::History(Yard yard) : yard_(std::move(yard)) {}

void History::commit(Change change, const std::string& mergeKey) {
  change = keptInIdea(yard_, std::move(change));
  if (change.empty()) return;
  const bool merges = !mergeKey.empty() && mergeKey == mergeKey_ && position_ > 0 && !isSaved();
  if (position_ < steps_.size()) {
    steps_.resize(position_);
    if (savedPosition_ > static_cast<std::int64_t>(position_)) savedPosition_ = -1;
  }
  mergeKey_ = mergeKey;
  if (!merges) {
    steps_.push_back(change);
    ++position_;
  } else {
    steps_.back() = combined(steps_.back(), change);
    if (steps_.back().empty()) {  // back where it began: no step at all
      change.nextIdAfter = steps_.back().nextIdBefore;
      steps_.pop_back();
      --position_;
      mergeKey_.clear();
    }
  }
  applied(change);
}

const std::string& History::undoName() const { return canUndo() ? steps_[position_ - 1].name : kNoName; }
const std::string& History::redoName() const { return canRedo() ? steps_[position_].name : kNoName; }

void History::undo() {
  if (canUndo()) goTo(position_ - 1);
}

void History::redo() {
  if (canRedo()) goTo(position_ + 1);
}

void History::goTo(std::size_t position) {
  position = std::min(position, steps_.size());
  if (position == position_) return;
  const bool back = position < position_;
  Change whole = back ? reversed(steps_[position_ - 1]) : steps_[position_];
  while (true) {
    position_ = back ? position_ - 1 : position_ + 1;
    if (position_ == position) break;
    whole = combined(whole, back ? reversed(steps_[position_ - 1]) : steps_[position_]);
  }
  mergeKey_.clear();
  applied(whole);
}

std::string History::addBlob(std::string bytes) {
  const std::string key = base::sha256(bytes);
  yard_.blobs.emplace(key, std::make_shared<const std::string>(std::move(bytes)));
  return key;
}

void History::applied(const Change& change) {
  yard_ = apply(yard_, change);
  ++revision_;
  for (const auto& listener : listeners_) listener(change);
}

}  // namespace yw::edit
