#include "ui/panels/tables/edited_cells.h"

#include <map>

#include "core/edit/lead.h"
#include "core/edit/usual.h"
#include "ui/panels/edits.h"
#include "ui/panels/hanging.h"
#include "ui/panels/tables/table_model.h"

namespace yw::ui {

using base::Id;

namespace {

/// Leads and jumpers that have no record yet, by their label.
class BareLeads {
 public:
  BareLeads(const Document& document, const TableModel& model) : model_(model) {
    const auto& columns = model.table().columns;
    const auto at = std::find(columns.begin(), columns.end(), "lead");
    if (model.table().name != "lead_cut_list" || at == columns.end()) return;
    column_ = static_cast<int>(std::distance(columns.begin(), at));
    for (const auto& [key, cable] : document.assessment()->routes.cables) {
      const bool lead = key.role == routes::CableRole::Lead || key.role == routes::CableRole::Jumper;
      if (!lead || cable.record) continue;
      const auto* run = yard::find<yard::Run>(document.yard(), key.of);
      const auto item = static_cast<std::size_t>(key.item);
      if (run && item < run->items.size() && run->items[item].kind == yard::RunItemKind::Stretch)
        keys_.emplace(cable.label, key);
    }
  }
  std::optional<routes::CableKey> at(int row) const {
    if (column_ < 0) return std::nullopt;
    const auto it = keys_.find(model_.data(model_.index(row, column_)).toString().toStdString());
    return it == keys_.end() ? std::nullopt : std::optional(it->second);
  }

 private:
  const TableModel& model_;
  int column_ = -1;
  std::map<std::string, routes::CableKey> keys_;
};

/// One half of a place is edited as a length, the other stays.
yard::FieldValue edited(const FieldEdit& edit, const yard::FieldValue& before, Half half) {
  if (half == Half::Whole) return edit(before);
  base::Point place = std::get<base::Point>(before);
  base::Length& part = half == Half::X ? place.x : place.y;
  const yard::FieldValue after = edit(part.count);
  if (const auto* count = std::get_if<std::int64_t>(&after)) part.count = *count;
  return place;
}

base::Result<yard::Record> changed(const yard::Yard& yard, const yard::Record& record, const CellField& cell,
                                   const FieldEdit& edit) {
  const auto before = yard::valueOf(record, cell.field);
  if (!before) return record;
  auto after = yard::withValue(record, cell.field, edited(edit, *before, cell.half));
  if (after && cell.field == "wall") return rehung(yard, record, *after);
  return after;
}

QString stepName(const Document& document, const EditedCells& cells) {
  const QString label = QString::fromStdString(cells.cell.info.label);
  if (cells.leads.empty())
    return QObject::tr("Change %1 of %2").arg(label, nameOf(document.yard(), cells.ids));
  if (cells.leads.size() + cells.ids.size() > 1)
    return QObject::tr("Change %1 of %2 leads").arg(label).arg(cells.leads.size() + cells.ids.size());
  const auto& cables = document.assessment()->routes.cables;
  const auto it = cables.find(*cells.leads.begin());
  return QObject::tr("Change %1 of %2")
      .arg(label, it == cables.end() ? QObject::tr("1 lead") : QString::fromStdString(it->second.label));
}

/// With leads that get their records by it.
QString commitWithLeads(Document& document, const EditedCells& cells, const FieldEdit& edit) {
  const QString name = stepName(document, cells);
  edit::Editor editor(document.yard());
  std::set<Id> ids = cells.ids;
  for (const routes::CableKey& key : cells.leads)
    if (const Id id = edit::leadRecord(editor, key.of, key.item)) ids.insert(id);
  for (const Id id : ids) {
    auto after = changed(document.yard(), *editor.yard().records.at(id), cells.cell, edit);
    if (!after) return errorText(after.error(), document.yard());
    editor.replace(id, std::move(*after));
  }
  document.commit(editor.finish(name.toStdString()));
  return {};
}

}  // namespace

std::optional<EditedCells> editedCells(const Document& document, const TableModel& model, int row, int column,
                                       const std::vector<int>& selected) {
  const auto at = static_cast<std::size_t>(column);
  const BareLeads bare(document, model);
  const auto fieldAt = [&](int r) -> std::optional<CellField> {
    if (bare.at(r)) return leadField(model.table(), at);
    return cellField(document.yard(), model.table(), at, model.recordAt(r));
  };
  const auto cell = fieldAt(row);
  if (!cell) return std::nullopt;
  EditedCells cells{*cell, {}, {}};
  const auto add = [&](int r) {
    const auto other = fieldAt(r);
    if (!other || other->field != cell->field) return;
    if (const auto key = bare.at(r))
      cells.leads.insert(*key);
    else if (!cell->record || commonKind(document.yard(), {cell->record, other->record}))
      cells.ids.insert(other->record);
  };
  add(row);
  if (cell->field == "name") return cells;  // one name for all of them would name none
  for (const int r : selected) add(r);
  return cells;
}

std::vector<yard::FieldValue> valuesOf(const yard::Yard& yard, const EditedCells& cells) {
  std::vector<yard::FieldValue> values;
  for (const Id id : cells.ids) {
    CellField one = cells.cell;
    one.record = id;
    if (const auto value = cellValue(yard, one)) values.push_back(*value);
  }
  if (!cells.leads.empty())  // nothing was said of them: as a new one
    if (const auto value = yard::valueOf(yard::Cable{}, cells.cell.field)) values.push_back(*value);
  return values;
}

QString commitCells(Document& document, const EditedCells& cells, const FieldEdit& edit,
                    const std::string& mergeKey) {
  if (!cells.leads.empty()) return commitWithLeads(document, cells, edit);
  return editRecords(
      document, cells.ids, stepName(document, cells),
      [&](const yard::Record& record) { return changed(document.yard(), record, cells.cell, edit); },
      mergeKey.empty() ? mergeKey : mergeKey + " in a table");
}

Id addAndName(Document& document, const EditedCells& cells, yard::RecordKind kind) {
  edit::Editor editor(document.yard());
  const Id made = edit::addUsual(editor, kind);
  std::set<Id> ids = cells.ids;
  for (const routes::CableKey& key : cells.leads)
    if (const Id id = edit::leadRecord(editor, key.of, key.item)) ids.insert(id);
  for (const Id id : ids)
    if (auto after = yard::withValue(*editor.yard().records.at(id), cells.cell.field, made.value))
      editor.replace(id, *after);
  const QString name = labelText(editor.yard(), made);
  document.commit(editor.finish(QObject::tr("Add %1").arg(name).toStdString()));
  return made;
}

}  // namespace yw::ui
