#include "ui/fields/typed_field.h"

#include <QHBoxLayout>
#include <QKeyEvent>
#include <QLabel>
#include <QLineEdit>
#include <QVBoxLayout>
#include <QWheelEvent>

namespace yw::ui {

TypedField::TypedField(yard::FieldInfo info, std::string currency, QWidget* parent)
    : ValueField(parent), info_(std::move(info)) {
  style_.currency = std::move(currency);
  auto* row = new QHBoxLayout;
  row->setSpacing(4);
  edit_ = new QLineEdit(this);
  edit_->setMinimumHeight(26);
  unit_ = new QLabel(this);
  unit_->setProperty("ink", QStringLiteral("second"));
  unit_->hide();
  row->addWidget(edit_, 1);
  row->addWidget(unit_);
  column()->insertLayout(0, row);
  reading_ = new QLabel(this);
  reading_->setObjectName(QStringLiteral("reading"));
  reading_->setProperty("ink", QStringLiteral("second"));
  reading_->setWordWrap(true);
  reading_->hide();
  column()->insertWidget(1, reading_);
  setFocusProxy(edit_);
  edit_->installEventFilter(this);
  connect(edit_, &QLineEdit::textEdited, this, [this] {
    setReason({});
    showReading();
  });
  connect(edit_, &QLineEdit::editingFinished, this, [this] { commitTyped(); });
}

void TypedField::setNames(const QString& name, const QString& label) {
  setObjectName(QStringLiteral("field_") + name);
  edit_->setObjectName(QStringLiteral("edit_") + name);
  edit_->setAccessibleName(label);
}

QString TypedField::reading() const { return reading_->text(); }

void TypedField::display(const std::vector<yard::FieldValue>& values, base::UnitSystem units) {
  const bool typing = edit_->isModified() && edit_->hasFocus();
  values_ = values;
  style_.units = units;
  unit_->setText(unitText(info_, style_));
  unit_->setVisible(!unit_->text().isEmpty());
  if (!typing) restore();
}

void TypedField::restore() {
  const bool same = allEqual(values_);
  edit_->setText(same ? valueText(info_, values_.front(), style_) : QString());
  edit_->setPlaceholderText(same || values_.empty() ? QString() : tr("several"));
  edit_->setModified(false);
  setReason({});
  showReading();
}

void TypedField::showReading() {
  QString shown;
  if (!edit_->isModified()) {
    if (allEqual(values_)) shown = readingText(info_, values_.front(), style_);
  } else if (!edit_->text().trimmed().isEmpty()) {
    const auto edit = readTyped(info_, edit_->text(), style_);
    if (edit && !values_.empty()) shown = readingText(info_, (*edit)(values_.front()), style_);
  }
  reading_->setText(shown);
  reading_->setVisible(!shown.isEmpty());
}

bool TypedField::commitTyped() {
  if (!edit_->isModified()) return true;
  if (allEqual(values_) && edit_->text() == valueText(info_, values_.front(), style_)) {
    restore();
    return true;
  }
  const auto edit = readTyped(info_, edit_->text(), style_);
  if (!edit) {
    setReason(QString::fromStdString(base::text(edit.error(), style_.units)));
    return false;
  }
  edit_->setModified(false);
  if (commitEdit(*edit)) {
    restore();  // the yard may have changed nothing: then nobody else puts the text right
    return true;
  }
  edit_->setModified(true);
  return false;
}

bool TypedField::turnWheel(QEvent* event) {
  if (!edit_->hasFocus()) {
    event->ignore();
    return true;
  }
  const int notches = static_cast<QWheelEvent*>(event)->angleDelta().y() / 120;
  const FieldEdit edit = notches ? wheelEdit(info_, notches, style_) : FieldEdit();
  if (!edit) return false;
  if (commitTyped()) commitEdit(edit, "wheel " + objectName().toStdString());
  restore();
  event->accept();
  return true;
}

bool TypedField::eventFilter(QObject* watched, QEvent* event) {
  if (watched != edit_) return ValueField::eventFilter(watched, event);
  if (event->type() == QEvent::Wheel) return turnWheel(event);
  if (event->type() == QEvent::ShortcutOverride || event->type() == QEvent::KeyPress) {
    auto* key = static_cast<QKeyEvent*>(event);
    if (key->key() == Qt::Key_Escape && edit_->isModified()) {
      if (event->type() == QEvent::KeyPress) restore();
      event->accept();
      return true;
    }
  }
  return ValueField::eventFilter(watched, event);
}

LengthField::LengthField(Scale scale, QWidget* parent)
    : TypedField(
          [scale] {
            yard::FieldInfo info{};
            info.type = yard::FieldType::Length;
            info.least = INT64_MIN;
            info.most = scale == Scale::Hand ? 10'000'000'000 : INT64_MAX;
            return info;
          }(),
          "$", parent) {}

}  // namespace yw::ui
