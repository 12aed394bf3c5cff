#include "ui/panels/cord_part.h"

#include <QFormLayout>
#include <QLabel>
#include <QPushButton>
#include <QVBoxLayout>

#include "ui/fields/pick_fields.h"
#include "ui/panels/edits.h"

namespace yw::ui {

namespace {

using yard::TerminalKind;

/// The record of the box's cord whether or not it starts anywhere; none if it has none.
base::Id cordRecordTo(const yard::Yard& yard, TerminalKind kind, base::Id record) {
  for (const auto& [id, cable] : yard::all<yard::Cable>(yard)) {
    if (cable->conductors != yard::ConductorSet::Mains) continue;
    const bool ends =
        (cable->to.kind == kind && cable->to.record == record) ||
        (kind == TerminalKind::Supply && cable->from.kind == kind && cable->from.record == record);
    if (ends) return id;
  }
  return {};
}

/// Supplies of boxes that hang on a cord are plugged in where it starts.
void followCords(edit::Editor& editor) {
  const routes::BoxCords boxes = routes::boxCords(editor.yard());
  std::vector<std::pair<base::Id, base::Id>> wanted;
  for (const auto& [id, supply] : yard::all<yard::Supply>(editor.yard()))
    if (const auto cord = boxes.cords.find(supply->box);
        cord != boxes.cords.end() && cord->second.outlet != supply->outlet)
      wanted.emplace_back(id, cord->second.outlet);
  for (const auto& [id, outlet] : wanted)
    editor.update<yard::Supply>(id, [o = outlet](yard::Supply& s) { s.outlet = o; });
}

}  // namespace

QString cordText(const Document& document, const routes::CableKey& key) {
  const auto assessment = document.assessment();
  const auto cord = assessment->limit.mains.cords.find(key);
  if (cord == assessment->limit.mains.cords.end()) return {};
  const auto& yard = document.shownYard();
  const circuit::CordFigure& figure = cord->second;
  QString text = QObject::tr("Carries %1").arg(factText(base::toCurrent({figure.amps}), yard));
  if (figure.limit > 0.0)
    text +=
        QObject::tr(" of %1 (%2)")
            .arg(factText(base::toCurrent({figure.limit}), yard), QString::fromStdString(figure.limitSource));
  return text + QObject::tr("; loses %1, %2 at its end")
                    .arg(factText(base::toVoltage({figure.lost}), yard),
                         factText(base::toVoltage({figure.farVolts}), yard));
}

BoxCordPart::BoxCordPart(Document& document, std::set<base::Id> ids, QWidget* parent)
    : FormPart(document, std::move(ids), parent) {
  auto* form = new QFormLayout(this);
  form->setContentsMargins(0, 0, 0, 0);
  form->setFieldGrowthPolicy(QFormLayout::AllNonFixedFieldsGrow);
  from_ = new ReferenceField(document, {yard::RecordKind::Outlet, yard::RecordKind::Box}, this);
  from_->setNames(QStringLiteral("box_cord_from"), tr("One cord for the box, from"));
  from_->setToolTip(tr("None: each supply in it has a cord of its own"));
  from_->setCommitter([this](const FieldEdit& edit, const std::string&) {
    const auto& yard = this->document().yard();
    const auto* cable = yard::find<yard::Cable>(yard, cordRecordTo(yard, TerminalKind::Box, id()));
    return plugInto({std::get<std::int64_t>(edit(cable != nullptr ? cable->from.record.value : 0))});
  });
  form->addRow(tr("One cord for the box, from"), from_);
  words_ = new QLabel(this);
  words_->setWordWrap(true);
  form->addRow(words_);
  open_ = new QPushButton(tr("Wire and length of that cord"), this);
  open_->setObjectName(QStringLiteral("open_box_cord"));
  form->addRow(open_);
  connect(open_, &QPushButton::clicked, this, [this] {
    if (const base::Id record = cordRecordTo(yard(), TerminalKind::Box, id())) Q_EMIT openAsked(record);
  });
  refresh();
}

void BoxCordPart::refresh() {
  const base::Id record = cordRecordTo(yard(), TerminalKind::Box, id());
  const auto* cable = yard::find<yard::Cable>(yard(), record);
  from_->display({cable != nullptr ? cable->from.record.value : std::int64_t{0}}, units());
  open_->setVisible(cable != nullptr);
  words_->setText(cordText(document(), {routes::CableRole::MainsCord, record, 0}));
  words_->setVisible(!words_->text().isEmpty());
}

QString BoxCordPart::plugInto(base::Id source) {
  if (source == id()) return tr("A box cannot be plugged into itself. Choose an outlet or another box.");
  edit::Editor editor(document().yard());
  const base::Id record = cordRecordTo(document().yard(), TerminalKind::Box, id());
  const bool box = yard::find<yard::Box>(document().yard(), source) != nullptr;
  const yard::Terminal from{box ? TerminalKind::Box : TerminalKind::Outlet, source, 0};
  if (!source) {
    if (record) editor.remove(record);
  } else if (record) {
    editor.update<yard::Cable>(record, [&](yard::Cable& c) { c.from = from; });
  } else {
    yard::Cable cord;
    cord.from = from;
    cord.to = {TerminalKind::Box, id(), 0};
    cord.conductors = yard::ConductorSet::Mains;
    editor.add(cord);
  }
  if (source && !routes::boxCords(editor.yard()).cords.contains(id()))
    return tr("That box is not plugged into an outlet itself. Give it a cord from an outlet first.");
  followCords(editor);
  const QString step = source ? tr("Plug %1 into %2").arg(labelText(yard(), id()), labelText(yard(), source))
                              : tr("Give each supply of %1 its own cord").arg(labelText(yard(), id()));
  document().commit(editor.finish(step.toStdString()));
  return {};
}

SupplyCordPart::SupplyCordPart(Document& document, std::set<base::Id> ids, QWidget* parent)
    : FormPart(document, std::move(ids), parent) {
  auto* column = new QVBoxLayout(this);
  column->setContentsMargins(0, 0, 0, 0);
  words_ = new QLabel(this);
  words_->setObjectName(QStringLiteral("cord_words"));
  words_->setWordWrap(true);
  column->addWidget(words_);
  open_ = new QPushButton(tr("Wire and length of its mains cord"), this);
  open_->setObjectName(QStringLiteral("open_cord"));
  column->addWidget(open_);
  connect(open_, &QPushButton::clicked, this, &SupplyCordPart::open);
  refresh();
}

void SupplyCordPart::refresh() {
  const auto way = routes::cordsTo(yard(), routes::boxCords(yard()), id());
  setVisible(!way.empty());
  if (way.empty()) return;
  words_->setText(cordText(document(), way.back()));
  words_->setVisible(!words_->text().isEmpty());
}

void SupplyCordPart::open() {
  const yard::Yard& yard = document().yard();
  const auto way = routes::cordsTo(yard, routes::boxCords(yard), id());
  if (way.empty()) return;
  base::Id record = way.back().of;
  if (record == id()) record = cordRecordTo(yard, TerminalKind::Supply, id());
  if (!record) {
    edit::Editor editor(yard);
    yard::Cable cord;
    cord.from = {TerminalKind::Outlet, yard::find<yard::Supply>(yard, id())->outlet, 0};
    cord.to = {TerminalKind::Supply, id(), 0};
    cord.conductors = yard::ConductorSet::Mains;
    record = editor.add(cord);
    const QString step = tr("Describe the mains cord of %1").arg(labelText(yard, id()));
    document().commit(editor.finish(step.toStdString()));
  }
  Q_EMIT openAsked(record);
}

}  // namespace yw::ui
