#include "ui/panels/measured_part.h"

#include "ui/panels/edits.h"
#include "ui/panels/item_facts.h"

namespace yw::ui {

namespace {

using yard::FieldType;

const char* const kFields[] = {"", "volts", "amps", "brightness", "date", "note"};

std::vector<RowsTable::Column> columns() {
  std::vector<RowsTable::Column> all{{columnInfo("where", RowsPart::tr("Where"), FieldType::Text), true}};
  const auto fields = yard::fieldsOf(yard::RecordKind::Measurement);
  for (std::size_t i = 1; i < std::size(kFields); ++i) all.push_back({fieldNamed(fields, kFields[i])});
  return all;
}

}  // namespace

MeasuredPart::MeasuredPart(Document& document, std::set<base::Id> ids, QWidget* parent)
    : RowsPart(document, std::move(ids),
               {QStringLiteral("measured"), tr("Measured values"), tr("Write one down"), tr("Remove it")},
               columns(), parent) {
  refresh();
}

std::vector<MeasuredOnRun> MeasuredPart::values() const {
  const bool run = yard::find<yard::Run>(yard(), id()) != nullptr;
  return run ? measuredOnRun(*document().assessment(), yard(), id()) : measuredOnSupply(yard(), id());
}

std::vector<RowsPart::Cells> MeasuredPart::cells() const {
  std::vector<Cells> rows;
  for (const MeasuredOnRun& m : values())
    rows.push_back({terminalText(yard(), m.value.at).toStdString(), m.value.volts.count, m.value.amps.count,
                    m.value.brightness.count, m.value.date, m.value.note});
  return rows;
}

QString MeasuredPart::change(int row, int column, const FieldEdit& edit) {
  const MeasuredOnRun before = values().at(static_cast<std::size_t>(row));
  const char* field = kFields[column];
  const yard::Record record = before.value;
  const auto changed = yard::withValue(record, field, edit(*yard::valueOf(record, field)));
  if (!changed) return errorText(changed.error(), yard());
  const auto& value = std::get<yard::Measurement>(*changed);
  if (value.volts.count <= 0 && value.amps.count <= 0)
    return tr("Volts or amps are needed; remove the row if neither was measured.");
  editRecord<yard::Measurement>(document(), before.id,
                                tr("Change what was measured at %1").arg(terminalText(yard(), value.at)),
                                [&](yard::Measurement& m) { m = value; });
  return {};
}

void MeasuredPart::add() {
  if (yard::find<yard::Run>(yard(), id()) == nullptr)
    return askAndWriteDown(this, document(), measuringPlaces(yard(), id()));
  const auto [run, place] = selectedPlace(document());
  const auto& assessment = *document().assessment();
  std::int64_t at = run == id() ? place : 0;
  if (const auto figure = assessment.limit.runs.find(id()); at == 0 && figure != assessment.limit.runs.end())
    at = figure->second.lowestPixel;
  askAndWriteDown(this, document(), measuringPlaces(assessment, yard(), id(), at));
}

void MeasuredPart::remove(int row) {
  const MeasuredOnRun gone = values().at(static_cast<std::size_t>(row));
  edit::Editor editor(document().yard());
  editor.remove(gone.id);
  document().commit(
      editor.finish(tr("Remove %1 at %2")
                        .arg(measuredText(yard(), gone.value), terminalText(yard(), gone.value.at))
                        .toStdString()));
}

}  // namespace yw::ui
