#include "core/edit/record_merge.h"

#include <nlohmann/json.hpp>

#include "core/yard/codec.h"

namespace yw::edit {
namespace {

using Json = nlohmann::ordered_json;

/// Puts two groups of members together: what only one side changed is that side's. Groups inside (a prop's
/// sizes) are put together the same way; lists are one value.
class Merger {
 public:
  explicit Merger(OnClash onClash) : onClash_(onClash) {}

  Json merge(const Json& base, const Json& yards, const Json& ideas, const std::string& path) {
    if (yards == base) return ideas;
    if (ideas == base || ideas == yards) return yards;
    if (base.is_object() && yards.is_object() && ideas.is_object()) return groups(base, yards, ideas, path);
    clashes.push_back(path);
    return onClash_ == OnClash::KeepIdeas ? ideas : yards;
  }
  std::vector<std::string> clashes;

 private:
  static const Json& at(const Json& group, const std::string& name) {
    static const Json none;
    const auto it = group.find(name);
    return it == group.end() ? none : *it;
  }
  Json groups(const Json& base, const Json& yards, const Json& ideas, const std::string& path) {
    Json names = yards;  // in its order, then what only the idea has
    for (const auto& [name, value] : ideas.items())
      if (!names.contains(name)) names[name] = value;
    Json out = Json::object();
    const std::string before = path.empty() ? path : path + ".";
    for (const auto& [name, ignored] : names.items()) {
      std::string inner = before;
      inner += name;
      Json value = merge(at(base, name), at(yards, name), at(ideas, name), inner);
      if (!value.is_null()) out[name] = std::move(value);
    }
    return out;
  }
  OnClash onClash_;
};

bool same(const RecordPtr& a, const RecordPtr& b) {
  return a == b || (a != nullptr && b != nullptr && *a == *b);
}

}  // namespace

RecordPtr recordOf(const std::string& line) {
  if (line.empty()) return nullptr;
  auto read = yard::decode(line);
  return read ? std::make_shared<const yard::Record>(std::move(read->second)) : nullptr;
}

std::string lineOf(Id id, const RecordPtr& record) {
  return record == nullptr ? std::string{} : yard::encode(id, *record);
}

Merged mergeRecords(Id id, const RecordPtr& base, const RecordPtr& yards, const RecordPtr& ideas,
                    OnClash onClash) {
  if (same(yards, base)) return {ideas, {}};
  if (same(ideas, base) || same(ideas, yards)) return {yards, {}};
  const RecordPtr& kept = onClash == OnClash::KeepIdeas ? ideas : yards;
  if (base == nullptr || yards == nullptr || ideas == nullptr || yards->index() != ideas->index())
    return {kept, {""}};
  Merger merger(onClash);
  const auto json = [id](const RecordPtr& record) { return Json::parse(lineOf(id, record)); };
  const RecordPtr merged = recordOf(merger.merge(json(base), json(yards), json(ideas), "").dump());
  if (merged == nullptr) return {kept, {""}};
  return {merged, std::move(merger.clashes)};
}

}  // namespace yw::edit
