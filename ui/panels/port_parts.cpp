#include <QHBoxLayout>
#include <QLabel>

#include "core/yard/field_value.h"
#include "core/yard/labels.h"
#include "ui/fields/typed_field.h"
#include "ui/panels/edits.h"
#include "ui/panels/list_parts.h"
#include "ui/panels/protection_line.h"

namespace yw::ui {

namespace {

using yard::FieldType;

constexpr std::int64_t kMostPorts = 1000;

const char* const kPortFields[] = {"number", "", "limit", "fuse", "section"};
const char* const kFuseFields[] = {"number", "", "fuse", "holder_limit"};

yard::FieldInfo shortened(yard::FieldInfo info, const QString& label) {
  info.label = label.toStdString();
  return info;
}

std::vector<RowsTable::Column> portColumns() {
  const auto fields = yard::fieldsOf(yard::RecordKind::Port);
  return {{columnInfo("port", RowsPart::tr("Port"), FieldType::Text), true},
          {columnInfo("run", RowsPart::tr("Run"), FieldType::Text), true},
          {shortened(fieldNamed(fields, "limit"), RowsPart::tr("Most"))},
          {shortened(fieldNamed(fields, "fuse"), RowsPart::tr("Fuse"))},
          {shortened(fieldNamed(fields, "section"), RowsPart::tr("Section"))}};
}

std::vector<RowsTable::Column> fuseColumns() {
  const auto fields = yard::fieldsOf(yard::RecordKind::FusePosition);
  return {{columnInfo("position", RowsPart::tr("Position"), FieldType::Text), true},
          {columnInfo("feed", RowsPart::tr("Feeds"), FieldType::Text), true},
          {shortened(fieldNamed(fields, "fuse"), RowsPart::tr("Fuse"))},
          {shortened(fieldNamed(fields, "holder_limit"), RowsPart::tr("Holder"))}};
}

/// Changes a field of the row's record; the reason when refused.
QString changeField(Document& document, base::Id id, const char* field, const FieldEdit& edit,
                    const QString& step) {
  const auto change = [&](const yard::Record& record) -> base::Result<yard::Record> {
    return yard::withValue(record, field, edit(*yard::valueOf(record, field)));
  };
  return editRecords(document, {id}, step, change);
}

TypedField* countField(QWidget* parent, QHBoxLayout* head, const QString& name, const QString& label) {
  auto info = columnInfo("count", label, FieldType::Count, 0, kMostPorts);
  auto* field = new TypedField(info, {}, parent);
  field->setNames(name, label);
  field->setMaximumWidth(90);
  auto* words = new QLabel(label, parent);
  words->setBuddy(field);
  head->addWidget(words);
  head->addWidget(field);
  return field;
}

base::Error outOfRange(std::int64_t count) {
  return {base::ErrorCode::BadInput, {"field_how_many", {{"count", count}, {"most", kMostPorts}}}, {}};
}

/// Adds records like the last one, or removes from the end, until there are `wanted`.
template <class R, class List>
void setCount(edit::Editor& editor, std::int64_t wanted, const List& list, R usual) {
  for (auto i = static_cast<std::int64_t>(list.size()); i > wanted; --i)
    editor.remove(list[static_cast<std::size_t>(i) - 1].first);
  if (!list.empty())
    usual = *list.back().second;
  else
    usual.number = 0;
  for (auto i = static_cast<std::int64_t>(list.size()); i < wanted; ++i) {
    ++usual.number;
    editor.add(usual);
  }
}

/// Makes the field change how many there are, in one step of that name. `listOf()` gives those of the
/// document's yard, `usual` is what the first is like.
template <class R, class ListOf>
void commitsCount(TypedField& field, Document& document, ListOf listOf, R usual,
                  std::function<QString(std::int64_t)> nameOfStep) {
  field.setCommitter(
      [&document, listOf, usual, nameOfStep](const FieldEdit& edit, const std::string& key) -> QString {
        const auto list = listOf();
        const auto wanted = std::get<std::int64_t>(edit(static_cast<std::int64_t>(list.size())));
        if (wanted < 0 || wanted > kMostPorts) return errorText(outOfRange(wanted), document.yard());
        edit::Editor editor(document.yard());
        setCount(editor, wanted, list, usual);
        document.commit(editor.finish(nameOfStep(wanted).toStdString()), key);
        return {};
      });
}

/// Of the row that is picked; of the first that carries something where none is.
template <class List>
void showUsualOf(ProtectionLine& usual, const List& list, int row) {
  if (row >= 0 && row < static_cast<int>(list.size()))
    return usual.showPosition(list[static_cast<std::size_t>(row)].first);
  for (const auto& [position, record] : list) {
    usual.showPosition(position);
    if (!usual.isHidden()) return;
  }
}

}  // namespace

PortsPart::PortsPart(Document& document, std::set<base::Id> ids, QWidget* parent)
    : RowsPart(document, std::move(ids), {QStringLiteral("ports"), tr("Ports"), {}, {}}, portColumns(),
               parent) {
  count_ = countField(this, head(), QStringLiteral("port_count"), tr("How many"));
  yard::Port usual;
  usual.owner = id();
  commitsCount(
      *count_, document, [this] { return yard::portsOf(this->document().yard(), id()); }, usual,
      [this](std::int64_t wanted) {
        return tr("Give %1 %2 ports").arg(nameOf(yard(), this->ids())).arg(wanted);
      });
  usual_ = new ProtectionLine(document, this);
  layout()->addWidget(usual_);
  connect(rows(), &RowsTable::rowChanged, this, [this] { showUsual(); });
  refresh();
}

void PortsPart::refresh() {
  RowsPart::refresh();
  count_->display({static_cast<std::int64_t>(yard::portsOf(yard(), id()).size())}, units());
  showUsual();
}

void PortsPart::showUsual() { showUsualOf(*usual_, yard::portsOf(yard(), id()), rows()->currentRow()); }

std::vector<RowsPart::Cells> PortsPart::cells() const {
  std::vector<Cells> rows;
  for (const auto& [port, record] : yard::portsOf(yard(), id())) {
    const base::Id run = yard::runOnPort(yard(), port);
    std::string on = tr("free").toStdString();
    if (const auto* found = yard::find<yard::Run>(yard(), run)) {
      on = found->name;
      for (const auto& item : found->items)
        if (on.empty() && item.prop) on = yard::labelOf(yard(), item.prop);
    }
    rows.push_back(
        {yard::labelOf(yard(), port), on, record->limit.count, record->fuse.count, record->section});
  }
  return rows;
}

QString PortsPart::change(int row, int column, const FieldEdit& edit) {
  const auto list = yard::portsOf(document().yard(), id());
  return changeField(document(), list.at(static_cast<std::size_t>(row)).first, kPortFields[column], edit,
                     step());
}

FusesPart::FusesPart(Document& document, std::set<base::Id> ids, QWidget* parent)
    : RowsPart(document, std::move(ids), {QStringLiteral("fuses"), tr("Fuse positions"), {}, {}},
               fuseColumns(), parent) {
  count_ = countField(this, head(), QStringLiteral("fuse_count"), tr("How many"));
  yard::FusePosition usual;
  usual.supply = id();
  commitsCount(
      *count_, document, [this] { return yard::fusePositionsOf(this->document().yard(), id()); }, usual,
      [this](std::int64_t wanted) {
        return tr("Give %1 %2 fuse positions").arg(nameOf(yard(), this->ids())).arg(wanted);
      });
  usual_ = new ProtectionLine(document, this);
  layout()->addWidget(usual_);
  connect(rows(), &RowsTable::rowChanged, this, [this] { showUsual(); });
  refresh();
}

void FusesPart::refresh() {
  RowsPart::refresh();
  count_->display({static_cast<std::int64_t>(yard::fusePositionsOf(yard(), id()).size())}, units());
  showUsual();
}

void FusesPart::showUsual() {
  showUsualOf(*usual_, yard::fusePositionsOf(yard(), id()), rows()->currentRow());
}

std::vector<RowsPart::Cells> FusesPart::cells() const {
  std::vector<Cells> rows;
  for (const auto& [position, record] : yard::fusePositionsOf(yard(), id())) {
    const base::Id feed = yard::feedOnFusePosition(yard(), position);
    std::string to = tr("free").toStdString();
    if (const auto* cable = yard::find<yard::Cable>(yard(), feed)) {
      const auto& end = cable->to.kind == yard::TerminalKind::PropPixel ? cable->to : cable->from;
      to = yard::labelOf(yard(), end.record);
      if (end.pixel) to = tr("%1, pixel %2").arg(QString::fromStdString(to)).arg(end.pixel).toStdString();
    }
    rows.push_back({yard::labelOf(yard(), position), to, record->fuse.count, record->holderLimit.count});
  }
  return rows;
}

QString FusesPart::change(int row, int column, const FieldEdit& edit) {
  const auto list = yard::fusePositionsOf(document().yard(), id());
  return changeField(document(), list.at(static_cast<std::size_t>(row)).first, kFuseFields[column], edit,
                     step());
}

}  // namespace yw::ui
