#include "ui/canvas/row_edits.h"

#include <algorithm>
#include <set>

#include "core/shapes/ground_level.h"
#include "core/yard/labels.h"

namespace yw::ui::edits {

using base::Id;
using yard::Prop;

namespace {

/// `Arch 12` → `Arch`.
std::string withoutNumber(const std::string& name) {
  const auto last = name.find_last_not_of("0123456789");
  if (last == std::string::npos || last + 1 == name.size() || name[last] != ' ') return name;
  const auto end = name.find_last_not_of(' ', last);
  return end == std::string::npos ? name : name.substr(0, end + 1);
}

/// The first number from which on `count` names are not those of other props.
std::int64_t freeFrom(const yard::Yard& yard, const std::string& stem, std::size_t count,
                      const std::set<Id>& ours) {
  std::set<std::string> taken;
  for (const auto& [id, prop] : yard::all<Prop>(yard))
    if (!ours.contains(id)) taken.insert(prop->name);
  for (std::int64_t first = 1;; ++first) {
    bool free = true;
    for (std::size_t k = 0; free && k < count; ++k)
      free = !taken.contains(stem + " " + std::to_string(first + static_cast<std::int64_t>(k)));
    if (free) return first;
  }
}

}  // namespace

Id rowOf(const yard::Yard& yard, Id prop) {
  for (const auto& [id, array] : yard::all<yard::PropArray>(yard))
    for (const yard::ArrayMember& member : array->members)
      if (member.prop == prop) return id;
  return {};
}

std::vector<Id> layOut(edit::Editor& editor, Id propId, const std::vector<shapes::Spot>& spots) {
  const Prop* found = yard::find<Prop>(editor.yard(), propId);
  if (!found || spots.empty()) return {};
  Prop like = *found;
  like.name = withoutNumber(like.name);
  like.locked = false;
  const Id row = rowOf(editor.yard(), propId);
  yard::PropArray array;
  if (const auto* old = yard::find<yard::PropArray>(editor.yard(), row)) array = *old;
  if (array.members.empty()) array.members.push_back({propId, false});
  std::set<Id> ours;
  for (const yard::ArrayMember& member : array.members) ours.insert(member.prop);
  const std::int64_t first =
      freeFrom(editor.yard(), like.name, std::max(spots.size(), array.members.size()), ours);
  const std::vector<Prop> wanted = shapes::propsAt(like, spots, first);
  for (std::size_t k = 0; k < wanted.size(); ++k) {
    if (k < array.members.size()) {
      editor.update<Prop>(array.members[k].prop, [&](Prop& prop) {
        prop.at = wanted[k].at;
        if (!prop.wall) prop.heading = wanted[k].heading;
        prop.name = wanted[k].name;
      });
    } else {
      Prop made = wanted[k];
      if (made.wall) made.heading = like.heading;
      array.members.push_back({editor.add(std::move(made)), false});
    }
  }
  for (std::size_t k = wanted.size(); k < array.members.size(); ++k)
    editor.update<Prop>(array.members[k].prop, [&](Prop& prop) {
      prop.name = like.name + " " + std::to_string(first + static_cast<std::int64_t>(k));
    });
  std::vector<Id> all;
  for (const yard::ArrayMember& member : array.members) all.push_back(member.prop);
  if (row) {
    editor.replace(row, array);
  } else if (array.members.size() > 1) {
    array.name = yard::freeName(editor.yard(), yard::RecordKind::PropArray, like.name);
    editor.add(array);
  }
  return all;
}

void setDetached(edit::Editor& editor, Id prop, bool detached) {
  editor.update<yard::PropArray>(rowOf(editor.yard(), prop), [&](yard::PropArray& array) {
    for (yard::ArrayMember& member : array.members)
      if (member.prop == prop) member.detached = detached;
  });
}

std::int64_t levelTops(edit::Editor& editor, Id prop, base::Length least) {
  const auto* array = yard::find<yard::PropArray>(editor.yard(), rowOf(editor.yard(), prop));
  if (!array) return 0;
  std::vector<Id> members;
  for (const yard::ArrayMember& member : array->members) {
    const auto* one = yard::find<Prop>(editor.yard(), member.prop);
    if (one && !one->wall) members.push_back(member.prop);
  }
  const shapes::RowReveals level = shapes::levelRow(editor.yard(), members, base::metres(least).si);
  std::int64_t changed = 0;
  for (std::size_t k = 0; k < level.props.size(); ++k) {
    const base::Length foot = base::toLength({level.reveals.each[k]});
    changed += yard::find<Prop>(editor.yard(), level.props[k])->base != foot;
    editor.update<Prop>(level.props[k], [&](Prop& one) { one.base = foot; });
  }
  return changed;
}

}  // namespace yw::ui::edits
