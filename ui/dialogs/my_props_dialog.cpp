#include "ui/dialogs/my_props_dialog.h"

#include <QDialogButtonBox>
#include <QLabel>
#include <QListWidget>
#include <QPushButton>
#include <QVBoxLayout>

#include "core/file/my_props.h"
#include "core/shapes/shape.h"
#include "ui/panels/edits.h"
#include "ui/panels/place_list.h"

namespace yw::ui {

using base::Id;

MyPropsDialog::MyPropsDialog(Document& document, base::Point middle, QWidget* parent)
    : QDialog(parent), document_(document), middle_(middle) {
  setObjectName(QStringLiteral("my_props_dialog"));
  setWindowTitle(tr("My props"));
  resize(520, 460);
  auto* column = new QVBoxLayout(this);
  list_ = new QListWidget(this);
  list_->setObjectName(QStringLiteral("my_props_list"));
  list_->setAccessibleName(tr("My props"));
  list_->setIconSize(QSize(54, 54));
  column->addWidget(list_, 1);
  said_ = new QLabel(this);
  said_->setObjectName(QStringLiteral("my_props_said"));
  said_->setProperty("ink", QStringLiteral("second"));
  said_->setWordWrap(true);
  column->addWidget(said_);
  auto* buttons = new QDialogButtonBox(QDialogButtonBox::Close, this);
  put_ = buttons->addButton(tr("Put it into this yard"), QDialogButtonBox::ActionRole);
  put_->setObjectName(QStringLiteral("my_props_put"));
  forget_ = buttons->addButton(tr("Take it off this list"), QDialogButtonBox::ActionRole);
  forget_->setObjectName(QStringLiteral("my_props_forget"));
  column->addWidget(buttons);
  connect(put_, &QPushButton::clicked, this, [this] { put(); });
  connect(forget_, &QPushButton::clicked, this, [this] { forget(); });
  connect(list_, &QListWidget::itemDoubleClicked, this, [this] { put(); });
  connect(buttons, &QDialogButtonBox::rejected, this, &QDialog::reject);
  refill();
}

Id MyPropsDialog::current() const {
  const QListWidgetItem* item = list_->currentItem();
  return item ? Id{item->data(Qt::UserRole).toLongLong()} : Id{};
}

void MyPropsDialog::refill() {
  list_->clear();
  const auto library = file::readMyProps(file::myPropsFile());
  library_ = library ? *library : yard::emptyYard();
  for (const auto& [id, prop] : yard::all<yard::Prop>(library_)) {
    const auto shape = shapes::make(*prop);
    const auto* kind = shapes::findKind(prop->kind);
    const auto* product = yard::productOf(library_, *prop);
    const QString text =
        tr("%1\n%2, %3 pixels, %4")
            .arg(QString::fromStdString(prop->name), QString::fromStdString(kind ? kind->label : prop->kind))
            .arg(shape ? shape->pixels.size() : 0)
            .arg(QString::fromStdString(product ? product->name : std::string()));
    auto* item = new QListWidgetItem(QIcon(shapePicture(*prop, 54, devicePixelRatioF())), text, list_);
    item->setData(Qt::UserRole, QVariant::fromValue<qlonglong>(id.value));
  }
  list_->setCurrentRow(0);
  put_->setEnabled(list_->count() > 0);
  forget_->setEnabled(list_->count() > 0);
  said_->setText(!library ? errorText(library.error(), document_.yard())
                 : list_->count() > 0
                     ? tr("Kept in %1.").arg(QString::fromStdString(file::myPropsFile().string()))
                     : tr("Nothing is kept yet. Select a prop and press “Keep as my own” under This item."));
}

void MyPropsDialog::put() {
  if (!current()) return;
  edit::Editor editor(document_.yard());
  const Id made = file::putMyProp(editor, library_, current(), middle_);
  const QString name = labelText(editor.yard(), made);
  document_.commit(editor.finish(tr("Put %1 of my props").arg(name).toStdString()));
  document_.selection().set({made});
  said_->setText(tr("%1 stands in the middle of the Yard.").arg(name));
}

void MyPropsDialog::forget() {
  if (!current()) return;
  const auto saved = file::saveMyProps(file::withoutMyProp(library_, current()), file::myPropsFile());
  refill();
  if (!saved) said_->setText(errorText(saved.error(), document_.yard()));
}

void keepAsMine(Document& document, Id prop) {
  const auto path = file::myPropsFile();
  const auto keep = [&]() -> base::Result<void> {
    const auto library = file::readMyProps(path);
    if (!library) return tl::unexpected(library.error());
    const auto kept = file::withMyProp(*library, document.yard(), prop);
    if (!kept) return tl::unexpected(kept.error());
    return file::saveMyProps(*kept, path);
  };
  const auto kept = keep();
  Q_EMIT document.said(kept ? messageText({"my_props_kept",
                                           {{"name", labelText(document.yard(), prop).toStdString()},
                                            {"path", path.string()}}},
                                          document.yard())
                            : errorText(kept.error(), document.yard()));
}

}  // namespace yw::ui
