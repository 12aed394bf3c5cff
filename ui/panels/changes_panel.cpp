#include "ui/panels/changes_panel.h"

#include <QSignalBlocker>

namespace yw::ui {

ChangesPanel::ChangesPanel(Document& document, QWidget* parent) : QListWidget(parent), document_(document) {
  setObjectName(QStringLiteral("changesMade"));
  setAccessibleName(tr("Changes made"));
  connect(&document, &Document::historyChanged, this, [this] { refill(); });
  connect(this, &QListWidget::itemActivated, this,
          [this] { document_.goTo(static_cast<std::size_t>(currentRow())); });
  connect(this, &QListWidget::itemClicked, this,
          [this] { document_.goTo(static_cast<std::size_t>(currentRow())); });
  refill();
}

void ChangesPanel::refill() {
  const QSignalBlocker quiet(this);
  clear();
  addItem(tr("As opened"));
  const auto& steps = document_.history().steps();
  for (std::size_t i = 0; i < steps.size(); ++i) {
    addItem(QString::fromStdString(steps[i].name));
    if (i >= document_.history().position()) {
      QFont font = item(count() - 1)->font();
      font.setItalic(true);
      item(count() - 1)->setFont(font);
      item(count() - 1)->setText(tr("%1 (undone)").arg(QString::fromStdString(steps[i].name)));
    }
  }
  setCurrentRow(static_cast<int>(document_.history().position()));
}

}  // namespace yw::ui
