#include "core/edit/ideas.h"

#include <algorithm>
#include <map>

#include "core/edit/record_merge.h"
#include "core/yard/field_value.h"
#include "core/yard/labels.h"

namespace yw::edit {
namespace {

using yard::Idea;
using yard::IdeaChange;

base::Error refusal(base::Message message) { return {base::ErrorCode::BadInput, std::move(message), {}}; }

RecordPtr at(const Yard& yard, Id id) {
  const auto it = yard.records.find(id);
  return it == yard.records.end() ? nullptr : it->second;
}

void put(Yard& yard, Id id, RecordPtr record) {
  if (record == nullptr)
    yard.records.erase(id);
  else
    yard.records[id] = std::move(record);
}

void put(Yard& yard, Id id, Idea idea) {
  put(yard, id, std::make_shared<const yard::Record>(std::move(idea)));
}

std::string trimmed(const std::string& name) {
  const auto from = name.find_first_not_of(" \t\n"), to = name.find_last_not_of(" \t\n");
  return from == std::string::npos ? std::string{} : name.substr(from, to - from + 1);
}

base::Result<std::string> freeIdeaName(const Yard& yard, const std::string& typed, Id own) {
  const std::string name = trimmed(typed);
  if (name.empty()) return tl::unexpected(refusal({"idea_no_name", {}}));
  const Id other = ideaNamed(yard, name);
  if (other && other != own) return tl::unexpected(refusal({"idea_name_taken", {{"name", name}}}));
  return name;
}

base::Result<const Idea*> found(const Yard& yard, Id id) {
  const auto* idea = yard::find<Idea>(yard, id);
  if (idea == nullptr) return tl::unexpected(refusal({"idea_not_there", {}}));
  return idea;
}

/// Takes the shown idea off: the records are the yard's own again.
void showYard(Yard& yard) {
  const Id id = shownIdea(yard);
  const auto* shown = yard::find<Idea>(yard, id);
  if (shown == nullptr) return;
  Idea hidden = *shown;
  hidden.active = false;
  for (const IdeaChange& change : hidden.changes) put(yard, Id{change.record}, recordOf(change.before));
  put(yard, id, std::move(hidden));
}

/// `Place`, by the field's name; the name itself where the form has none.
std::string fieldLabel(const yard::Record& record, const std::string& field) {
  const std::string name = field.substr(0, field.find('.'));
  for (const yard::FieldInfo& info : yard::fieldsOf(yard::kindOf(record)))
    if (info.name == name) return info.label;
  return name;
}

/// Puts an idea over the yard that is shown.
class Laying {
 public:
  Laying(Yard& yard, OnClash onClash) : yard_(yard), onClash_(onClash) {}

  void lay(Id id, Idea idea) {
    std::vector<IdeaChange> now;
    for (const IdeaChange& change : idea.changes) {
      const Id record{change.record};
      const RecordPtr yards = at(yard_, record), before = recordOf(change.before);
      Merged merged = mergeRecords(record, before, yards, recordOf(change.after), onClash_);
      note(record, yards != nullptr ? yards : before, merged.clashes);
      IdeaChange kept{change.record, lineOf(record, yards), lineOf(record, merged.record)};
      if (kept.before != kept.after) now.push_back(std::move(kept));
      merged_.emplace_back(record, std::move(merged.record));
    }
    for (auto& [record, value] : merged_) put(yard_, record, std::move(value));
    idea.changes = std::move(now);
    idea.active = true;
    put(yard_, id, std::move(idea));
  }
  std::int64_t clashes = 0;
  base::Message first;  ///< what clashes, without the idea's name

