#include "ui/panels/item_facts.h"

#include <set>

#include "core/base/number_text.h"
#include "core/findings/rule_help.h"
#include "core/shapes/shape.h"
#include "ui/panels/edits.h"

namespace yw::ui {

namespace {

using base::Id;

QString at(const Document& document, double amps) {
  return factText(base::toCurrent({amps}), document.shownYard());
}

QString degrees(const Document& document, double celsius) {
  return factText(base::Temperature{base::roundedCount(celsius * 1000.0)}, document.shownYard());
}

QString both(const Document& document, double limit, double white) {
  return QObject::tr("%1 at the brightness limit, %2 at full white")
      .arg(at(document, limit), at(document, white));
}

/// Figure of `id` in one of Power's maps, or null.
template <class Map>
auto figure(const Map& map, Id id) -> decltype(&map.begin()->second) {
  const auto it = map.find(id);
  return it == map.end() ? nullptr : &it->second;
}

void propFacts(const Document& document, Id id, QStringList& lines) {
  const auto wired = document.assessment()->wiredIn.find(id);
  if (wired == document.assessment()->wiredIn.end() || wired->second.empty()) {
    lines << QObject::tr("Not wired yet");
    return;
  }
  QStringList runs;
  for (const auto& [run, item] : wired->second) {
    const QString name = labelText(document.shownYard(), run);
    if (!runs.contains(name)) runs << name;
  }
  lines << QObject::tr("On %1").arg(runs.join(QStringLiteral(", ")));
}

void pixelFacts(const Document& document, QStringList& lines) {
  const auto [run, place] = selectedPlace(document);
  if (!run) return;
  const auto* limit = figure(document.assessment()->limit.runs, run);
  const auto* white = figure(document.assessment()->fullWhite.runs, run);
  const auto index = static_cast<std::size_t>(place) - 1;
  if (!limit || !white || index >= limit->volts.size() || index >= white->volts.size()) return;
  const auto volts = [&](double v) { return factText(base::toVoltage({v}), document.shownYard()); };
  lines << QObject::tr("Pixel %1: %2 at the brightness limit, %3 at full white")
               .arg(document.selection().pixel())
               .arg(volts(limit->volts[index]), volts(white->volts[index]));
}

/// `measured`, `maker's figure`, `assumed`: what the amps of a product or the volts of a supply rest on.
QString originText(const Document& document, Id id) {
  const auto& words = yard::words(yard::Origin{});
  return QString::fromUtf8(
      words[static_cast<std::size_t>(assess::originOf(*document.assessment(), id))].label);
}

/// How sure the run is, which unknown matters most, and what its figures rest on.
void marginFacts(const Document& document, Id run, QStringList& lines) {
  const auto assessment = document.assessment();
  const yard::Yard& yard = document.shownYard();
  const auto layout = assessment->layouts.find(run);
  if (layout != assessment->layouts.end()) {
    std::set<Id> products;
    for (const auto& pixel : layout->second->pixels)
      if (const auto* prop = yard::find<yard::Prop>(yard, pixel.prop))
        if (const Id product = yard::productIdOf(yard, *prop)) products.insert(product);
    for (const Id product : products)
      lines << QObject::tr("Amps of %1: %2")
                   .arg(labelText(yard, product), originText(document, product).toLower());
  }
  const auto* margins = assess::marginsIfKnown(*assessment);
  const auto* margin = margins != nullptr ? figure(margins->runs, run) : nullptr;
  if (margin == nullptr || margin->shares.empty()) return;
  const auto volts = [&](double v) { return factText(base::toVoltage({v}), yard); };
  lines << QObject::tr("Lowest %1, 95 times in 100 above %2; it needs %3")
               .arg(volts(margin->volts), volts(margin->likely), volts(margin->limit));
  const auto& most = margin->shares.front();
  lines << QObject::tr("Chance of going low %1; most of the doubt, %2, is %3")
               .arg(factText(base::Ratio{base::roundedCount(margin->chance * 1e3) * 1000}, yard),
                    factText(base::Ratio{base::roundedCount(most.share * 100.0) * 10'000}, yard),
                    QString::fromStdString(findings::unknownText(*assessment, most.unknown)));
}

void runFacts(const Document& document, Id id, QStringList& lines) {
  const auto assessment = document.assessment();
  if (const auto* data = figure(assessment->data.runs, id)) {
    lines << QObject::tr("%1 of %2 pixels the port can send").arg(data->slots()).arg(data->limit());
    if (data->addressed)
      lines << QObject::tr("Universe %1 slot %2 to universe %3 slot %4")
                   .arg(data->start.universe)
                   .arg(data->start.slot)
                   .arg(data->end.universe)
                   .arg(data->end.slot);
  }
  const auto* limit = figure(assessment->limit.runs, id);
  const auto* white = figure(assessment->fullWhite.runs, id);
  if (limit && white)
    lines << QObject::tr("Draws %1").arg(both(document, limit->totalAmps, white->totalAmps));
  marginFacts(document, id, lines);
}

/// The figure that the model works with: as measured values teach it.
void productFacts(const Document& document, Id id, QStringList& lines) {
  const auto* taught = yard::find<yard::Product>(document.assessment()->taught, id);
  if (!taught) return;
  lines << QObject::tr("Full white %1 a pixel: %2")
               .arg(factText(taught->fullWhite, document.shownYard()), originText(document, id).toLower());
}

void measurementFacts(const Document& document, Id id, QStringList& lines) {
  const auto a = document.assessment();
  lines << QObject::tr("Measured at %1").arg(QString::fromStdString(findings::placeOfMeasurement(*a, id)));
  for (const circuit::Reading& r : a->fit.readings) {
    if (r.measurement != id || r.measured <= 0.0 || r.planned <= 0.0) continue;
    const auto text = [&](double value) {
      return r.volts ? factText(base::toVoltage({value}), document.shownYard()) : at(document, value);
    };
    lines << QObject::tr("%1 measured; %2 as planned, %3 by the figures as taught")
                 .arg(text(r.measured), text(r.planned), text(r.expected));
    if (r.state == circuit::Reading::State::DoesNotFit)
      lines << QObject::tr("Further off than the spreads explain, so it is left out");
  }
}

void supplyFacts(const Document& document, Id id, const yard::Supply& supply, QStringList& lines) {
  const auto* limit = figure(document.assessment()->limit.supplies, id);
  const auto* white = figure(document.assessment()->fullWhite.supplies, id);
  if (!limit || !white) return;
  lines << QObject::tr("Gives %1").arg(both(document, limit->amps, white->amps));
  lines << QObject::tr("Its volts: %1").arg(originText(document, id).toLower());
  lines << QObject::tr("Rated %1; takes %2 from its outlet")
               .arg(factText(supply.ratedAmps, document.shownYard()), at(document, limit->lineAmps));
  if (const auto* now = figure(document.assessment()->limit.mains.supplies, id))
    lines << QObject::tr("May give %1 in air of %2, with %3 at its plug; gives off %4 of heat")
                 .arg(at(document, now->ratedNow), degrees(document, now->air),
                      factText(base::toVoltage({now->inputVolts}), document.shownYard()),
                      factText(base::toPower({now->heat}), document.shownYard()));
}

void boxFacts(const Document& document, Id id, QStringList& lines) {
  const auto* limit = figure(document.assessment()->limit.mains.boxes, id);
  const auto* white = figure(document.assessment()->fullWhite.mains.boxes, id);
  if (!limit || !white) return;
  lines << QObject::tr("%1 of heat: %2 inside at the brightness limit, %3 at full white")
               .arg(factText(base::toPower({limit->heat}), document.shownYard()),
                    degrees(document, limit->inside), degrees(document, white->inside));
  if (limit->assumedSize) lines << QObject::tr("Its size is assumed: type the measured one");
}

void outletFacts(const Document& document, Id id, const yard::Outlet& outlet, QStringList& lines) {
  const auto* limit = figure(document.assessment()->limit.mains.outlets, id);
  if (!limit || limit->plugs == 0) return;
  lines << QObject::tr("%1 of %2 places taken; %3 through one receptacle that takes %4")
               .arg(limit->plugs)
               .arg(outlet.sockets)
               .arg(at(document, limit->worst), at(document, limit->limit));
}

/// Energy of so many watts from the line, as far as the site says hours and nights.
void energyFacts(const Document& document, double watts, QStringList& lines) {
  const yard::Yard& yard = document.shownYard();
  const circuit::EnergyFigure e = circuit::energyOf(yard, watts);
  if (e.kwhANight <= 0.0) return;
  QString line = QObject::tr("%1 from the line: %2 kWh a night")
                     .arg(factText(base::toPower({watts}), yard),
                          QString::fromStdString(base::numberText(e.kwhANight, 2)));
  if (e.nights > 0)
    line += QObject::tr(", %1 kWh in the season").arg(QString::fromStdString(base::numberText(e.kwh, 1)));
  if (e.priced && e.nights > 0)
    line += QStringLiteral(", %1%2").arg(QString::fromStdString(yard::settings(yard).currency),
                                         factText(e.cost, yard));
  lines << line;
}

void circuitFacts(const Document& document, Id id, const yard::HouseCircuit& circuit, QStringList& lines) {
  const auto* limit = figure(document.assessment()->limit.circuits, id);
  if (!limit) return;
  lines << QObject::tr("Carries %1 of its %2 breaker, %3 of it other loads")
               .arg(at(document, limit->amps), factText(circuit.breaker, document.shownYard()),
                    at(document, limit->standing));
  if (limit->supplies == 0) return;
  lines << QObject::tr("Leaks %1 on its GFCI; up to %2 for an instant if all start cold at once")
               .arg(factText(base::toCurrent({limit->leakage}), document.shownYard()),
                    at(document, limit->inrush));
  energyFacts(document, limit->watts, lines);
}

}  // namespace

std::pair<Id, std::int64_t> selectedPlace(const Document& document) {
  const Selection& selection = document.selection();
  const auto assessment = document.assessment();
  const auto wired = assessment->wiredIn.find(selection.pixelProp());
  if (!selection.pixelProp() || wired == assessment->wiredIn.end()) return {};
  for (const auto& [run, item] : wired->second) {
    const auto layout = assessment->layouts.find(run);
    if (layout == assessment->layouts.end()) continue;
    const auto& pixels = layout->second->pixels;
    for (std::size_t i = 0; i < pixels.size(); ++i)
      if (pixels[i].prop == selection.pixelProp() && pixels[i].pixel == selection.pixel())
        return {run, static_cast<std::int64_t>(i) + 1};
  }
  return {};
}

Id freePortOf(const yard::Yard& yard, Id id) {
  if (yard::find<yard::Port>(yard, id)) return yard::runOnPort(yard, id) ? Id{} : id;
  for (const auto& [port, record] : yard::portsOf(yard, id))
    if (!yard::runOnPort(yard, port)) return port;
  if (!yard::find<yard::Box>(yard, id)) return {};
  for (const auto& [port, record] : yard::all<yard::Port>(yard))
    if (yard::boxOf(yard, port) == id && !yard::runOnPort(yard, port)) return port;
  return {};
}

QString headlineOf(const Document& document, const std::set<Id>& ids) {
  const yard::Yard& yard = document.shownYard();
  if (ids.empty()) return {};
  if (ids.size() > 1) return nameOf(yard, ids);
  const Id id = *ids.begin();
  const auto it = yard.records.find(id);
  if (it == yard.records.end()) return {};
  QString kind = QString::fromUtf8(yard::label(yard::kindOf(*it->second)));
  if (const auto* prop = std::get_if<yard::Prop>(it->second.get()))
    if (const auto* known = shapes::findKind(prop->kind)) kind = QString::fromStdString(known->label);
  const QString label = labelText(yard, id);
  return label.startsWith(kind) ? label : QStringLiteral("%1 · %2").arg(label, kind.toLower());
}

QStringList factsOf(const Document& document, const std::set<Id>& ids) {
  QStringList lines;
  const yard::Yard& yard = document.shownYard();
  if (ids.size() != 1) return lines;
  const Id id = *ids.begin();
  if (yard::find<yard::Prop>(yard, id)) {
    propFacts(document, id, lines);
    pixelFacts(document, lines);
  } else if (yard::find<yard::Product>(yard, id)) {
    productFacts(document, id, lines);
  } else if (yard::find<yard::Measurement>(yard, id)) {
    measurementFacts(document, id, lines);
  } else if (yard::find<yard::Run>(yard, id)) {
    runFacts(document, id, lines);
  } else if (const auto* supply = yard::find<yard::Supply>(yard, id)) {
    supplyFacts(document, id, *supply, lines);
  } else if (const auto* circuit = yard::find<yard::HouseCircuit>(yard, id)) {
    circuitFacts(document, id, *circuit, lines);
  } else if (yard::find<yard::Box>(yard, id)) {
    boxFacts(document, id, lines);
  } else if (const auto* outlet = yard::find<yard::Outlet>(yard, id)) {
    outletFacts(document, id, *outlet, lines);
  } else if (yard::find<yard::Site>(yard, id)) {
    energyFacts(document, document.assessment()->limit.mains.energy.watts, lines);
  }
  return lines;
}

}  // namespace yw::ui
