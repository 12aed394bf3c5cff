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

Names::Names(const yard::Yard& yard, const Shapes& shapes) : yard_(yard), shapes_(shapes) {
  const auto keep = [&](Id box, Id id, const yard::RecordPtr& record) {
    if (!box) return;
    boxes_[box].records.emplace(id, record);
    boxOf_.emplace(id, box);
  };
  for (const auto& [id, record] : yard.records) {
    if (std::holds_alternative<yard::Box>(*record)) keep(id, id, record);
    if (const auto* r = std::get_if<yard::Supply>(record.get())) keep(r->box, id, record);
    if (const auto* r = std::get_if<yard::Controller>(record.get())) keep(r->box, id, record);
    if (const auto* r = std::get_if<yard::Receiver>(record.get())) keep(r->box, id, record);
  }
  for (const auto& [id, record] : yard.records)
    if (const auto* port = std::get_if<yard::Port>(record.get()))
      if (const auto box = boxOf_.find(port->owner); box != boxOf_.end())
        boxes_[box->second].records.emplace(id, record);
}

/// The label of something that belongs to `owner`: what counts for it stands in the owner's box.
std::string Names::labelInBox(Id owner, Id id) {
  const auto box = boxOf_.find(owner);
  if (box == boxOf_.end()) return yard::labelOf(yard_, id);
  yard::Yard& inBox = boxes_.at(box->second);
  if (const auto record = yard_.records.find(id); record != yard_.records.end())
    inBox.records.insert(*record);
  return yard::labelOf(inBox, id);
}

std::string Names::supplyLabel(Id supply) { return labelInBox(supply, supply); }

std::string Names::before(Id owner, Id sample, const char* mark) {
  const auto it = stems_.find(owner);
  if (it != stems_.end()) return it->second;
  const std::string label = labelInBox(owner, sample);
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
  return it != names_.end() ? it->second : names_.emplace(id, labelInBox(id, id)).first->second;
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
