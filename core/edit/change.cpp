#include "core/edit/change.h"

#include <cassert>

#include "core/edit/ideas.h"
#include "core/edit/removal.h"

namespace yw::edit {
namespace {

bool same(const RecordPtr& a, const RecordPtr& b) {
  return a == b || (a != nullptr && b != nullptr && *a == *b);
}

[[maybe_unused]] RecordPtr recordOf(const Yard& yard, Id id) {  // only asserts ask
  const auto it = yard.records.find(id);
  return it == yard.records.end() ? nullptr : it->second;
}

}  // namespace

Yard apply(const Yard& yard, const Change& change) {
  if (change.empty()) return yard;  // also one that was never filled in, whose next id is 0
  Yard after = yard;
  for (const Replacement& r : change.replacements) {
    assert(same(recordOf(yard, r.id), r.before));
    if (r.after == nullptr)
      after.records.erase(r.id);
    else
      after.records[r.id] = r.after;
  }
  after.nextId = change.nextIdAfter;
  return after;
}

Change reversed(const Change& change) {
  Change back = change;
  for (Replacement& r : back.replacements) std::swap(r.before, r.after);
  std::swap(back.nextIdBefore, back.nextIdAfter);
  return back;
}

Change combined(const Change& first, const Change& second) {
  Change both{second.name, {}, first.nextIdBefore, second.nextIdAfter};
  auto a = first.replacements.begin();
  auto b = second.replacements.begin();
  const auto put = [&both](Id id, const RecordPtr& before, const RecordPtr& after) {
    if (!same(before, after)) both.replacements.push_back({id, before, after});
  };
  while (a != first.replacements.end() || b != second.replacements.end()) {
    if (b == second.replacements.end() || (a != first.replacements.end() && a->id < b->id)) {
      put(a->id, a->before, a->after);
      ++a;
    } else if (a == first.replacements.end() || b->id < a->id) {
      put(b->id, b->before, b->after);
      ++b;
    } else {
      put(a->id, a->before, b->after);
      ++a, ++b;
    }
  }
  return both;
}

std::vector<Id> touched(const Change& change) {
  std::vector<Id> ids;
  ids.reserve(change.replacements.size());
  for (const Replacement& r : change.replacements) ids.push_back(r.id);
  return ids;
}

Editor::Editor(const Yard& yard) : start_(yard), now_(yard) {}

Id Editor::add(yard::Record record) {
  const Id id{now_.nextId++};
  now_.records.emplace(id, std::make_shared<const yard::Record>(std::move(record)));
  return id;
}

void Editor::replace(Id id, yard::Record record) {
  const auto it = now_.records.find(id);
  assert(it != now_.records.end());
  if (it == now_.records.end() || *it->second == record) return;
  it->second = std::make_shared<const yard::Record>(std::move(record));
}

void Editor::remove(const std::vector<Id>& ids) { removeWithAllThatNamesThem(now_, ids); }

Change changeBetween(const Yard& before, const Yard& after, std::string name) {
  Change change{std::move(name), {}, before.nextId, after.nextId};
  auto a = before.records.begin();
  auto b = after.records.begin();
  while (a != before.records.end() || b != after.records.end()) {
    if (b == after.records.end() || (a != before.records.end() && a->first < b->first)) {
      change.replacements.push_back({a->first, a->second, nullptr});
      ++a;
    } else if (a == before.records.end() || b->first < a->first) {
      change.replacements.push_back({b->first, nullptr, b->second});
      ++b;
    } else {
      if (!same(a->second, b->second)) change.replacements.push_back({a->first, a->second, b->second});
      ++a, ++b;
    }
  }
  return change;
}

Change Editor::finish(std::string name) const {
  return keptInIdea(start_, changeBetween(start_, now_, std::move(name)));
}

}  // namespace yw::edit
