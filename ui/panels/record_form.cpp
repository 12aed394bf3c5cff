#include "ui/panels/record_form.h"

#include <QFormLayout>
#include <QLabel>
#include <QVBoxLayout>
#include <algorithm>

#include "core/edit/usual.h"
#include "core/yard/field_value.h"
#include "ui/fields/pick_fields.h"
#include "ui/panels/edits.h"
#include "ui/panels/form_part.h"
#include "ui/panels/hanging.h"

namespace yw::ui {

RecordForm::RecordForm(Document& document, QWidget* parent) : QWidget(parent), document_(document) {
  setObjectName(QStringLiteral("record_form"));
  auto* layout = new QVBoxLayout(this);
  layout->setContentsMargins(0, 0, 0, 0);
  connect(&document_, &Document::yardChanged, this, &RecordForm::refresh);
  connect(&document_, &Document::assessed, this, [this] {
    for (FormPart* part : parts_) part->refresh();
  });
}

std::string RecordForm::structure() const {
  const auto kind = commonKind(document_.shownYard(), ids_);
  if (!kind) return {};
  std::string key = yard::label(*kind);
  for (const base::Id id : ids_) {
    key += " " + std::to_string(id.value);
    if (const auto* prop = yard::find<yard::Prop>(document_.shownYard(), id)) key += prop->kind;
    if (const auto* feature = yard::find<yard::GroundFeature>(document_.shownYard(), id))
      key += "/" + std::to_string(static_cast<int>(feature->kind));
  }
  return key;
}

void RecordForm::setRecords(std::set<base::Id> ids) {
  ids_ = std::move(ids);
  refresh();
}

ValueField* RecordForm::field(const std::string& name) const {
  for (const Row& row : rows_)
    if (row.info.name == name) return row.field;
  return nullptr;
}

void RecordForm::rebuild() {
  builtFor_ = structure();
  rows_.clear();
  parts_.clear();
  if (body_) {
    body_->hide();
    body_->deleteLater();  // a field of it may be the one that is just committing
    body_ = nullptr;
  }
  const auto kind = commonKind(document_.shownYard(), ids_);
  if (!kind) return;
  body_ = new QWidget(this);
  auto* column = new QVBoxLayout(body_);
  column->setContentsMargins(0, 0, 0, 0);
  const auto newForm = [column] {
    auto* form = new QFormLayout;
    form->setFieldGrowthPolicy(QFormLayout::AllNonFixedFieldsGrow);
    form->setLabelAlignment(Qt::AlignLeft | Qt::AlignTop);
    form->setVerticalSpacing(4);
    column->addLayout(form);
    return form;
  };
  auto* nameForm = newForm();
  const auto addParts = [&](bool last) {
    for (FormPart* part : parts_)
      if (part->comesLast() == last) column->addWidget(part);
  };
  parts_ = partsFor(document_, *kind, ids_, body_);
  for (FormPart* part : parts_) connect(part, &FormPart::openAsked, this, &RecordForm::openAsked);
  addParts(false);
  auto* form = newForm();
  const auto counts = [&](const std::string& field) {
    const auto& records = document_.shownYard().records;
    return std::any_of(ids_.begin(), ids_.end(), [&](const base::Id id) {
      const auto at = records.find(id);
      return at != records.end() && yard::fieldCounts(*at->second, field);
    });
  };
  for (const yard::FieldInfo& info : yard::fieldsOf(*kind))
    if (!info.hidden && counts(info.name)) addField(info.name == "name" ? nameForm : form, info);
  addParts(true);
  column->addStretch(1);
  layout()->addWidget(body_);
}

void RecordForm::addField(QFormLayout* form, const yard::FieldInfo& info) {
  ValueField* field = makeField(info, document_, body_);
  if (!field) return;
  if (info.name == "name" && ids_.size() > 1) {
    field->setEnabled(false);  // one name for all of them would name none
    field->setToolTip(tr("Names are given one at a time"));
  }
  field->setCommitter(
      [this, info](const FieldEdit& edit, const std::string& key) { return commit(info, edit, key); });
  if (auto* reference = qobject_cast<ReferenceField*>(field)) {
    connect(reference, &ReferenceField::newAsked, this,
            [this, info](yard::RecordKind kind) { addNew(info, kind); });
  }
  rows_.push_back({info, field});
  if (info.type == yard::FieldType::Flag) {
    form->addRow(field);
    return;
  }
  form->addRow(
      formLabel(QString::fromStdString(info.label), QString::fromStdString(info.help), *field, body_), field);
}

QString RecordForm::commit(const yard::FieldInfo& info, const FieldEdit& edit, const std::string& mergeKey) {
  const auto change = [&](const yard::Record& record) -> base::Result<yard::Record> {
    const auto before = yard::valueOf(record, info.name);
    if (!before) return record;
    auto changed = yard::withValue(record, info.name, edit(*before));
    if (changed && info.name == "wall") return rehung(document_.yard(), record, *changed);
    return changed;
  };
  const QString step =
      tr("Change %1 of %2").arg(QString::fromStdString(info.label), nameOf(document_.yard(), ids_));
  const QString refused =
      editRecords(document_, ids_, step, change, mergeKey.empty() ? mergeKey : mergeKey + " " + structure());
  if (refused.isEmpty() && info.name == "name" && ids_.size() == 1)
    if (const auto value = yard::valueOf(*document_.yard().records.at(*ids_.begin()), "name");
        value && *value == yard::FieldValue(std::string()))
      Q_EMIT document_.said(tr("Without a name it is called %1").arg(nameOf(document_.yard(), ids_)));
  return refused;
}

void RecordForm::addNew(const yard::FieldInfo& info, yard::RecordKind kind) {
  edit::Editor editor(document_.yard());
  const base::Id made = edit::addUsual(editor, kind);
  const QString name = labelText(editor.yard(), made);
  for (const base::Id id : ids_) {
    const auto it = editor.yard().records.find(id);
    if (it == editor.yard().records.end()) continue;
    if (auto changed = yard::withValue(*it->second, info.name, made.value)) editor.replace(id, *changed);
  }
  document_.commit(editor.finish(tr("Add %1").arg(name).toStdString()));
  Q_EMIT openAsked(made);
}

void RecordForm::refresh() {
  if (structure() != builtFor_) rebuild();
  const yard::Yard& yard = document_.shownYard();
  const base::UnitSystem units = yard::settings(yard).units;
  for (const Row& row : rows_) {
    std::vector<yard::FieldValue> values;
    for (const base::Id id : ids_) {
      const auto it = yard.records.find(id);
      if (it == yard.records.end()) continue;
      if (const auto value = yard::valueOf(*it->second, row.info.name)) values.push_back(*value);
    }
    if (!values.empty()) row.field->display(values, units);
  }
  for (FormPart* part : parts_) part->refresh();
}

}  // namespace yw::ui
