#include "ui/fields/value_field.h"

#include <QEvent>
#include <QLabel>
#include <QVBoxLayout>
#include <algorithm>

namespace yw::ui {

ValueField::ValueField(QWidget* parent) : QWidget(parent) {
  column_ = new QVBoxLayout(this);
  column_->setContentsMargins(0, 0, 0, 0);
  column_->setSpacing(1);
  setSizePolicy(QSizePolicy::Preferred, QSizePolicy::Minimum);  // its reading and reason are never squeezed
  reason_ = new QLabel(this);
  reason_->setObjectName(QStringLiteral("reason"));
  reason_->setWordWrap(true);
  reason_->setProperty("ink", QStringLiteral("danger"));
  reason_->hide();
  column_->addWidget(reason_);
}

void ValueField::setReason(const QString& reason) {
  reason_->setText(reason);
  reason_->setVisible(!reason.isEmpty());
}

QString ValueField::reason() const { return reason_->text(); }

bool ValueField::commitEdit(const FieldEdit& edit, const std::string& mergeKey) {
  const QString refused = committer_ ? committer_(edit, mergeKey) : QString();
  setReason(refused);
  return refused.isEmpty();
}

QLabel* formLabel(const QString& words, const QString& help, ValueField& field, QWidget* parent) {
  constexpr int kWidth = 108;
  auto* label = new QLabel(words, parent);
  label->setWordWrap(true);
  label->setFixedWidth(kWidth);
  label->ensurePolished();
  // A form gives a label no more than 7/4 of its hint; a least height it must keep.
  label->setMinimumHeight(label->heightForWidth(kWidth));
  label->setBuddy(&field);
  label->setToolTip(help);
  return label;
}

bool allEqual(const std::vector<yard::FieldValue>& values) {
  return !values.empty() &&
         std::all_of(values.begin(), values.end(), [&](const auto& v) { return v == values.front(); });
}

void WheelOnlyFocused::guard(QWidget* widget) {
  widget->setFocusPolicy(Qt::StrongFocus);  // not WheelFocus: hovering and turning must not take the focus
  widget->installEventFilter(new WheelOnlyFocused(widget));
}

bool WheelOnlyFocused::eventFilter(QObject* watched, QEvent* event) {
  auto* widget = qobject_cast<QWidget*>(watched);
  if (event->type() == QEvent::Wheel && widget && !widget->hasFocus()) {
    event->ignore();
    return true;
  }
  return QObject::eventFilter(watched, event);
}

}  // namespace yw::ui
