#include "core/file/ideas_in_file.h"

#include "core/file/check.h"
#include "core/yard/codec.h"

namespace yw::file {
namespace {

using base::Id;
using yard::Idea;

tl::unexpected<base::Error> damaged(const yard::Yard& yard, Id id, const Idea& idea, const std::string& why) {
  return base::fail(base::ErrorCode::Unreadable, {"idea_damaged", {{"idea", idea.name}, {"reason", why}}},
                    recordName(yard, id));
}

/// One side read and written again; why not, if it is not what it says.
base::Result<std::string> tidied(const std::string& side, std::int64_t record) {
  if (side.empty()) return side;
  auto read = yard::decode(side);
  if (!read) return tl::unexpected(read.error());
  if (read->first.value != record || std::holds_alternative<Idea>(read->second))
    return base::fail(base::ErrorCode::Unreadable,
                      {"idea_other_record", {{"record", std::to_string(record)}}});
  return yard::encode(read->first, read->second);
}

base::Result<Idea> tidied(const yard::Yard& yard, Id id, Idea idea) {
  std::int64_t last = 0;
  for (yard::IdeaChange& change : idea.changes) {
    if (change.record <= last || change.record >= yard.nextId)
      return damaged(yard, id, idea,
                     base::text(base::Message{"idea_order", {{"record", std::to_string(change.record)}}}));
    last = change.record;
    for (std::string* side : {&change.before, &change.after}) {
      auto good = tidied(*side, change.record);
      if (!good) return damaged(yard, id, idea, base::text(good.error()));
      *side = *std::move(good);
    }
    if (!idea.active) continue;
    const auto there = yard.records.find(Id{change.record});
    change.after = there == yard.records.end() ? "" : yard::encode(there->first, *there->second);
  }
  std::erase_if(idea.changes, [](const auto& change) { return change.before == change.after; });
  return idea;
}

}  // namespace

base::Result<void> tidyIdeas(yard::Yard& yard) {
  std::string shown;
  for (const auto& [id, idea] : yard::all<Idea>(yard)) {
    if (idea->active && !shown.empty())
      return base::fail(base::ErrorCode::Unreadable,
                        {"idea_two_shown", {{"first", shown}, {"second", idea->name}}}, recordName(yard, id));
    if (idea->active) shown = idea->name.empty() ? recordName(yard, id) : idea->name;
    auto tidy = tidied(yard, id, *idea);
    if (!tidy) return tl::unexpected(tidy.error());
    if (*tidy != *idea) yard.records[id] = std::make_shared<const yard::Record>(*std::move(tidy));
  }
  return {};
}

std::set<std::string> picturesOf(const Idea& idea) {
  std::set<std::string> pictures;
  for (const yard::IdeaChange& change : idea.changes)
    for (const std::string* side : {&change.before, &change.after}) {
      if (side->find("\"photo\"") == std::string::npos) continue;  // no picture in it: not worth reading
      const auto read = yard::decode(*side);
      if (!read) continue;
      if (const std::string* key = yard::blobOf(read->second)) pictures.insert(*key);
    }
  return pictures;
}

base::Result<edit::Change> wholeOrRefused(const yard::Yard& yard, base::Result<edit::Change> change, Id id) {
  if (!change) return change;
  const auto whole = checkWhole(edit::apply(yard, *change), {});
  if (whole) return change;
  const auto* idea = yard::find<Idea>(yard, id);
  return base::fail(base::ErrorCode::BadInput, {"idea_not_whole",
                                                {{"idea", idea == nullptr ? std::string{} : idea->name},
                                                 {"reason", base::text(whole.error())}}});
}

}  // namespace yw::file
