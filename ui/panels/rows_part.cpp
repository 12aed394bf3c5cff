#include "ui/panels/rows_part.h"

#include <QHBoxLayout>
#include <QLabel>
#include <QPushButton>
#include <QVBoxLayout>

#include "ui/panels/edits.h"

namespace yw::ui {

yard::FieldInfo columnInfo(const char* name, const QString& label, yard::FieldType type, std::int64_t least,
                           std::int64_t most) {
  yard::FieldInfo info{};
  info.name = name;
  info.label = label.toStdString();
  info.type = type;
  info.least = least;
  info.most = most;
  return info;
}

yard::FieldInfo fieldNamed(const std::vector<yard::FieldInfo>& fields, const std::string& name) {
  for (const auto& field : fields)
    if (field.name == name) return field;
  return {};
}

RowsPart::RowsPart(Document& document, std::set<base::Id> ids, Words words,
                   std::vector<RowsTable::Column> columns, QWidget* parent)
    : FormPart(document, std::move(ids), parent), words_(std::move(words)) {
  auto* column = new QVBoxLayout(this);
  column->setContentsMargins(0, 4, 0, 4);
  column->setSpacing(2);
  head_ = new QHBoxLayout;
  auto* title = new QLabel(words_.title, this);
  title->setProperty("ink", QStringLiteral("head"));
  head_->addWidget(title, 1);
  column->addLayout(head_);
  rows_ = new RowsTable(document, words_.name, words_.title, std::move(columns), this);
  column->addWidget(rows_);
  if (!words_.add.isEmpty()) {
    auto* addButton = new QPushButton(words_.add, this);
    addButton->setObjectName(QStringLiteral("add_") + words_.name);
    head_->addWidget(addButton);
    connect(addButton, &QPushButton::clicked, this, [this] { add(); });
    remove_ = new QPushButton(words_.remove, this);
    remove_->setObjectName(QStringLiteral("remove_") + words_.name);
    head_->addWidget(remove_);
    connect(remove_, &QPushButton::clicked, this, [this] {
      if (rows_->currentRow() >= 0) remove(rows_->currentRow());
    });
    connect(rows_, &RowsTable::rowChanged, this, [this](int row) { remove_->setEnabled(row >= 0); });
  }
  rows_->setCommitter([this](int row, int cell, const FieldEdit& edit) { return change(row, cell, edit); });
}

QString RowsPart::step() const {
  return tr("Change %1 of %2").arg(words_.title.toLower(), nameOf(document().yard(), ids()));
}

void RowsPart::refresh() {
  rows_->display(cells(), units());
  if (remove_) remove_->setEnabled(rows_->currentRow() >= 0);
}

}  // namespace yw::ui
