#include "core/edit/lead.h"

namespace yw::edit {
namespace {

using yard::RunItem;
using yard::RunItemKind;
using yard::TerminalKind;

yard::Cable leadBefore(const yard::Run& run, std::size_t index) {
  yard::Cable cable;
  cable.conductors = yard::ConductorSet::PowerAndData;
  cable.to = {TerminalKind::PropIn, run.items[index].prop, 0};
  if (run.items[index].reversed) cable.to.kind = TerminalKind::PropOut;
  cable.from = {TerminalKind::Port, run.port, 0};
  for (std::size_t i = 0; i < index; ++i) {
    const RunItem& before = run.items[i];
    if (before.kind != RunItemKind::Stretch) continue;
    cable.from = {before.reversed ? TerminalKind::PropIn : TerminalKind::PropOut, before.prop, 0};
  }
  return cable;
}

}  // namespace

Id leadRecord(Editor& editor, Id runId, std::int64_t item) {
  const auto* run = yard::find<yard::Run>(editor.yard(), runId);
  const auto at = static_cast<std::size_t>(item);
  if (run == nullptr || item < 0 || at >= run->items.size() || run->items[at].kind != RunItemKind::Stretch)
    return {};
  if (run->items[at].lead) return run->items[at].lead;
  const Id lead = editor.add(leadBefore(*run, at));
  editor.update<yard::Run>(runId, [&](yard::Run& r) { r.items[at].lead = lead; });
  return lead;
}

}  // namespace yw::edit
