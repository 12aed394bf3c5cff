#include "ui/panels/run_chart.h"

#include <QApplication>
#include <QClipboard>
#include <QContextMenuEvent>
#include <QKeyEvent>
#include <QMenu>
#include <QMouseEvent>
#include <QPainter>
#include <QPainterPath>
#include <algorithm>
#include <cmath>
#include <limits>
#include <set>

#include "core/base/number_text.h"
#include "core/yard/labels.h"
#include "ui/fields/look.h"
#include "ui/panels/edits.h"
#include "ui/panels/measured.h"
#include "ui/panels/run_series.h"

namespace yw::ui {

using base::Id;
using papers::Role;

namespace {

constexpr int kNames = 150;  ///< logical pixels at the right for the names of the lines

QString voltsText(double volts) {
  return QString::fromStdString(base::numberText(volts, 2)) + QStringLiteral(" V");
}

/// A round step so that about `parts` of them fill `span`.
double roundStep(double span, double parts) {
  const double rough = span / parts, power = std::pow(10.0, std::floor(std::log10(rough)));
  for (const double k : {1.0, 2.0, 5.0, 10.0})
    if (rough <= k * power) return k * power;
  return 10 * power;
}

}  // namespace

RunChart::RunChart(Document& document, QWidget* parent) : QWidget(parent), document_(document) {
  setObjectName(QStringLiteral("runChart"));
  setAccessibleName(tr("Along the run"));
  setFocusPolicy(Qt::StrongFocus);
  setMouseTracking(true);
  connect(&document, &Document::assessed, this, [this] { follow(); });
  connect(&document.selection(), &Selection::changed, this, [this] { follow(); });
  follow();
}

void RunChart::follow() {
  const auto a = document_.assessment();
  const Id id = document_.selection().single();
  Id run;
  if (a && id) {
    if (yard::find<yard::Run>(a->yard, id)) run = id;
    if (yard::find<yard::Port>(a->yard, id)) run = yard::runOnPort(a->yard, id);
    if (const auto feed = a->limit.feeds.find(id); feed != a->limit.feeds.end()) run = feed->second.run;
    if (const auto wired = a->wiredIn.find(id); wired != a->wiredIn.end() && !wired->second.empty()) {
      run = wired->second.front().first;
      for (const auto& [candidate, item] : wired->second)  // stay with the run that is shown
        if (candidate == run_) run = run_;
    }
  }
  std::int64_t reading = run == run_ ? reading_ : 0;
  const RunSeries s = seriesOf(a.get(), run);
  if (s.layout && document_.selection().pixel() > 0)
    for (std::size_t k = 0; k < s.layout->pixels.size(); ++k)
      if (s.layout->pixels[k].prop == document_.selection().pixelProp() &&
          s.layout->pixels[k].pixel == document_.selection().pixel())
        reading = static_cast<std::int64_t>(k) + 1;
  if (!s.layout || reading > static_cast<std::int64_t>(s.layout->pixels.size())) reading = 0;
  const bool changed = run != run_;
  run_ = run;
  reading_ = reading;
  update();
  if (changed) Q_EMIT runChanged(run_);
  Q_EMIT readingChanged(reading_);
}

RunChart::Scale RunChart::scale() const {
  Scale s;
  s.plot = QRectF(rect()).adjusted(58, 36, -kNames, -34);
  const RunSeries series = seriesOf(document_.assessment().get(), run_);
  if (!series.layout) return s;
  s.length = std::max(0.1, series.layout->along.back());
  double low = series.limit->volts.front(), high = low;
  for (std::size_t k = 0; k < series.limit->volts.size(); ++k) {
    low = std::min({low, series.limit->volts[k], series.full->volts[k]});
    high = std::max({high, series.limit->volts[k], series.full->volts[k]});
    if (series.needed[k] <= 0) continue;
    low = std::min(low, series.needed[k]);
    high = std::max(high, series.needed[k]);
    if (series.lost) low = std::min(low, series.lost->volts[k]);
  }
  for (const MeasuredOnRun& m : measuredOnRun(*document_.assessment(), document_.assessment()->yard, run_)) {
    if (m.place < 1 || m.value.volts.count <= 0) continue;
    low = std::min(low, base::volts(m.value.volts).si);
    high = std::max(high, base::volts(m.value.volts).si);
  }
  const double step = roundStep(std::max(0.2, high - low), 4);
  s.step = step;
  s.low = std::floor(low / step - 0.1) * step;
  s.high = std::ceil(high / step + 0.1) * step;
  return s;
}

void RunChart::paintAxes(QPainter& painter, const Scale& s) const {
  const Theme& theme = currentTheme();
  const bool metric = yard::settings(document_.yard()).units == base::UnitSystem::Metric;
  painter.setPen(QPen(theme.color(Role::SecondInk), 1));
  const double step = s.step;
  for (double v = s.low; v <= s.high + step * 1e-6; v += step) {
    const double y = s.y(v);
    painter.setPen(QPen(theme.color(Role::Ground), 1));
    painter.drawLine(QPointF(s.plot.left(), y), QPointF(s.plot.right(), y));
    painter.setPen(theme.color(Role::SecondInk));
    painter.drawText(QRectF(0, y - 9, s.plot.left() - 6, 18), Qt::AlignRight | Qt::AlignVCenter,
                     QString::fromStdString(base::numberText(v, step < 1 ? 1 : 0)) + QStringLiteral(" V"));
  }
  const double unit = metric ? 1.0 : 0.3048, along = s.length / unit, stride = roundStep(along, 8);
  for (double d = 0; d <= along + 1e-9; d += stride) {
    const double x = s.x(d * unit);
    painter.drawLine(QPointF(x, s.plot.bottom()), QPointF(x, s.plot.bottom() + 4));
    const auto place = placeAt(x);
    painter.drawText(QRectF(x - 50, s.plot.bottom() + 4, 100, 28), Qt::AlignHCenter | Qt::AlignTop,
                     QString::fromStdString(base::numberText(d, stride < 1 ? 1 : 0)) +
                         (metric ? tr(" m") : tr(" ft")) + QStringLiteral("\n") + tr("px %1").arg(place));
  }
  painter.setPen(QPen(theme.color(Role::Ink), 1));
  painter.drawLine(s.plot.bottomLeft(), s.plot.bottomRight());
  painter.drawLine(s.plot.bottomLeft(), s.plot.topLeft());
}

void RunChart::paintMarks(QPainter& painter, const Scale& s) const {
  const Theme& theme = currentTheme();
  const auto a = document_.assessment();
  const RunSeries series = seriesOf(a.get(), run_);
  // Where one prop ends and the next begins.
  painter.setPen(QPen(theme.color(Role::SecondInk), 1, Qt::DotLine));
  for (std::size_t k = 1; k < series.layout->pixels.size(); ++k)
    if (series.layout->pixels[k].item != series.layout->pixels[k - 1].item) {
      const double x = s.x(series.layout->along[k] - series.layout->wireBefore[k] / 2);
      painter.drawLine(QPointF(x, s.plot.top()), QPointF(x, s.plot.bottom()));
    }
  paintNeeded(painter, s);
  for (const auto& [id, feed] : a->limit.feeds) {
    if (feed.run != run_ || feed.runPixel < 1) continue;
    const double x = s.x(series.layout->along[static_cast<std::size_t>(feed.runPixel - 1)]);
    QPolygonF arrow(
        {QPointF(x, s.plot.top() + 2), QPointF(x - 5, s.plot.top() - 8), QPointF(x + 5, s.plot.top() - 8)});
    painter.setPen(Qt::NoPen);
    painter.setBrush(theme.color(Role::FeedCable));
    painter.drawPolygon(arrow);
    painter.setPen(theme.color(Role::Ink));
    painter.drawText(QRectF(x - 50, s.plot.top() - 24, 100, 16), Qt::AlignCenter,
                     labelText(a->yard, feed.fusePosition));
  }
}

/// Names of the props along the foot of the plot, and a short stroke where strings are joined within one.
void RunChart::paintJoints(QPainter& painter, const Scale& s) const {
  const Theme& theme = currentTheme();
  const auto a = document_.assessment();
  const RunSeries series = seriesOf(a.get(), run_);
  const auto& pixels = series.layout->pixels;
  for (std::size_t from = 0; from < pixels.size();) {
    std::size_t to = from;
    while (to + 1 < pixels.size() && pixels[to + 1].item == pixels[from].item) ++to;
    const double left = s.x(series.layout->along[from]), right = s.x(series.layout->along[to]);
    const auto shape = a->shapes.find(pixels[from].prop);
    std::set<std::int64_t> joints;
    if (shape != a->shapes.end())
      for (const shapes::Joint& joint : shape->second->joints) joints.insert(joint.afterPixel);
    painter.setPen(QPen(theme.color(Role::SecondInk), 1));
    for (std::size_t k = from; k < to; ++k) {
      if (!joints.contains(std::min(pixels[k].pixel, pixels[k + 1].pixel))) continue;
      const double x = (s.x(series.layout->along[k]) + s.x(series.layout->along[k + 1])) / 2;
      painter.drawLine(QPointF(x, s.plot.bottom()), QPointF(x, s.plot.bottom() - 6));
    }
    if (pixels[from].prop) {
      const QString name = painter.fontMetrics().elidedText(labelText(a->yard, pixels[from].prop),
                                                            Qt::ElideRight, static_cast<int>(right - left));
      const QRectF box(left, s.plot.bottom() - 22, right - left, 14);
      const double wide = painter.fontMetrics().horizontalAdvance(name) + 4;
      QColor halo = theme.color(Role::Paper);
      halo.setAlphaF(0.8);
      painter.fillRect(QRectF(box.center().x() - wide / 2, box.top(), wide, box.height()), halo);
      painter.drawText(box, Qt::AlignCenter, name);
    }
    from = to + 1;
  }
}

/// What each prop's product needs: a step where products are mixed.
void RunChart::paintNeeded(QPainter& painter, const Scale& s) const {
  const RunSeries series = seriesOf(document_.assessment().get(), run_);
  painter.setPen(QPen(currentTheme().color(Role::Danger), 1.5, Qt::DashDotLine));
  const auto& along = series.layout->along;
  for (std::size_t from = 0; from < series.needed.size();) {
    std::size_t to = from;
    while (to + 1 < series.needed.size() && series.needed[to + 1] == series.needed[from]) ++to;
    const double right = to + 1 < along.size() ? s.x(along[to + 1]) : s.plot.right();
    if (series.needed[from] > 0)
      painter.drawLine(QPointF(s.x(along[from]), s.y(series.needed[from])),
                       QPointF(right, s.y(series.needed[from])));
    from = to + 1;
  }
}

void RunChart::paintCurve(QPainter& painter, const Scale& s, const std::vector<double>& volts, double width,
                          Qt::PenStyle style) const {
  const Theme& theme = currentTheme();
  const RunSeries series = seriesOf(document_.assessment().get(), run_);
  QPainterPath path;
  for (std::size_t k = 0; k < volts.size(); ++k) {
    const QPointF at(s.x(series.layout->along[k]), s.y(volts[k]));
    k == 0 ? path.moveTo(at) : path.lineTo(at);
  }
  painter.setBrush(Qt::NoBrush);
  painter.setPen(QPen(theme.color(Role::Ink), width, style));
  painter.drawPath(path);
}

/// Names the lines at their right ends; where they would run into each other they step aside.
void RunChart::paintNames(QPainter& painter, const Scale& s) const {
  const RunSeries series = seriesOf(document_.assessment().get(), run_);
  const Theme& theme = currentTheme();
  struct Name {
    double y;
    QString text;
    Role role;
  };
  const double needed = series.needed.back();
  std::vector<Name> names{{s.y(series.limit->volts.back()), tr("brightness limit"), Role::Ink},
                          {s.y(series.full->volts.back()), tr("full white"), Role::Ink}};
  if (series.lost)
    names.push_back({s.y(series.lost->volts.back()),
                     tr("without %1").arg(labelText(document_.yard(), series.lost->lost)), Role::Ink});
  if (needed > 0)
    names.push_back({s.y(needed), tr("%1 for true white").arg(voltsText(needed)), Role::Danger});
  std::sort(names.begin(), names.end(), [](const Name& a, const Name& b) { return a.y < b.y; });
  constexpr double kApart = 14.0;
  for (std::size_t i = 1; i < names.size(); ++i) names[i].y = std::max(names[i].y, names[i - 1].y + kApart);
  for (const Name& name : names) {
    painter.setPen(theme.color(name.role));
    painter.drawText(QRectF(s.plot.right() + 6, name.y - 9, kNames - 8, 18), Qt::AlignLeft | Qt::AlignVCenter,
                     name.text);
  }
}

/// A diamond at each measured value: hollow where the model cannot explain it, so that it taught nothing.
void RunChart::paintMeasured(QPainter& painter, const Scale& s) const {
  const Theme& theme = currentTheme();
  const auto a = document_.assessment();
  const RunSeries series = seriesOf(a.get(), run_);
  const auto fits = [&](Id measurement) {
    for (const circuit::Reading& r : a->fit.readings)
      if (r.measurement == measurement && r.volts) return r.state == circuit::Reading::State::Used;
    return false;
  };
  constexpr double kHalf = 5.0;
  for (const MeasuredOnRun& m : measuredOnRun(*a, a->yard, run_)) {
    if (m.place < 1 || m.value.volts.count <= 0) continue;
    const QPointF at(s.x(series.layout->along[static_cast<std::size_t>(m.place - 1)]),
                     s.y(base::volts(m.value.volts).si));
    painter.setPen(QPen(theme.color(Role::Ink), 1.4));
    painter.setBrush(theme.color(fits(m.id) ? Role::Ink : Role::Paper));
    painter.drawPolygon(QPolygonF(
        {at + QPointF(0, -kHalf), at + QPointF(kHalf, 0), at + QPointF(0, kHalf), at + QPointF(-kHalf, 0)}));
  }
}

void RunChart::paintEvent(QPaintEvent*) {
  QPainter painter(this);
  painter.setRenderHint(QPainter::Antialiasing);
  const Theme& theme = currentTheme();
  painter.fillRect(rect(), theme.color(Role::Paper));
  const RunSeries series = seriesOf(document_.assessment().get(), run_);
  QFont font = painter.font();
  font.setPixelSize(kNoteSize);
  painter.setFont(font);
  painter.setPen(theme.color(Role::SecondInk));
  if (!series.layout) {
    painter.drawText(rect(), Qt::AlignCenter,
                     tr("Select a run, or a prop on one, to see its volts pixel by pixel."));
    return;
  }
  const Scale s = scale();
  paintAxes(painter, s);
  paintMarks(painter, s);
  if (series.lost) paintCurve(painter, s, series.lost->volts, 1.2, Qt::DotLine);
  paintCurve(painter, s, series.full->volts, 1.4, Qt::DashLine);
  paintCurve(painter, s, series.limit->volts, 2.0, Qt::SolidLine);
  paintJoints(painter, s);
  paintNames(painter, s);
  paintMeasured(painter, s);
  if (reading_ > 0) {
    const auto k = static_cast<std::size_t>(reading_ - 1);
    const double x = s.x(series.layout->along[k]);
    painter.setPen(QPen(theme.color(Role::Accent), 1));
    painter.drawLine(QPointF(x, s.plot.top()), QPointF(x, s.plot.bottom()));
    painter.setBrush(theme.color(Role::Accent));
    painter.drawEllipse(QPointF(x, s.y(series.limit->volts[k])), 3.5, 3.5);
  }
  painter.setPen(theme.color(Role::Ink));
  painter.drawText(QRectF(8, 2, width() - 16, 16), Qt::AlignLeft | Qt::AlignVCenter, readingText());
}

QString RunChart::readingText() const {
  const auto a = document_.assessment();
  const RunSeries series = seriesOf(a.get(), run_);
  if (!series.layout) return {};
  const QString run = labelText(a->yard, run_);
  const std::int64_t place = reading_ > 0 ? reading_ : series.limit->lowestPixel;
  if (place < 1) return run;
  const auto k = static_cast<std::size_t>(place - 1);
  const auto& pixel = series.layout->pixels[k];
  const QString what =
      pixel.prop ? tr("%1 pixel %2").arg(labelText(a->yard, pixel.prop)).arg(pixel.pixel) : tr("null pixel");
  QString text = tr("%1%2, %3: %4 at the brightness limit, %5 at full white")
                     .arg(run, reading_ > 0 ? QString() : tr(" lowest"), what,
                          voltsText(series.limit->volts[k]), voltsText(series.full->volts[k]));
  for (const MeasuredOnRun& m : measuredOnRun(*a, a->yard, run_))
    if (m.place == place)
      text += tr("; measured %1 at %2")
                  .arg(measuredText(a->yard, m.value), factText(m.value.brightness, a->yard));
  if (series.lost)
    text +=
        tr(", %1 without %2").arg(voltsText(series.lost->volts[k]), labelText(a->yard, series.lost->lost));
  if (series.needed[k] > 0) text += tr("; %1 needed for true white").arg(voltsText(series.needed[k]));
  return text;
}

std::int64_t RunChart::placeAt(double x) const {
  const RunSeries series = seriesOf(document_.assessment().get(), run_);
  if (!series.layout) return 0;
  const Scale s = scale();
  const double along = (x - s.plot.left()) / s.plot.width() * s.length;
  const auto& all = series.layout->along;
  const auto after = std::lower_bound(all.begin(), all.end(), along);
  auto k = static_cast<std::int64_t>(after - all.begin());
  if (k == static_cast<std::int64_t>(all.size())) return k;
  if (k > 0 && along - all[static_cast<std::size_t>(k - 1)] < all[static_cast<std::size_t>(k)] - along) --k;
  return k + 1;
}

void RunChart::setReading(std::int64_t place) {
  const RunSeries series = seriesOf(document_.assessment().get(), run_);
  if (!series.layout) return;
  reading_ = std::clamp<std::int64_t>(place, 1, static_cast<std::int64_t>(series.layout->pixels.size()));
  update();
  Q_EMIT readingChanged(reading_);
}

void RunChart::select(std::int64_t place) {
  const RunSeries series = seriesOf(document_.assessment().get(), run_);
  if (!series.layout || place < 1) return;
  setReading(place);
  const auto& pixel = series.layout->pixels[static_cast<std::size_t>(reading_ - 1)];
  if (!pixel.prop) return;
  document_.selection().setPixel(pixel.prop, pixel.pixel);
  document_.selection().reveal();
}

void RunChart::mouseMoveEvent(QMouseEvent* event) { setReading(placeAt(event->position().x())); }
void RunChart::mousePressEvent(QMouseEvent* event) {
  setFocus();
  if (event->button() == Qt::LeftButton) select(placeAt(event->position().x()));
}
void RunChart::leaveEvent(QEvent*) { follow(); }

void RunChart::keyPressEvent(QKeyEvent* event) {
  const int by = event->modifiers() & Qt::ShiftModifier ? 10 : 1;
  if (event->key() == Qt::Key_Right) return select(reading_ + by);
  if (event->key() == Qt::Key_Left) return select(std::max<std::int64_t>(1, reading_ - by));
  if (event->key() == Qt::Key_PageDown) return select(reading_ + 10);
  if (event->key() == Qt::Key_PageUp) return select(std::max<std::int64_t>(1, reading_ - 10));
  if (event->key() == Qt::Key_Home) return select(1);
  if (event->key() == Qt::Key_End) return select(std::numeric_limits<std::int64_t>::max());
  if (event->matches(QKeySequence::Copy)) return copyText();
  QWidget::keyPressEvent(event);
}

void RunChart::changeEvent(QEvent* event) {
  if (event->type() == QEvent::PaletteChange) update();
  QWidget::changeEvent(event);
}

QString RunChart::tsv() const {
  const auto a = document_.assessment();
  const RunColumns columns(a, run_);
  QStringList lines{columns.headings().join(QLatin1Char('\t'))};
  for (int row = 0; row < columns.rows(); ++row) {
    QStringList cells;
    for (int column = 0; column < RunColumns::kCount; ++column) cells << columns.text(row, column);
    lines << cells.join(QLatin1Char('\t'));
  }
  return lines.join(QLatin1Char('\n')) + QLatin1Char('\n');
}

void RunChart::copyText() const { QApplication::clipboard()->setText(tsv()); }
void RunChart::copyPicture() { QApplication::clipboard()->setPixmap(grab()); }

void RunChart::measureHere() {
  const auto a = document_.assessment();
  const RunSeries series = seriesOf(a.get(), run_);
  if (!series.layout) return;
  const std::int64_t place = reading_ > 0 ? reading_ : series.limit->lowestPixel;
  askAndWriteDown(this, document_, measuringPlaces(*a, document_.yard(), run_, place));
}

void RunChart::contextMenuEvent(QContextMenuEvent* event) {
  QMenu menu(this);
  menu.addAction(tr("Write down what is measured here…"), this, [this] { measureHere(); })
      ->setEnabled(static_cast<bool>(run_));
  menu.addAction(tr("Copy as table"), this, [this] { copyText(); });
  menu.addAction(tr("Copy as picture"), this, [this] { copyPicture(); });
  menu.exec(event->globalPos());
}

}  // namespace yw::ui
