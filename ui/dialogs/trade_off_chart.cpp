#include "ui/dialogs/trade_off_chart.h"

#include <QMouseEvent>
#include <QPainter>
#include <algorithm>

#include "ui/fields/look.h"

namespace yw::ui {

namespace {

constexpr int kRow = 26, kEdge = 6, kGap = 8;

}  // namespace

TradeOffChart::TradeOffChart(QWidget* parent) : QWidget(parent) {
  setObjectName(QStringLiteral("tradeOffChart"));
  setAccessibleName(tr("Cost of each choice; the table has the same figures"));
}

void TradeOffChart::setBars(std::vector<Bar> bars) {
  bars_ = std::move(bars);
  current_ = std::min(current_, static_cast<int>(bars_.size()) - 1);
  updateGeometry();
  update();
}

void TradeOffChart::setCurrent(int row) {
  if (row == current_) return;
  current_ = row;
  update();
}

QSize TradeOffChart::sizeHint() const {
  return {320, 2 * kEdge + kRow * std::max(1, static_cast<int>(bars_.size()))};
}

void TradeOffChart::paintEvent(QPaintEvent*) {
  using papers::Role;
  const Theme& theme = currentTheme();
  QPainter painter(this);
  painter.fillRect(rect(), theme.color(Role::Paper));
  int words = 0, figures = 0;
  double most = 0.0;
  for (const Bar& bar : bars_) {
    words = std::max(words, fontMetrics().horizontalAdvance(bar.choice));
    figures = std::max(figures, fontMetrics().horizontalAdvance(bar.figure));
    most = std::max(most, bar.cost);
  }
  const int left = kEdge + words + kGap;
  const double room = std::max(10, width() - left - figures - kGap - kEdge);
  for (int i = 0; i < static_cast<int>(bars_.size()); ++i) {
    const Bar& bar = bars_[static_cast<std::size_t>(i)];
    const QRect line(0, kEdge + i * kRow, width(), kRow);
    QFont font = this->font();
    font.setBold(bar.now);
    painter.setFont(font);
    painter.setPen(theme.color(Role::Ink));
    painter.drawText(QRect(kEdge, line.top(), words, kRow), Qt::AlignVCenter | Qt::AlignLeft, bar.choice);
    const double length = most > 0 ? room * bar.cost / most : 0.0;
    const QRectF box(left, line.top() + 5, std::max(1.0, length), kRow - 10);
    // Hatched, not colored: it reads the same in grey.
    painter.fillRect(box, QBrush(theme.color(bar.holds ? Role::Ink : Role::Danger),
                                 bar.holds ? Qt::SolidPattern : Qt::BDiagPattern));
    painter.setPen(QPen(theme.color(bar.holds ? Role::Ink : Role::Danger), 1));
    painter.setBrush(Qt::NoBrush);
    painter.drawRect(box);
    painter.setPen(theme.color(Role::Ink));
    painter.drawText(QRectF(box.right() + kGap / 2.0, line.top(), figures + kGap, kRow), Qt::AlignVCenter,
                     bar.figure);
    if (i == current_) {
      painter.setPen(QPen(theme.color(Role::Accent), 2));
      painter.drawRect(line.adjusted(1, 1, -2, -2));
    }
  }
}

void TradeOffChart::mousePressEvent(QMouseEvent* event) {
  const int row = (event->position().toPoint().y() - kEdge) / kRow;
  if (row < 0 || row >= static_cast<int>(bars_.size())) return;
  setCurrent(row);
  Q_EMIT picked(row);
}

}  // namespace yw::ui
