#include "ui/panels/prop_part.h"

#include <QFormLayout>
#include <QLabel>
#include <QVBoxLayout>
#include <algorithm>

#include "core/shapes/ground_level.h"
#include "ui/fields/pick_fields.h"
#include "ui/panels/edits.h"

namespace yw::ui {

namespace {

yard::FieldInfo fieldOf(const shapes::SizeInfo& size) {
  yard::FieldInfo info{};
  info.name = size.name;
  info.label = size.label;
  info.help = size.help;
  info.least = size.least;
  info.most = size.most;
  switch (size.type) {
    case shapes::SizeType::Length:
      info.type = yard::FieldType::Length;
      break;
    case shapes::SizeType::Count:
      info.type = yard::FieldType::Count;
      break;
    case shapes::SizeType::Angle:
      info.type = yard::FieldType::Angle;
      break;
    case shapes::SizeType::Ratio:
      info.type = yard::FieldType::Ratio;
      break;
  }
  return info;
}

std::int64_t sizeOf(const yard::Prop& prop, const shapes::SizeInfo& size) {
  const auto it = prop.sizes.find(size.name);
  return it == prop.sizes.end() ? size.usual : it->second;
}

std::int64_t choiceOf(const yard::Prop& prop, const shapes::ChoiceInfo& choice) {
  const auto it = prop.choices.find(choice.name);
  if (it == prop.choices.end()) return 0;
  for (std::size_t i = 0; i < choice.options.size(); ++i)
    if (it->second == choice.options[i].name) return static_cast<std::int64_t>(i);
  return 0;
}

QLabel* wrapped(QWidget* parent, const char* name) {
  auto* label = new QLabel(parent);
  label->setObjectName(QString::fromUtf8(name));
  label->setWordWrap(true);
  label->setTextInteractionFlags(Qt::TextSelectableByMouse);
  return label;
}

QString capitalized(QString text) {
  if (!text.isEmpty()) text[0] = text[0].toUpper();
  return text;
}

/// Drops of a hung line from its left, in runs of equal ones; strips of a cone tree on ground that slopes.
QStringList levelFacts(const shapes::Shape& shape, base::Id id, const yard::Yard& yard) {
  QStringList lines;
  QStringList drops;
  for (const shapes::Cut& cut : shape.cuts)
    if (cut.stock == "hanger cord") drops << factText(cut.length, yard);
  if (!drops.isEmpty())
    lines << FormPart::tr("Drops that hang it so, from the left: %1").arg(drops.join(FormPart::tr(", ")));
  const auto* prop = yard::find<yard::Prop>(yard, id);
  if (!prop || prop->wall || yard::all<yard::SpotHeight>(yard).size() < 2) return lines;
  const auto strips = shapes::stripsOnSlope(yard, *prop);
  if (!strips) return lines;
  auto [low, high] = std::minmax_element(strips->begin(), strips->end(),
                                         [](const auto& a, const auto& b) { return a.length < b.length; });
  if (high->length - low->length < 0.005) return lines;
  lines << FormPart::tr(
               "With its base ring parallel to this ground: strips from %1 (%2 pixels) to %3 (%4 pixels)")
               .arg(factText(base::toLength({low->length}), yard))
               .arg(low->pixels)
               .arg(factText(base::toLength({high->length}), yard))
               .arg(high->pixels);
  const auto legs = shapes::levelRing(yard, *prop);
  if (!legs) return lines;
  QStringList reveals;
  for (const double each : legs->each) reveals << factText(base::toLength({each}), yard);
  lines << FormPart::tr("With its base ring level: %1 legs round from the front, %2")
               .arg(legs->each.size())
               .arg(reveals.join(FormPart::tr(", ")));
  return lines;
}

}  // namespace

PropPart::PropPart(Document& document, std::set<base::Id> ids, QWidget* parent)
    : FormPart(document, std::move(ids), parent) {
  auto* column = new QVBoxLayout(this);
  column->setContentsMargins(0, 0, 0, 0);
  for (const base::Id id : this->ids()) {
    const auto* prop = yard::find<yard::Prop>(yard(), id);
    const auto* kind = prop ? shapes::findKind(prop->kind) : nullptr;
    if (kind_ && kind != kind_) {
      kind_ = nullptr;  // different kinds have different sizes
      break;
    }
    kind_ = kind;
  }
  form_ = new QFormLayout;
  QFormLayout* form = form_;
  form->setFieldGrowthPolicy(QFormLayout::AllNonFixedFieldsGrow);
  form->setLabelAlignment(Qt::AlignLeft | Qt::AlignTop);
  form->setVerticalSpacing(4);
  const auto addRow = [&](const std::string& text, const std::string& help, ValueField* field) {
    field->setToolTip(QString::fromStdString(help));
    form->addRow(formLabel(QString::fromStdString(text), QString::fromStdString(help), *field, this), field);
  };
  if (kind_) {
    for (const shapes::SizeInfo& size : kind_->sizes) {
      auto* field = new TypedField(fieldOf(size), {}, this);
      field->setNames(QString::fromStdString(size.name), QString::fromStdString(size.label));
      field->setCommitter([this, &size](const FieldEdit& edit, const std::string& key) {
        return commitSize(size, edit, key);
      });
      sizes_.emplace_back(&size, field);
      addRow(size.label, size.help, field);
    }
    for (const shapes::ChoiceInfo& choice : kind_->choices) {
      QStringList words;
      for (const auto& option : choice.options) words << QString::fromUtf8(option.label);
      auto* field = new ChoiceField(words, this);
      field->setNames(QString::fromStdString(choice.name), QString::fromStdString(choice.label));
      field->setCommitter([this, &choice](const FieldEdit& edit, const std::string&) {
        return commitChoice(choice, std::get<std::int64_t>(edit(std::int64_t{0})));
      });
      choices_.emplace_back(&choice, field);
      addRow(choice.label, {}, field);
    }
  }
  column->addLayout(form);
  warnings_ = wrapped(this, "prop_warnings");
  warnings_->setProperty("ink", QStringLiteral("danger"));
  column->addWidget(warnings_);
  facts_ = wrapped(this, "prop_facts");
  facts_->setProperty("ink", QStringLiteral("second"));
  column->addWidget(facts_);
  refresh();
}

QString PropPart::commitProps(const QString& label, const std::function<void(yard::Prop&)>& change,
                              const std::string& mergeKey) {
  const auto changed = [&](const yard::Record& record) -> base::Result<yard::Record> {
    const auto* before = std::get_if<yard::Prop>(&record);
    if (!before) return record;
    yard::Prop prop = *before;
    change(prop);
    const auto shape = shapes::make(prop);
    if (!shape) return tl::unexpected(shape.error());
    if (const auto error = shapes::unbuildable(*shape)) {
      const auto was = shapes::make(*before);
      if (!was || !shapes::unbuildable(*was)) return tl::unexpected(*error);
    }
    return yard::Record(std::move(prop));
  };
  const QString step = tr("Change %1 of %2").arg(label, nameOf(document().yard(), ids()));
  return editRecords(document(), ids(), step, changed, mergeKey);
}

QString PropPart::commitSize(const shapes::SizeInfo& size, const FieldEdit& edit,
                             const std::string& mergeKey) {
  std::string key = mergeKey;
  if (!key.empty())
    for (const base::Id id : ids()) key += " " + std::to_string(id.value);
  return commitProps(
      QString::fromStdString(size.label),
      [&](yard::Prop& prop) { prop.sizes[size.name] = std::get<std::int64_t>(edit(sizeOf(prop, size))); },
      key);
}

QString PropPart::commitChoice(const shapes::ChoiceInfo& choice, std::int64_t option) {
  if (option < 0 || option >= static_cast<std::int64_t>(choice.options.size())) return {};
  return commitProps(QString::fromStdString(choice.label),
                     [&](yard::Prop& prop) {
                       prop.choices[choice.name] = choice.options[static_cast<std::size_t>(option)].name;
                     },
                     {});
}

void PropPart::refresh() {
  std::vector<const yard::Prop*> props;
  for (const base::Id id : ids())
    if (const auto* prop = yard::find<yard::Prop>(yard(), id)) props.push_back(prop);
  if (props.empty()) return;
  for (const auto& [size, field] : sizes_) {
    std::vector<yard::FieldValue> values;
    for (const auto* prop : props) values.emplace_back(sizeOf(*prop, *size));
    field->display(values, units());
    showIfCounts(size->needs, field);
  }
  for (const auto& [choice, field] : choices_) {
    std::vector<yard::FieldValue> values;
    for (const auto* prop : props) values.emplace_back(choiceOf(*prop, *choice));
    field->display(values, units());
    showIfCounts(choice->needs, field);
  }
  showFacts();
}

void PropPart::showIfCounts(const shapes::Needs& needs, ValueField* field) {
  const bool any = std::any_of(ids().begin(), ids().end(), [&](base::Id id) {
    const auto* prop = yard::find<yard::Prop>(yard(), id);
    return prop != nullptr && shapes::counts(needs, *kind_, *prop);
  });
  form_->setRowVisible(field, any);
}

void PropPart::showFacts() {
  const auto assessment = document().assessment();
  QStringList warnings, facts;
  std::int64_t pixels = 0;
  for (const base::Id id : ids()) {
    const auto shape = assessment->shapes.find(id);
    if (shape != assessment->shapes.end()) {
      pixels += static_cast<std::int64_t>(shape->second->pixels.size());
      for (const auto& warning : shape->second->warnings) {
        const QString text = messageText(warning, yard());
        if (!warnings.contains(text)) warnings << text;
      }
    }
    if (const auto error = assessment->shapeErrors.find(id); error != assessment->shapeErrors.end()) {
      warnings << errorText(error->second, yard());
      for (const auto& [size, field] : sizes_)
        if (error->second.where.find(size->name) != std::string::npos)
          field->setReason(errorText(error->second, yard()));
    }
  }
  facts << tr("%1 pixels").arg(QString::fromStdString(base::text(base::Fact{pixels}, units())));
  const auto only = assessment->shapes.find(id());
  if (ids().size() == 1 && only != assessment->shapes.end()) {
    const shapes::Shape& shape = *only->second;
    facts << tr("Width %1, height %2").arg(factText(shape.width, yard()), factText(shape.height, yard()));
    for (const auto& [name, fact] : shape.facts)
      facts << capitalized(QString::fromStdString(name)) + QStringLiteral(": ") + factText(fact, yard());
    facts << levelFacts(shape, id(), yard());
    facts << tr("Data in: %1").arg(QString::fromStdString(shape.in.landmark));
    facts << tr("Data out: %1").arg(QString::fromStdString(shape.out.landmark));
    if (const auto left = assessment->unwired.find(id()); left != assessment->unwired.end() && left->second)
      facts << tr("Not wired yet: %1 pixels").arg(left->second);
  }
  warnings_->setText(warnings.join(u'\n'));
  warnings_->setVisible(!warnings.isEmpty());
  facts_->setText(facts.join(u'\n'));
}

}  // namespace yw::ui
