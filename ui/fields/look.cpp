#include "ui/fields/look.h"

#include <QApplication>
#include <QPalette>
#include <QStyleFactory>

#include "ui/paint/fonts.h"

namespace yw::ui {

namespace {

Theme::Look chosenLook = Theme::Look::Light;

QColor mixed(const QColor& a, const QColor& b, double part) {
  const auto mix = [part](int x, int y) { return qRound(x + part * (y - x)); };
  return QColor(mix(a.red(), b.red()), mix(a.green(), b.green()), mix(a.blue(), b.blue()));
}

QPalette paletteOf(const Theme& theme) {
  using papers::Role;
  const QColor ink = theme.color(Role::Ink), paper = theme.color(Role::Paper);
  const QColor second = theme.color(Role::SecondInk), accent = theme.color(Role::Accent);
  QPalette palette;
  palette.setColor(QPalette::Window, mixed(paper, ink, 0.045));
  palette.setColor(QPalette::WindowText, ink);
  palette.setColor(QPalette::Base, paper);
  palette.setColor(QPalette::AlternateBase, mixed(paper, ink, 0.04));
  palette.setColor(QPalette::Text, ink);
  palette.setColor(QPalette::Button, mixed(paper, ink, 0.08));
  palette.setColor(QPalette::ButtonText, ink);
  palette.setColor(QPalette::BrightText, theme.color(Role::Danger));
  palette.setColor(QPalette::ToolTipBase, paper);
  palette.setColor(QPalette::ToolTipText, ink);
  palette.setColor(QPalette::PlaceholderText, second);
  palette.setColor(QPalette::Highlight, accent);
  palette.setColor(QPalette::HighlightedText, paper);
  palette.setColor(QPalette::Link, accent);
  palette.setColor(QPalette::Light, mixed(paper, ink, 0.01));
  palette.setColor(QPalette::Midlight, mixed(paper, ink, 0.12));
  palette.setColor(QPalette::Mid, mixed(paper, ink, 0.28));
  palette.setColor(QPalette::Dark, mixed(paper, ink, 0.42));
  palette.setColor(QPalette::Shadow, mixed(paper, ink, 0.6));
  const QColor off = mixed(paper, ink, 0.5);
  for (const auto role : {QPalette::WindowText, QPalette::Text, QPalette::ButtonText})
    palette.setColor(QPalette::Disabled, role, off);
  return palette;
}

QString styleOf(const Theme& theme) {
  using papers::Role;
  return QStringLiteral(R"(
    QLabel[ink="second"] { color: %1; font-size: %4px; }
    QLabel[ink="danger"] { color: %2; font-size: %4px; }
    QLabel[ink="head"] { font-size: %5px; font-weight: bold; }
    QLabel[ink="title"] { font-size: %6px; font-weight: bold; }
    QPushButton[look="link"] { color: %3; text-align: left; border: none; padding: 3px; min-height: 18px;
                               text-decoration: underline; }
    QPushButton[look="link"]:focus { border: 1px solid %3; padding: 2px; }
    QPushButton { min-height: 18px; padding: 3px 8px; }
    QDialogButtonBox { dialogbuttonbox-buttons-have-icons: 0; }
    QMainWindow > QTabBar { font-size: %4px; }
    QFrame[card="plain"] { border: 1px solid transparent; }
    QFrame[card="marked"] { border: none; border-left: 3px solid %3; }
    QFrame[card="current"] { border: 1px solid %3; }
  )")
      .arg(theme.color(Role::SecondInk).name(), theme.color(Role::Danger).name(),
           theme.color(Role::Accent).name())
      .arg(kNoteSize)
      .arg(kTextSize)
      .arg(kHeadSize);
}

}  // namespace

const Theme& currentTheme() { return Theme::of(chosenLook); }

void setLook(Theme::Look look) {
  chosenLook = look;
  QFont font(textFamily());
  font.setPixelSize(kTextSize);
  QApplication::setStyle(QStyleFactory::create(QStringLiteral("Fusion")));
  QApplication::setFont(font);
  QApplication::setPalette(paletteOf(currentTheme()));
  qApp->setStyleSheet(styleOf(currentTheme()));
}

QString severityWord(findings::Severity severity) { return QString::fromUtf8(findings::label(severity)); }

void paintSeverity(QPainter& painter, const QRectF& box, findings::Severity severity, const Theme& theme) {
  const QColor ink =
      theme.color(severity == findings::Severity::Danger ? papers::Role::Danger : papers::Role::Ink);
  painter.save();
  painter.setRenderHint(QPainter::Antialiasing);
  painter.setPen(QPen(ink, 1.5));
  const QRectF inner = box.adjusted(1.5, 1.5, -1.5, -1.5);
  switch (severity) {
    case findings::Severity::Danger: {
      const QPointF corners[] = {{inner.center().x(), inner.top()}, inner.bottomRight(), inner.bottomLeft()};
      painter.setBrush(ink);
      painter.drawPolygon(corners, 3);
      break;
    }
    case findings::Severity::WontWork:
      painter.setBrush(ink);
      painter.drawRect(inner);
      break;
    case findings::Severity::CloseToLimit:
      painter.setBrush(Qt::NoBrush);
      painter.drawRect(inner);
      break;
    case findings::Severity::Note:
      painter.setBrush(ink);
      painter.drawEllipse(inner.center(), inner.width() / 5, inner.width() / 5);
      break;
  }
  painter.restore();
}

}  // namespace yw::ui
