#pragma once
#include <QByteArray>
#include <optional>
#include <set>

#include "core/edit/change.h"

namespace yw::ui {

/// Format of what is copied from a drawing: one record a line, as the yard file writes them.
inline constexpr const char* kRecordsMime = "application/x-yardwright-records";

/// Records as lines, what they name before them; those without a place of their own are left out.
QByteArray encodeRecords(const yard::Yard& yard, const std::set<base::Id>& ids);

struct Pasted {
  std::set<base::Id> ids;
};
/// Puts copies into the yard with free names, their middle at `middle` of the plan; references that this yard
/// does not know are left empty. Nothing if the bytes are not ours.
std::optional<Pasted> pasteRecords(edit::Editor& editor, const QByteArray& bytes, base::Point middle);

}  // namespace yw::ui
