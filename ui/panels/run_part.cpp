#include "ui/panels/run_part.h"

#include <QGridLayout>
#include <QHBoxLayout>
#include <QLabel>
#include <QPushButton>
#include <QVBoxLayout>

#include "core/edit/lead.h"
#include "core/yard/labels.h"
#include "ui/fields/pick_fields.h"
#include "ui/panels/edits.h"

namespace yw::ui {

namespace {

using yard::FieldType;
using yard::RunItem;
using yard::RunItemKind;

enum Column { What, First, Last, Turned };

std::int64_t pixelsOf(const Document& document, base::Id prop) {
  const auto it = document.assessment()->shapes.find(prop);
  return it == document.assessment()->shapes.end() ? 0 : static_cast<std::int64_t>(it->second->pixels.size());
}

}  // namespace

QString runItemText(const yard::Yard& yard, const RunItem& item) {
  switch (item.kind) {
    case RunItemKind::Stretch:
      return labelText(yard, item.prop);
    case RunItemKind::NullPixel:
      return item.count == 1 ? RunItemsPart::tr("null pixel")
                             : RunItemsPart::tr("%1 null pixels").arg(item.count);
    case RunItemKind::Booster:
      return RunItemsPart::tr("booster");
    case RunItemKind::Unused:
      return item.count == 1 ? RunItemsPart::tr("1 pixel unused")
                             : RunItemsPart::tr("%1 pixels unused").arg(item.count);
  }
  return {};
}

RunItemsPart::RunItemsPart(Document& document, std::set<base::Id> ids, QWidget* parent)
    : RowsPart(document, std::move(ids), {QStringLiteral("run_items"), tr("In order"), {}, {}},
               {{columnInfo("what", tr("What"), FieldType::Text), true},
                {columnInfo("first", tr("From"), FieldType::Count, 0)},
                {columnInfo("last", tr("To"), FieldType::Count, 0)},
                {columnInfo("turned", tr("Turned"), FieldType::Flag)}},
               parent) {
  auto* grid = new QGridLayout;
  grid->setSpacing(3);
  // Two in a row: they fit the narrow column at the window's side.
  const auto put = [grid](std::initializer_list<QPushButton*> buttons) {
    for (QPushButton* made : buttons) grid->addWidget(made, grid->count() / 2, grid->count() % 2);
  };
  put({button("item_up", tr("Earlier"), [this] { move(-1); }),
       button("item_down", tr("Later"), [this] { move(1); }), button("item_turn", tr("Turn round"), [this] {
         const int row = rows()->currentRow();
         changeItems(
             tr("Turn round in %1").arg(nameOf(yard(), this->ids())),
             [row](Items& items) {
               RunItem& item = items.at(static_cast<std::size_t>(row));
               item.reversed = !item.reversed;
             },
             row);
       })});
  put({button("item_null", tr("Null pixel before"), [this] { insert(RunItemKind::NullPixel); }),
       button("item_booster", tr("Booster before"), [this] { insert(RunItemKind::Booster); }),
       button("item_unused", tr("Unused before"), [this] { insert(RunItemKind::Unused); })});
  put({button("item_remove", tr("Take out"),
              [this] {
                const int row = rows()->currentRow();
                changeItems(
                    tr("Take out of %1").arg(nameOf(yard(), this->ids())),
                    [row](Items& items) { items.erase(items.begin() + row); }, row);
              }),
       button("item_cut", tr("Cut run before it"), [this] { cutHere(); })});
  static_cast<QVBoxLayout*>(layout())->addLayout(grid);
  auto* more = new QGridLayout;
  addProp_ = new ReferenceField(document, {yard::RecordKind::Prop}, this);
  addProp_->setNames(QStringLiteral("add_prop_to_run"), tr("Add a prop at the end"));
  addProp_->setCommitter([this](const FieldEdit& edit, const std::string&) -> QString {
    addProp({std::get<std::int64_t>(edit(std::int64_t{0}))});
    return {};
  });
  leadWire_ = new ReferenceField(document, {yard::RecordKind::Wire}, this);
  leadWire_->setNames(QStringLiteral("lead_wire"), tr("Wire of the lead before it"));
  leadWire_->setCommitter([this](const FieldEdit& edit, const std::string&) -> QString {
    setLeadWire({std::get<std::int64_t>(edit(std::int64_t{0}))});
    return {};
  });
  int row = 0;
  for (const auto& [text, field] : {std::pair<QString, QWidget*>{tr("Add a prop at the end"), addProp_},
                                    {tr("Wire of the lead before it"), leadWire_}}) {
    auto* label = new QLabel(text, this);
    label->setWordWrap(true);
    label->setBuddy(field);
    more->addWidget(label, row, 0);
    more->addWidget(field, row++, 1);
  }
  static_cast<QVBoxLayout*>(layout())->addLayout(more);
  connect(rows(), &RowsTable::rowChanged, this, [this] { showLead(); });
  refresh();
}

QPushButton* RunItemsPart::button(const char* name, const QString& text, const std::function<void()>& act) {
  auto* made = new QPushButton(text, this);
  made->setObjectName(QString::fromUtf8(name));
  connect(made, &QPushButton::clicked, this, [this, act] {
    if (rows()->currentRow() >= 0) act();
  });
  needRow_.push_back(made);
  return made;
}

void RunItemsPart::refresh() {
  RowsPart::refresh();
  addProp_->display({std::int64_t{0}}, units());
  showLead();
}

void RunItemsPart::showLead() {
  const int row = rows()->currentRow();
  for (QPushButton* made : needRow_) made->setEnabled(row >= 0);
  leadWire_->setEnabled(row >= 0);
  base::Id wire;
  const auto* run = yard::find<yard::Run>(yard(), id());
  if (run && row >= 0 && row < static_cast<int>(run->items.size())) {
    if (const auto* lead = yard::find<yard::Cable>(yard(), run->items[static_cast<std::size_t>(row)].lead))
      wire = lead->wire;
  }
  leadWire_->display({wire.value}, units());
}

std::vector<RowsPart::Cells> RunItemsPart::cells() const {
  std::vector<Cells> rows;
  const auto* run = yard::find<yard::Run>(yard(), id());
  if (!run) return rows;
  for (const RunItem& item : run->items) {
    const bool stretch = item.kind == RunItemKind::Stretch;
    const bool whole = stretch && item.first == 0 && item.last == 0;
    const std::int64_t first = whole ? 1 : item.first;
    const std::int64_t last = whole ? pixelsOf(document(), item.prop) : stretch ? item.last : item.count;
    rows.push_back({runItemText(yard(), item).toStdString(), first, last, std::int64_t{item.reversed}});
  }
  return rows;
}

QString RunItemsPart::change(int row, int column, const FieldEdit& edit) {
  const auto* run = yard::find<yard::Run>(document().yard(), id());
  if (!run) return {};
  RunItem item = run->items.at(static_cast<std::size_t>(row));
  const auto now = cells().at(static_cast<std::size_t>(row));
  const std::int64_t value = std::get<std::int64_t>(edit(now.at(static_cast<std::size_t>(column))));
  if (item.kind == RunItemKind::Stretch) {
    const std::int64_t most = pixelsOf(document(), item.prop);
    std::int64_t first = std::get<std::int64_t>(now[First]), last = std::get<std::int64_t>(now[Last]);
    if (column == First) first = value;
    if (column == Last) last = value;
    if (column == Turned) item.reversed = value != 0;
    if (first < 1 || last < first || last > most)
      return messageText({"field_stretch", {{"first", first}, {"last", last}, {"most", most}}}, yard());
    const bool whole = first == 1 && last == most;
    item.first = whole ? 0 : first;
    item.last = whole ? 0 : last;
  } else if (column == Last) {
    if (value < 1 || value > 100'000)
      return messageText({"field_how_many", {{"count", value}, {"most", std::int64_t{100'000}}}}, yard());
    item.count = value;
  }
  changeItems(
      tr("Change %1 of %2").arg(runItemText(yard(), item), nameOf(yard(), ids())),
      [&](Items& items) { items.at(static_cast<std::size_t>(row)) = item; }, row);
  return {};
}

void RunItemsPart::changeItems(const QString& step, const std::function<void(Items&)>& change,
                               int currentAfter) {
  editRecord<yard::Run>(document(), id(), step, [&](yard::Run& run) { change(run.items); });
  rows()->setCurrentRow(currentAfter);
}

void RunItemsPart::move(int by) {
  const int row = rows()->currentRow(), to = row + by;
  const auto* run = yard::find<yard::Run>(document().yard(), id());
  if (!run || to < 0 || to >= static_cast<int>(run->items.size())) return;
  changeItems(
      tr("Change order of %1").arg(nameOf(yard(), ids())),
      [&](Items& items) {
        auto& a = items[static_cast<std::size_t>(row)];
        auto& b = items[static_cast<std::size_t>(to)];
        std::swap(a, b);
        std::swap(a.lead, b.lead);  // the lead stays with its place, not with the prop
      },
      to);
}

void RunItemsPart::insert(RunItemKind kind) {
  const int row = rows()->currentRow();
  RunItem made;
  made.kind = kind;
  changeItems(
      tr("Add %1 to %2").arg(runItemText(yard(), made), nameOf(yard(), ids())),
      [&](Items& items) { items.insert(items.begin() + row, made); }, row + 1);
}

void RunItemsPart::addProp(base::Id prop) {
  if (!prop) return;
  RunItem made;
  made.prop = prop;
  const auto* run = yard::find<yard::Run>(document().yard(), id());
  changeItems(
      tr("Add %1 to %2").arg(labelText(yard(), prop), nameOf(yard(), ids())),
      [&](Items& items) { items.push_back(made); }, run ? static_cast<int>(run->items.size()) : 0);
}

void RunItemsPart::cutHere() {
  const int row = rows()->currentRow();
  if (row < 1) return;
  edit::Editor editor(document().yard());
  yard::Run rest;
  editor.update<yard::Run>(id(), [&](yard::Run& run) {
    rest.items.assign(run.items.begin() + row, run.items.end());
    run.items.erase(run.items.begin() + row, run.items.end());
  });
  if (!rest.items.empty()) rest.items.front().lead = {};
  rest.name = yard::freeName(editor.yard(), yard::RecordKind::Run, "Run");
  editor.add(std::move(rest));
  document().commit(editor.finish(tr("Cut %1").arg(nameOf(yard(), ids())).toStdString()));
}

void RunItemsPart::setLeadWire(base::Id wire) {
  const int row = rows()->currentRow();
  if (row < 0) return;
  edit::Editor editor(document().yard());
  const base::Id lead = edit::leadRecord(editor, id(), row);
  if (!lead) return;
  editor.update<yard::Cable>(lead, [&](yard::Cable& cable) { cable.wire = wire; });
  document().commit(editor.finish(tr("Change lead of %1").arg(nameOf(yard(), ids())).toStdString()));
}

}  // namespace yw::ui
