#include "ui/panels/edits.h"

#include "core/shapes/rows.h"
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

namespace {

/// The rest of its row follows a prop that was changed; how many did. Gives why one of them cannot.
base::Result<std::int64_t> letFollow(edit::Editor& editor, const yard::Yard& before,
                                     const std::set<base::Id>& ids) {
  std::int64_t followed = 0;
  for (const base::Id id : ids) {
    const auto* was = yard::find<yard::Prop>(before, id);
    const auto* now = yard::find<yard::Prop>(editor.yard(), id);
    if (!was || !now || *was == *now) continue;
    for (auto& [other, next] : shapes::followers(editor.yard(), id, *was, yard::Prop(*now))) {
      if (ids.contains(other)) continue;  // changed itself
      if (shapes::make(*yard::find<yard::Prop>(before, other)))
        if (const auto shape = shapes::make(next); !shape) return tl::unexpected(shape.error());
      editor.replace(other, std::move(next));
      ++followed;
    }
  }
  return followed;
}

}  // namespace

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
  const auto followed = letFollow(editor, document.yard(), ids);
  if (!followed) return errorText(followed.error(), document.yard());
  const QString whole =
      *followed > 0 ? QObject::tr("%1 and %2 more of its row").arg(stepName).arg(*followed) : stepName;
  document.commit(editor.finish(whole.toStdString()), mergeKey);
  return {};
}

}  // namespace yw::ui
