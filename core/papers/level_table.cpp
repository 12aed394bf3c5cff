#include "core/papers/level_table.h"

#include <algorithm>

#include "core/papers/table_builder.h"
#include "core/shapes/ground_level.h"

namespace yw::papers {
namespace {

using What = LevelLine::What;

constexpr double kLevel = 0.005;  ///< metres: less is not worth a leg

/// Legs of the row that it is in; empty if the row stands level.
void addRowLeg(std::vector<LevelLine>& lines, const Digest& d, Id prop) {
  for (const auto& [id, array] : yard::all<yard::PropArray>(d.y)) {
    std::vector<Id> members;
    for (const yard::ArrayMember& member : array->members) {
      const auto* one = yard::find<yard::Prop>(d.y, member.prop);
      if (one != nullptr && !one->wall) members.push_back(member.prop);
    }
    if (members.size() < 2 || std::find(members.begin(), members.end(), prop) == members.end()) continue;
    const auto row = shapes::levelRow(d.y, members, 0.0);
    const auto [low, high] = std::minmax_element(row.reveals.each.begin(), row.reveals.each.end());
    if (low == high || *high - *low < kLevel) continue;
    for (std::size_t k = 0; k < row.props.size(); ++k)
      if (row.props[k] == prop)
        lines.push_back({What::RowLeg, 1,
                         shapes::groundHeight(d.y, base::vec(yard::find<yard::Prop>(d.y, prop)->at)),
                         base::toLength({row.reveals.each[k]}), 0});
  }
}

void addCone(std::vector<LevelLine>& lines, const Digest& d, const yard::Prop& prop) {
  const auto legs = shapes::levelRing(d.y, prop);
  const auto strips = shapes::stripsOnSlope(d.y, prop);
  if (!legs || !strips) return;
  const auto [low, high] = std::minmax_element(legs->each.begin(), legs->each.end());
  if (*high - *low < kLevel) return;
  for (std::size_t k = 0; k < legs->each.size(); ++k)
    lines.push_back({What::RingLeg, static_cast<std::int64_t>(k) + 1, legs->top - legs->each[k],
                     base::toLength({legs->each[k]}), 0});
  for (std::size_t k = 0; k < strips->size(); ++k)
    lines.push_back({What::Strip, static_cast<std::int64_t>(k) + 1, (*strips)[k].ground,
                     base::toLength({(*strips)[k].length}), (*strips)[k].pixels});
}

}  // namespace

std::vector<LevelLine> levelLines(const Digest& d, Id id) {
  std::vector<LevelLine> lines;
  const auto* prop = yard::find<yard::Prop>(d.y, id);
  const auto* shape = lookUp(d.a.shapes, id);
  if (prop == nullptr || shape == nullptr || d.rests(id)) return lines;
  if (!prop->wall && yard::all<yard::SpotHeight>(d.y).size() > 1) {
    addRowLeg(lines, d, id);
    addCone(lines, d, *prop);
  }
  std::int64_t drops = 0;
  for (const shapes::Cut& cut : (*shape)->cuts)
    if (cut.stock == "hanger cord") lines.push_back({What::Drop, ++drops, 0.0, cut.length, 0});
  return lines;
}

std::string levelText(const LevelLine& line) {
  static constexpr const char* kNames[] = {"level_row_leg", "level_ring_leg", "level_strip", "level_drop"};
  return say(kNames[static_cast<std::size_t>(line.what)], {{"number", line.number}});
}

Table levelsTable(const Digest& d) {
  TableBuilder t("levels");
  t.words("prop").words("what").number("ground", d.lengthUnit()).number("length", d.lengthUnit());
  t.number("pixels");
  std::vector<Id> props;
  for (const auto& [id, prop] : yard::all<yard::Prop>(d.y)) props.push_back(id);
  std::stable_sort(props.begin(), props.end(),
                   [&](Id l, Id r) { return naturalLess(d.label(l), d.label(r)); });
  for (const Id id : props)
    for (const LevelLine& line : levelLines(d, id))
      t.row(id, {d.label(id), levelText(line), line.what == What::Drop ? "" : fixed(d.inUnit(line.ground), 2),
                 fixed(d.inUnit(line.length), 3), line.pixels > 0 ? std::to_string(line.pixels) : ""});
  return t.take();
}

}  // namespace yw::papers
