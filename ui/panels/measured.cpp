#include "ui/panels/measured.h"

#include <algorithm>

#include "ui/dialogs/measured_dialog.h"
#include "ui/panels/edits.h"

namespace yw::ui {

namespace {

using base::Id;
using yard::TerminalKind;

/// Prop and its 1-based pixel at a terminal; pixel 0: it is at no prop.
std::pair<Id, std::int64_t> pixelAt(const assess::Assessment& a, const yard::Terminal& at) {
  if (at.kind == TerminalKind::PropPixel) return {at.record, at.pixel};
  if (at.kind == TerminalKind::PropIn) return {at.record, 1};
  const auto shape = a.shapes.find(at.record);
  if (at.kind != TerminalKind::PropOut || shape == a.shapes.end()) return {};
  return {at.record, static_cast<std::int64_t>(shape->second->pixels.size())};
}

std::int64_t placeOf(const circuit::RunLayout& layout, Id prop, std::int64_t pixel) {
  const auto it = std::find_if(layout.pixels.begin(), layout.pixels.end(), [&](const circuit::RunPixel& p) {
    return p.prop == prop && p.pixel == pixel;
  });
  return it == layout.pixels.end() ? 0 : it - layout.pixels.begin() + 1;
}

/// Fuse positions whose feeds land on the run.
std::vector<Id> fusesOf(const assess::Assessment& a, Id run) {
  std::vector<Id> fuses;
  for (const auto& [id, feed] : a.limit.feeds)
    if (feed.run == run && feed.fusePosition) fuses.push_back(feed.fusePosition);
  return fuses;
}

}  // namespace

std::vector<MeasuredOnRun> measuredOnRun(const assess::Assessment& a, const yard::Yard& yard, Id run) {
  std::vector<MeasuredOnRun> found;
  const auto* record = yard::find<yard::Run>(yard, run);
  const auto layout = a.layouts.find(run);
  if (record == nullptr || layout == a.layouts.end()) return found;
  const auto fuses = fusesOf(a, run);
  for (const auto& [id, value] : yard::all<yard::Measurement>(yard)) {
    const yard::Terminal& at = value->at;
    std::int64_t place = 0;
    if (const auto [prop, pixel] = pixelAt(a, at); prop) {
      place = placeOf(*layout->second, prop, pixel);
      if (place == 0) continue;
    } else if (at.kind == TerminalKind::Port) {
      if (!at.record || at.record != record->port) continue;
    } else if (at.kind != TerminalKind::FusePosition ||
               std::find(fuses.begin(), fuses.end(), at.record) == fuses.end()) {
      continue;
    }
    found.push_back({id, *value, place});
  }
  std::stable_sort(found.begin(), found.end(),
                   [](const auto& x, const auto& y) { return x.place < y.place; });
  return found;
}

std::vector<MeasuredOnRun> measuredOnSupply(const yard::Yard& yard, Id supply) {
  std::vector<MeasuredOnRun> found;
  for (const auto& [id, value] : yard::all<yard::Measurement>(yard)) {
    const auto* position = yard::find<yard::FusePosition>(yard, value->at.record);
    if (value->at.record == supply || (position != nullptr && position->supply == supply))
      found.push_back({id, *value});
  }
  return found;
}

QString terminalText(const yard::Yard& yard, const yard::Terminal& at) {
  const QString name = labelText(yard, at.record);
  switch (at.kind) {
    case TerminalKind::PropPixel:
      return QObject::tr("%1 pixel %2").arg(name).arg(at.pixel);
    case TerminalKind::PropIn:
      return QObject::tr("%1 first pixel").arg(name);
    case TerminalKind::PropOut:
      return QObject::tr("%1 last pixel").arg(name);
    default:
      return name;
  }
}

QString measuredText(const yard::Yard& yard, const yard::Measurement& value) {
  QStringList parts;
  if (value.volts.count > 0) parts << factText(value.volts, yard);
  if (value.amps.count > 0) parts << factText(value.amps, yard);
  return parts.join(QObject::tr(" and "));
}

std::vector<MeasuringPlace> measuringPlaces(const assess::Assessment& a, const yard::Yard& yard, Id run,
                                            std::int64_t place) {
  std::vector<MeasuringPlace> places;
  const auto add = [&](const yard::Terminal& at) { places.push_back({terminalText(yard, at), at}); };
  const auto* record = yard::find<yard::Run>(yard, run);
  const auto layout = a.layouts.find(run);
  if (record == nullptr || layout == a.layouts.end()) return places;
  const auto& pixels = layout->second->pixels;
  if (place >= 1 && place <= static_cast<std::int64_t>(pixels.size()))
    if (const auto& pixel = pixels[static_cast<std::size_t>(place - 1)]; pixel.prop)
      add({TerminalKind::PropPixel, pixel.prop, pixel.pixel});
  if (record->port) add({TerminalKind::Port, record->port, 0});
  for (const Id fuse : fusesOf(a, run)) add({TerminalKind::FusePosition, fuse, 0});
  return places;
}

std::vector<MeasuringPlace> measuringPlaces(const yard::Yard& yard, Id supply) {
  std::vector<MeasuringPlace> places;
  if (yard::find<yard::Supply>(yard, supply) == nullptr) return places;
  const auto add = [&](const yard::Terminal& at) { places.push_back({terminalText(yard, at), at}); };
  add({TerminalKind::Supply, supply, 0});
  for (const auto& [id, position] : yard::fusePositionsOf(yard, supply))
    add({TerminalKind::FusePosition, id, 0});
  return places;
}

void writeDown(Document& document, const yard::Measurement& value) {
  edit::Editor editor(document.yard());
  editor.add(value);
  document.commit(
      editor.finish(QObject::tr("Write down %1 at %2")
                        .arg(measuredText(document.yard(), value), terminalText(document.yard(), value.at))
                        .toStdString()));
}

void askAndWriteDown(QWidget* parent, Document& document, std::vector<MeasuringPlace> places) {
  if (places.empty()) return;
  MeasuredDialog dialog(document, std::move(places), parent);
  if (dialog.exec() == QDialog::Accepted) writeDown(document, dialog.value());
}

}  // namespace yw::ui
