#pragma once
#include <QWidget>

#include "ui/document/document.h"

class QLabel;
class QPushButton;

namespace yw::ui {

/// Running totals: one line under the Yard, always visible. Pressed, it asks for the parts counts.
class TotalsBar : public QWidget {
  Q_OBJECT
 public:
  explicit TotalsBar(Document& document, QWidget* parent = nullptr);
  QString text() const;

 Q_SIGNALS:
  void partsAsked();

 private:
  void show();
  Document& document_;
  QLabel* line_;
  QPushButton* parts_;
};

}  // namespace yw::ui