 private:
  void note(Id id, const RecordPtr& record, const std::vector<std::string>& fields) {
    for (const std::string& field : fields) {
      if (++clashes > 1) continue;
      first.facts = {{"record", yard::labelOf(yard_, id)}};
      if (record != nullptr && !yard_.records.contains(id)) first.facts["record"] = nameIn(*record, id);
      first.key = field.empty() ? "idea_clash_whole" : "idea_clash";
      if (!field.empty() && record != nullptr) first.facts["field"] = fieldLabel(*record, field);
    }
  }
  static std::string nameIn(const yard::Record& record, Id id) {
    Yard alone;
    alone.records.emplace(id, std::make_shared<const yard::Record>(record));
    return yard::labelOf(alone, id);
  }
  Yard& yard_;
  OnClash onClash_;
  std::vector<std::pair<Id, RecordPtr>> merged_;
};

/// The yard with that idea over it, and the idea marked as shown.
base::Result<Yard> laid(const Yard& yard, Id id, OnClash onClash) {
  const auto idea = found(yard, id);
  if (!idea) return tl::unexpected(idea.error());
  if ((*idea)->active) return yard;
  Yard now = yard;
  showYard(now);
  Laying laying(now, onClash);
  laying.lay(id, **idea);
  if (laying.clashes > 0 && onClash == OnClash::Refuse) {
    base::Message message = laying.first;
    message.facts["idea"] = (*idea)->name;
    if (laying.clashes > 1) {
      message.facts["more"] = laying.clashes - 1;
      message.key = message.key == "idea_clash" ? "idea_clash_more" : "idea_clash_whole_more";
    }
    return tl::unexpected(refusal(std::move(message)));
  }
  return now;
}

std::string step(const std::string& key, const std::string& name) {
  return base::text(base::Message{key, {{"name", name}}});
}

using Kept = std::map<std::int64_t, IdeaChange>;

Kept keptBy(const Idea& idea) {
  Kept kept;
  for (const IdeaChange& change : idea.changes) kept.emplace(change.record, change);
  return kept;
}

bool isIdea(const Replacement& r) {
  return std::holds_alternative<Idea>(r.before != nullptr ? *r.before : *r.after);
}

/// Does the change itself make, show, drop or adopt an idea?
bool isSwitch(const Change& change) {
  return std::any_of(change.replacements.begin(), change.replacements.end(), [](const Replacement& r) {
    if ((r.before == nullptr && r.after == nullptr) || !isIdea(r)) return false;
    const auto* before = r.before == nullptr ? nullptr : std::get_if<Idea>(r.before.get());
    const auto* after = r.after == nullptr ? nullptr : std::get_if<Idea>(r.after.get());
    return before == nullptr || after == nullptr || before->active != after->active;
  });
}

void remember(Kept& kept, const Replacement& r) {
  const std::string after = lineOf(r.id, r.after);
  auto it = kept.find(r.id.value);
  if (it == kept.end())
    it = kept.emplace(r.id.value, IdeaChange{r.id.value, lineOf(r.id, r.before), {}}).first;
  it->second.after = after;
  if (it->second.before == after) kept.erase(it);
}

}  // namespace

Id shownIdea(const Yard& yard) {
  for (const auto& [id, idea] : yard::all<Idea>(yard))
    if (idea->active) return id;
  return {};
}

Id ideaNamed(const Yard& yard, std::string_view name) {
  for (const auto& [id, idea] : yard::all<Idea>(yard))
    if (idea->name == name) return id;
  return {};
}

base::Result<Change> makeIdea(const Yard& yard, const std::string& typed) {
  auto name = freeIdeaName(yard, typed, {});
  if (!name) return tl::unexpected(name.error());
  Yard now = yard;
  Idea made{*name, {}, true, {}};
  if (const Id shown = shownIdea(yard)) {
    Idea old = *yard::find<Idea>(yard, shown);
    made.changes = old.changes;
    old.active = false;
    put(now, shown, std::move(old));
  }
  put(now, Id{now.nextId++}, std::move(made));
  return changeBetween(yard, now, step("idea_made", *name));
}

base::Result<Change> renameIdea(const Yard& yard, Id id, const std::string& typed) {
  const auto idea = found(yard, id);
  if (!idea) return tl::unexpected(idea.error());
  auto name = freeIdeaName(yard, typed, id);
  if (!name) return tl::unexpected(name.error());
  Yard now = yard;
  Idea renamed = **idea;
  renamed.name = *name;
  put(now, id, std::move(renamed));
  return changeBetween(yard, now, step("idea_renamed", *name));
}

base::Result<Change> showIdea(const Yard& yard, Id id, OnClash onClash) {
  if (!id) {
    Yard now = yard;
    showYard(now);
    return changeBetween(yard, now, base::text(base::Message{"idea_yard_shown", {}}));
  }
  const auto now = laid(yard, id, onClash);
  if (!now) return tl::unexpected(now.error());
  return changeBetween(yard, *now, step("idea_shown", yard::find<Idea>(yard, id)->name));
}

base::Result<Change> dropIdea(const Yard& yard, Id id) {
  const auto idea = found(yard, id);
  if (!idea) return tl::unexpected(idea.error());
  Yard now = yard;
  if ((*idea)->active) showYard(now);
  now.records.erase(id);
  return changeBetween(yard, now, step("idea_dropped", (*idea)->name));
}

base::Result<Change> adoptIdea(const Yard& yard, Id id, OnClash onClash) {
  auto now = laid(yard, id, onClash);
  if (!now) return tl::unexpected(now.error());
  now->records.erase(id);
  return changeBetween(yard, *now, step("idea_adopted", yard::find<Idea>(yard, id)->name));
}

Change keptInIdea(const Yard& before, Change change) {
  const Id id = shownIdea(before);
  if (!id || isSwitch(change)) return change;
  const RecordPtr was = at(before, id);
  Idea idea = std::get<Idea>(*was);
  Kept kept = keptBy(idea);
  for (const Replacement& r : change.replacements) {
    if (r.before == nullptr && r.after == nullptr) continue;
    if (!isIdea(r))
      remember(kept, r);
    else if (r.id == id)  // renamed along with it
      idea = std::get<Idea>(*r.after);
  }
  idea.changes.clear();
  for (auto& [record, one] : kept) idea.changes.push_back(std::move(one));
  std::erase_if(change.replacements, [id](const Replacement& r) { return r.id == id; });
  if (idea == std::get<Idea>(*was)) return change;
  Replacement own{id, was, std::make_shared<const yard::Record>(std::move(idea))};
  const auto place = std::lower_bound(change.replacements.begin(), change.replacements.end(), id,
                                      [](const Replacement& r, Id wanted) { return r.id < wanted; });
  change.replacements.insert(place, std::move(own));
  return change;
}

}  // namespace yw::edit
