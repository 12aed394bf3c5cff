#include "ui/panels/list_parts.h"

#include "core/yard/field_value.h"
#include "ui/panels/edits.h"

namespace yw::ui {

namespace {

using yard::FieldInfo;
using yard::FieldType;

/// An Opening is edited through its own fields, but its corner as two lengths.
constexpr int kOpeningX = 2, kOpeningY = 3;
const char* const kOpeningFields[] = {"kind", "name", "at", "at", "width", "height"};

std::vector<RowsTable::Column> openingColumns() {
  const auto fields = yard::fieldsOf(yard::Opening{});
  return {{fieldNamed(fields, "kind")},
          {fieldNamed(fields, "name")},
          {columnInfo("x", RowsPart::tr("From left"), FieldType::Length)},
          {columnInfo("y", RowsPart::tr("Up"), FieldType::Length)},
          {fieldNamed(fields, "width")},
          {fieldNamed(fields, "height")}};
}

std::vector<RowsTable::Column> sectionColumns() {
  std::vector<RowsTable::Column> columns{
      {columnInfo("number", RowsPart::tr("Section"), FieldType::Count), true}};
  for (const FieldInfo& field : yard::fieldsOf(yard::PowerSection{})) columns.push_back({field});
  return columns;
}

template <class F>
void eachSections(edit::Editor& editor, base::Id id, F change) {
  editor.update<yard::Controller>(id, [&](yard::Controller& c) { change(c.sections); });
  editor.update<yard::Receiver>(id, [&](yard::Receiver& r) { change(r.sections); });
}

std::vector<yard::PowerSection> sectionsOf(const yard::Yard& yard, base::Id id) {
  if (const auto* controller = yard::find<yard::Controller>(yard, id)) return controller->sections;
  if (const auto* receiver = yard::find<yard::Receiver>(yard, id)) return receiver->sections;
  return {};
}

std::vector<base::Point> pointsOf(const yard::Yard& yard, base::Id id) {
  if (const auto* feature = yard::find<yard::GroundFeature>(yard, id)) return feature->outline;
  if (const auto* wall = yard::find<yard::Wall>(yard, id)) return {wall->from, wall->to};
  if (const auto* cable = yard::find<yard::Cable>(yard, id)) return cable->path;
  if (const auto* prop = yard::find<yard::Prop>(yard, id)) return prop->path;
  return {};
}

void setPoints(edit::Editor& editor, base::Id id, std::vector<base::Point> points) {
  editor.update<yard::GroundFeature>(id, [&](yard::GroundFeature& f) { f.outline = points; });
  editor.update<yard::Wall>(id, [&](yard::Wall& w) {
    if (points.size() != 2) return;
    w.from = points[0];
    w.to = points[1];
  });
  editor.update<yard::Cable>(id, [&](yard::Cable& c) { c.path = points; });
  editor.update<yard::Prop>(id, [&](yard::Prop& p) { p.path = points; });
}

bool isWall(const yard::Yard& yard, const std::set<base::Id>& ids) {
  return !ids.empty() && yard::find<yard::Wall>(yard, *ids.begin());
}

}  // namespace

SectionsPart::SectionsPart(Document& document, std::set<base::Id> ids, QWidget* parent)
    : RowsPart(document, std::move(ids),
               {QStringLiteral("sections"), tr("Power sections"), tr("Add a section"), tr("Remove it")},
               sectionColumns(), parent) {
  refresh();
}

std::vector<RowsPart::Cells> SectionsPart::cells() const {
  std::vector<Cells> rows;
  for (const auto& section : sectionsOf(yard(), id()))
    rows.push_back({static_cast<std::int64_t>(rows.size()) + 1, section.supply.value, section.limit.count});
  return rows;
}

QString SectionsPart::change(int row, int column, const FieldEdit& edit) {
  const auto sections = sectionsOf(document().yard(), id());
  const auto& section = sections.at(static_cast<std::size_t>(row));
  const std::string field = column == 1 ? "supply" : "limit";
  const auto changed = yard::withValue(section, field, edit(*yard::valueOf(section, field)));
  if (!changed) return errorText(changed.error(), yard());
  edit::Editor editor(document().yard());
  eachSections(editor, id(), [&](auto& all) { all.at(static_cast<std::size_t>(row)) = *changed; });
  document().commit(editor.finish(step().toStdString()));
  return {};
}

void SectionsPart::add() {
  edit::Editor editor(document().yard());
  eachSections(editor, id(),
               [](auto& all) { all.push_back(all.empty() ? yard::PowerSection{} : all.back()); });
  document().commit(editor.finish(step().toStdString()));
}

void SectionsPart::remove(int row) {
  edit::Editor editor(document().yard());
  eachSections(editor, id(), [row](auto& all) { all.erase(all.begin() + row); });
  document().commit(editor.finish(step().toStdString()));
}

OpeningsPart::OpeningsPart(Document& document, std::set<base::Id> ids, QWidget* parent)
    : RowsPart(
          document, std::move(ids),
          {QStringLiteral("openings"), tr("Eaves, gables, windows, doors"), tr("Add one"), tr("Remove it")},
          openingColumns(), parent) {
  refresh();
}

std::vector<RowsPart::Cells> OpeningsPart::cells() const {
  std::vector<Cells> rows;
  if (const auto* wall = yard::find<yard::Wall>(yard(), id()))
    for (const yard::Opening& o : wall->openings)
      rows.push_back({static_cast<std::int64_t>(o.kind), o.name, o.at.x.count, o.at.y.count, o.width.count,
                      o.height.count});
  return rows;
}

QString OpeningsPart::change(int row, int column, const FieldEdit& edit) {
  const auto* wall = yard::find<yard::Wall>(document().yard(), id());
  if (!wall) return {};
  const yard::Opening& opening = wall->openings.at(static_cast<std::size_t>(row));
  const char* field = kOpeningFields[column];
  yard::FieldValue value = *yard::valueOf(opening, field);
  if (column == kOpeningX || column == kOpeningY) {
    auto at = opening.at;
    base::Length& half = column == kOpeningX ? at.x : at.y;
    half.count = std::get<std::int64_t>(edit(half.count));
    value = at;
  } else {
    value = edit(value);
  }
  const auto changed = yard::withValue(opening, field, value);
  if (!changed) return errorText(changed.error(), yard());
  editRecord<yard::Wall>(document(), id(), step(),
                         [&](yard::Wall& w) { w.openings.at(static_cast<std::size_t>(row)) = *changed; });
  return {};
}

void OpeningsPart::add() {
  yard::Opening usual;  // a common double-hung window, its sill 3 ft up
  usual.at = {base::feet(2), base::feet(3)};
  usual.width = base::feet(3);
  usual.height = base::feet(4);
  editRecord<yard::Wall>(document(), id(), step(), [&](yard::Wall& w) { w.openings.push_back(usual); });
}

void OpeningsPart::remove(int row) {
  editRecord<yard::Wall>(document(), id(), step(),
                         [row](yard::Wall& w) { w.openings.erase(w.openings.begin() + row); });
}

PointsPart::PointsPart(Document& document, std::set<base::Id> ids, const QString& title, QWidget* parent)
    : RowsPart(document, ids,
               {QStringLiteral("points"), title,
                isWall(document.shownYard(), ids) ? QString() : tr("Add a point"), tr("Remove it")},
               {{columnInfo("number", tr("Point"), FieldType::Count), true},
                {columnInfo("x", tr("x"), FieldType::Length)},
                {columnInfo("y", tr("y"), FieldType::Length)}},
               parent) {
  refresh();
}

std::vector<RowsPart::Cells> PointsPart::cells() const {
  std::vector<Cells> rows;
  for (const base::Point& point : pointsOf(yard(), id()))
    rows.push_back({static_cast<std::int64_t>(rows.size()) + 1, point.x.count, point.y.count});
  return rows;
}

QString PointsPart::change(int row, int column, const FieldEdit& edit) {
  auto points = pointsOf(document().yard(), id());
  base::Point& point = points.at(static_cast<std::size_t>(row));
  base::Length& half = column == 1 ? point.x : point.y;
  half.count = std::get<std::int64_t>(edit(half.count));
  edit::Editor editor(document().yard());
  setPoints(editor, id(), std::move(points));
  document().commit(editor.finish(step().toStdString()));
  return {};
}

void PointsPart::add() {
  auto points = pointsOf(document().yard(), id());
  const int row = rows()->currentRow();
  const std::size_t after = row < 0 ? points.size() : static_cast<std::size_t>(row) + 1;
  base::Point made = points.empty() ? base::Point{} : points[after - 1];
  if (after < points.size()) {  // half way to the next corner
    made.x.count = (made.x.count + points[after].x.count) / 2;
    made.y.count = (made.y.count + points[after].y.count) / 2;
  } else {
    made.x += base::feet(3);
  }
  points.insert(points.begin() + static_cast<std::ptrdiff_t>(after), made);
  edit::Editor editor(document().yard());
  setPoints(editor, id(), std::move(points));
  document().commit(editor.finish(step().toStdString()));
}

void PointsPart::remove(int row) {
  auto points = pointsOf(document().yard(), id());
  points.erase(points.begin() + row);
  edit::Editor editor(document().yard());
  setPoints(editor, id(), std::move(points));
  document().commit(editor.finish(step().toStdString()));
}

}  // namespace yw::ui
