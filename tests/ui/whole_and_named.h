#pragma once
// What every window and dialog owes a person: words that are whole, names for assistive technology, targets
// for a hand.
#include <gtest/gtest.h>

#include <QAbstractButton>
#include <QAccessible>
#include <QApplication>
#include <QLabel>
#include <QMenuBar>
#include <QTabBar>
#include <QWidget>
#include <string>

#include "ui/fields/look.h"
#include "ui/paint/fonts.h"

namespace yw::ui {

/// Style and type as app/window/main.cpp sets them.
inline void lookAsTheProgram() {
  QApplication::setStyle(QStringLiteral("Fusion"));
  QApplication::setFont(textFont(kTextSize));
  setLook(Theme::Look::Light);
}

constexpr int kHand = 24;  // logical pixels, WCAG 2.2 criterion 2.5.8

inline std::string nameOf(const QWidget& widget) {
  return std::string(widget.metaObject()->className()) + " " + widget.objectName().toStdString();
}

/// Fails for words that need more room than they have.
inline void expectNothingCut(const QWidget& window) {
  for (const auto* label : window.findChildren<QLabel*>()) {
    if (!label->isVisible() || label->text().isEmpty() || label->objectName() == QStringLiteral("statusHint"))
      continue;  // the hint of the status line gives way to what stands beside it
    const QSize needs =
        label->wordWrap() ? QSize(label->width(), label->heightForWidth(label->width())) : label->sizeHint();
    EXPECT_GE(label->width(), needs.width()) << nameOf(*label) << ": " << label->text().toStdString();
    EXPECT_GE(label->height() + 1, needs.height())
        << nameOf(*label) << ": " << label->text().toStdString() << "; " << label->width()
        << " wide, asks for " << label->sizeHint().width() << " x " << label->sizeHint().height()
        << ", at least " << label->minimumSizeHint().height() << ", in " << label->parentWidget()->height()
        << " of " << label->parentWidget()->sizeHint().height();
  }
  for (const auto* button : window.findChildren<QAbstractButton*>()) {
    if (!button->isVisible() || button->text().isEmpty()) continue;
    EXPECT_GE(button->width(), button->minimumSizeHint().width()) << button->text().toStdString();
  }
}

/// Fails for what has the keys and no name, and for buttons and fields lower than a hand needs.
inline void expectNamedAndForAHand(const QWidget& window) {
  for (QWidget* widget : window.findChildren<QWidget*>()) {
    if (!widget->isVisible() || widget->focusPolicy() == Qt::NoFocus) continue;
    const QString type = QString::fromLatin1(widget->metaObject()->className());
    if (widget->objectName().startsWith(QStringLiteral("qt_")) ||
        type.startsWith(QStringLiteral("QHeader")) || qobject_cast<QMenuBar*>(widget) ||
        qobject_cast<QTabBar*>(widget) || type == QStringLiteral("QTabWidget"))
      continue;
    if (widget->parentWidget() && widget->parentWidget()->inherits("QComboBox")) continue;
    QAccessibleInterface* access = QAccessible::queryAccessibleInterface(widget);
    ASSERT_TRUE(access) << nameOf(*widget);
    EXPECT_FALSE(access->text(QAccessible::Name).isEmpty()) << nameOf(*widget);
    const bool pressed =
        widget->inherits("QAbstractButton") || widget->inherits("QLineEdit") || widget->inherits("QComboBox");
    if (pressed && !type.startsWith(QStringLiteral("QDockWidgetTitleButton"))) {
      EXPECT_GE(widget->height(), kHand) << nameOf(*widget);
    }
  }
}

}  // namespace yw::ui
