#include "core/file/check.h"

#include <algorithm>
#include <array>

#include "core/yard/member_type.h"

namespace yw::file {
namespace {

using namespace yard;
using Lines = std::map<Id, std::int64_t>;

std::string kindName(RecordKind kind) {
  std::string name = kindWords()[static_cast<std::size_t>(kind)].name;
  std::replace(name.begin(), name.end(), '_', ' ');
  return name;
}

class Checker {
 public:
  Checker(const Yard& yard, const Lines& lines) : yard_(yard), lines_(lines) {}

  base::Result<void> whole() const {
    const std::array checks{&Checker::onlyOnes, &Checker::counter, &Checker::allReferences,
                            &Checker::allRanges, &Checker::noPixelTwice};
    for (const auto check : checks)
      if (auto good = (this->*check)(); !good) return good;
    return {};
  }

 private:
  tl::unexpected<base::Error> refuse(base::Message message, Id id, const std::string& field = {}) const {
    const auto line = lines_.find(id);
    std::string where = line == lines_.end() ? "" : "line " + std::to_string(line->second) + ", ";
    where += recordName(yard_, id);
    if (!field.empty()) where += ", field " + field;
    return base::fail(base::ErrorCode::Unreadable, std::move(message), std::move(where));
  }
  template <class R>
  base::Result<void> onlyOne(RecordKind kind) const {
    const auto found = all<R>(yard_);
    if (found.empty())
      return base::fail(base::ErrorCode::Unreadable, {"file_missing_kind", {{"kind", kindName(kind)}}});
    if (found.size() > 1)
      return refuse(
          {"file_doubled_kind", {{"kind", kindName(kind)}, {"first", recordName(yard_, found[0].first)}}},
          found[1].first);
    return {};
  }
  base::Result<void> onlyOnes() const {
    if (auto good = onlyOne<Settings>(RecordKind::Settings); !good) return good;
    return onlyOne<Site>(RecordKind::Site);
  }
  base::Result<void> counter() const {
    if (yard_.records.empty() || yard_.records.rbegin()->first.value < yard_.nextId) return {};
    const Id last = yard_.records.rbegin()->first;
    return refuse({"file_id_beyond_counter",
                   {{"next", std::to_string(yard_.nextId)}, {"needed", std::to_string(last.value + 1)}}},
                  last, "id");
  }
  base::Result<void> allReferences() const {
    for (const auto& [id, record] : yard_.records) {
      for (const Reference& reference : referencesWithFields(*record)) {
        const auto target = yard_.records.find(reference.id);
        if (target == yard_.records.end())
          return refuse({"file_dangling", {{"missing", std::to_string(reference.id.value)}}}, id,
                        reference.field);
        const auto& kinds = reference.kinds;
        if (!kinds.empty() && std::find(kinds.begin(), kinds.end(), kindOf(*target->second)) == kinds.end())
          return refuse(
              {"file_wrong_kind", {{"target", recordName(yard_, reference.id)}, {"wanted", kindList(kinds)}}},
              id, reference.field);
      }
    }
    return {};
  }
  static std::string kindList(const std::vector<RecordKind>& kinds) {
    std::string out;
    for (const RecordKind kind : kinds) out += (out.empty() ? "a " : " or a ") + kindName(kind);
    return out;
  }
  base::Result<void> allRanges() const {
    for (const auto& [id, prop] : all<Prop>(yard_)) {
      for (std::size_t i = 0; i < prop->parts.size(); ++i)
        for (const Range& range : prop->parts[i].ranges)
          if (range.last < range.first) return refuse(backwards(range.first, range.last), id, at("parts", i));
    }
    for (const auto& [id, run] : all<Run>(yard_)) {
      for (std::size_t i = 0; i < run->items.size(); ++i) {
        const RunItem& item = run->items[i];
        if (item.kind != RunItemKind::Stretch) continue;
        if (!item.prop) return refuse({"file_stretch_without_prop", {}}, id, at("items", i));
        const bool wholeProp = item.first == 0 && item.last == 0;
        if (!wholeProp && (item.first < 1 || item.last < item.first))
          return refuse(backwards(item.first, item.last), id, at("items", i));
      }
    }
    return {};
  }
  static std::string at(const char* list, std::size_t i) { return list + ('[' + std::to_string(i) + ']'); }
  static base::Message backwards(std::int64_t first, std::int64_t last) {
    return {"file_range_backwards", {{"first", std::to_string(first)}, {"last", std::to_string(last)}}};
  }

  /// A stretch of a prop that a run passes.
  struct Passed {
    Id prop;
    std::int64_t first, last;
    Id run;
    std::size_t item;
    auto operator<=>(const Passed&) const = default;
  };
  std::vector<Passed> allPassed() const {
    std::vector<Passed> passed;
    for (const auto& [id, run] : all<Run>(yard_)) {
      for (std::size_t i = 0; i < run->items.size(); ++i) {
        const RunItem& item = run->items[i];
        if (item.kind != RunItemKind::Stretch) continue;
        const bool wholeProp = item.first == 0 && item.last == 0;
        passed.push_back({item.prop, wholeProp ? 1 : item.first, wholeProp ? INT64_MAX : item.last, id, i});
      }
    }
    std::sort(passed.begin(), passed.end());
    return passed;
  }
  /// Data goes through a pixel once: twice in one run would be a cycle, in two runs a fork.
  base::Result<void> noPixelTwice() const {
    const auto passed = allPassed();
    for (std::size_t i = 1; i < passed.size(); ++i) {
      const Passed &a = passed[i - 1], &b = passed[i];
      if (a.prop != b.prop || b.first > a.last) continue;
      const bool bIsLater = std::pair(a.run, a.item) < std::pair(b.run, b.item);
      const Passed &earlier = bIsLater ? a : b, &later = bIsLater ? b : a;
      return refuse({earlier.run == later.run ? "file_pixel_twice_in_run" : "file_pixel_in_two_runs",
                     {{"prop", recordName(yard_, a.prop)},
                      {"pixel", std::to_string(b.first)},
                      {"other", recordName(yard_, earlier.run)}}},
                    later.run, at("items", later.item));
    }
    return {};
  }

  const Yard& yard_;
  const Lines& lines_;
};

}  // namespace

std::string recordName(const Yard& yard, Id id) {
  const auto it = yard.records.find(id);
  if (it == yard.records.end()) return "record " + std::to_string(id.value);
  std::string out = kindName(kindOf(*it->second)) + ' ' + std::to_string(id.value);
  const std::string name = std::visit(
      [](const auto& r) {
        if constexpr (requires { r.name; })
          return r.name;
        else
          return std::string{};
      },
      *it->second);
  return name.empty() ? out : out + " (" + name + ')';
}

base::Result<void> checkWhole(const Yard& yard, const Lines& lines) { return Checker(yard, lines).whole(); }

}  // namespace yw::file
