#pragma once
#include <QString>
#include <functional>
#include <set>

#include "core/base/result.h"
#include "ui/document/document.h"

namespace yw::ui {

/// `house circuits`, `boxes`, `supplies`: a kind's label, many of them, lower case where English has it so.
QString pluralOf(yard::RecordKind kind);

/// `Tree 1`, or `4 props`, or `4 items` where kinds differ.
QString nameOf(const yard::Yard& yard, const std::set<base::Id>& ids);

QString labelText(const yard::Yard& yard, base::Id id);
QString errorText(const base::Error& error, const yard::Yard& yard);
QString messageText(const base::Message& message, const yard::Yard& yard);
QString factText(const base::Fact& fact, const yard::Yard& yard);

/// Changes every record of `ids` by `change` in one named step; the rest of a prop's row follows it. Gives
/// the first refusal, and then changes nothing.
QString editRecords(Document& document, const std::set<base::Id>& ids, const QString& stepName,
                    const std::function<base::Result<yard::Record>(const yard::Record&)>& change,
                    const std::string& mergeKey = {});

/// The same for one record of a known type that cannot be refused.
template <class R, class F>
void editRecord(Document& document, base::Id id, const QString& stepName, F change) {
  edit::Editor editor(document.yard());
  editor.update<R>(id, change);
  document.commit(editor.finish(stepName.toStdString()));
}

/// Kind of all of them; nothing if none or different.
std::optional<yard::RecordKind> commonKind(const yard::Yard& yard, const std::set<base::Id>& ids);

}  // namespace yw::ui
