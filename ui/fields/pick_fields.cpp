#include "ui/fields/pick_fields.h"

#include <QCheckBox>
#include <QGridLayout>
#include <QHBoxLayout>
#include <QKeyEvent>
#include <QLabel>
#include <QPlainTextEdit>
#include <QSignalBlocker>
#include <QVBoxLayout>
#include <algorithm>

#include "core/papers/digest.h"
#include "core/yard/labels.h"
#include "ui/document/document.h"

namespace yw::ui {

using yard::FieldValue;

namespace {

constexpr std::int64_t kNewRecord = -1;

std::int64_t countOf(const FieldValue& value) {
  const auto* count = std::get_if<std::int64_t>(&value);
  return count ? *count : 0;
}

FieldEdit set(std::int64_t count) {
  return [count](const FieldValue&) -> FieldValue { return count; };
}

}  // namespace

FlagField::FlagField(const QString& label, QWidget* parent) : ValueField(parent) {
  box_ = new QCheckBox(label, this);
  box_->setMinimumHeight(24);
  column()->insertWidget(0, box_);
  setFocusProxy(box_);
  connect(box_, &QCheckBox::clicked, this, [this] {
    const bool on = box_->checkState() != Qt::Unchecked;
    box_->setTristate(false);
    box_->setChecked(on);
    commitEdit(set(on ? 1 : 0));
  });
}

void FlagField::display(const std::vector<FieldValue>& values, base::UnitSystem) {
  const QSignalBlocker quiet(box_);
  box_->setTristate(!allEqual(values));
  box_->setCheckState(!allEqual(values)         ? Qt::PartiallyChecked
                      : countOf(values.front()) ? Qt::Checked
                                                : Qt::Unchecked);
}

void FlagField::setNames(const QString& name, const QString& label) {
  setObjectName(QStringLiteral("field_") + name);
  box_->setObjectName(QStringLiteral("edit_") + name);
  box_->setAccessibleName(label);
}

ChoiceField::ChoiceField(const QStringList& words, QWidget* parent) : ValueField(parent) {
  combo_ = new QComboBox(this);
  combo_->addItems(words);
  combo_->setMinimumHeight(26);
  combo_->setSizeAdjustPolicy(QComboBox::AdjustToMinimumContentsLengthWithIcon);
  combo_->setMinimumContentsLength(8);
  combo_->setPlaceholderText(tr("several"));
  WheelOnlyFocused::guard(combo_);
  column()->insertWidget(0, combo_);
  setFocusProxy(combo_);
  connect(combo_, &QComboBox::activated, this, [this](int index) { commitEdit(set(index)); });
}

void ChoiceField::display(const std::vector<FieldValue>& values, base::UnitSystem) {
  const QSignalBlocker quiet(combo_);
  combo_->setCurrentIndex(allEqual(values) ? static_cast<int>(countOf(values.front())) : -1);
}

void ChoiceField::setNames(const QString& name, const QString& label) {
  setObjectName(QStringLiteral("field_") + name);
  combo_->setObjectName(QStringLiteral("edit_") + name);
  combo_->setAccessibleName(label);
}

std::vector<std::pair<base::Id, QString>> namedRecords(const yard::Yard& yard,
                                                       const std::vector<yard::RecordKind>& kinds) {
  std::vector<std::pair<base::Id, QString>> found;
  for (const auto& [id, record] : yard.records) {
    const auto kind = yard::kindOf(*record);
    if (!kinds.empty() && std::find(kinds.begin(), kinds.end(), kind) == kinds.end()) continue;
    if (kinds.empty() && kind == yard::RecordKind::Idea) continue;  // nothing of the yard itself
    found.emplace_back(id, QString::fromStdString(yard::labelOf(yard, id)));
  }
  // Not QCollator: in the C locale it ignores its numeric mode, and others order differently by machine.
  std::stable_sort(found.begin(), found.end(), [&](const auto& a, const auto& b) {
    return papers::naturalLess(a.second.toStdString(), b.second.toStdString());
  });
  return found;
}

ReferenceField::ReferenceField(Document& document, std::vector<yard::RecordKind> kinds, QWidget* parent)
    : ValueField(parent), document_(document), kinds_(std::move(kinds)) {
  combo_ = new QComboBox(this);
  combo_->setMinimumHeight(26);
  combo_->setSizeAdjustPolicy(QComboBox::AdjustToMinimumContentsLengthWithIcon);
  combo_->setMinimumContentsLength(8);
  combo_->setPlaceholderText(tr("several"));
  WheelOnlyFocused::guard(combo_);
  column()->insertWidget(0, combo_);
  setFocusProxy(combo_);
  connect(combo_, &QComboBox::activated, this, &ReferenceField::picked);
}

void ReferenceField::display(const std::vector<FieldValue>& values, base::UnitSystem) {
  const QSignalBlocker quiet(combo_);
  combo_->clear();
  combo_->addItem(tr("none"), QVariant::fromValue<qlonglong>(0));
  for (const auto& [id, label] : namedRecords(document_.shownYard(), kinds_))
    combo_->addItem(label, QVariant::fromValue<qlonglong>(id.value));
  if (kinds_.size() == 1) {
    combo_->insertSeparator(combo_->count());
    combo_->addItem(tr("New…"), QVariant::fromValue<qlonglong>(kNewRecord));
  }
  combo_->setCurrentIndex(
      allEqual(values) ? combo_->findData(QVariant::fromValue<qlonglong>(countOf(values.front()))) : -1);
}

void ReferenceField::picked(int index) {
  const std::int64_t id = combo_->itemData(index).toLongLong();
  if (id == kNewRecord) {
    Q_EMIT newAsked(kinds_.front());
    return;
  }
  commitEdit(set(id));
}

void ReferenceField::setNames(const QString& name, const QString& label) {
  setObjectName(QStringLiteral("field_") + name);
  combo_->setObjectName(QStringLiteral("edit_") + name);
  combo_->setAccessibleName(label);
}

PointField::PointField(QWidget* parent) : ValueField(parent) {
  // Beneath each other: side by side a long fraction would be cut.
  auto* rows = new QGridLayout;
  rows->setHorizontalSpacing(4);
  rows->setVerticalSpacing(2);
  const std::pair<LengthField**, QString> halves[] = {{&x_, QStringLiteral("→")}, {&y_, QStringLiteral("↑")}};
  for (int i = 0; i < 2; ++i) {
    *halves[i].first = new LengthField(LengthField::Scale::Yard, this);
    auto* way = new QLabel(halves[i].second, this);
    way->setProperty("ink", QStringLiteral("second"));
    way->setBuddy(*halves[i].first);
    rows->addWidget(way, i, 0, Qt::AlignTop);
    rows->addWidget(*halves[i].first, i, 1);
  }
  rows->setColumnStretch(1, 1);
  column()->insertLayout(0, rows);
  setFocusProxy(x_);
  x_->setCommitter([this](const FieldEdit& edit, const std::string& key) {
    commitEdit(
        [edit](const FieldValue& before) -> FieldValue {
          auto p = std::get<base::Point>(before);
          p.x.count = countOf(edit(p.x.count));
          return p;
        },
        key);
    return reason();
  });
  y_->setCommitter([this](const FieldEdit& edit, const std::string& key) {
    commitEdit(
        [edit](const FieldValue& before) -> FieldValue {
          auto p = std::get<base::Point>(before);
          p.y.count = countOf(edit(p.y.count));
          return p;
        },
        key);
    return reason();
  });
}

void PointField::display(const std::vector<FieldValue>& values, base::UnitSystem units) {
  std::vector<FieldValue> xs, ys;
  for (const FieldValue& value : values) {
    const auto* p = std::get_if<base::Point>(&value);
    xs.emplace_back(p ? p->x.count : 0);
    ys.emplace_back(p ? p->y.count : 0);
  }
  x_->display(xs, units);
  y_->display(ys, units);
}

void PointField::setNames(const QString& name, const QString& label) {
  setObjectName(QStringLiteral("field_") + name);
  x_->setNames(name + QStringLiteral("_x"), label + QStringLiteral(", x"));
  y_->setNames(name + QStringLiteral("_y"), label + QStringLiteral(", y"));
}

NotesField::NotesField(QWidget* parent) : ValueField(parent) {
  edit_ = new QPlainTextEdit(this);
  edit_->setTabChangesFocus(true);
  edit_->setFixedHeight(64);
  edit_->installEventFilter(this);
  column()->insertWidget(0, edit_);
  setFocusProxy(edit_);
}

void NotesField::display(const std::vector<FieldValue>& values, base::UnitSystem) {
  const bool typing = edit_->hasFocus() && edit_->document()->isModified();
  const auto* text = allEqual(values) ? std::get_if<std::string>(&values.front()) : nullptr;
  shown_ = text ? QString::fromStdString(*text) : QString();
  edit_->setPlaceholderText(text || values.empty() ? QString() : tr("several"));
  if (typing || edit_->toPlainText() == shown_) return;
  edit_->setPlainText(shown_);
  edit_->document()->setModified(false);
}

void NotesField::commitTyped() {
  if (!edit_->document()->isModified()) return;
  edit_->document()->setModified(false);
  const std::string text = edit_->toPlainText().toStdString();
  if (edit_->toPlainText() != shown_) commitEdit([text](const FieldValue&) -> FieldValue { return text; });
}

bool NotesField::eventFilter(QObject* watched, QEvent* event) {
  if (event->type() == QEvent::FocusOut) commitTyped();
  if (event->type() == QEvent::KeyPress) {
    auto* key = static_cast<QKeyEvent*>(event);
    if (key->key() == Qt::Key_Return && key->modifiers() & Qt::ControlModifier) {
      commitTyped();
      return true;
    }
    if (key->key() == Qt::Key_Escape && edit_->document()->isModified()) {
      edit_->setPlainText(shown_);
      edit_->document()->setModified(false);
      return true;
    }
  }
  return ValueField::eventFilter(watched, event);
}

void NotesField::setNames(const QString& name, const QString& label) {
  setObjectName(QStringLiteral("field_") + name);
  edit_->setObjectName(QStringLiteral("edit_") + name);
  edit_->setAccessibleName(label);
}

ValueField* makeField(const yard::FieldInfo& info, Document& document, QWidget* parent) {
  using yard::FieldType;
  const std::string& currency = yard::settings(document.yard()).currency;
  ValueField* field = nullptr;
  switch (info.type) {
    case FieldType::Text:
      if (info.name == "notes") {
        field = new NotesField(parent);
      } else {
        field = new TypedField(info, currency, parent);
      }
      break;
    case FieldType::Flag:
      field = new FlagField(QString::fromStdString(info.label), parent);
      break;
    case FieldType::Choice: {
      QStringList words;
      for (const auto& word : info.choices) words << QString::fromUtf8(word.label);
      field = new ChoiceField(words, parent);
      break;
    }
    case FieldType::Reference:
      field = new ReferenceField(document, info.refersTo, parent);
      break;
    case FieldType::Point:
      field = new PointField(parent);
      break;
    case FieldType::List:
      return nullptr;
    default:
      field = new TypedField(info, currency, parent);
  }
  field->setNames(QString::fromStdString(info.name), QString::fromStdString(info.label));
  field->setToolTip(QString::fromStdString(info.help));
  return field;
}

}  // namespace yw::ui
