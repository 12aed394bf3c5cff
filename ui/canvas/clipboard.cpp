#include "ui/canvas/clipboard.h"

#include <QList>
#include <algorithm>
#include <map>
#include <vector>

#include "core/yard/codec.h"
#include "core/yard/labels.h"
#include "ui/canvas/edits.h"

namespace yw::ui {

using base::Id;
using base::Point;

namespace {

/// Records that copied ones name and that say what is meant by an id, should it be pasted into another yard.
using Context = std::map<Id, yard::Record>;

bool isContext(const yard::Record& record) {
  return std::holds_alternative<yard::Product>(record) || std::holds_alternative<yard::Wall>(record) ||
         std::holds_alternative<yard::HouseCircuit>(record);
}

/// The same record in this yard: under its own id, else an equal one; a product that is missing is added.
Id resolved(edit::Editor& editor, const Context& context, Id id) {
  const auto meant = context.find(id);
  if (!id || meant == context.end()) return {};
  const auto& records = editor.yard().records;
  const auto same = records.find(id);
  if (same != records.end() && *same->second == meant->second) return id;
  for (const auto& [other, record] : records)
    if (*record == meant->second) return other;
  if (!std::holds_alternative<yard::Product>(meant->second)) return {};
  yard::Product product = std::get<yard::Product>(meant->second);
  if (!yard::find<yard::Wire>(editor.yard(), product.stringWire)) product.stringWire = {};
  return editor.add(product);
}

template <class R>
void resolve(edit::Editor& editor, const Context& context, R& record) {
  if constexpr (requires { record.wall; }) record.wall = resolved(editor, context, record.wall);
  if constexpr (requires { record.product; }) record.product = resolved(editor, context, record.product);
  if constexpr (requires { record.circuit; }) record.circuit = resolved(editor, context, record.circuit);
}

struct Placed {
  yard::Record record;
  Point at;           ///< plan place it was copied from
  bool hung = false;  ///< its own place is in a wall's frame
};

/// The record if it is of a kind that is copied: what stands somewhere and hangs on nothing else.
std::optional<Placed> placed(yard::Record record) {
  std::optional<Placed> made;
  std::visit(
      [&](auto& r) {
        using R = std::decay_t<decltype(r)>;
        if constexpr (std::is_same_v<R, yard::Prop> || std::is_same_v<R, yard::Box> ||
                      std::is_same_v<R, yard::Outlet> || std::is_same_v<R, yard::OtherLoad> ||
                      std::is_same_v<R, yard::AudiencePoint> || std::is_same_v<R, yard::SpotHeight>) {
          bool hung = false;
          if constexpr (requires { r.wall; }) hung = static_cast<bool>(r.wall);
          made = Placed{r, r.at, hung};
        } else if constexpr (std::is_same_v<R, yard::GroundFeature>) {
          if (!r.outline.empty()) made = Placed{r, r.outline.front(), false};
        }
      },
      record);
  return made;
}

void shift(yard::Record& record, Point by) {
  std::visit(
      [&](auto& r) {
        if constexpr (requires { r.outline; }) {
          for (Point& p : r.outline) p = p + by;
        } else if constexpr (requires { r.at.x; }) {
          r.at = r.at + by;
        }
      },
      record);
}

void rename(const yard::Yard& yard, yard::Record& record) {
  std::visit(
      [&](auto& r) {
        if constexpr (requires { r.name; })
          if (!r.name.empty()) r.name = yard::freeName(yard, yard::kindOf(yard::Record(r)), r.name);
      },
      record);
}

}  // namespace

QByteArray encodeRecords(const yard::Yard& yard, const std::set<Id>& ids) {
  std::string context, lines;
  std::set<Id> told;
  for (const Id id : ids) {
    const auto it = yard.records.find(id);
    if (it == yard.records.end() || !placed(*it->second)) continue;
    lines += yard::encode(id, *it->second) + "\n";
    for (const Id named : yard::references(*it->second)) {
      const auto record = yard.records.find(named);
      if (record != yard.records.end() && isContext(*record->second) && told.insert(named).second)
        context += yard::encode(named, *record->second) + "\n";
    }
  }
  return QByteArray::fromStdString(lines.empty() ? lines : context + lines);
}

std::optional<Pasted> pasteRecords(edit::Editor& editor, const QByteArray& bytes, Point middle) {
  Context context;
  std::vector<Placed> all;
  for (const QByteArray& line : bytes.split('\n')) {
    if (line.isEmpty()) continue;
    auto read = yard::decode(line.toStdString());
    if (!read) return std::nullopt;
    if (isContext(read->second)) {
      context.emplace(read->first, std::move(read->second));
      continue;
    }
    std::visit([&](auto& r) { resolve(editor, context, r); }, read->second);
    if (auto one = placed(std::move(read->second))) all.push_back(std::move(*one));
  }
  if (all.empty()) return std::nullopt;
  Point low = all.front().at, high = low;
  for (const Placed& one : all) {
    low = {std::min(low.x, one.at.x), std::min(low.y, one.at.y)};
    high = {std::max(high.x, one.at.x), std::max(high.y, one.at.y)};
  }
  const Point by = middle - Point{{(low.x.count + high.x.count) / 2}, {(low.y.count + high.y.count) / 2}};
  Pasted pasted;
  for (Placed& one : all) {
    if (!one.hung) shift(one.record, by);
    rename(editor.yard(), one.record);
    const Id id = editor.add(one.record);
    if (const auto* feature = std::get_if<yard::GroundFeature>(&one.record);
        feature && feature->kind == yard::FeatureKind::House)
      edits::addWalls(editor, id);
    pasted.ids.insert(id);
  }
  return pasted;
}

}  // namespace yw::ui
