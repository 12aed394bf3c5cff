#pragma once
#include <QString>
#include <optional>
#include <set>
#include <vector>

#include "ui/document/document.h"
#include "ui/fields/value_field.h"
#include "ui/panels/tables/cell_fields.h"

namespace yw::ui {

class TableModel;

/// The cells of one column that one edit changes: the one that was opened and, if its row is selected, those
/// of the other selected rows that hold the same field.
struct EditedCells {
  CellField cell;                    ///< of the opened one; its record is none for a lead without one
  std::set<base::Id> ids;            ///< records that are there
  std::set<routes::CableKey> leads;  ///< leads and jumpers that get a record by the edit
};

/// Nothing where the cell's figure is computed. `selected`: rows that change along with `row`.
std::optional<EditedCells> editedCells(const Document& document, const TableModel& model, int row, int column,
                                       const std::vector<int>& selected);

/// What they hold now, one each; empty if they are gone.
std::vector<yard::FieldValue> valuesOf(const yard::Yard& yard, const EditedCells& cells);

/// Changes them in one named step; gives the refusal, or nothing.
QString commitCells(Document& document, const EditedCells& cells, const FieldEdit& edit,
                    const std::string& mergeKey);

/// Adds a record of that kind and names it in all of them, in one step; gives its id.
base::Id addAndName(Document& document, const EditedCells& cells, yard::RecordKind kind);

}  // namespace yw::ui
