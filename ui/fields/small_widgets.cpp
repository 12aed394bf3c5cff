#include "ui/fields/small_widgets.h"

#include <QEvent>
#include <QKeyEvent>
#include <QMouseEvent>
#include <QPainter>
#include <QStyle>
#include <QStyleOptionButton>
#include <QStyleOptionFocusRect>
#include <algorithm>

#include "ui/fields/look.h"

namespace yw::ui {

namespace {
constexpr double kTickAt = 0.7;  // of the bar's width
constexpr int kButtonMargin = 8;
}  // namespace

BarWidget::BarWidget(QWidget* parent) : QWidget(parent) {
  setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Fixed);
}

QSize BarWidget::sizeHint() const { return {220, 18}; }

void BarWidget::setFigures(const QString& figure, const QString& limit, double used) {
  figure_ = figure;
  limit_ = limit;
  used_ = used;
  setAccessibleName(tr("%1, limit %2").arg(figure, limit));
  if (figure.isEmpty() && limit.isEmpty()) hide();  // a finding without a figure has no bar
  update();
}

void BarWidget::changeEvent(QEvent* event) {
  if (event->type() == QEvent::PaletteChange) update();
  QWidget::changeEvent(event);
}

void BarWidget::paintEvent(QPaintEvent*) {
  const Theme& theme = currentTheme();
  QPainter painter(this);
  painter.setRenderHint(QPainter::Antialiasing);
  const QColor ink = theme.color(papers::Role::Ink), second = theme.color(papers::Role::SecondInk);
  const double width = std::min(160.0, this->width() * 0.42);
  const double tick = width * kTickAt, top = height() / 2.0 - 4, high = 8;
  painter.setPen(QPen(second, 1));
  painter.setBrush(Qt::NoBrush);
  painter.drawRect(QRectF(0.5, top + 0.5, tick, high - 1));
  const double filled = std::clamp(used_, 0.0, 1.0) * tick;
  painter.fillRect(QRectF(0.5, top + 0.5, filled, high - 1), ink);
  if (used_ > 1.0) {
    const double over = std::min((used_ - 1.0) * tick, width - tick);
    painter.fillRect(QRectF(tick, top + 0.5, over, high - 1), theme.color(papers::Role::Danger));
    if ((used_ - 1.0) * tick > width - tick) {  // more than fits: cut off at a slant
      painter.setPen(QPen(theme.color(papers::Role::Paper), 2));
      painter.drawLine(QPointF(width - 6, top + high), QPointF(width - 2, top));
    }
  }
  painter.setPen(QPen(ink, 1.5));
  painter.drawLine(QPointF(tick + 0.5, top - 3), QPointF(tick + 0.5, top + high + 3));
  QFont font = this->font();
  font.setPixelSize(kNoteSize);
  painter.setFont(font);
  painter.setPen(ink);
  const QRectF text(width + 8, 0, this->width() - width - 8, height());
  const QString words = limit_.isEmpty() ? figure_ : tr("%1, limit %2").arg(figure_, limit_);
  painter.drawText(text, Qt::AlignVCenter | Qt::AlignLeft,
                   painter.fontMetrics().elidedText(words, Qt::ElideRight, static_cast<int>(text.width())));
}

SeverityMark::SeverityMark(findings::Severity severity, QWidget* parent)
    : QWidget(parent), severity_(severity) {
  setFixedSize(16, 16);
  setAccessibleName(severityWord(severity));
  setToolTip(severityWord(severity));
}

void SeverityMark::paintEvent(QPaintEvent*) {
  QPainter painter(this);
  paintSeverity(painter, QRectF(rect()), severity_, currentTheme());
}

SentenceButton::SentenceButton(const QString& text, QWidget* parent) : QPushButton(text, parent) {
  QSizePolicy policy(QSizePolicy::Expanding, QSizePolicy::Preferred);
  policy.setHeightForWidth(true);
  setSizePolicy(policy);
}

int SentenceButton::heightForWidth(int width) const {
  const QRect text = fontMetrics().boundingRect(QRect(0, 0, width - 2 * kButtonMargin, 10000),
                                                Qt::TextWordWrap | Qt::AlignLeft, this->text());
  return std::max(28, text.height() + 10);
}

QSize SentenceButton::sizeHint() const { return {240, heightForWidth(240)}; }
QSize SentenceButton::minimumSizeHint() const { return {100, 28}; }

void SentenceButton::paintEvent(QPaintEvent*) {
  QStyleOptionButton option;
  initStyleOption(&option);
  option.text.clear();
  QPainter painter(this);
  style()->drawControl(QStyle::CE_PushButton, &option, &painter, this);
  painter.setPen(palette().color(isEnabled() ? QPalette::Active : QPalette::Disabled, QPalette::ButtonText));
  painter.drawText(rect().adjusted(kButtonMargin, 2, -kButtonMargin, -2),
                   Qt::TextWordWrap | Qt::AlignVCenter | Qt::AlignLeft, text());
}

Card::Card(QWidget* parent) : QFrame(parent) {
  setFocusPolicy(Qt::StrongFocus);
  setProperty("card", QStringLiteral("plain"));
}

void Card::setState(const char* state) {
  const QString word = QString::fromUtf8(state);
  if (property("card") == word) return;
  setProperty("card", word);
  style()->unpolish(this);
  style()->polish(this);
  update();
}

void Card::mousePressEvent(QMouseEvent* event) {
  if (event->button() == Qt::LeftButton) Q_EMIT pressed();
  QFrame::mousePressEvent(event);
}

void Card::keyPressEvent(QKeyEvent* event) {
  if (event->key() == Qt::Key_Space || event->key() == Qt::Key_Return || event->key() == Qt::Key_Enter) {
    Q_EMIT pressed();
    return;
  }
  QFrame::keyPressEvent(event);
}

void Card::focusInEvent(QFocusEvent* event) {
  QFrame::focusInEvent(event);
  update();
}
void Card::focusOutEvent(QFocusEvent* event) {
  QFrame::focusOutEvent(event);
  update();
}

void Card::paintEvent(QPaintEvent* event) {
  QFrame::paintEvent(event);
  if (!hasFocus()) return;
  QPainter painter(this);
  painter.setPen(QPen(currentTheme().color(papers::Role::Accent), 1, Qt::DotLine));
  painter.drawRect(rect().adjusted(1, 1, -2, -2));
}

}  // namespace yw::ui
