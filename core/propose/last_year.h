#pragma once
// Last year's list, from a spreadsheet: props, the ports they hang on, leads and addresses, as one change.
#include <optional>
#include <string>
#include <vector>

#include "core/base/number_text.h"
#include "core/edit/change.h"

namespace yw::propose {

/// What a column of the list says.
enum class ListColumn { Ignored, Prop, Kind, Pixels, Port, Universe, Slot, Lead, Notes };

/// Word for each, in the order of ListColumn.
const std::vector<std::string>& listColumnWords();

struct ListRow {
  std::int64_t line = 0;           ///< of the text, 1-based
  std::vector<std::string> cells;  ///< as many as there are headings
  std::optional<base::Error> bad;  ///< it cannot be taken: more cells than headings
};
struct List {
  std::vector<std::string> headings;
  std::vector<ListRow> rows;
};

/// Reads a table with a line of headings: commas, semicolons or tabs between cells (whichever the headings
/// have most of), cells in double quotes as by RFC 4180; empty lines are skipped, and empty cells after the
/// last heading. Errors name the line: nothing in it, a quote that does not end.
base::Result<List> readList(const std::string& text);

/// What each column is likely to be, by its heading; no meaning is given twice.
std::vector<ListColumn> proposedColumns(const List& list);

struct ListRefusal {
  std::int64_t line = 0;
  base::Error why;
};
struct ListTaken {
  edit::Change change;
  std::vector<ListRefusal> refused;             ///< rows that are left out, whole
  std::vector<base::Message> notes;             ///< what was taken but differs from what the list says
  std::int64_t props = 0, runs = 0, leads = 0;  ///< added
};

/// The list taken into a yard. A prop of a new name is added with the usual sizes of its kind, set to the
/// pixels listed where a size allows; one the yard has stays as it is. A port hangs its props on one run in
/// the order of the rows; universe and slot begin it. New props stand in rows of ten, 2 m apart, right of
/// what is there. Lengths of leads without a unit are in `unit`. Errors: no column says the prop.
base::Result<ListTaken> takeList(const yard::Yard& yard, const List& list,
                                 const std::vector<ListColumn>& columns, base::LengthUnit unit);

}  // namespace yw::propose
