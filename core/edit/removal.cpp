#include "core/edit/removal.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <set>

#include "core/yard/member_type.h"

namespace yw::edit {
namespace {

using namespace yard;
using Gone = std::set<Id>;

/// Does any member name one of them?
class NamesOneOf {
 public:
  explicit NamesOneOf(const Gone& gone) : gone_(gone) {}
  template <class T>
  void operator()(const Field&, const T& value) {
    visit(value);
  }
  bool found = false;

 private:
  template <class T>
  void visit(const T& value) {
    if constexpr (std::is_same_v<T, Id>) {
      found = found || gone_.contains(value);
    } else if constexpr (IsList<T>::value) {
      for (const auto& item : value) visit(item);
    } else if constexpr (kIsNested<T>) {
      eachField(value, *this);
    }
  }
  const Gone& gone_;
};

/// Sets every member that names one of them to 'none'.
class Forget {
 public:
  explicit Forget(const Gone& gone) : gone_(gone) {}
  template <class T>
  void operator()(const Field&, T& value) {
    visit(value);
  }

 private:
  template <class T>
  void visit(T& value) {
    if constexpr (std::is_same_v<T, Id>) {
      if (gone_.contains(value)) value = {};
    } else if constexpr (IsList<T>::value) {
      for (auto& item : value) visit(item);
    } else if constexpr (kIsNested<T>) {
      eachField(value, *this);
    }
  }
  const Gone& gone_;
};

/// Plan place and outward direction of a place on a wall.
struct OffTheWall {
  Point at;
  Angle heading;
};
OffTheWall offTheWall(const Wall& wall, Length along) {
  const base::Vec2 from = base::vec(wall.from), way = base::vec(wall.to) - from;
  const double length = base::norm(way);
  const base::Vec2 unit = length > 0 ? way * (1.0 / length) : base::Vec2{1.0, 0.0};
  return {base::point(from + unit * base::metres(along).si),
          base::toAngle(std::atan2(unit.y, unit.x) * 180.0 / 3.14159265358979323846)};
}

/// What each kind does when something it names goes: false when it cannot stay. Kinds without an overload of
/// their own only forget.
class Loosen {
 public:
  Loosen(const Yard& yard, const Gone& gone) : yard_(yard), gone_(gone) {}

  template <class R>
  bool operator()(R& record) const {
    return forget(record);
  }
  bool operator()(FusePosition& r) const { return !isGone(r.supply); }
  bool operator()(Port& r) const { return !isGone(r.owner); }
  bool operator()(Supply& r) const { return !isGone(r.box) && forget(r); }
  bool operator()(Controller& r) const { return !isGone(r.box) && forget(r); }
  bool operator()(Receiver& r) const { return !isGone(r.box) && forget(r); }
  bool operator()(Cable& r) const { return !isGone(r.from.record) && !isGone(r.to.record) && forget(r); }
  bool operator()(Measurement& r) const { return !isGone(r.at.record); }
  bool operator()(KeepAsIs&) const { return false; }
  bool operator()(LeftAsIs&) const { return false; }
  bool operator()(IssuedSheet&) const { return false; }
  bool operator()(PropArray& r) const {
    std::erase_if(r.members, [this](const ArrayMember& m) { return isGone(m.prop); });
    return !r.members.empty();
  }
  bool operator()(Run& r) const {
    const auto lost = std::erase_if(r.items, [this](const RunItem& item) { return isGone(item.prop); });
    const bool lights = std::any_of(r.items.begin(), r.items.end(),
                                    [](const RunItem& item) { return item.kind == RunItemKind::Stretch; });
    return (lost == 0 || lights) && forget(r);
  }
  bool operator()(OwnedItem& r) const {
    const auto* product = find<Product>(yard_, r.product);
    if (isGone(r.product) && r.what.empty() && product != nullptr) r.what = product->name;
    return forget(r);
  }
  /// A prop on a wall that goes stays where it hung, facing the same way.
  bool operator()(Prop& r) const {
    const auto* wall = find<Wall>(yard_, r.wall);
    if (isGone(r.wall) && wall != nullptr) {
      const OffTheWall place = offTheWall(*wall, r.at.x);
      r.base += r.at.y;
      r.at = place.at;
      r.heading = place.heading;
    }
    return forget(r);
  }
  bool operator()(Box& r) const {
    const auto* wall = find<Wall>(yard_, r.wall);
    if (isGone(r.wall) && wall != nullptr) r.at = offTheWall(*wall, r.at.x).at;
    return forget(r);
  }

 private:
  bool isGone(Id id) const { return gone_.contains(id); }
  template <class R>
  bool forget(R& record) const {
    eachField(record, Forget(gone_));
    return true;
  }
  const Yard& yard_;
  const Gone& gone_;
};

bool stays(const Record& record) {
  return std::holds_alternative<Settings>(record) || std::holds_alternative<Site>(record);
}

/// One round over all records: those that cannot stay, and those that changed by forgetting.
struct Round {
  Gone alsoGone;
  std::vector<std::pair<Id, RecordPtr>> changed;
};
Round loosenAll(const Yard& yard, const Gone& gone) {
  Round round;
  const Loosen loosen(yard, gone);
  for (const auto& [id, record] : yard.records) {
    if (gone.contains(id)) continue;
    NamesOneOf names(gone);
    std::visit([&](const auto& r) { eachField(r, names); }, *record);
    if (!names.found) continue;
    Record copy = *record;
    if (std::visit([&](auto& r) { return loosen(r); }, copy))
      round.changed.emplace_back(id, std::make_shared<const Record>(std::move(copy)));
    else
      round.alsoGone.insert(id);
  }
  return round;
}

}  // namespace

void removeWithAllThatNamesThem(Yard& yard, const std::vector<Id>& ids) {
  Gone gone;
  for (const Id id : ids) {
    const auto it = yard.records.find(id);
    if (it != yard.records.end() && !stays(*it->second)) gone.insert(id);
  }
  while (!gone.empty()) {
    Round round = loosenAll(yard, gone);
    if (round.alsoGone.empty()) {
      for (auto& [id, record] : round.changed) yard.records[id] = std::move(record);
      break;
    }
    gone.merge(round.alsoGone);  // again from the start: what goes may be named by what changed
  }
  for (const Id id : gone) yard.records.erase(id);
}

}  // namespace yw::edit
