#include "ui/panels/edits.h"

#include "core/yard/field_value.h"
#include "core/yard/labels.h"

namespace yw::ui {

QString labelText(const yard::Yard& yard, base::Id id) {
  return QString::fromStdString(yard::labelOf(yard, id));
}
QString errorText(const base::Error& error, const yard::Yard& yard) {
  return QString::fromStdString(base::text(error, yard::settings(yard).units));
}
QString messageText(const base::Message& message, const yard::Yard& yard) {
  return QString::fromStdString(base::text(message, yard::settings(yard).units));
}
QString factText(const base::Fact& fact, const yard::Yard& yard) {
  return QString::fromStdString(base::text(fact, yard::settings(yard).units));
}

QString pluralOf(yard::RecordKind kind) {
  QString word = QString::fromUtf8(yard::label(kind)).toLower();
  if (word.endsWith(u's')) return word;
  if (word.endsWith(u'x') || word.endsWith(QStringLiteral("ch"))) return word + QStringLiteral("es");
  if (word.endsWith(u'y') && !word.endsWith(QStringLiteral("ay"))) {
    word.chop(1);
    return word + QStringLiteral("ies");
  }
  return word + u's';
}

std::optional<yard::RecordKind> commonKind(const yard::Yard& yard, const std::set<base::Id>& ids) {
  std::optional<yard::RecordKind> common;
  for (const base::Id id : ids) {
    const auto it = yard.records.find(id);
    if (it == yard.records.end()) continue;
    const auto kind = yard::kindOf(*it->second);
    if (common && *common != kind) return std::nullopt;
    common = kind;
  }
  return common;
}

QString nameOf(const yard::Yard& yard, const std::set<base::Id>& ids) {
  if (ids.size() == 1) return labelText(yard, *ids.begin());
  const auto kind = commonKind(yard, ids);
  return QStringLiteral("%1 %2").arg(ids.size()).arg(kind ? pluralOf(*kind) : QStringLiteral("items"));
}

QString editRecords(Document& document, const std::set<base::Id>& ids, const QString& stepName,
                    const std::function<base::Result<yard::Record>(const yard::Record&)>& change,
                    const std::string& mergeKey) {
  edit::Editor editor(document.yard());
  for (const base::Id id : ids) {
    const auto it = editor.yard().records.find(id);
    if (it == editor.yard().records.end()) continue;
    auto changed = change(*it->second);
    if (!changed) return errorText(changed.error(), document.yard());
    editor.replace(id, std::move(*changed));
  }
  document.commit(editor.finish(stepName.toStdString()), mergeKey);
  return {};
}

base::Id addUsual(edit::Editor& editor, yard::RecordKind kind) {
  yard::Record record = yard::defaultRecord(kind);
  const std::string stem = kind == yard::RecordKind::Box ? std::string("K") : std::string(yard::label(kind));
  const std::string name = yard::freeName(editor.yard(), kind, stem);
  if (auto named = yard::withValue(record, "name", name)) record = std::move(*named);
  return editor.add(std::move(record));
}

}  // namespace yw::ui
