#pragma once
#include <QListWidget>

#include "ui/document/document.h"

namespace yw::ui {

/// Changes made: every step by name, oldest first; choosing one goes there.
class ChangesPanel : public QListWidget {
  Q_OBJECT
 public:
  explicit ChangesPanel(Document& document, QWidget* parent = nullptr);

 private:
  void refill();
  Document& document_;
};

}  // namespace yw::ui
