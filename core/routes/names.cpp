#include "core/routes/names.h"

#include <fmt/format.h>

#include "core/yard/labels.h"

namespace yw::routes {

using base::Message;
using yard::TerminalKind;

std::string landmarkOf(const shapes::Shape& shape, std::int64_t pixel) {
  for (const shapes::Joint& joint : shape.joints)
    if (joint.afterPixel == pixel) return joint.landmark;
  for (const shapes::Row& row : shape.rows)
    if (row.first <= pixel && pixel <= row.last) return row.name;
  return {};
}

std::string Names::before(Id owner, Id sample, const char* mark) {
  const auto it = stems_.find(owner);
  if (it != stems_.end()) return it->second;
  const std::string label = yard::labelOf(yard_, sample);
  return stems_.emplace(owner, label.substr(0, label.rfind(mark))).first->second;
}

std::string Names::portLabel(Id port) {
  const auto* record = yard::find<yard::Port>(yard_, port);
  if (record == nullptr) return yard::labelOf(yard_, port);
  return fmt::format("{}-P{:02}", before(record->owner, port, "-P"), record->number);
}

std::string Names::fuseLabel(Id fusePosition) {
  const auto* record = yard::find<yard::FusePosition>(yard_, fusePosition);
  if (record == nullptr || yard::find<yard::Supply>(yard_, record->supply) == nullptr)
    return yard::labelOf(yard_, fusePosition);
  return fmt::format("{}-F{:02}", before(record->supply, fusePosition, "-F"), record->number);
}

std::string Names::runLabel(Id run, const yard::Run& record) {
  return yard::find<yard::Port>(yard_, record.port) == nullptr ? yard::labelOf(yard_, run)
                                                               : portLabel(record.port);
}

std::string Names::nameOf(Id id) {
  const auto it = names_.find(id);
  return it != names_.end() ? it->second : names_.emplace(id, yard::labelOf(yard_, id)).first->second;
}

std::string Names::inLineText(yard::RunItemKind kind) {
  return base::text(Message{kind == yard::RunItemKind::Booster ? "routes_booster" : "routes_null_pixel", {}});
}

std::string Names::pixelText(const yard::Prop& prop, const shapes::Shape& shape, std::int64_t pixel) const {
  const std::string landmark = landmarkOf(shape, pixel);
  if (landmark.empty()) return base::text(Message{"routes_pixel", {{"prop", prop.name}, {"pixel", pixel}}});
  return base::text(
      Message{"routes_pixel_at", {{"prop", prop.name}, {"pixel", pixel}, {"landmark", landmark}}});
}

std::string Names::terminalText(const yard::Terminal& terminal) {
  const auto end = [&](const char* bare, const char* at, const std::string& landmark) {
    const std::string prop = nameOf(terminal.record);
    if (landmark.empty()) return base::text(Message{bare, {{"prop", prop}}});
    return base::text(Message{at, {{"prop", prop}, {"landmark", landmark}}});
  };
  switch (terminal.kind) {
    case TerminalKind::Port: {
      const auto* port = yard::find<yard::Port>(yard_, terminal.record);
      if (port == nullptr) break;
      return base::text(Message{
          "routes_port", {{"owner", before(port->owner, terminal.record, "-P")}, {"number", port->number}}});
    }
    case TerminalKind::FusePosition: {
      const auto* fuse = yard::find<yard::FusePosition>(yard_, terminal.record);
      if (fuse == nullptr || yard::find<yard::Supply>(yard_, fuse->supply) == nullptr) break;
      return base::text(Message{
          "routes_fuse", {{"owner", before(fuse->supply, terminal.record, "-F")}, {"number", fuse->number}}});
    }
    case TerminalKind::PropIn:
    case TerminalKind::PropOut:
    case TerminalKind::PropPixel: {
      const auto* prop = yard::find<yard::Prop>(yard_, terminal.record);
      if (prop == nullptr) break;
      const auto it = shapes_.find(terminal.record);
      if (terminal.kind == TerminalKind::PropIn)
        return end("routes_in", "routes_in_at", it == shapes_.end() ? "" : it->second->in.landmark);
      if (terminal.kind == TerminalKind::PropOut)
        return end("routes_out", "routes_out_at", it == shapes_.end() ? "" : it->second->out.landmark);
      if (it != shapes_.end()) return pixelText(*prop, *it->second, terminal.pixel);
      return base::text(Message{"routes_pixel", {{"prop", prop->name}, {"pixel", terminal.pixel}}});
    }
    case TerminalKind::None:
      return {};
    default:
      break;
  }
  return nameOf(terminal.record);
}

}  // namespace yw::routes
