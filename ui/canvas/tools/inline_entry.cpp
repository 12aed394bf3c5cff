#include "ui/canvas/tools/inline_entry.h"

#include <QKeyEvent>
#include <QLabel>
#include <QLineEdit>
#include <QRegularExpression>
#include <QVBoxLayout>
#include <algorithm>

#include "core/base/number_text.h"
#include "ui/canvas/look.h"

namespace yw::ui {

InlineEntry::InlineEntry(QWidget* viewport) : QFrame(viewport) {
  setObjectName(QStringLiteral("inlineEntry"));
  setFrameShape(QFrame::Box);
  setAutoFillBackground(true);
  auto* column = new QVBoxLayout(this);
  column->setContentsMargins(6, 4, 6, 4);
  column->setSpacing(2);
  question_ = new QLabel(this);
  edit_ = new QLineEdit(this);
  edit_->setObjectName(QStringLiteral("inlineLength"));
  edit_->setMinimumWidth(140);
  question_->setBuddy(edit_);
  reading_ = new QLabel(this);
  reading_->setFont(typeFace(TypeSize::Note));
  column->addWidget(question_);
  column->addWidget(edit_);
  column->addWidget(reading_);
  edit_->installEventFilter(this);
  connect(edit_, &QLineEdit::textChanged, this, [this] {
    read();
    Q_EMIT changed();
  });
  hide();
}

void InlineEntry::ask(const QString& question, QPoint near, base::UnitSystem units, const QString& begun) {
  units_ = units;
  question_->setText(question);
  edit_->setAccessibleName(question);
  edit_->setText(begun);
  read();
  adjustSize();
  moveNear(near);
  show();
  raise();
  edit_->setFocus(Qt::OtherFocusReason);
  edit_->end(false);
}

void InlineEntry::moveNear(QPoint near) {
  const QSize room = parentWidget()->size();
  move(std::clamp(near.x() + 18, 2, std::max(2, room.width() - width() - 2)),
       std::clamp(near.y() + 18, 2, std::max(2, room.height() - height() - 2)));
}

base::LengthUnit InlineEntry::bareUnit() const {
  return units_ == base::UnitSystem::Metric ? base::LengthUnit::Metres : base::LengthUnit::Feet;
}

std::optional<base::Length> InlineEntry::length() const {
  const auto typed = base::parseLength(edit_->text().toStdString(), bareUnit());
  if (!typed || typed->count <= 0) return std::nullopt;
  return *typed;
}

std::optional<std::pair<base::Length, base::Length>> InlineEntry::sides() const {
  static const QRegularExpression by(QStringLiteral("x|X|×|by"));
  if (!two_) return std::nullopt;
  const QStringList parts = edit_->text().split(by);
  if (parts.size() != 2) return std::nullopt;
  const auto width = base::parseLength(parts[0].toStdString(), bareUnit());
  const auto depth = base::parseLength(parts[1].toStdString(), bareUnit());
  if (!width || !depth || width->count <= 0 || depth->count <= 0) return std::nullopt;
  return std::pair(*width, *depth);
}

void InlineEntry::read() {
  QString text;
  if (const auto two = sides()) {
    text = said("canvas_sides_read",
                {{"a", base::lengthText(two->first, units_)}, {"b", base::lengthText(two->second, units_)}});
  } else if (!edit_->text().trimmed().isEmpty()) {
    const auto typed = base::parseLength(edit_->text().toStdString(), bareUnit());
    if (!typed)
      text = QString::fromStdString(base::text(typed.error(), units_));
    else if (typed->count <= 0)
      text = said("canvas_length_above_zero");
    else
      text = said("canvas_length_read", {{"a", base::lengthText(*typed, base::UnitSystem::FeetInches)},
                                         {"b", base::lengthText(*typed, base::UnitSystem::Metric)}});
  }
  reading_->setText(text);
  adjustSize();
}

QString InlineEntry::reading() const { return reading_->text(); }

void InlineEntry::put() {
  if (!asking()) return;
  hide();
  edit_->clear();
  if (parentWidget()->parentWidget()) parentWidget()->parentWidget()->setFocus(Qt::OtherFocusReason);
}

bool InlineEntry::eventFilter(QObject* watched, QEvent* event) {
  if (event->type() == QEvent::ShortcutOverride) {
    event->accept();
    return true;
  }
  if (event->type() == QEvent::KeyPress) {
    const int key = static_cast<QKeyEvent*>(event)->key();
    if (key == Qt::Key_Return || key == Qt::Key_Enter) {
      if (const auto two = sides())
        Q_EMIT enteredSides(two->first, two->second);
      else if (const auto typed = length())
        Q_EMIT entered(*typed);
      return true;
    }
    if (key == Qt::Key_Escape) {
      put();
      Q_EMIT cancelled();
      return true;
    }
    if (key == Qt::Key_Backspace && edit_->text().isEmpty()) {
      put();
      Q_EMIT cancelled();
      return true;
    }
  }
  return QFrame::eventFilter(watched, event);
}

}  // namespace yw::ui
