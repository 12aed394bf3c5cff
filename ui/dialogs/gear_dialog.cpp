#include "ui/dialogs/gear_dialog.h"

#include <QComboBox>
#include <QDialogButtonBox>
#include <QHBoxLayout>
#include <QListWidget>
#include <QPushButton>
#include <QScrollArea>
#include <QSignalBlocker>
#include <QVBoxLayout>

#include "core/edit/usual.h"
#include "ui/fields/pick_fields.h"
#include "ui/panels/edits.h"
#include "ui/panels/record_form.h"

namespace yw::ui {

using base::Id;
using yard::RecordKind;

namespace {
constexpr RecordKind kKinds[] = {RecordKind::HouseCircuit, RecordKind::Outlet,    RecordKind::OtherLoad,
                                 RecordKind::Box,          RecordKind::Supply,    RecordKind::Controller,
                                 RecordKind::Receiver,     RecordKind::Product,   RecordKind::Wire,
                                 RecordKind::Price,        RecordKind::OwnedItem, RecordKind::OwnedLead};

QScrollArea* scrolled(QWidget* widget, QWidget* parent) {
  auto* scroll = new QScrollArea(parent);
  scroll->setWidgetResizable(true);
  scroll->setFrameShape(QFrame::NoFrame);
  scroll->setFocusPolicy(Qt::NoFocus);  // its fields have the keys
  scroll->setWidget(widget);
  return scroll;
}
}  // namespace

GearDialog::GearDialog(Document& document, RecordKind kind, QWidget* parent)
    : QDialog(parent), document_(document), kind_(kind) {
  setObjectName(QStringLiteral("gearDialog"));
  setWindowTitle(tr("Gear and goods"));
  resize(820, 600);
  auto* row = new QHBoxLayout;
  auto* left = new QVBoxLayout;
  kinds_ = new QComboBox(this);
  kinds_->setObjectName(QStringLiteral("gearKind"));
  kinds_->setAccessibleName(tr("Kind"));
  for (const RecordKind k : kKinds) kinds_->addItem(pluralOf(k), static_cast<int>(k));
  list_ = new QListWidget(this);
  list_->setObjectName(QStringLiteral("gearList"));
  list_->setAccessibleName(tr("All of this kind"));
  auto* add = new QPushButton(tr("Add"), this);
  add->setObjectName(QStringLiteral("gearAdd"));
  auto* remove = new QPushButton(tr("Delete"), this);
  remove->setObjectName(QStringLiteral("gearDelete"));
  auto* buttons = new QHBoxLayout;
  buttons->addWidget(add);
  buttons->addWidget(remove);
  left->addWidget(kinds_);
  left->addWidget(list_, 1);
  left->addLayout(buttons);
  form_ = new RecordForm(document, this);
  row->addLayout(left, 2);
  row->addWidget(scrolled(form_, this), 3);
  auto* outer = new QVBoxLayout(this);
  outer->addLayout(row, 1);
  auto* close = new QDialogButtonBox(QDialogButtonBox::Close, this);
  outer->addWidget(close);
  connect(close, &QDialogButtonBox::rejected, this, &QDialog::reject);
  connect(add, &QPushButton::clicked, this, [this] { addOne(); });
  connect(remove, &QPushButton::clicked, this, [this] {
    const auto ids = form_->records();
    if (ids.empty()) return;
    edit::Editor editor(document_.yard());
    const QString name = tr("Delete %1").arg(nameOf(document_.yard(), ids));
    for (const Id id : ids) editor.remove(id);
    document_.commit(editor.finish(name.toStdString()));
  });
  connect(kinds_, &QComboBox::currentIndexChanged, this, [this](int i) {
    kind_ = static_cast<RecordKind>(kinds_->itemData(i).toInt());
    refill();
  });
  connect(list_, &QListWidget::currentRowChanged, this, [this] { choose(); });
  connect(form_, &RecordForm::openAsked, this, [this](Id id) {
    const auto it = document_.yard().records.find(id);
    if (it == document_.yard().records.end()) return;
    setKind(yard::kindOf(*it->second));
    form_->setRecords({id});
  });
  connect(&document, &Document::yardChanged, this, [this] { refill(); });
  setKind(kind);
  refill();
}

void GearDialog::setKind(RecordKind kind) {
  for (int i = 0; i < kinds_->count(); ++i)
    if (kinds_->itemData(i).toInt() == static_cast<int>(kind)) kinds_->setCurrentIndex(i);
}

void GearDialog::refill() {
  const auto now = form_->records();
  const QSignalBlocker quiet(list_);
  list_->clear();
  int row = -1;
  for (const auto& [id, name] : namedRecords(document_.yard(), {kind_})) {
    auto* item = new QListWidgetItem(name, list_);
    item->setData(Qt::UserRole, static_cast<qlonglong>(id.value));
    if (now.contains(id)) row = list_->count() - 1;
  }
  if (row < 0 && list_->count() > 0) row = 0;
  list_->setCurrentRow(row);
  choose();
}

void GearDialog::choose() {
  const QListWidgetItem* item = list_->currentItem();
  form_->setRecords(item ? std::set<Id>{Id{item->data(Qt::UserRole).toLongLong()}} : std::set<Id>{});
}

void GearDialog::addOne() {
  edit::Editor editor(document_.yard());
  const Id chosen = document_.selection().single();
  const Id id =
      edit::addUsual(editor, kind_, yard::find<yard::Box>(document_.yard(), chosen) ? chosen : Id{});
  document_.commit(editor.finish(tr("Add %1").arg(labelText(editor.yard(), id)).toStdString()));
  form_->setRecords({id});
  refill();
}

void editRecordDialog(Document& document, Id id, const QString& title, QWidget* parent) {
  QDialog dialog(parent);
  dialog.setObjectName(QStringLiteral("recordDialog"));
  dialog.setWindowTitle(title);
  dialog.resize(520, 620);
  auto* column = new QVBoxLayout(&dialog);
  auto* form = new RecordForm(document, &dialog);
  form->setRecords({id});
  column->addWidget(scrolled(form, &dialog), 1);
  auto* close = new QDialogButtonBox(QDialogButtonBox::Close, &dialog);
  column->addWidget(close);
  QObject::connect(close, &QDialogButtonBox::rejected, &dialog, &QDialog::reject);
  dialog.exec();
}

}  // namespace yw::ui
