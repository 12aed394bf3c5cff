#include "core/edit/usual.h"

#include "core/yard/field_value.h"
#include "core/yard/labels.h"

namespace yw::edit {

using yard::RecordKind;

namespace {

constexpr std::int64_t kPortsOnASection = 8, kControllerPorts = 16, kReceiverPorts = 4;

}  // namespace

void addPorts(Editor& editor, Id owner, std::int64_t count) {
  const auto there = static_cast<std::int64_t>(yard::portsOf(editor.yard(), owner).size());
  const auto sections = static_cast<std::size_t>((there + count + kPortsOnASection - 1) / kPortsOnASection);
  const auto grow = [&](auto& r) { r.sections.resize(std::max(r.sections.size(), sections)); };
  editor.update<yard::Controller>(owner, grow);
  editor.update<yard::Receiver>(owner, grow);
  for (std::int64_t number = there + 1; number <= there + count; ++number) {
    yard::Port port;
    port.owner = owner;
    port.number = number;
    port.section = 1 + (number - 1) / kPortsOnASection;
    editor.add(port);
  }
}

Id addUsual(Editor& editor, RecordKind kind, Id box) {
  yard::Record record = yard::defaultRecord(kind);
  const std::string stem = kind == RecordKind::Box ? std::string("K") : std::string(yard::label(kind));
  const std::string name = yard::freeName(editor.yard(), kind, stem);
  if (auto named = yard::withValue(record, "name", name)) record = std::move(*named);
  if (auto* outlet = std::get_if<yard::Outlet>(&record)) outlet->circuit = usualCircuit(editor);
  if (const auto boxes = yard::all<yard::Box>(editor.yard()); !box && boxes.size() == 1)
    box = boxes.front().first;
  if (auto* supply = std::get_if<yard::Supply>(&record)) supply->box = box;
  if (auto* controller = std::get_if<yard::Controller>(&record)) controller->box = box;
  if (auto* receiver = std::get_if<yard::Receiver>(&record)) receiver->box = box;
  const Id id = editor.add(std::move(record));
  if (kind == RecordKind::Controller) addPorts(editor, id, kControllerPorts);
  if (kind == RecordKind::Receiver) addPorts(editor, id, kReceiverPorts);
  return id;
}

Id usualCircuit(Editor& editor) {
  const auto circuits = yard::all<yard::HouseCircuit>(editor.yard());
  if (circuits.empty()) return addUsual(editor, RecordKind::HouseCircuit);
  return circuits.size() == 1 ? circuits.front().first : Id{};
}

}  // namespace yw::edit
