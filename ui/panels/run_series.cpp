#include "ui/panels/run_series.h"

#include <QObject>
#include <cmath>

#include "core/base/number_text.h"
#include "core/yard/labels.h"
#include "ui/panels/edits.h"
#include "ui/panels/measured.h"

namespace yw::ui {

using base::Id;

RunSeries seriesOf(const assess::Assessment* a, Id run) {
  RunSeries s;
  if (!a) return s;
  const auto layout = a->layouts.find(run);
  const auto limit = a->limit.runs.find(run), full = a->fullWhite.runs.find(run);
  if (layout == a->layouts.end() || limit == a->limit.runs.end() || full == a->fullWhite.runs.end()) return s;
  if (layout->second->pixels.empty() || limit->second.volts.size() != layout->second->pixels.size()) return s;
  const auto& worst = a->faults().worst;
  const auto lost = worst.find(run);
  const bool known = lost != worst.end() && lost->second.volts.size() == limit->second.volts.size();
  s = {layout->second.get(), &limit->second, &full->second, known ? &lost->second : nullptr, {}};
  Id last;
  double needed = 0.0;
  for (const auto& place : s.layout->pixels) {
    if (place.prop && place.prop != last) {
      last = place.prop;
      const auto* prop = yard::find<yard::Prop>(a->yard, place.prop);
      const auto* product = prop ? yard::productOf(a->yard, *prop) : nullptr;
      needed = product ? base::volts(product->lowestVolts).si : 0.0;
    }
    s.needed.push_back(needed);
  }
  return s;
}

namespace {
enum Column { Place, Prop, Pixel, Along, Limit, Full, Measured, Lost, Needed };
}  // namespace

RunColumns::RunColumns(assess::AssessmentPtr a, Id run)
    : a_(std::move(a)), run_(run), series_(seriesOf(a_.get(), run)) {
  if (!series_.layout) return;
  metric_ = yard::settings(a_->yard).units == base::UnitSystem::Metric;
  for (const MeasuredOnRun& m : measuredOnRun(*a_, a_->yard, run))
    if (m.value.volts.count > 0) measured_[m.place] = base::volts(m.value.volts).si;
}

int RunColumns::rows() const { return series_.layout ? static_cast<int>(series_.layout->pixels.size()) : 0; }

QStringList RunColumns::headings() const {
  const QString lost = series_.lost
                           ? QObject::tr("Without %1, V").arg(labelText(a_->yard, series_.lost->lost))
                           : QObject::tr("With one feed lost, V");
  return {QObject::tr("Place"),
          QObject::tr("Prop"),
          QObject::tr("Pixel"),
          metric_ ? QObject::tr("Along, m") : QObject::tr("Along, ft"),
          QObject::tr("Brightness limit, V"),
          QObject::tr("Full white, V"),
          QObject::tr("Measured, V"),
          lost,
          QObject::tr("Needed, V")};
}

double RunColumns::value(int row, int column) const {
  const auto k = static_cast<std::size_t>(row);
  constexpr double kNone = -1.0;  // sorts before every figure
  switch (column) {
    case Place:
      return row + 1;
    case Pixel:
      return static_cast<double>(series_.layout->pixels[k].pixel);
    case Along:
      return series_.layout->along[k] / (metric_ ? 1.0 : 0.3048);
    case Limit:
      return series_.limit->volts[k];
    case Full:
      return series_.full->volts[k];
    case Measured: {
      const auto known = measured_.find(row + 1);
      return known == measured_.end() ? kNone : known->second;
    }
    case Lost:
      return series_.lost ? series_.lost->volts[k] : kNone;
    case Needed:
      return series_.needed[k] > 0 ? series_.needed[k] : kNone;
    default:
      return 0.0;
  }
}

QString RunColumns::text(int row, int column) const {
  const auto& pixel = series_.layout->pixels[static_cast<std::size_t>(row)];
  if (column == Prop) return pixel.prop ? labelText(a_->yard, pixel.prop) : QObject::tr("null pixel");
  const double number = value(row, column);
  if (column == Place || column == Pixel) return QString::number(static_cast<qlonglong>(number));
  if (number < 0) return {};
  return QString::number(number, 'f', column == Along ? 2 : 3);
}

}  // namespace yw::ui
