#pragma once
#include <QFrame>
#include <QPushButton>

#include "core/findings/findings.h"

namespace yw::ui {

/// How much of an allowance is used: a bar to a tick at 100 %, the figure and the limit written beside it.
class BarWidget : public QWidget {
  Q_OBJECT
 public:
  explicit BarWidget(QWidget* parent = nullptr);
  /// `used`: 1.0 is the limit; what is over it is drawn past the tick.
  void setFigures(const QString& figure, const QString& limit, double used);
  QSize sizeHint() const override;
  QSize minimumSizeHint() const override { return {120, 18}; }

 protected:
  void paintEvent(QPaintEvent* event) override;
  void changeEvent(QEvent* event) override;

 private:
  QString figure_, limit_;
  double used_ = 0.0;
};

/// A severity's shape, with its word as accessible name.
class SeverityMark : public QWidget {
  Q_OBJECT
 public:
  explicit SeverityMark(findings::Severity severity, QWidget* parent = nullptr);

 protected:
  void paintEvent(QPaintEvent* event) override;

 private:
  findings::Severity severity_;
};

/// A button whose text wraps: what it will do may be a whole sentence.
class SentenceButton : public QPushButton {
  Q_OBJECT
 public:
  explicit SentenceButton(const QString& text, QWidget* parent = nullptr);
  QSize sizeHint() const override;
  QSize minimumSizeHint() const override;
  int heightForWidth(int width) const override;
  bool hasHeightForWidth() const override { return true; }

 protected:
  void paintEvent(QPaintEvent* event) override;
};

/// A frame that is pressed like a button, by pointer, Space or Enter.
class Card : public QFrame {
  Q_OBJECT
 public:
  explicit Card(QWidget* parent = nullptr);
  /// `plain`, `marked` (belongs to the selection) or `current`.
  void setState(const char* state);

 Q_SIGNALS:
  void pressed();

 protected:
  void mousePressEvent(QMouseEvent* event) override;
  void keyPressEvent(QKeyEvent* event) override;
  void focusInEvent(QFocusEvent* event) override;
  void focusOutEvent(QFocusEvent* event) override;
  void paintEvent(QPaintEvent* event) override;
};

}  // namespace yw::ui
